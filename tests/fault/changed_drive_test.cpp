// The same faults on a changed drive: mirrored, with another count, with the cure obeyed.
#include <algorithm>
#include <cmath>
#include <variant>

#include "fault/drawn.hpp"
#include "support/catch.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/turns.hpp"

namespace {

using namespace drawn;

constexpr double kRoundingDeg = 1e-6;

double short_way(double deg) { return std::remainder(deg, 360.0); }

Turn other_way(Turn turn) {
  return turn == Turn::clockwise ? Turn::anticlockwise : Turn::clockwise;
}

// Seen from the other end of the engine.
class Mirror {
 public:
  DriveSpec of(DriveSpec spec) const {
    spec.crank_turns = other_way(spec.crank_turns.value_or(Turn::clockwise));
    for (HeadSpec& head : spec.heads) turn(head.deck_deg);
    for (PulleySpec& pulley : spec.pulleys) {
      flip(pulley.at_mm);
      turn(pulley.mark_deg);
      for (MarkSpec& mark : pulley.marks) turn(mark.at_deg);
      if (pulley.tensioner) flip(*pulley.tensioner);
    }
    for (GearedSpec& geared : spec.geared) turn(geared.mark_deg);
    for (CoverSpec& cover : spec.covers) {
      for (Vec2& point : cover.points_mm) point.x() = -point.x();
    }
    return spec;
  }

 private:
  static void turn(std::optional<double>& deg) {
    if (deg) deg = std::fmod(720.0 - *deg, 360.0);
  }
  static void flip(std::optional<Vec2>& at_mm) {
    if (at_mm) at_mm->x() = -at_mm->x();
  }
  static void flip(TensionerSpec& tensioner) {
    turn(tensioner.set_deg);
    turn(tensioner.pointer_deg);
    if (SwingSpec* swing = std::get_if<SwingSpec>(&tensioner.path)) {
      flip(swing->pivot_mm);
      turn(swing->slack_deg);
      turn(swing->tight_deg);
      if (swing->tightens) swing->tightens = other_way(*swing->tightens);
    } else if (SlideSpec* slide = std::get_if<SlideSpec>(&tensioner.path)) {
      flip(slide->slack_at_mm);
      flip(slide->tight_at_mm);
    }
  }
};

std::vector<std::pair<std::string, DriveSpec>> specs() {
  std::vector<std::pair<std::string, DriveSpec>> all;
  for (const std::string& name : demos::names()) all.emplace_back(name, demos::spec_of(name));
  all.emplace_back("saw-mill", holdout::spec());
  return all;
}

// The greatest difference between what two benches hold.
double most_apart(const Bench& a, const Bench& b) {
  double most = 0.0;
  const auto add = [&](double off) { most = std::max(most, std::abs(off)); };
  for (std::size_t i = 0; i < a.shafts.size(); ++i) {
    for (std::size_t stop = 0; stop < kBenchStops; ++stop) {
      add(short_way(a.shafts[i].shaft_deg[stop] - b.shafts[i].shaft_deg[stop]));
      add(short_way(a.shafts[i].mark_deg[stop] - b.shafts[i].mark_deg[stop]));
    }
  }
  for (std::size_t i = 0; i < a.further_deg.size(); ++i) add(a.further_deg[i] - b.further_deg[i]);
  for (std::size_t i = 0; i < a.counts.size(); ++i) add(a.counts[i] - b.counts[i]);
  add(a.loose_mm - b.loose_mm);
  add(a.adjustment_left_mm.value_or(0.0) - b.adjustment_left_mm.value_or(0.0));
  return most;
}

}  // namespace

TEST_CASE("a mirrored drive has mirrored benches") {
  int compared = 0;
  for (const auto& [name, spec] : specs()) {
    const FaultBase base = fault_base(spec, Fit::as_fitted);
    if (!base.turns || !spec.measured.empty()) continue;
    const FaultBase mirrored = fault_base(Mirror().of(spec), Fit::as_fitted);
    REQUIRE(mirrored.turns);
    const bool swing = base.layout.tensioner == TensionerKind::swing;
    for (const FaultCase& suspect : suspects_of(base)) {
      const double size =
          suspect.size() ? 0.7 * suspect.size()->greatest + 0.3 * suspect.size()->least : 0.0;
      const Fault& fault = suspect.first();
      // A swing's turning and the order of its settings are counted clockwise: not mirrored.
      if (swing && (fault.kind == FaultKind::tensioner_off || fault.kind == FaultKind::over_centre))
        continue;
      CAPTURE(name, word(fault.kind), fault.about, fault.teeth, size);
      const std::optional<Bench> one = simulate(base, suspect, size).bench;
      const std::optional<Bench> other = simulate(mirrored, suspect, size).bench;
      REQUIRE(one.has_value() == other.has_value());
      if (!one) continue;
      CHECK(most_apart(*one, *other) < kRoundingDeg);
      REQUIRE(one->pointer.has_value() == other->pointer.has_value());
      if (one->pointer) {
        CHECK_THAT(
            swing ? short_way(*one->pointer + *other->pointer) : *one->pointer - *other->pointer,
            WithinAbs(0.0, kRoundingDeg));
      }
      ++compared;
    }
  }
  CHECK(compared > 300);
}

