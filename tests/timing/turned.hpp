// A drive turned over, and what its shafts then show.
#pragma once

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "support/assembled.hpp"
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/timing/turns.hpp"

namespace turned_over {

using namespace twoturn;

inline Assembly belt_on(const DriveSpec& spec, Fit fit = Fit::as_fitted) {
  AssemblyResult result = drives::assembled(spec, fit);
  if (result.none) {
    CAPTURE(static_cast<int>(result.none->reason), result.none->about, result.none->value);
    FAIL("the belt cannot be put on");
  }
  return std::move(*result.assembly);
}

inline TurnsAnswer turned(const DriveSpec& spec, Fit fit = Fit::as_fitted) {
  return two_turns(belt_on(spec, fit), TurnsQuestion{});
}

/// With something gone wrong as the belt was put on.
inline Assembly mishapped(const DriveSpec& spec, const Mishap& mishap) {
  const BothFits both = both_fits(spec, Fit::as_fitted);
  AssemblyResult result = assemble(both.book.fitted.value(), both.asked.fitted.value(), mishap);
  REQUIRE(result.assembly.has_value());
  return std::move(*result.assembly);
}

inline const ShaftAfter& seen(const TurnsAnswer& answer, std::string_view shaft, int turns) {
  for (const AfterTurns& after : answer.after) {
    if (after.turns != turns) continue;
    for (const ShaftAfter& here : after.shafts) {
      if (answer.assembly.shafts[static_cast<std::size_t>(here.shaft)].name == shaft) return here;
    }
  }
  throw std::out_of_range("no shaft is named " + std::string(shaft) + " after " +
                          std::to_string(turns) + " turns");
}

inline std::size_t index_of(const Assembly& assembly, std::string_view name) {
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    if (assembly.shafts[i].name == name) return i;
  }
  throw std::out_of_range("no shaft is named " + std::string(name));
}

inline const ShaftFit& fit_of(const Assembly& assembly, std::string_view name) {
  return assembly.fits[index_of(assembly, name)];
}

/// A long slot, and the middle one of the belts that go on with it: for drives whose sizes change.
inline void take_fitting_belt(DriveSpec& spec) {
  PulleySpec& roller = drives::named(spec, "tensioner");
  roller.tensioner->path = SlideSpec{Vec2(-120, 170), Vec2(40, 170)};
  roller.tensioner->set_deg.reset();
  const Drive drive = drives::built(spec);
  const std::vector<FittingCount> counts = fitting_counts(TensionerCurve(drive), drive.belt);
  REQUIRE_FALSE(counts.empty());
  spec.belt.teeth = counts[counts.size() / 2].teeth;
}

/// The worked example with a second shaft of half the crank's rate in place of its water pump.
inline DriveSpec two_timed_shafts() {
  DriveSpec spec = drives::worked_example();
  PulleySpec& pump = drives::named(spec, "water pump");
  pump.name = "injection pump";
  pump.teeth = 40;
  pump.role = Role::injection_pump;
  pump.mark_deg = 90.0;
  take_fitting_belt(spec);
  return spec;
}

/// Clockwise from the crank: tensioner, cam, an idler on the back, water pump, low pump.
inline DriveSpec six() {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "water pump").at_mm = Vec2(74, 150);
  spec.pulleys.insert(spec.pulleys.begin() + 3, drives::back_roller("idler", 44.0, 97.0, 262.0));
  spec.pulleys.push_back(drives::toothed("low pump", 21, 55, 70));
  take_fitting_belt(spec);
  return spec;
}

inline GearedSpec geared(std::string name, std::string from, double ratio, Role role) {
  GearedSpec shaft;
  shaft.name = std::move(name);
  shaft.from = std::move(from);
  shaft.ratio = ratio;
  shaft.role = role;
  return shaft;
}

/// Two pulleys of 20 teeth, 8 mm, one above the other, and between them a third that pushes the
/// taut run out by so much, marks square to it. Its belt leaves each way by atan(out / 150).
inline DriveSpec three_alike(double out_mm) {
  DriveSpec spec = drives::two_pulleys(8.0, 20, 20, 300.0, 95);
  drives::named(spec, "cam").role = Role::auxiliary_shaft;
  drives::named(spec, "cam").turns_per_crank = 1.0;
  PulleySpec third = drives::toothed("pump", 20, out_mm, 150.0);
  third.role = Role::water_pump;
  spec.pulleys.push_back(third);
  return spec;
}

}  // namespace turned_over
