#include "twoturn/timing/turns.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/at.hpp"
#include "twoturn/timing/assembly.hpp"

namespace twoturn {
namespace {

// Teeth are counted in doubles on the way round; what is left below this is rounding.
double settled(double value) { return std::abs(value) < kNoErrorDeg ? 0.0 : value; }

PinState pin_state(const Pin& pin, double miss_mm, double tight_mm) {
  constexpr double kRoundingMm = 1e-9;
  if (miss_mm <= pin.play_mm + kRoundingMm) return PinState::in;
  return miss_mm <= pin.play_mm + tight_mm + kRoundingMm ? PinState::tight : PinState::out;
}

bool whole(double value) {
  constexpr double kWhole = 1e-9;
  return std::abs(value - std::round(value)) <= kWhole;
}

// A mark goes round with its pulley; a geared shaft's mark is on the shaft.
double mark_after(const Shaft& shaft, const Mark& mark, const ShaftReading& reading) {
  const Angle turned = shaft.sense * reading.pulley;
  const double deg = (Angle::clock(mark.at_deg) + turned).clock_deg();
  return 360.0 - deg < kNoErrorDeg ? 0.0 : deg;
}

bool sure(const Pin& pin, PinState state, double miss_mm, double tight_mm, const Unsure& unsure) {
  const double beyond = miss_mm - pin.play_mm;
  if (unsure.give_or_take == 0.0) return true;
  if (state == PinState::in) return certainly_beyond(-beyond, unsure);
  const bool not_in = certainly_beyond(beyond, unsure);
  return state == PinState::tight ? not_in && certainly_beyond(tight_mm - beyond, unsure)
                                  : certainly_beyond(beyond - tight_mm, unsure);
}

// The miss goes with the error and the radius, and is held against the play.
Unsure beyond_play(const Pin& pin, const ShaftFit& fit, double error_own_deg, double miss_mm) {
  std::vector<Effect> effects;
  const double side = error_own_deg < 0.0 ? -1.0 : 1.0;
  const double half = Angle::degrees(error_own_deg / 2.0).radians();
  for (const PhaseEffect& effect : fit.effects) {
    const double turned = Angle::degrees(effect.own_deg).radians();
    effects.push_back({effect.key, side * pin.radius_mm * std::cos(half) * turned});
  }
  for (const Pin::Give& give : pin.gives) {
    effects.push_back({give.key, miss_mm / pin.radius_mm * give.radius_mm - give.play_mm});
  }
  return unsure_of(effects);
}

Unsure error_unsure(const Shaft& shaft, const ShaftFit& fit) {
  std::vector<Effect> effects;
  for (const PhaseEffect& effect : fit.effects) {
    effects.push_back({effect.key, effect.own_deg / *shaft.turns_per_crank});
  }
  return unsure_of(effects);
}

ShaftAfter look_at(const Assembly& assembly, int index, int turns, const ShaftReading& reading,
                   const TurnsQuestion& question) {
  const Shaft& shaft = assembly.shafts[at(index)];
  const Angle crank = Angle::radians(kFullTurn * turns);
  const Angle belongs = *shaft.turns_per_crank * crank;
  ShaftAfter after;
  after.shaft = index;
  after.direction = assembly.fitted.direction;
  after.error_own_deg = settled(own_error(shaft, reading, crank).degrees());
  after.error_crank_deg = after.error_own_deg / *shaft.turns_per_crank;
  after.error_teeth = after.error_own_deg / tooth_own_deg(assembly.shafts, index);
  after.error_unsure = error_unsure(shaft, assembly.fits[at(index)]);
  if (shaft.wrong_ratio()) after.known_within_own_deg = tooth_own_deg(assembly.shafts, index) / 2.0;
  const Angle error = Angle::degrees(after.error_own_deg);
  if (const auto radius_mm = shaft.edge_radius_mm()) {
    after.error_edge_mm = error.radians() * *radius_mm;
  }
  for (const Mark& mark : shaft.marks) {
    after.marks_deg.push_back(mark_after(shaft, mark, reading));
  }
  if (!shaft.marks.empty()) {
    after.mark_deg = after.marks_deg.front();
    after.belongs_deg = mark_after(shaft, shaft.marks.front(), {belongs, belongs});
  }
  if (!shaft.pin) return after;
  if (!whole(turns * *shaft.turns_per_crank)) {
    after.pin = PinState::not_due;
    return after;
  }
  after.miss_mm = shaft.pin->between_holes_mm(error);
  after.beyond_unsure =
      beyond_play(*shaft.pin, assembly.fits[at(index)], after.error_own_deg, *after.miss_mm);
  after.pin = pin_state(*shaft.pin, *after.miss_mm, question.pin_tight_mm);
  after.pin_sure =
      sure(*shaft.pin, after.pin, *after.miss_mm, question.pin_tight_mm, after.beyond_unsure);
  return after;
}

AfterTurns look_after(const Assembly& assembly, int turns, const RunState& state,
                      const TurnsQuestion& question) {
  AfterTurns after;
  after.turns = turns;
  const std::vector<ShaftReading> readings = read_shafts(assembly, state);
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    if (!assembly.shafts[i].timed()) continue;
    after.shafts.push_back(look_at(assembly, static_cast<int>(i), turns, readings[i], question));
  }
  return after;
}

// Errors that differ between stops wander; the same one each time repeats.
std::vector<Pattern> find_patterns(const Assembly& assembly, const std::vector<AfterTurns>& after) {
  std::vector<Pattern> patterns(assembly.shafts.size(), Pattern::right);
  for (std::size_t k = 0; k < after.front().shafts.size(); ++k) {
    const ShaftAfter& first = after.front().shafts[k];
    double changed = 0.0;
    for (const AfterTurns& stop : after) {
      const Angle since = Angle::degrees(stop.shafts[k].error_own_deg - first.error_own_deg);
      changed = std::max(changed, std::abs(since.wrapped_half().degrees()));
    }
    constexpr double kSameDeg = 1e-6;
    Pattern& pattern = patterns[at(first.shaft)];
    if (changed > kSameDeg || assembly.shafts[at(first.shaft)].wrong_ratio()) {
      pattern = Pattern::wanders;
    } else if (std::abs(first.error_own_deg) > kSameDeg) {
      pattern = Pattern::repeats;
    }
  }
  return patterns;
}

// A move that leaves as much as it takes out, the other way, is none.
int whole_teeth(double teeth) {
  constexpr double kRounding = 1e-6;
  return static_cast<int>(std::copysign(std::ceil(std::abs(teeth) - 0.5 - kRounding), teeth));
}

std::optional<Cure> find_cure(const Assembly& assembly, const ShaftAfter& seen) {
  const Shaft& shaft = assembly.shafts[at(seen.shaft)];
  const bool nothing = seen.error_own_deg == 0.0 || seen.shaft == 0;
  if (nothing || shaft.wrong_ratio()) return std::nullopt;  // the right pulley is its cure
  Cure cure;
  cure.shaft = seen.shaft;
  cure.moved = belt_shaft_of(assembly.shafts, seen.shaft);
  const Shaft& moved = assembly.shafts[at(cure.moved)];
  const double tooth_deg = tooth_own_deg(assembly.shafts, seen.shaft);
  cure.teeth_on = -whole_teeth(seen.error_own_deg / tooth_deg);
  cure.rest_own_deg = settled(-seen.error_own_deg - cure.teeth_on * tooth_deg);
  cure.rest_crank_deg = cure.rest_own_deg / *shaft.turns_per_crank;
  cure.rest_moved_deg = cure.rest_own_deg * moved.turns_made / shaft.turns_made;
  if (moved.fixing == Fixing::adjustable && moved.range_deg) {
    const double used = -assembly.fits[at(cure.moved)].turned_on_shaft_deg;
    cure.slots_short_deg = std::max(0.0, std::abs(used + cure.rest_moved_deg) - *moved.range_deg);
  }
  if (moved.key_radius_mm) {
    cure.key_offset_mm = Angle::degrees(cure.rest_moved_deg).radians() * *moved.key_radius_mm;
  }
  return cure;
}

bool takes_its_place(const Assembly& assembly, int index) {
  const Shaft& on_belt = assembly.shafts[at(belt_shaft_of(assembly.shafts, index))];
  return on_belt.fixing == Fixing::free_until_tightened;
}

// Whether every timed shaft, geared ones with their own rate, stands within half a tooth of right
// once the crank alone has been turned on by `turned`; what was right may not be put out.
bool rights_all(const Assembly& assembly, const AfterTurns& seen, Angle turned) {
  return std::all_of(seen.shafts.begin(), seen.shafts.end(), [&](const ShaftAfter& after) {
    const Shaft& shaft = assembly.shafts[at(after.shaft)];
    if (after.shaft == 0 || takes_its_place(assembly, after.shaft)) return true;
    if (shaft.wrong_ratio()) return false;
    const Angle left = Angle::degrees(after.error_own_deg) - *shaft.turns_per_crank * turned;
    constexpr double kRounding = 1e-6;
    return std::abs(left.wrapped_half().degrees()) <=
           tooth_own_deg(assembly.shafts, after.shaft) * 0.5 + kRounding;
  });
}

// How many pulleys the belt would have to be moved on to put every shaft right one by one.
std::size_t pulleys_to_move(const std::vector<Cure>& cures) {
  std::vector<int> moved;
  for (const Cure& cure : cures) {
    const bool again = std::find(moved.begin(), moved.end(), cure.moved) != moved.end();
    if (cure.teeth_on != 0 && !again) moved.push_back(cure.moved);
  }
  return moved.size();
}

// More than one shaft out, and the crank moved by whole teeth rights them all: the belt sits wrong
// at the crank, not at each of them.
std::optional<int> find_cure_at_crank(const Assembly& assembly, const AfterTurns& seen,
                                      const std::vector<Cure>& cures) {
  if (pulleys_to_move(cures) < 2) return std::nullopt;
  for (const Cure& cure : cures) {
    const Angle turned = Angle::radians(-cure.teeth_on * kFullTurn / assembly.crank().teeth);
    if (cure.teeth_on != 0 && rights_all(assembly, seen, turned)) return -cure.teeth_on;
  }
  return std::nullopt;
}

std::string passed_on_the_way(const Drive& drive, const TeethBetween& between) {
  const bool with_travel = between.way == Way::with_travel;
  const int start = with_travel ? between.from : between.to;
  const int end = with_travel ? between.to : between.from;
  const int count = static_cast<int>(drive.pulleys.size());
  // Named as they are met from the first shaft on, whichever way the belt runs there.
  std::string names;
  for (int i = (start + 1) % count; i != end; i = (i + 1) % count) {
    const std::string& name = drive.pulleys[at(i)].name;
    if (names.empty()) {
      names = name;
    } else {
      names = with_travel ? names + ", " + name : name + ", " + names;
    }
  }
  return names;
}

// Neighbouring marked shafts round the belt, the crank again at the end.
std::vector<BetweenMarks> count_between_marks(const Assembly& assembly) {
  std::vector<const Shaft*> marked;
  for (const Shaft& shaft : assembly.shafts) {
    if (shaft.timed() && shaft.pulley >= 0 && !shaft.marks.empty()) marked.push_back(&shaft);
  }
  std::vector<BetweenMarks> counts;
  if (marked.size() < 2) return counts;
  const std::size_t pairs = marked.size() == 2 ? 1 : marked.size();
  for (std::size_t k = 0; k < pairs; ++k) {
    const Shaft& from = *marked[k];
    const Shaft& to = *marked[(k + 1) % marked.size()];
    const TeethBetween count = teeth_between(assembly.fitted, assembly.fitted_path, from.pulley,
                                             Angle::clock(from.marks[0].at_deg), to.pulley,
                                             Angle::clock(to.marks[0].at_deg));
    counts.push_back({from.name, to.name, count, passed_on_the_way(assembly.fitted, count)});
  }
  return counts;
}

std::vector<TurnStep> list_steps(const Assembly& assembly, const TurnsQuestion& question,
                                 double direction) {
  std::vector<TurnStep> steps;
  if (question.step_turns <= 0) return steps;
  RunState state = start_of_run(assembly);
  constexpr double kPastEnd = 1e-9;
  const double last = 360.0 * question.step_turns;
  for (int k = 0; k * question.step_deg <= last + kPastEnd; ++k) {
    TurnStep step;
    step.crank_deg = direction * k * question.step_deg;
    advance(assembly, state, Angle::degrees(step.crank_deg));
    step.belt_teeth = belt_travel_teeth(assembly, state);
    const std::vector<ShaftReading> readings = read_shafts(assembly, state);
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const Shaft& shaft = assembly.shafts[i];
      step.shaft_deg.push_back(readings[i].shaft.degrees());
      step.error_crank_deg.push_back(
          shaft.timed() ? error_crank_deg(shaft, readings[i], state.crank) : 0.0);
    }
    steps.push_back(std::move(step));
  }
  return steps;
}

