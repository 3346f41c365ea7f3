// Settings and travels where it is tight: windows shorter than a look, ends met exactly, and how
// many evaluations a root may take. Evidence: the law of cosines; the path judged anew.
#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"

using namespace twoturn;

namespace {

// An eccentric so near the cam that its roller clears it only about one place: pointing straight
// away from it, down to the left. Half the window is `half_deg`.
DriveSpec narrow(double half_deg, double slack_deg, double tight_deg) {
  constexpr double kArm = 6.0;
  const double needed = 40 * 9.525 / kFullTurn + 30.0 + 1.504;
  // |d + arm|^2 = d^2 + arm^2 + 2 d arm cos: needed where the angle is the window's half.
  const double c = std::cos(half_deg * kRadPerDeg);
  const double d = -kArm * c + std::sqrt(needed * needed - kArm * kArm * (1.0 - c * c));
  const Vec2 away = Vec2(-40, -205).normalized();
  DriveSpec spec = drives::worked_example();
  const Vec2 pivot = Vec2(0, 375) + d * away;
  drives::named(spec, "tensioner").tensioner =
      drives::swing(pivot, kArm, slack_deg, tight_deg, Turn::clockwise);
  return spec;
}

const double kAwayDeg = std::atan2(-40.0, -205.0) / kRadPerDeg + 360.0;  // clock: right over up

}  // namespace

TEST_CASE("A window shorter than any step of the travel is found, and its ends are its own") {
  for (const double half : {0.2, 0.7, 1.5}) {
    for (const double before : {31.3, 100.0, 177.7, 290.1}) {
      const DriveSpec spec = narrow(half, kAwayDeg - before, kAwayDeg - before + 350.0);
      const Drive drive = drives::built(spec);
      const TensionerCurve curve(drive);
      CAPTURE(half, before);
      REQUIRE(curve.usable().size() == 1);
      CHECK_THAT(curve.usable()[0].from_q, WithinAbs((before - half) * kRadPerDeg, 1e-6));
      CHECK_THAT(curve.usable()[0].to_q, WithinAbs((before + half) * kRadPerDeg, 1e-6));
      CHECK(curve.usable()[0].slack_cause->reason == Refused::no_tangent);
      CHECK(curve.usable()[0].tight_cause->reason == Refused::no_tangent);
      CHECK(curve.least_mm() < curve.greatest_mm());
    }
  }
}

TEST_CASE("A window beyond either end of the travel is none of it, one over an end ends there") {
  CHECK(TensionerCurve(drives::built(narrow(1.0, kAwayDeg + 10.0, kAwayDeg + 300.0)))
            .usable()
            .empty());
  CHECK(TensionerCurve(drives::built(narrow(1.0, kAwayDeg - 200.0, kAwayDeg - 10.0)))
            .usable()
            .empty());
  const TensionerCurve over(drives::built(narrow(1.0, kAwayDeg - 81.0, kAwayDeg + 0.5)));
  REQUIRE(over.usable().size() == 1);
  CHECK_THAT(over.usable()[0].from_q, WithinAbs(80.0 * kRadPerDeg, 1e-6));
  CHECK_THAT(over.usable()[0].to_q, WithinAbs(81.5 * kRadPerDeg, 1e-6));
  for (const double before : {81.0, 100.0, 177.7}) {
    const TensionerCurve cut(drives::built(narrow(1.0, kAwayDeg - before, kAwayDeg + 0.5)));
    REQUIRE(cut.usable().size() == 1);
    CHECK_THAT(cut.usable()[0].from_q, WithinAbs((before - 1.0) * kRadPerDeg, 1e-6));
  }
  const TensionerCurve begun(drives::built(narrow(1.0, kAwayDeg + 0.5, kAwayDeg + 100.0)));
  REQUIRE(begun.usable().size() == 1);
  CHECK(begun.usable()[0].from_q == 0.0);
  CHECK_THAT(begun.usable()[0].to_q, WithinAbs(0.5 * kRadPerDeg, 1e-6));
}

TEST_CASE("A belt of just the slack end's length stands there once, not a turn on as well") {
  const Drive drive = drives::built(drives::worked_example());
  const TensionerCurve curve(drive);
  const std::vector<Setting> settings = curve.settings_for(curve.at(0.0)->length_mm);
  REQUIRE(settings.size() == 2);
  CHECK_THAT(settings[0].q, WithinAbs(0.0, 1e-9));
  CHECK(settings[1].q < 6.0);
  CHECK(settings[1].over_centre == OverCentre::past);
}

