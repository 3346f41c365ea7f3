#include "twoturn/study/tension.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "feel_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "twoturn/load/string.hpp"

namespace twoturn {
namespace {

// A luggage scale that pulls or pushes so much is easily held.
constexpr double kUsualPushN = 30.0;

// How well a straight's length is known: its ends move along it, radii tilt it.
double length_give(const Fitted& fitted, const PlacedPath& placed, int span) {
  const int count = static_cast<int>(placed.wheels.size());
  const int next = (span + 1) % count;
  const Wheel& from = placed.wheels[at(span)];
  const Wheel& to = placed.wheels[at(next)];
  const Vec2 between = to.centre_mm - from.centre_mm;
  const double length = placed.path.spans[at(span)].length_mm;
  const double tilt = to.sense * to.radius_mm - from.sense * from.radius_mm;
  double square = 0.0;
  for (const Unknown& unknown : fitted.uncertainty().unknowns()) {
    double effect = 0.0;
    for (const Unknown::Move& move : unknown.moves) {
      const double way = move.pulley == next ? 1.0 : move.pulley == span ? -1.0 : 0.0;
      if (way == 0.0) continue;
      const int sense = placed.wheels[at(move.pulley)].sense;
      effect += way * (between.dot(move.centre_mm) - tilt * sense * move.radius_mm) / length;
    }
    square += effect * effect;
  }
  return kSigmas95 * std::sqrt(square);
}

// The longest straight that does not lie on the tensioner's roller; the longest of all where each
// does: a long run sounds low and gives far, and beside the roller a finger moves it.
int best_run(const Drive& drive, const PlacedPath& placed) {
  const int count = static_cast<int>(drive.pulleys.size());
  int best = -1;
  const auto beside_roller = [&](int span) {
    return drive.tensioner &&
           (drive.tensioner->pulley == span || drive.tensioner->pulley == (span + 1) % count);
  };
  const auto better = [&](int span) {
    if (best < 0) return true;
    if (beside_roller(span) != beside_roller(best)) return beside_roller(best);
    return placed.path.spans[at(span)].length_mm > placed.path.spans[at(best)].length_mm;
  };
  for (int span = 0; span < count; ++span) {
    if (better(span)) best = span;
  }
  return best;
}

// The tension of every straight with the target where it is read.
class Tensions {
 public:
  Tensions(const DriveSpec& spec, const Fitted& fitted, const TurnsAnswer& turns,
           std::vector<Missing>& missing)
      : drive_(turns.assembly.fitted) {
    const PlacedPath& placed = turns.assembly.fitted_path;
    target_ = study::target_n(spec, drive_, placed, missing);
    static_ = target_;
    std::vector<Missing> unasked;  // springs are asked for by feel
    loads_ = study::cam_loads(spec, turns.fit, &turns, unasked);
    const bool known =
        loads_ && std::all_of(loads_->lobes.begin(), loads_->lobes.end(),
                              [](const study::LobeOnCam& lobe) { return lobe.springs_known; });
    if (!known || !target_) return;
    auto model = study::belt_model(spec, fitted, turns, &*loads_, unasked);
    if (!model) return;
    if (!study::set_static_tension(spec, drive_, placed, *model, unasked)) return;
    static_ = model->belt.static_tension_n;
    runs_ = model->runs;
    const double rad = spec.tension.at_crank_deg.value_or(0.0) * kRadPerDeg;
    state_ =
        solve_elastic(model->belt, model->loads, model->rigid(rad), reference_state(model->belt));
  }

  const std::optional<double>& target() const { return target_; }
  const std::optional<double>& without_load() const { return static_; }
  bool springs() const { return state_.has_value(); }
  std::optional<double> at(int span) const {
    if (!state_) return static_;
    return state_->tension_n[twoturn::at(study::run_of_span(drive_, runs_, span))];
  }

