#include "twoturn/drive/working.hpp"

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/route.hpp"

using namespace twoturn;

namespace {

constexpr double kRoundingMm = 1e-9;

}  // namespace

TEST_CASE("The working of a route sums to the route's own length") {
  const Fitted fitted = drives::fitted(drives::worked_example());
  const Drive& drive = fitted.drive();
  const RouteAnswer route = route_of(fitted);
  const std::optional<WorkingAnswer> working = work_route(drive, route);
  REQUIRE(working.has_value());
  CHECK(working->runs.size() == 4);
  CHECK_THAT(working->length_mm, WithinAbs(route.length_mm, kRoundingMm));
  CHECK_THAT(working->teeth_exact, WithinAbs(route.teeth_exact, kRoundingMm));
  for (std::size_t i = 0; i < working->runs.size(); ++i) {
    CHECK_THAT(working->runs[i].length_mm, WithinAbs(route.spans[i].length_mm, kRoundingMm));
    CHECK_THAT((working->runs[i].leaves_mm - route.spans[i].start_mm).norm(),
               WithinAbs(0.0, kRoundingMm));
    CHECK_THAT((working->runs[i].meets_mm - route.spans[i].end_mm).norm(),
               WithinAbs(0.0, kRoundingMm));
  }
}

TEST_CASE("One run can be asked for, by its two pulleys either way round") {
  const Fitted fitted = drives::fitted(drives::worked_example());
  const Drive& drive = fitted.drive();
  const RouteAnswer route = route_of(fitted);
  REQUIRE(work_route(drive, route, "cam", "water pump")->runs.size() == 1);
  REQUIRE(work_route(drive, route, "water pump", "cam")->runs.size() == 1);
  CHECK(work_route(drive, route, "crank", "cam")->runs.empty());  // no neighbours
  CHECK(work_route(drive, route, "cam")->runs.size() == 2);
}

TEST_CASE("The worked run of two pulleys is the textbook's") {
  // Published: Khurmi and Gupta, Theory of Machines, ex. 11.15, open belt; recomputed exactly:
  // radii 0.3 and 0.12 at 3, length 7.33027215801, wraps 173.1203745 and 186.8796255 deg. Here a
  // thousand times larger, as pitch radii of a pitch that suits.
  constexpr double kPitch = 2.0 * kPi;  // pitch radius in mm is the tooth count
  DriveSpec spec = drives::two_pulleys(kPitch, 120, 300, 3000.0, 1166);
  const Fitted fitted = drives::fitted(spec);
  const std::optional<WorkingAnswer> working = work_route(fitted.drive(), route_of(fitted));
  REQUIRE(working.has_value());
  constexpr double kPrintedMm = 1e-8;
  constexpr double kPrintedDeg = 1e-7;
  CHECK_THAT(working->length_mm, WithinAbs(7330.27215801, kPrintedMm));
  CHECK_THAT(working->arcs[0].wrap_deg, WithinAbs(173.1203745, kPrintedDeg));
  CHECK_THAT(working->arcs[1].wrap_deg, WithinAbs(186.8796255, kPrintedDeg));
}
