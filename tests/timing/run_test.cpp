// The run that carries teeth. Evidence: pulleys of 20 teeth half wrapped, whose teeth can be
// counted by hand, and every tooth asked whether it lies on the arc.
#include "twoturn/timing/run.hpp"

#include <cmath>
#include <cstddef>
#include <deque>
#include <set>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "timing/turned.hpp"

using namespace twoturn;
using turned_over::belt_on;
using turned_over::geared;
using turned_over::index_of;

namespace {

constexpr double kToothDeg = 18.0;  // of a crank with 20 teeth

// Two pulleys of 20 teeth one above the other: each holds half a turn, ten pitches. The crank's
// mark stands where the belt comes in, so that with pins in a tooth lies at each end of its arc.
Assembly half_wrapped() {
  DriveSpec spec = drives::two_pulleys(8.0, 20, 20, 300.0, 95);
  PulleySpec& other = drives::named(spec, "cam");
  other.role = Role::auxiliary_shaft;
  other.turns_per_crank = 1.0;
  drives::named(spec, "crank").mark_deg = 90.0;
  other.mark_deg = 90.0;
  return belt_on(spec);
}

// Teeth that lie on a shaft's arc with the crank at `crank`, each asked by itself.
std::set<long> teeth_on(const Assembly& assembly, std::size_t i, double crank_deg) {
  const ShaftFit& crank_fit = assembly.fits[0];
  const ShaftFit& fit = assembly.fits[i];
  const double first = crank_fit.arc_start_teeth +
                       crank_fit.mark_from_entry_mm / assembly.fitted.belt.pitch_mm -
                       crank_fit.groove_phase + crank_deg / 360.0 * assembly.crank().teeth;
  std::set<long> teeth;
  constexpr long kFar = 1000;
  for (long tooth = -kFar; tooth <= kFar; ++tooth) {
    const double past = first + static_cast<double>(tooth) - fit.arc_start_teeth;
    if (past >= -1e-9 && past <= fit.arc_teeth + 1e-9) teeth.insert(tooth);
  }
  return teeth;
}

std::set<long> teeth_of(const std::deque<Mesh>& mesh) {
  std::set<long> teeth;
  for (const Mesh& here : mesh) teeth.insert(here.tooth);
  return teeth;
}

}  // namespace

TEST_CASE("Half a turn of 20 teeth holds ten pitches, with a tooth at each end eleven teeth") {
  // By hand.
  const Assembly assembly = half_wrapped();
  CHECK_THAT(assembly.fits[0].arc_teeth, WithinAbs(10.0, 1e-12));
  CHECK_THAT(assembly.fits[1].arc_teeth, WithinAbs(10.0, 1e-12));
  CHECK_THAT(assembly.fits[0].mark_from_entry_mm, WithinAbs(0.0, 1e-12));
  CHECK(start_of_run(assembly).in_mesh[0].size() == 11);
  CHECK(state_at(assembly, Angle::degrees(kToothDeg / 2.0)).in_mesh[0].size() == 10);
}

TEST_CASE("A tooth that is at an end of its arc but for rounding is in mesh, on the run as asked") {
  const Assembly assembly = half_wrapped();
  const double way = GENERATE(1.0, -1.0);
  RunState state = start_of_run(assembly);
  for (int k = 1; k <= 45; ++k) {
    // Rounding is a thousand times less than 1e-9 of a tooth; a hundredth of a millionth is not.
    for (const double off : {-1e-8, -1e-10, 0.0, 1e-10, 1e-8}) {
      const Angle crank = Angle::degrees(way * (k + off) * kToothDeg);
      const RunState pure = state_at(assembly, crank);
      advance(assembly, state, crank);
      REQUIRE(state == pure);
      CAPTURE(k, off);
      REQUIRE(state.in_mesh[0].size() == (std::abs(off) < 1e-9 ? 11U : 10U));
    }
  }
}

TEST_CASE("In mesh are those teeth that lie on the arc, of every shaft at any angle") {
  DriveSpec spec = drives::worked_example();
  spec.geared = {geared("balance shaft", "cam", -4.0, Role::balance_shaft)};
  const Assembly assembly = belt_on(spec);
  RunState state = start_of_run(assembly);
  for (const double deg : {0.0, 1.0, 7.3, 18.0, 100.0, 719.0, 1444.4, 300.0, -250.0, 3.0}) {
    advance(assembly, state, Angle::degrees(deg));
    CHECK(state.in_mesh[index_of(assembly, "balance shaft")].empty());
    for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
      if (assembly.shafts[i].pulley < 0) continue;
      CAPTURE(deg, i);
      CHECK(teeth_of(state.in_mesh[i]) == teeth_on(assembly, i, deg));
      // Grooves follow as teeth do, from the tooth that lay in groove 0.
      for (const Mesh& mesh : state.in_mesh[i]) {
        CHECK(mesh.tooth - mesh.groove == assembly.fits[i].hold);
      }
    }
    CHECK_THAT(belt_travel_teeth(assembly, state), WithinAbs(deg / kToothDeg, 1e-10));
  }
}

TEST_CASE("A pulley that little more than one tooth holds is carried on all the same") {
  // Exact: pushed out by 150 tan 10 deg the run holds 20 of 360 deg there, 20/18 of a pitch.
  const Assembly assembly = belt_on(turned_over::three_alike(150.0 * std::tan(kPi / 18.0)));
  const std::size_t pump = index_of(assembly, "pump");
  CHECK_THAT(assembly.fits[pump].arc_teeth, WithinAbs(20.0 / 18.0, 1e-9));
  for (const double step : {5.0, 100.0}) {
    RunState state = start_of_run(assembly);
    for (int k = 1; k <= 40; ++k) {
      const Angle crank = Angle::degrees(k * step);
      advance(assembly, state, crank);
      REQUIRE(state == state_at(assembly, crank));
      CHECK_THAT(read_shafts(assembly, state)[pump].shaft.degrees(), WithinAbs(k * step, 1e-8));
    }
  }
}

TEST_CASE("An error is read within half a turn of the shaft, in crank degrees by its rate") {
  Shaft shaft;
  shaft.turns_per_crank = 0.5;
  const auto at = [&shaft](double deg, double crank_deg) {
    const ShaftReading reading{Angle::degrees(deg), Angle::degrees(deg)};
    return error_crank_deg(shaft, reading, Angle::degrees(crank_deg));
  };
  // By hand: the crank at 100, the cam belongs at 50.
  CHECK_THAT(at(53.0, 100.0), WithinAbs(6.0, 1e-12));
  CHECK_THAT(at(41.0, 100.0), WithinAbs(-18.0, 1e-12));
  CHECK_THAT(at(50.0 + 360.0 + 3.0, 100.0), WithinAbs(6.0, 1e-11));
  CHECK_THAT(at(50.0 + 190.0, 100.0), WithinAbs(-340.0, 1e-11));
  // A billionth of a degree is rounding, ten of them are none.
  CHECK(at(50.0 + 2e-10, 100.0) == 0.0);
  CHECK(at(50.0 - 2e-10, 100.0) == 0.0);
  CHECK_THAT(at(50.0 + 5e-9, 100.0), WithinAbs(1e-8, 1e-12));
  CHECK_THAT(at(50.0 - 5e-9, 100.0), WithinAbs(-1e-8, 1e-12));
}