 private:
  const Drive& drive_;
  std::optional<double> target_;
  std::optional<double> static_;
  std::optional<study::CamLoads> loads_;
  std::vector<study::GivingRun> runs_;
  std::optional<ElasticState> state_;
};

void add_runs(const Drive& drive, const PlacedPath& placed, const Fitted& fitted,
              const Tensions& tensions, TensionAnswer& answer) {
  const int count = static_cast<int>(drive.pulleys.size());
  const int best = best_run(drive, placed);
  const int meant = study::span_between(drive, answer.from, answer.to);
  for (int span = 0; span < count; ++span) {
    TensionRun run;
    run.from = drive.pulleys[at(span)].name;
    run.to = drive.pulleys[at((span + 1) % count)].name;
    run.length_mm = placed.path.spans[at(span)].length_mm;
    run.length_give_mm = length_give(fitted, placed, span);
    run.target = span == meant;
    run.best = meant < 0 ? span == best : run.target;
    run.tension_n = tensions.at(span);
    if (run.tension_n && *run.tension_n > 0.0) {
      const BeltString string{run.length_mm, answer.mass_kg_per_m.value_or(0.0)};
      if (answer.mass_kg_per_m) run.note_hz = note_hz(string, *run.tension_n);
      run.give_mm = give_mm(string, *run.tension_n, answer.push_n);
    }
    answer.runs.push_back(std::move(run));
  }
}

// Bounds from a thumb's push of 20 to 50 N for about 6 mm, and a quarter turn by thumb and finger
// with 0.15 to 0.35 Nm (how hard hands press: from memory). A strip of width w under tension T,
// turned by a at its middle between two fixed ends l/2 away, holds against it with T w^2/12
// (a/(l/2)) on each side: edges lie longer than the middle.
HandTests hand_tests(const TensionRun& run, const std::optional<double>& width_mm) {
  constexpr double kThumbGiveMm = 6.0;
  constexpr double kThumbLeastN = 20.0;
  constexpr double kThumbMostN = 50.0;
  constexpr double kTwistLeastNmm = 150.0;
  constexpr double kTwistMostNmm = 350.0;
  const BeltString string{run.length_mm, 0.0};
  HandTests hands{run.from,
                  run.to,
                  kThumbGiveMm,
                  tension_of_give_n(string, kThumbGiveMm, kThumbLeastN),
                  tension_of_give_n(string, kThumbGiveMm, kThumbMostN),
                  {},
                  {}};
  if (width_mm) {
    const double a_newton = *width_mm * *width_mm / 12.0 * (kPi / 2.0) / (run.length_mm / 4.0);
    hands.twist_least_n = kTwistLeastNmm / a_newton;
    hands.twist_greatest_n = kTwistMostNmm / a_newton;
  }
  return hands;
}

void add_pointer(const DriveSpec& spec, const Fitted& fitted, const TurnsAnswer& turns,
                 TensionAnswer& answer, std::vector<Missing>& missing) {
  const Assembly& assembly = turns.assembly;
  if (!fitted.curve() || !assembly.fitted_setting) return;
  answer.kind = fitted.drive().tensioner->path.kind();
  if (!answer.static_n) return;
  if (!spec.belt.stiffness_n) {
    missing.push_back({"where the pointer stands for this tension", "belt.stiffness_n",
                       "take it from the belt's catalogue: N for 1 % of stretch, times 100"});
    return;
  }
  const Belt& belt = fitted.drive().belt;
  const double own = belt.length_mm(assembly.belt_teeth);
  const double beyond = *answer.static_n - belt.reference_tension_n;
  TensionPointer pointer{*assembly.fitted_setting, {}, 0.0};
  pointer.n_per_unit = pointer.untensioned.rate * *spec.belt.stiffness_n / own;
  Tensioner aim = *fitted.drive().tensioner;
  aim.set_q = pointer.untensioned.q;
  const std::vector<Setting> settings =
      fitted.curve()->settings_for(own * (1.0 + beyond / *spec.belt.stiffness_n));
  if (const Setting* meant = meant_setting(settings, aim)) pointer.target = *meant;
  answer.pointer = pointer;
}

double usual_give(TensionBy by) {
  constexpr double kScaleN = 5.0;
  constexpr double kPhoneHz = 2.0;
  constexpr double kRuleMm = 0.5;
  return by == TensionBy::note ? kPhoneHz : by == TensionBy::give ? kRuleMm : kScaleN;
}

// Relative errors of factors add in squares; length and note come in twice.
double tension_give(const DriveSpec& spec, const TensionReading& reading, const TensionRun& run,
                    const TensionAnswer& answer) {
  constexpr double kScaleN = 5.0;
  const double value = reading.give_or_take / reading.value;
  const double length = run.length_give_mm / run.length_mm;
  if (reading.by == TensionBy::newton) return reading.give_or_take;
  if (reading.by == TensionBy::give) {
    return reading.tension_n * std::hypot(value, length, kScaleN / reading.push_n);
  }
  const GivenValue* mass =
      find_given(spec, answer.weighed ? "belt.weighed_g" : "belt.mass_g_per_m");
  const double mass_share =
      mass && mass->number > 0.0 ? give_or_take(*mass).value / mass->number : 0.0;
  return reading.tension_n * std::hypot(2.0 * value, 2.0 * length, mass_share);
}

TensionStands stands(const TensionReading& reading, double wanted_n) {
  constexpr double kAnotherNote = 0.08;
  const double share = reading.tension_n / wanted_n;
  if (reading.by == TensionBy::note) {
    const double note = std::sqrt(share);
    if (std::abs(note / 2.0 - 1.0) < kAnotherNote) return TensionStands::another_note_up;
    if (std::abs(note * 2.0 - 1.0) < kAnotherNote) return TensionStands::another_note_down;
  }
  const double off = reading.tension_n - wanted_n;
  const double allowed = kTensionShare * wanted_n;
  if (std::abs(off) <= allowed) return TensionStands::fits;
  const Unsure unsure{reading.tension_give_n, {}, 0.0};
  if (!certainly_beyond(std::abs(off) - allowed, unsure)) return TensionStands::open;
  return off < 0.0 ? TensionStands::low : TensionStands::high;
}

// What a reading on a run comes to, N.
double read_n(const TensionQuestion& question, const TensionRun& run, const TensionAnswer& answer) {
  const BeltString string{run.length_mm, answer.mass_kg_per_m.value_or(0.0)};
  switch (*question.by) {
    case TensionBy::newton:
      return question.value;
    case TensionBy::note:
      return tension_of_note_n(string, question.value);
    case TensionBy::give:
      return tension_of_give_n(string, question.value, question.push_n.value_or(answer.push_n));
  }
  return 0.0;
}

void add_reading(const DriveSpec& spec, const TensionQuestion& question, TensionAnswer& answer) {
  const TensionRun* run = run_asked(question, answer);
  if (!question.by || run == nullptr || !why_not(question, answer).empty()) return;
  TensionReading reading;
  reading.by = *question.by;
  reading.value = question.value;
  reading.give_or_take = question.give_or_take.value_or(usual_give(reading.by));
  reading.push_n = question.push_n.value_or(answer.push_n);
  reading.from = run->from;
  reading.to = run->to;
  reading.tension_n = read_n(question, *run, answer);
  reading.tension_give_n = tension_give(spec, reading, *run, answer);
  if (run->tension_n && *run->tension_n > 0.0) {
    reading.share = reading.tension_n / *run->tension_n;
    reading.stands = stands(reading, *run->tension_n);
  }
  answer.reading = reading;
}

}  // namespace

TensionWords words_of(TensionStands stands) {
  constexpr const char* kPluck = "pluck again in the middle";
  switch (stands) {
    case TensionStands::fits:
      return {"that fits", ""};
    case TensionStands::open:
      return {"off by more than a tenth, but this reading may be off by as much",
              "measure it again, or another way"};
    case TensionStands::low:
      return {"too slack", "move the tensioner on towards tight"};
    case TensionStands::high:
      return {"too tight", "let the tensioner back"};
    case TensionStands::another_note_up:
      return {
          "about twice the note that belongs here, four times the tension; you caught another "
          "note of this run, or another run",
          kPluck};
    case TensionStands::another_note_down:
      return {
          "about half the note that belongs here; you caught another run, or something beside "
          "it",
          kPluck};
  }
  return {};
}

const TensionRun* run_asked(const TensionQuestion& question, const TensionAnswer& answer) {
  for (const TensionRun& run : answer.runs) {
    const bool named = (run.from == question.from && run.to == question.to) ||
                       (run.from == question.to && run.to == question.from);
    if (question.from.empty() ? run.best : named) return &run;
  }
  return nullptr;
}

std::string why_not(const TensionQuestion& question, const TensionAnswer& answer) {
  const TensionRun* run = run_asked(question, answer);
  if (!question.from.empty() && run == nullptr) {
    return fmt::format("no straight of belt goes from {} to {}: name two neighbours in belt order",
                       the(question.from), the(question.to));
  }
  if (!question.by || run == nullptr) return "";
  if (question.by == TensionBy::note && !answer.mass_kg_per_m) {
    return "a note says nothing without the belt's mass: weigh it (belt.weighed_g)";
  }
  constexpr double kSmallGive = 0.1;  // above it the run no longer gives as its length says
  if (question.by == TensionBy::give && question.value > kSmallGive * run->length_mm) {
    return fmt::format("a run of {} mm that gives {} mm is slack: push less, or tension it first",
                       fixed(run->length_mm, 0), shortest(question.value, 1));
  }
  // No toothed belt is pulled by two in a hundred and comes back; the stiffest of engines' belts
  // would have some 20 kN there.
  constexpr double kMostStretch = 0.02;
  constexpr double kMostN = 20000.0;
  const double most = answer.stiffness_n ? kMostStretch * *answer.stiffness_n : kMostN;
  const double tension = read_n(question, *run, answer);
  if (tension > most) {
    return fmt::format(
        "that would be {} N, and no belt like this has more than {} N: look at the "
        "reading, its unit and the run",
        fixed(tension, 0), fixed(most, 0));
  }
  return "";
}

TensionAnswer tension_answer(const DriveSpec& spec, const Fitted& fitted, const TurnsAnswer& turns,
                             const TensionQuestion& question, std::vector<Missing>& missing) {
  const Drive& drive = turns.assembly.fitted;
  TensionAnswer answer;
  answer.fit = turns.fit;
  answer.from = spec.tension.from.value_or("");
  answer.to = spec.tension.to.value_or("");
  answer.at_crank_deg = spec.tension.at_crank_deg.value_or(0.0);
  answer.push_n = spec.tension.push_n.value_or(kUsualPushN);
  answer.mass_kg_per_m = study::mass_kg_per_m(spec, drive);
  answer.weighed = !spec.belt.mass_g_per_m.has_value();
  answer.stiffness_n = spec.belt.stiffness_n;
  answer.reference_n = drive.belt.reference_tension_n;
  const Tensions tensions(spec, fitted, turns, missing);
  answer.target_n = tensions.target();
  answer.target_given = spec.tension.target_n || spec.tension.target_hz;
  answer.static_n = tensions.without_load();
  answer.springs_counted = tensions.springs();
  add_runs(drive, turns.assembly.fitted_path, fitted, tensions, answer);
  if (!answer.mass_kg_per_m) {
    missing.push_back(
        {"the note of a plucked run", "belt.weighed_g", "weigh the old belt on a kitchen scale"});
  }
  const auto best = std::find_if(answer.runs.begin(), answer.runs.end(),
                                 [](const TensionRun& run) { return run.best; });
  if (best != answer.runs.end()) answer.hands = hand_tests(*best, spec.belt.width_mm);
  add_pointer(spec, fitted, turns, answer, missing);
  add_reading(spec, question, answer);
  return answer;
}

}  // namespace twoturn
