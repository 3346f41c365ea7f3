#include "twoturn/timing/marks.hpp"

#include <cmath>

#include "twoturn/drive/fitted_spec.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/timing/turns.hpp"

namespace twoturn {
namespace {

double pitch_radius(double pitch_mm, int teeth) { return pitch_mm * teeth / kFullTurn; }

const PulleySpec* crank_of(const DriveSpec& spec) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.role == Role::crankshaft) return &pulley;
  }
  return nullptr;
}

std::optional<double> pitch_of(const BeltSpec& belt) {
  if (belt.pitch_mm) return belt.pitch_mm;
  // As the drive takes it: a calliper is no match for the section's own pitch.
  if (const BeltSection* section = belt.section ? find_section(*belt.section) : nullptr) {
    return section->pitch_mm;
  }
  if (belt.over_10_teeth_mm) return *belt.over_10_teeth_mm / 10.0;
  return std::nullopt;
}

std::optional<double> from(const std::map<std::string, double>& by_name, const std::string& name) {
  const auto found = by_name.find(name);
  if (found == by_name.end()) return std::nullopt;
  return found->second;
}

// What [build] takes out of the height of the head that a pulley is mounted on; where only one head
// is known, a camshaft that says nothing stands on it.
std::optional<double> skim_of(const DriveSpec& spec, const PulleySpec& pulley) {
  std::string head = pulley.mount.value_or("");
  const bool on_the_head = pulley.role == Role::camshaft && spec.heads.size() == 1;
  if (!pulley.mount && on_the_head) head = spec.heads.front().name;
  const std::optional<double> skim = from(spec.build.skim_mm, head);
  const std::optional<double> block = from(spec.build.block_skim_mm, head);
  const std::optional<double> gasket = from(spec.build.gasket_change_mm, head);
  if (!skim && !block && !gasket) return std::nullopt;
  return 0.0 - head_lift_mm(spec.build, head);
}

std::optional<double> centre_of(const DriveSpec& spec, const PulleySpec& pulley) {
  if (spec.rough_centre_mm && pulley.role == Role::camshaft) return spec.rough_centre_mm;
  const PulleySpec* crank = crank_of(spec);
  if (!crank || !crank->at_mm || !pulley.at_mm) return std::nullopt;
  return (*pulley.at_mm - *crank->at_mm).norm();
}

ToothWorth worth_of(const CountedPulley& pulley, const MarksQuestion& question) {
  ToothWorth worth;
  worth.name = pulley.name;
  worth.role = pulley.role;
  worth.teeth = pulley.teeth;
  worth.own_deg = 360.0 / pulley.teeth;
  worth.crank_deg = worth.own_deg / pulley.turns_per_crank;
  if (question.pitch_mm) {
    worth.pitch_radius_mm = pitch_radius(*question.pitch_mm, pulley.teeth);
    worth.own_deg_per_mm = worth.own_deg / *question.pitch_mm;
    worth.crank_deg_per_mm = worth.crank_deg / *question.pitch_mm;
  }
  if (question.crank_teeth) {
    const double made = 2.0 * *question.crank_teeth / pulley.teeth;
    const double gained_deg = (made - 2.0 * pulley.turns_per_crank) * 360.0;
    worth.wanders_crank_deg = gained_deg / pulley.turns_per_crank;
  }
  return worth;
}

std::optional<SkimShift> skim_shift(const CountedPulley& pulley, const MarksQuestion& question) {
  if (!question.pitch_mm || !question.crank_teeth || !pulley.centre_mm || !pulley.skim_mm) {
    return std::nullopt;
  }
  const double radius = pitch_radius(*question.pitch_mm, pulley.teeth);
  const std::optional<double> change =
      straight_run_change_mm(pitch_radius(*question.pitch_mm, *question.crank_teeth), radius,
                             *pulley.centre_mm, *pulley.skim_mm);
  if (!change) return std::nullopt;
  SkimShift shift{pulley.name, pulley.role, *pulley.centre_mm, *pulley.skim_mm, 0.0, 0.0, *change};
  shift.own_deg = Angle::radians(*change / radius).degrees();
  shift.crank_deg = shift.own_deg / pulley.turns_per_crank;
  return shift;
}