Paint paint_of(const Assembly& assembly) {
  std::vector<int> others;
  for (const Shaft& shaft : assembly.shafts) {
    if (shaft.timed() && shaft.pulley > 0) others.push_back(shaft.teeth);
  }
  return paint_after_two(assembly.belt_teeth, assembly.crank().teeth, others);
}

}  // namespace

Paint paint_after_two(int belt_teeth, int crank_teeth, const std::vector<int>& others) {
  Paint paint;
  paint.belt_teeth = belt_teeth;
  paint.crank_teeth = crank_teeth;
  paint.teeth_further_on = (2 * crank_teeth) % belt_teeth;
  const long long crank = crank_teeth;
  long long meets = std::lcm<long long>(belt_teeth, crank);
  paint.crank_meets_turns = meets / crank;
  for (const int teeth : others) {
    constexpr long long kMost = 1LL << 53;  // teeth; the last whole number that a double holds
    const long long more = teeth / std::gcd<long long>(meets, teeth);
    if (meets > kMost / more) return paint;
    meets *= more;
  }
  paint.all_meet_turns = meets / crank;
  return paint;
}

TurnsAnswer two_turns(Assembly assembly, const TurnsQuestion& question) {
  TurnsAnswer answer;
  answer.fit = question.fit;
  const double direction = question.running == Running::backwards ? -1.0 : 1.0;
  RunState state = start_of_run(assembly);
  for (const int turns : question.after) {
    advance(assembly, state, Angle::degrees(direction * 360.0 * turns));
    answer.after.push_back(
        look_after(assembly, static_cast<int>(direction) * turns, state, question));
  }
  answer.patterns = find_patterns(assembly, answer.after);
  for (const ShaftAfter& seen : answer.after.front().shafts) {
    if (seen.direction == Direction::assumed) break;  // on may be back
    if (const std::optional<Cure> cure = find_cure(assembly, seen)) answer.cures.push_back(*cure);
  }
  answer.crank_once_round = pulleys_to_move(answer.cures) > 0 &&
                            rights_all(assembly, answer.after.front(), Angle::radians(kFullTurn));
  if (!answer.crank_once_round) {
    answer.cure_at_crank = find_cure_at_crank(assembly, answer.after.front(), answer.cures);
  }
  answer.paint = paint_of(assembly);
  answer.between_marks = count_between_marks(assembly);
  if (assembly.crank().pin) answer.crank_play_deg = assembly.crank().pin->play_deg;
  answer.steps = list_steps(assembly, question, direction);
  answer.assembly = std::move(assembly);
  return answer;
}

std::optional<TurnsAnswer> two_turns_of(const Fitted& book, const Fitted& fitted) {
  AssemblyResult result = assemble(book, fitted);
  if (!result.assembly) return std::nullopt;
  return two_turns(std::move(*result.assembly), {});
}

}  // namespace twoturn