TEST_CASE("Settings beyond the travel are told all round, in it only where a belt can run") {
  DriveSpec spec = drives::worked_example();
  TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
  tensioner = drives::swing(Vec2(-40, 170), 6.0, 300.0, 60.0, Turn::clockwise);
  const std::vector<Setting> settings =
      TensionerCurve(drives::built(spec)).settings_for(111 * 9.525);
  REQUIRE(settings.size() == 2);
  CHECK(settings[0].in_travel);
  CHECK_FALSE(settings[1].in_travel);
  CHECK_THAT(settings[1].reading.value, WithinAbs(186.25, 0.005));
  CHECK(settings[1].adjustment_left_mm == 0.0);
  CoverSpec stud;
  stud.name = "stud";
  int refused = 0;
  for (double x = -90; x <= 0; x += 3) {
    stud.points_mm = {Vec2(x, 160), Vec2(x + 4, 160)};
    spec.covers = {stud};
    const Drive drive = drives::built(spec);
    const std::vector<Setting> some = TensionerCurve(drive).settings_for(111 * 9.525);
    for (const Setting& setting : some) {
      const std::vector<Wheel> wheels = placed_wheels(drive, setting.q);
      TangentPath path;
      REQUIRE(solve_path(wheels, path).solved());
      CHECK(can_run(wheels, path, drive.around));
    }
    refused += 2 - static_cast<int>(some.size());
  }
  CHECK(refused > 5);
}

TEST_CASE("A root on a straight curve takes one look, one of a swing no more than a few") {
  // Newton doubles its digits: from some 1 mm to 1e-11 in five, and a look or two about a top.
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  drives::named(spec, "cam").at_mm.reset();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(0, 300), Vec2(0, 320)};
  drives::named(spec, "cam").tensioner = tensioner;
  int most = 0;
  CHECK(TensionerCurve(drives::built(spec)).settings_for(99.3 * 8.0, most).size() == 1);
  CHECK(most == 1);
  const TensionerCurve curve(drives::built(drives::worked_example()));
  most = 0;
  for (double length = 1051.0; length < 1060.2; length += 0.37) curve.settings_for(length, most);
  CHECK(most > 1);
  CHECK(most <= 7);
}

TEST_CASE("The order in which a belt runs somewhere in the travel is found from either listing") {
  int elsewhere = 0;
  for (double slack = 0.0; slack < 360.0; slack += 15.0) {
    for (const double pivot_x : {-66.0, -62.0, -58.0}) {
      DriveSpec spec = drives::worked_example();
      drives::named(spec, "tensioner").tensioner =
          drives::swing(Vec2(pivot_x, 170), 14.0, slack, slack + 200.0, Turn::clockwise);
      DriveSpec backwards = spec;
      std::reverse(backwards.pulleys.begin(), backwards.pulleys.end());
      const Drive one = drives::built(spec);
      const Drive other = drives::built(backwards);
      const TensionerCurve curve(one);
      if (curve.usable().empty()) continue;
      if (curve.usable().front().from_q > 0.0) ++elsewhere;
      CAPTURE(slack, pivot_x);
      REQUIRE(one.pulleys.size() == other.pulleys.size());
      CHECK(one.order == Order::as_listed);
      CHECK(other.order == Order::reversed);
      CHECK_FALSE(one.both_orders_run);
    }
  }
  CHECK(elsewhere > 3);
}

namespace {

MeasuredSpec distance(const char* from, const char* to, double mm) {
  MeasuredSpec measured;
  measured.from = from;
  measured.to = to;
  measured.distance_mm = mm;
  measured.give_or_take_mm = 0.2;
  return measured;
}

// The worked drive with cam and pump measured, the pump's coordinates among it.
DriveSpec surveyed() {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").at_mm.reset();
  drives::named(spec, "cam").near_mm = Vec2(0, 370);
  spec.given = {drives::measured("pulley.water pump.at_mm[0]", 0.3),
                drives::measured("pulley.water pump.at_mm[1]", 0.3)};
  spec.measured = {distance("crank", "cam", 375.0),
                   distance("cam", "water pump", std::hypot(62, 225)),
                   distance("cam", "tensioner", std::hypot(40, 205))};
  return spec;
}

double length_with(const DriveSpec& spec) {
  const Drive drive = drives::built(with_places(spec));
  return path_length(placed_wheels(drive, 0.7)).length_mm;
}

}  // namespace