void list_missing(const MarksQuestion& question, MarksAnswer& answer) {
  const auto add = [&answer](const char* open, const std::string& key, const char* measure) {
    answer.missing.push_back({open, key, measure});
  };
  if (!question.crank_teeth) {
    add("degrees a tooth at the crank, and the paint", "pulley.crank.teeth",
        "count the teeth of the crank pulley");
  }
  if (question.timed.empty()) {
    add("degrees a tooth at the cam", "pulley.cam.teeth", "count the teeth of the cam pulley");
  }
  if (!question.belt_teeth) {
    add("where the paint stands after two turns, and when it returns", "belt.teeth",
        "count the belt's teeth: paint one and go once round");
  }
  if (!question.pitch_mm) {
    add("what a tooth is in mm at the edge", "belt.over_10_teeth_mm",
        "measure over 10 teeth of the belt with a calliper, or read its section off its back");
  }
  for (const CountedPulley& pulley : question.timed) {
    if (pulley.role != Role::camshaft) continue;
    if (pulley.skim_mm && !pulley.centre_mm) {
      add("how late the skim makes the cam", "rough_centre_mm",
          "measure from the crank's centre to the cam's with a tape");
    }
  }
}

}  // namespace

// Marks at fixed angles: the run's length and, at each end, the arc that the tilting run gains.
std::optional<double> straight_run_change_mm(double crank_radius_mm, double radius_mm,
                                             double centre_mm, double skim_mm) {
  const double k = radius_mm - crank_radius_mm;
  const double nearer = centre_mm - skim_mm;
  if (!(centre_mm > std::abs(k)) || !(nearer > std::abs(k))) return std::nullopt;
  const auto distance = [k](double centre) {
    return std::sqrt((centre - k) * (centre + k)) + k * std::asin(k / centre);
  };
  return distance(nearer) - distance(centre_mm);
}

MarksQuestion marks_question(const DriveSpec& spec, Fit fit) {
  MarksQuestion question;
  question.belt_teeth = spec.belt.teeth;
  question.pitch_mm = pitch_of(spec.belt);
  if (const PulleySpec* crank = crank_of(spec)) question.crank_teeth = teeth_for(spec, *crank, fit);
  for (const PulleySpec& pulley : spec.pulleys) {
    const std::optional<double> turns = turns_per_crank(pulley);
    const std::optional<int> teeth = teeth_for(spec, pulley, fit);
    if (!turns || !teeth || pulley.role == Role::crankshaft) continue;
    CountedPulley counted{pulley.name, pulley.role, *teeth, std::abs(*turns), {}, {}};
    counted.centre_mm = centre_of(spec, pulley);  // where it stood before the skim
    if (fit == Fit::as_fitted) counted.skim_mm = skim_of(spec, pulley);
    question.timed.push_back(counted);
  }
  return question;
}

MarksAnswer marks_from_counts(const MarksQuestion& question) {
  MarksAnswer answer;
  answer.question = question;
  std::vector<int> others;
  if (question.crank_teeth) {
    const CountedPulley crank{"crank", Role::crankshaft, *question.crank_teeth, 1.0, {}, {}};
    answer.worth.push_back(worth_of(crank, question));
  }
  for (const CountedPulley& pulley : question.timed) {
    answer.worth.push_back(worth_of(pulley, question));
    others.push_back(pulley.teeth);
    if (const std::optional<SkimShift> shift = skim_shift(pulley, question)) {
      answer.skims.push_back(*shift);
    }
  }
  if (question.belt_teeth && question.crank_teeth) {
    answer.paint = paint_after_two(*question.belt_teeth, *question.crank_teeth, others);
  }
  list_missing(question, answer);
  return answer;
}

}  // namespace twoturn
