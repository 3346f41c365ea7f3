#include "twoturn/drive/route.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/at.hpp"
#include "cover_points.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/geometry/moved_wheel.hpp"

namespace twoturn {
namespace {

const std::string& name(const Drive& drive, int pulley) { return drive.pulleys[at(pulley)].name; }

std::string run_name(const Drive& drive, int span) {
  const int next = (span + 1) % static_cast<int>(drive.pulleys.size());
  return fmt::format("the run from {} to {}", plain_name(name(drive, span)),
                     plain_name(name(drive, next)));
}

std::string piece_name(const Drive& drive, const Approach& approach) {
  if (approach.span >= 0) return run_name(drive, approach.span);
  return fmt::format("the belt on {}", plain_name(name(drive, approach.wheel)));
}

std::string other_name(const Drive& drive, const Approach& approach) {
  switch (approach.kind) {
    case Neighbour::pulley:
      return name(drive, approach.other);
    case Neighbour::obstacle:
      return drive.obstacle_names[at(approach.other)];
    case Neighbour::own_run:
      break;
  }
  return "itself";
}

// Whether two approaches are to the same foreign part. The belt's approach to itself is one part.
bool same_part(const Approach& a, const Approach& b) {
  return a.kind == b.kind && (a.kind == Neighbour::own_run || a.other == b.other);
}

// The least gap to every part over the usable travel: even looks, and one more where the three that
// are nearest tell that it lies between them.
class LookAlongTravel {
 public:
  LookAlongTravel(const Drive& drive, RouteAnswer& answer)
      : tensioner_(*drive.tensioner),
        answer_(answer),
        roller_(placed_wheels(drive, 0.0), tensioner_.pulley, drive.around) {}

  void look(const UsableTravel& range) {
    constexpr int kLooks = 16;
    const double step = (range.to_q - range.from_q) / kLooks;
    std::vector<std::vector<double>> gaps;
    for (int k = 0; k <= kLooks; ++k) gaps.push_back(gaps_at(range.from_q + step * k));
    for (int k = 1; k < kLooks; ++k) {
      for (std::size_t part = 0; part < answer_.approaches.size(); ++part) {
        const double before = gaps[at(k - 1)][part] - gaps[at(k)][part];
        const double after = gaps[at(k + 1)][part] - gaps[at(k)][part];
        if (!(before > 0.0 && after > 0.0 && std::isfinite(before + after))) continue;
        // The lowest point of the parabola through the three.
        const double ahead = (before - after) / (before + after) / 2.0;
        gaps_at(range.from_q + step * (k + ahead));
      }
    }
  }

 private:
  // The gap to each part of the answer; no end where a part is not near or no tangent is.
  std::vector<double> gaps_at(double q) {
    std::vector<double> gaps(answer_.approaches.size(), std::numeric_limits<double>::infinity());
    if (!roller_.put(tensioner_.path.centre_mm(q)).solved()) return gaps;
    const BeltRun run = roller_.run();
    for (const Approach& here : run.approaches) {
      for (std::size_t part = 0; part < gaps.size(); ++part) {
        NamedApproach& kept = answer_.approaches[part];
        if (!same_part(kept.approach, here)) continue;
        gaps[part] = here.gap_mm;
        if (kept.least_in_travel_mm && *kept.least_in_travel_mm <= here.gap_mm) continue;
        kept.least_in_travel_mm = here.gap_mm;
        kept.least_at_reading = tensioner_.path.reading(q);
      }
    }
    return gaps;
  }