TEST_CASE("Each measurement moves the belt's length as the survey made anew has it") {
  const DriveSpec spec = surveyed();
  const DriveSpec placed = with_places(spec);
  REQUIRE(placed.places->placed());
  const Fitted fitted = drives::fitted(placed);
  const std::vector<Unknown>& unknowns = fitted.uncertainty().unknowns();
  const std::vector<double> effects = fitted.uncertainty().length_effects(fitted.drive(), 0.7, 111);
  std::vector<std::string> numbers;
  for (const Unknown& unknown : unknowns) numbers.push_back(unknown.number);
  const std::vector<std::string> expected{"pulley.water pump.at_mm[0]",
                                          "pulley.water pump.at_mm[1]", "measured.1.distance_mm",
                                          "measured.2.distance_mm", "measured.3.distance_mm"};
  REQUIRE(numbers == expected);
  CHECK(unknowns[0].key == "pulley.water pump.at_mm");
  CHECK(unknowns[2].key == "measured.1");
  constexpr double kStep = 0.01;
  for (std::size_t k = 0; k < 5; ++k) {
    DriveSpec up = spec;
    DriveSpec down = spec;
    if (k < 2) {
      (*drives::named(up, "water pump").at_mm)[static_cast<Eigen::Index>(k)] += kStep;
      (*drives::named(down, "water pump").at_mm)[static_cast<Eigen::Index>(k)] -= kStep;
    } else {
      *up.measured[k - 2].distance_mm += kStep;
      *down.measured[k - 2].distance_mm -= kStep;
    }
    const double sigma = sigma_of(k < 2 ? 0.3 : 0.2);
    const double slope = (length_with(up) - length_with(down)) / (2.0 * kStep) * sigma;
    CAPTURE(numbers[k]);
    CHECK_THAT(effects[k], WithinAbs(slope, 1e-5));
    CHECK(std::abs(effects[k]) > 1e-3);
  }
}

TEST_CASE("What was measured between centres that are exactly known moves none of them") {
  DriveSpec spec = surveyed();
  drives::named(spec, "cam").at_mm = Vec2(0, 375);
  spec.given = {};
  drives::named(spec, "water pump").at_mm.reset();
  drives::named(spec, "water pump").near_mm = Vec2(60, 150);
  spec.measured.push_back(distance("crank", "water pump", std::hypot(62, 150)));
  const Fitted fitted = drives::fitted(with_places(spec));
  for (const Unknown& unknown : fitted.uncertainty().unknowns()) {
    double moved = 0.0;
    for (const Unknown::Move& move : unknown.moves) moved += move.centre_mm.norm();
    const bool of_the_pump = unknown.key == "measured.2" || unknown.key == "measured.4";
    CAPTURE(unknown.key);
    if (of_the_pump) CHECK(moved > 0.05);
    if (!of_the_pump) CHECK(moved < 1e-12);
  }
}

TEST_CASE("A place that was measured but renewed is known as the new part is") {
  DriveSpec spec = surveyed();
  spec.build.renewed["cam"].at_mm = Vec2(0, 374);
  const Fitted fitted = drives::fitted(with_places(spec), Fit::as_fitted);
  const int cam = fitted.drive().index_of("cam");
  for (const Unknown& unknown : fitted.uncertainty().unknowns()) {
    for (const Unknown::Move& move : unknown.moves) CHECK(move.pulley != cam);
  }
  CHECK(fitted.uncertainty().unknowns().size() >= 2);
}

TEST_CASE("A belt far too long leaves the centres where they are, and is doubted") {
  DriveSpec spec = surveyed();
  MeasuredSpec belt;
  belt.belt_teeth = 160;
  belt.roller_deg = 346;
  spec.measured.push_back(belt);
  const DriveSpec placed = with_places(spec);
  REQUIRE(placed.places->placed());
  const MeasuredRow& row = placed.places->rows.back();
  CHECK(row.kind == MeasuredKind::belt);
  CHECK_THAT(row.measured, WithinAbs(160 * 9.525, 1e-9));
  CHECK_THAT(row.off, WithinAbs(row.measured - row.found, 1e-6));
  CHECK_THAT(row.found, WithinAbs(1057.2, 1.0));  // the worked drive at its marks: 111 teeth
  CHECK(placed.places->suspect.seen == static_cast<int>(placed.places->rows.size()) - 1);
  CHECK(drives::fitted(placed).uncertainty().unknowns().size() > 0);
}