TEST_CASE("one tooth more on a pulley changes every fault's bench") {
  struct Row {
    const char* drive;
    const char* key;
    const char* teeth[2];
  };
  const Row rows[] = {{"harbour-launch", "pulley.water pump.teeth", {"23", "25"}},
                      {"hill-climb-saloon", "pulley.water pump.teeth", {"19", "21"}},
                      {"night-bakery-van", "pulley.water pump.teeth", {"21", "23"}},
                      {"cam-bench", "pulley.cam spindle.teeth", {"43", "45"}}};
  int drives_changed = 0;
  for (const Row& row : rows) {
    const FaultBase base = fault_base(demos::spec_of(row.drive), Fit::as_fitted);
    REQUIRE(base.turns);
    for (const char* teeth : row.teeth) {
      CAPTURE(row.drive, teeth);
      const FaultBase changed =
          fault_base(demos::spec_of(row.drive, {{row.key, teeth}}), Fit::as_fitted);
      if (!changed.turns) continue;  // the belt does not reach
      ++drives_changed;
      int compared = 0;
      for (const FaultCase& suspect : suspects_of(base)) {
        const double size = suspect.size() ? suspect.size()->typical : 0.0;
        const std::optional<Bench> one = simulate(base, suspect, size).bench;
        const std::optional<Bench> other = simulate(changed, suspect, size).bench;
        if (!one || !other) continue;
        CAPTURE(word(suspect.first().kind), suspect.first().about);
        const double pointer = one->pointer.value_or(0.0) - other->pointer.value_or(0.0);
        CHECK(std::max(most_apart(*one, *other), std::abs(pointer)) > 1e-3);
        ++compared;
      }
      CHECK(compared > 10);
    }
  }
  CHECK(drives_changed >= 4);
}

TEST_CASE("a belt moved as the cures say is right again") {
  int cured = 0;
  for (const Fit fit : {Fit::by_the_book, Fit::as_fitted}) {
    for (const auto& [name, spec] : specs()) {
      const FaultBase base = fault_base(spec, fit);
      if (!base.turns) continue;
      for (const FaultCase& suspect : suspects_of(base)) {
        const Fault& fault = suspect.first();
        const bool by_belt = std::all_of(
            suspect.faults.begin(), suspect.faults.end(),
            [](const Fault& one) { return remedy_of(one) == Remedy::move_belt && one.teeth != 0; });
        if (!by_belt) continue;
        const FaultyBuild build = simulate(base, suspect, 0.0);
        if (!build.turns) continue;
        CAPTURE(name, word(fault.kind), fault.about, fault.teeth, suspect.faults.size());
        Mishap mishap = build.mishap;
        const std::vector<Shaft>& shafts = build.turns->assembly.shafts;
        if (build.turns->cure_at_crank) {
          mishap.teeth_out[shafts.front().name] += *build.turns->cure_at_crank;
        } else {
          for (const Cure& cure : build.turns->cures) {
            // A geared shaft moves with its driver, which has a cure of its own.
            if (cure.moved != cure.shaft) continue;
            mishap.teeth_out[shafts[static_cast<std::size_t>(cure.moved)].name] += cure.teeth_on;
          }
        }
        AssemblyResult again = assemble(*base.book.fitted, *base.fitted.fitted, mishap);
        REQUIRE(again.assembly);
        const TurnsAnswer turns = two_turns(std::move(*again.assembly), {});
        for (const AfterTurns& after : turns.after) {
          for (const ShaftAfter& shaft : after.shafts) {
            CHECK(std::abs(shaft.error_teeth) < 0.5);
            if (fit == Fit::by_the_book) CHECK_THAT(shaft.error_own_deg, WithinAbs(0.0, 1e-6));
          }
        }
        ++cured;
      }
    }
  }
  CHECK(cured > 100);
}