  const Tensioner& tensioner_;
  RouteAnswer& answer_;
  MovedWheel roller_;
};

void add_pulleys(const Drive& drive, const std::vector<Wheel>& wheels, const TangentPath& path,
                 RouteAnswer& answer) {
  for (std::size_t i = 0; i < wheels.size(); ++i) {
    const Pulley& from = drive.pulleys[i];
    RoutePulley pulley;
    pulley.name = from.name;
    pulley.index = static_cast<int>(i);
    pulley.teeth = from.teeth;
    pulley.face = from.face;
    pulley.pitch_radius_mm = wheels[i].radius_mm;
    pulley.centre_mm = wheels[i].centre_mm;
    pulley.wrap_deg = path.wraps[i].degrees();
    if (from.toothed()) {
      constexpr double kWholeTooth = 1e-9;
      pulley.mesh_exact = path.wraps[i].radians() / kFullTurn * from.teeth;
      pulley.teeth_in_mesh = static_cast<int>(std::floor(*pulley.mesh_exact + kWholeTooth));
    }
    pulley.gradient = centre_gradient(path, pulley.index);
    answer.pulleys.push_back(pulley);
    const std::size_t next = (i + 1) % wheels.size();
    answer.spans.push_back({from.name, drive.pulleys[next].name, path.spans[i].length_mm,
                            path.spans[i].start_mm, path.spans[i].end_mm});
  }
}

void refuse_two_ways(const Drive& drive, RouteAnswer& answer) {
  if (!drive.both_orders_run) return;
  NamedRefusal refusal;
  refusal.about = "order";
  refusal.text =
      "The pulleys as listed, and the same list read backwards, both give a path that a belt could "
      "take, and the two differ: check the order and which face of the belt each pulley runs on.";
  answer.refused.push_back(refusal);
}

std::string two_pulleys(const Drive& drive, const Refusal& refusal) {
  return fmt::format("{} and {}", plain_name(name(drive, refusal.first)),
                     plain_name(name(drive, refusal.second)));
}

// What a refusal is about: the parts named.
std::string refused_part(const Drive& drive, const Refusal& refusal) {
  switch (refusal.reason) {
    case Refused::no_tangent:
    case Refused::pulleys_overlap:
      return two_pulleys(drive, refusal);
    case Refused::pulley_missed:
      return name(drive, refusal.first);
    case Refused::spans_cross:
      return fmt::format("{} and {}", run_name(drive, refusal.first),
                         run_name(drive, refusal.second));
    case Refused::not_one_turn:
      return "order";
    case Refused::pulley_meets_obstacle:
      return fmt::format("{} and {}", plain_name(name(drive, refusal.first)),
                         plain_name(drive.obstacle_names[at(refusal.second)]));
    case Refused::rubs_pulley:
      return name(drive, refusal.second);
    case Refused::rubs_obstacle:
      return drive.obstacle_names[at(refusal.second)];
    case Refused::rubs_itself:
      break;
  }
  return "belt";
}

std::string refused_sentence(const std::string& about, const Refusal& refusal) {
  const std::string overlap = fixed(-refusal.value, 2);
  switch (refusal.reason) {
    case Refused::no_tangent:
      return fmt::format(
          "No straight run of belt fits between {}: their centres are {} mm apart and would have "
          "to be more than {} mm.",
          about, fixed(refusal.value, 2), fixed(refusal.limit, 2));
    case Refused::pulley_missed:
      return fmt::format(
          "The belt misses {}: its two runs cross beside it (it would have to go {} deg round). "
          "Check its place, its size and which face of the belt it runs on.",
          the(about), fixed(refusal.value, 1));
    case Refused::spans_cross:
      return fmt::format("Two runs cross: {}. Check the order of the pulleys and their faces.",
                         about);
    case Refused::pulley_meets_obstacle:
      return fmt::format(
          "{} overlap by {} mm: no part can stand inside a pulley. Check the part's points (mm, "
          "not "
          "cm) and the pulley's place and size.",
          capital(about), overlap);
    case Refused::not_one_turn:
      if (refusal.value < 0.0) {
        return "Followed once round, the path runs inside out: the pulleys on the belt's tooth "
               "side "
               "lie outside the loop, so the belt would miss them. Check the order of the pulleys "
               "and the faces they run on.";
      }
      return fmt::format(
          "Followed once round, the path turns {} times instead of once: check the order of the "
          "pulleys and the faces they run on.",
          fixed(std::abs(refusal.value), 2));
    case Refused::pulleys_overlap:
      return fmt::format("{} overlap by {} mm. Check their sizes and places.", capital(about),
                         overlap);
    case Refused::rubs_pulley:
      return fmt::format(
          "The belt rubs on {}, which it does not run on there: the bodies overlap by {} mm.",
          the(about), overlap);
    case Refused::rubs_obstacle:
      return fmt::format("The belt touches {}: the bodies overlap by {} mm.", the(about), overlap);
    case Refused::rubs_itself:
      break;
  }
  return fmt::format("The belt touches another run of itself: overlap {} mm.", overlap);
}

}  // namespace

NamedRefusal describe_refusal(const Drive& drive, const Refusal& refusal) {
  const std::string about = refused_part(drive, refusal);
  return {refusal, about, refused_sentence(about, refusal)};
}

ChosenSetting choose_setting(const Drive& drive, const TensionerCurve* curve) {
  if (!drive.tensioner) return {0.0, SettingChoice::fixed_centres};
  const Tensioner& tensioner = *drive.tensioner;
  if (tensioner.set_q) return {*tensioner.set_q, SettingChoice::maker_marks};
  if (curve && drive.belt.teeth) {
    std::vector<Setting> before;
    for (const Setting& setting : curve->settings_for(drive.belt.length_mm(*drive.belt.teeth))) {
      if (setting.in_travel && setting.over_centre == OverCentre::before) before.push_back(setting);
    }
    if (before.size() == 1) return {before.front().q, SettingChoice::belt_length};
  }
  return {tensioner.path.travel_length() / 2.0, SettingChoice::mid_travel};
}

RouteAnswer route_of(const Fitted& fitted, std::optional<double> reading) {
  RouteAnswer answer = route_at_setting(fitted, reading);
  if (const TensionerCurve* curve = fitted.curve(); curve && !answer.approaches.empty()) {
    LookAlongTravel along(fitted.drive(), answer);
    for (const UsableTravel& range : curve->usable()) along.look(range);
  }
  return answer;
}

RouteAnswer route_at_setting(const Fitted& fitted, std::optional<double> reading) {
  const Drive& drive = fitted.drive();
  const TensionerCurve* curve = fitted.curve();
  RouteAnswer answer;
  answer.fit = fitted.fit();
  answer.order = drive.order;
  ChosenSetting chosen = choose_setting(drive, curve);
  if (reading && drive.tensioner) {
    chosen = {drive.tensioner->path.from_reading(*reading), SettingChoice::as_asked};
  }
  answer.choice = chosen.choice;
  refuse_two_ways(drive, answer);

  const std::vector<Wheel> wheels = placed_wheels(drive, chosen.q);
  TangentPath path;
  const PathResult result = solve_path(wheels, path);
  if (!result.solved()) {
    const Refusal refusal{Refused::no_tangent, result.none.from, result.none.to,
                          result.none.distance_mm, result.none.needed_mm};
    answer.refused.push_back(describe_refusal(drive, refusal));
    return answer;
  }
  answer.length_mm = result.length_mm;
  answer.teeth_exact = result.length_mm / drive.belt.tooth_mm();
  if (curve) answer.setting = curve->describe(chosen.q);
  answer.faults = examine_path(wheels, path);
  add_pulleys(drive, wheels, path, answer);
  const BeltRun run = judge_run(wheels, path, drive.around);
  for (const Refusal& refusal : run.refused) {
    answer.refused.push_back(describe_refusal(drive, refusal));
  }
  for (const Approach& approach : run.approaches) {
    answer.approaches.push_back(
        {approach, other_name(drive, approach), piece_name(drive, approach), {}, {}});
  }
  answer.cover_points = cover_points(drive, wheels, path);
  answer.is_belt = answer.refused.empty();
  return answer;
}

}  // namespace twoturn
