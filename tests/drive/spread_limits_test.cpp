// Many drives with each number at one of its two limits: two drives alone, each built anew by the
// code that reads a profile's number in earnest. And what is told beside the reading, by hand.
#include <cmath>
#include <cstdint>
#include <functional>

#include "drive/leaning.hpp"
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/spread.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"

using namespace twoturn;

namespace {

constexpr long long kSamples = 1024;
const SpreadQuestion kLimits{kSamples, 1, SpreadLaw::limits, {}};

SwingSpec& swing(DriveSpec& spec) {
  return std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
}

DriveSpec leaning() {
  DriveSpec spec = drives::leaning();
  spec.build.skim_mm["head"] = 0.1;
  return spec;
}

DriveSpec sliding() {
  DriveSpec spec = leaning();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(-48, 168), Vec2(-33, 175)};
  drives::named(spec, "tensioner").tensioner = tensioner;
  return spec;
}

std::optional<double> reading_of(const Fitted& fitted) {
  const double length = fitted.drive().belt.length_mm(*fitted.drive().belt.teeth);
  const std::vector<Setting> settings = fitted.curve()->settings_for(length);
  const Setting* meant = meant_setting(settings, *fitted.drive().tensioner);
  return meant ? std::optional(meant->reading.value) : std::nullopt;
}

// From what is nominal on, so that 359 and 1 are two apart.
double near(double reading, double nominal) {
  return nominal + std::remainder(reading - nominal, 360.0);
}

void check_limits(DriveSpec spec, const char* key, double give,
                  const std::function<void(DriveSpec&, double)>& add) {
  CAPTURE(key);
  spec.given = {drives::measured(key, give)};
  const Fitted fitted = drives::fitted(spec, Fit::as_fitted);
  REQUIRE(Spread::why_not(fitted).empty());
  const SpreadAnswer answer = Spread(fitted, kLimits).answer();
  REQUIRE(answer.not_assembled == 0);
  const auto at = [&](double off) {
    DriveSpec other = spec;
    add(other, off);
    return near(reading_of(drives::fitted(other, Fit::as_fitted)).value(), answer.nominal);
  };
  const double one = at(-give);
  const double other = at(give);
  CHECK_THAT(answer.nominal, WithinAbs(near(at(0.0), answer.nominal), 1e-7));
  // Of 1024 half, but for one, is at each limit; a stretch of a pitch is of second order.
  const double apart = std::abs(one - other);
  CHECK(apart > 0.0);
  CHECK_THAT(answer.reading.deviation, WithinRel(apart / 2.0, 2e-3));
  CHECK_THAT(answer.reading.mean, WithinAbs((one + other) / 2.0, 2e-3 * apart));
  // Quantiles to a bin: 400 over sixteen sigmas.
  const double bin = 16.0 * answer.reading.linear_deviation / 400.0;
  CHECK_THAT(answer.reading.low, WithinAbs(std::min(one, other), bin));
  CHECK_THAT(answer.reading.high, WithinAbs(std::max(one, other), bin));
  long long counted = 0;
  for (const SpreadBin& bar : answer.bins) {
    CHECK_THAT(bar.to - bar.from, WithinRel(10.0 * bin, 1e-9));
    const bool holds = (one >= bar.from - 1e-9 && one <= bar.to + 1e-9) ||
                       (other >= bar.from - 1e-9 && other <= bar.to + 1e-9);
    CHECK(holds);
    counted += bar.count;
  }
  CHECK(counted == kSamples);
  CHECK(answer.path_evaluations < 7.0);
  REQUIRE(answer.shares.size() == 1);
  CHECK(answer.shares[0].share == 1.0);
}

}  // namespace

TEST_CASE("With one number at its limits a swing stands as the two drives built so have it") {
  const DriveSpec spec = leaning();
  check_limits(spec, "pulley.cam.at_mm[1]", 0.05,
               [](DriveSpec& s, double v) { drives::named(s, "cam").at_mm->y() += v; });
  check_limits(spec, "pulley.tensioner.diameter_mm", 0.05,
               [](DriveSpec& s, double v) { *drives::named(s, "tensioner").diameter_mm += v; });
  check_limits(spec, "pulley.tensioner.tensioner.pivot_mm[0]", 0.05,
               [](DriveSpec& s, double v) { swing(s).pivot_mm->x() += v; });
  check_limits(spec, "pulley.tensioner.tensioner.pivot_mm[1]", 0.05,
               [](DriveSpec& s, double v) { swing(s).pivot_mm->y() += v; });
  check_limits(spec, "pulley.tensioner.tensioner.arm_mm", 0.05,
               [](DriveSpec& s, double v) { *swing(s).arm_mm += v; });
  check_limits(spec, "belt.pitch_mm", 0.001, [](DriveSpec& s, double v) { *s.belt.pitch_mm += v; });
  check_limits(spec, "belt.thickness_mm", 0.05,
               [](DriveSpec& s, double v) { *s.belt.thickness_mm += v; });
  check_limits(spec, "build.skim_mm.head", 0.1,
               [](DriveSpec& s, double v) { s.build.skim_mm["head"] += v; });
  check_limits(spec, "build.stretch_percent", 0.01,
               [](DriveSpec& s, double v) { *s.build.stretch_percent += v; });
}

TEST_CASE("With one number at its limits a slide stands as the two drives built so have it") {
  const DriveSpec spec = sliding();
  check_limits(spec, "pulley.cam.at_mm[1]", 0.05,
               [](DriveSpec& s, double v) { drives::named(s, "cam").at_mm->y() += v; });
  check_limits(spec, "pulley.tensioner.diameter_mm", 0.05,
               [](DriveSpec& s, double v) { *drives::named(s, "tensioner").diameter_mm += v; });
  check_limits(spec, "belt.pitch_mm", 0.001, [](DriveSpec& s, double v) { *s.belt.pitch_mm += v; });
  check_limits(spec, "build.skim_mm.head", 0.1,
               [](DriveSpec& s, double v) { s.build.skim_mm["head"] += v; });
}

namespace {

// Two of 22 teeth of 8 mm, the cam on a slide from 300 to 320 mm: a belt of N teeth stands at
// 4 N - 388 mm.
DriveSpec pair(int teeth) {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, teeth);
  drives::named(spec, "cam").at_mm.reset();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(0, 300), Vec2(0, 320)};
  drives::named(spec, "cam").tensioner = tensioner;
  return spec;
}

}  // namespace

TEST_CASE("A slide's slack end and its tight end move what stands between them by their shares") {
  for (const bool slack : {true, false}) {
    DriveSpec spec = pair(99);  // 8 mm of 20 on: 0.6 of the slack end, 0.4 of the tight one
    const std::string end = slack ? "slack_at_mm[1]" : "tight_at_mm[1]";
    spec.given = {drives::measured("pulley.cam.tensioner." + end, 1.0)};
    const SpreadAnswer answer = Spread(drives::fitted(spec), kLimits).answer();
    // Stands where 300 + x off + q (20 + off) / 20 is 308: q = 20 (8 - off) / (20 - off), or
    // 160 / (20 + off).
    const auto q = [&](double off) {
      return slack ? 20.0 * (8.0 - off) / (20.0 - off) : 160.0 / (20.0 + off);
    };
    CHECK_THAT(answer.reading.mean, WithinAbs((q(-1.0) + q(1.0)) / 2.0, 1e-3));
    CHECK_THAT(answer.reading.deviation, WithinAbs(std::abs(q(-1.0) - q(1.0)) / 2.0, 1e-3));
    CHECK_THAT(answer.reading.linear_deviation, WithinAbs(slack ? 0.6 : 0.4, 1e-9));
    CHECK(answer.kind == TensionerKind::slide);
    CHECK_THAT(answer.nominal, WithinAbs(8.0, 1e-9));
  }
}

TEST_CASE("A count goes on in as many drives as have a travel for it") {
  DriveSpec spec = pair(99);
  // The slack end at 297 or 303: 97 teeth stand at 300. The tight one at 315 or 325: 101 stand at
  // 316, 102 at 320, 103 at 324.
  spec.given = {drives::measured("pulley.cam.tensioner.slack_at_mm[1]", 3.0)};
  const auto counts = Spread(drives::fitted(spec), kLimits).answer().counts;
  CHECK(counts.size() == 6);
  CHECK(std::abs(counts.at(97) - kSamples / 2) <= 1);
  for (int teeth = 98; teeth <= 102; ++teeth) CHECK(counts.at(teeth) == kSamples);
  spec.given = {drives::measured("pulley.cam.tensioner.tight_at_mm[1]", 5.0)};
  const auto other = Spread(drives::fitted(spec), kLimits).answer().counts;
  CHECK(other.size() == 7);
  CHECK(other.at(100) == kSamples);
  for (int teeth = 101; teeth <= 103; ++teeth) {
    CHECK(std::abs(other.at(teeth) - kSamples / 2) <= 1);
  }
}

TEST_CASE("A belt without a place in the travel does not go together") {
  DriveSpec spec = pair(98);  // at 304 mm
  spec.given = {drives::measured("pulley.cam.tensioner.slack_at_mm[1]", 6.0)};
  const SpreadAnswer answer = Spread(drives::fitted(spec), kLimits).answer();
  CHECK(answer.samples == kSamples);
  CHECK(std::abs(answer.not_assembled - kSamples / 2) <= 1);
  // Those that do have their slack end at 294: 20 x 10 / 26.
  CHECK_THAT(answer.reading.mean, WithinAbs(200.0 / 26.0, 1e-6));
  CHECK_THAT(answer.reading.deviation, WithinAbs(0.0, 1e-6));
  spec = pair(102);  // at the tight end, 320
  spec.given = {drives::measured("pulley.cam.tensioner.tight_at_mm[1]", 1.0)};
  const SpreadAnswer tight = Spread(drives::fitted(spec), kLimits).answer();
  CHECK(std::abs(tight.not_assembled - kSamples / 2) <= 1);
}

TEST_CASE("A belt that runs in the first part of a travel is spread over that part") {
  DriveSpec spec = drives::worked_example();
  CoverSpec stud;
  stud.name = "stud";
  stud.points_mm = {Vec2(-3, 160), Vec2(3, 160)};
  spec.covers = {stud};
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.1)};
  const Fitted fitted = drives::fitted(spec);
  REQUIRE(fitted.curve()->usable().size() == 2);
  const SpreadAnswer answer = Spread(fitted, kLimits).answer();
  CHECK(answer.not_assembled == 0);
  CHECK_THAT(answer.nominal, WithinAbs(346.06, 0.005));  // the worked drive, by hand
}

TEST_CASE("What nobody can spread says so") {
  DriveSpec spec = pair(120);
  spec.given = {drives::measured("pulley.cam.tensioner.slack_at_mm[1]", 1.0)};
  CHECK_THAT(Spread::why_not(drives::fitted(spec)), ContainsSubstring("no place in the travel"));
  spec = pair(99);
  std::vector<GivenValue> many(301, drives::measured("pulley.cam.tensioner.slack_at_mm[1]", 1.0));
  spec.given = many;
  CHECK_THAT(Spread::why_not(drives::fitted(spec)), ContainsSubstring("too many"));
  many.pop_back();
  spec.given = many;
  CHECK(Spread::why_not(drives::fitted(spec)).empty());
}

TEST_CASE(
    "Without a tensioner one look a drive is enough, and lanes that are missing are left out") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.5)};
  const Spread spread(drives::fitted(spec), {6400, 1, SpreadLaw::limits, {}});
  const SpreadAnswer whole = spread.answer();
  CHECK(whole.path_evaluations == 1.0);
  CHECK(whole.samples == 6400);
  CHECK(whole.counts.empty());
  CHECK_THAT(whole.reading.deviation, WithinRel(1.0, 1e-3));
  std::vector<std::shared_ptr<const Spread::Tally>> lanes(Spread::kLanes);
  lanes[3] = spread.lane(3);
  lanes[9] = spread.lane(9);
  const SpreadAnswer part = spread.answer(lanes);
  CHECK(part.samples == 200);
  CHECK(part.path_evaluations == 1.0);
  CHECK(spread.answer({}).samples == 0);
  CHECK(spread.answer({}).path_evaluations == 0.0);
  CHECK(spread.answer({}).reading.middle == whole.nominal);
}

TEST_CASE("Of two numbers each has its share of the variance, the greater first") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.3),
                drives::measured("build.stretch_percent", 0.05)};
  spec.build.stretch_percent = 0.0;
  // 2 x 0.3 mm of belt; 0.05 % of 776 mm: 0.388 mm.
  const double place = 0.6 * 0.6;
  const double stretch = 0.388 * 0.388;
  SpreadAnswer answer =
      Spread(drives::fitted(spec, Fit::as_fitted), {4096, 1, SpreadLaw::normal, {}}).answer();
  REQUIRE(answer.shares.size() == 2);
  CHECK(answer.shares[0].key == "pulley.cam.at_mm");
  CHECK_THAT(answer.shares[0].share, WithinAbs(place / (place + stretch), 1e-9));
  CHECK_THAT(answer.shares[1].share, WithinAbs(stretch / (place + stretch), 1e-9));
  CHECK_THAT(answer.reading.linear_deviation,
             WithinRel(std::sqrt(place + stretch) / kSigmas95, 1e-9));
  CHECK_THAT(answer.reading.deviation, WithinRel(answer.reading.linear_deviation, 0.01));
  // At its limits the one weighs 1.96 squared as much, evenly spread 1.96 squared over 3.
  answer = Spread(drives::fitted(spec, Fit::as_fitted),
                  {4096, 1, SpreadLaw::uniform, {{"build.stretch_percent", SpreadLaw::limits}}})
               .answer();
  REQUIRE(answer.shares.size() == 2);
  CHECK(answer.shares[0].key == "build.stretch_percent");
  CHECK_THAT(answer.shares[0].share, WithinAbs(stretch / (place / 3.0 + stretch), 1e-9));
  CHECK_THAT(answer.reading.deviation, WithinRel(std::sqrt(place / 3.0 + stretch), 0.01));
}

TEST_CASE("However few drives are thrown they lie evenly, one in each part of every number") {
  // Of 64 one lies in each 64th, but for one (the sequence begins at its second): a mean of shares
  // is within three 128ths of a half.
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.3),
                drives::measured("build.stretch_percent", 0.05)};
  spec.build.stretch_percent = 0.0;
  const Fitted fitted = drives::fitted(spec, Fit::as_fitted);
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    const SpreadAnswer answer = Spread(fitted, {64, seed, SpreadLaw::uniform, {}}).answer();
    CAPTURE(seed);
    CHECK(std::abs(answer.reading.mean - answer.nominal) <= 3.0 * (0.6 + 0.388) / 64.0);
  }
}

TEST_CASE("What is read beside it is off by what [build] alone says, all else alike in both") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.heads[0].deck_deg = 0.0;
  spec.build.skim_mm["head"] = 0.4;
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.5),
                drives::measured("build.skim_mm.head", 0.1)};
  const BothFits both = both_fits(spec, Fit::as_fitted);
  const auto read = [](const ThrownDrive& book, const ThrownDrive& fitted,
                       std::span<double> values) {
    const double by_book = book.placed.wheels[1].centre_mm.y();
    const double as_fitted = fitted.placed.wheels[1].centre_mm.y();
    values[0] = as_fitted - by_book;
    values[1] = 7.0;
    values[2] = by_book;
    values[3] = std::abs(as_fitted - by_book + 0.4);
    values[4] = fitted.placed.path.length_mm - book.placed.path.length_mm;
  };
  const SpreadBeside beside{
      *both.book.fitted, {"off", "still", "place", "bent", "way"}, read, 1e-6};
  const Spread spread(*both.asked.fitted, {20000, 1, SpreadLaw::normal, {}}, beside);
  const SpreadAnswer answer = spread.answer();
  REQUIRE(answer.errors.size() == 5);
  const SpreadError& off = answer.errors[0];
  CHECK(off.shaft == "off");
  CHECK(off.spreads);
  CHECK_THAT(off.nominal, WithinAbs(-0.4, 1e-12));
  CHECK_THAT(off.error.mean, WithinAbs(-0.4, 1e-3));
  CHECK_THAT(off.error.deviation, WithinRel(sigma_of(0.1), 0.01));
  CHECK_THAT(off.error.linear_deviation, WithinRel(sigma_of(0.1), 1e-6));
  CHECK_THAT(off.error.low, WithinAbs(-0.5, 0.003));
  CHECK_THAT(off.error.high, WithinAbs(-0.3, 0.003));
  REQUIRE(off.shares.size() == 1);
  CHECK(off.shares[0].key == "build.skim_mm.head");
  const SpreadError& still = answer.errors[1];
  CHECK_FALSE(still.spreads);
  CHECK(still.error.mean == 7.0);
  CHECK(still.error.low == 7.0);
  CHECK(still.error.deviation == 0.0);
  CHECK(still.shares.empty());
  CHECK_THAT(answer.errors[2].error.deviation, WithinRel(sigma_of(0.5), 0.01));
  CHECK(answer.errors[2].shares.at(0).key == "pulley.cam.at_mm");
  // No gradient feels it, and yet it moves: half a normal distribution, 0.6745 of sigma its middle.
  const SpreadError& bent = answer.errors[3];
  CHECK(bent.spreads);
  CHECK_THAT(bent.error.linear_deviation, WithinAbs(0.0, 1e-9));
  CHECK_THAT(bent.error.middle, WithinRel(0.6745 * sigma_of(0.1), 0.02));
  CHECK_THAT(answer.errors[4].error.deviation, WithinRel(2.0 * sigma_of(0.1), 0.01));
  CHECK(answer.error_samples == 20000);
}

TEST_CASE("Where nothing that may be off moves what is read, every drive has the nominal") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.build.skim_mm["head"] = 0.4;
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.5)};
  const BothFits both = both_fits(spec, Fit::as_fitted);
  const auto read = [](const ThrownDrive& book, const ThrownDrive& fitted,
                       std::span<double> values) {
    values[0] = fitted.placed.wheels[1].centre_mm.y() - book.placed.wheels[1].centre_mm.y();
  };
  const SpreadAnswer answer = Spread(*both.asked.fitted, {640, 1, SpreadLaw::normal, {}},
                                     SpreadBeside{*both.book.fitted, {"off"}, read, 1e-6})
                                  .answer();
  REQUIRE(answer.errors.size() == 1);
  CHECK_FALSE(answer.errors[0].spreads);
  CHECK_THAT(answer.errors[0].error.mean, WithinAbs(-0.4, 1e-12));
  CHECK(answer.error_samples == 0);
}

TEST_CASE("A turn of all measured centres takes the pivot along and leaves the arm as it is read") {
  DriveSpec spec = drives::worked_example();
  const auto measured = [](const char* from, const char* to, double mm) {
    MeasuredSpec one;
    one.from = from;
    one.to = to;
    one.distance_mm = mm;
    one.give_or_take_mm = 1e-3;
    return one;
  };
  drives::named(spec, "cam").at_mm.reset();
  drives::named(spec, "water pump").at_mm.reset();
  swing(spec).pivot_mm.reset();
  const Vec2 crank(30, -20);  // a turn goes about this, not about the origin
  drives::named(spec, "crank").at_mm = crank;
  drives::named(spec, "water pump").near_mm = crank + Vec2(62, 150);
  drives::named(spec, "tensioner").near_mm = crank + Vec2(-40, 170);
  constexpr double kDeg = 1.0;
  MeasuredSpec bearing;
  bearing.from = "crank";
  bearing.to = "cam";
  bearing.bearing_deg = 0.0;
  bearing.give_or_take_deg = kDeg;
  spec.measured = {measured("crank", "cam", 375.0),
                   measured("crank", "water pump", std::hypot(62, 150)),
                   measured("cam", "water pump", std::hypot(62, 225)),
                   measured("crank", "tensioner", std::hypot(40, 170)),
                   measured("cam", "tensioner", std::hypot(40, 205)),
                   bearing};
  const DriveSpec placed = with_places(spec);
  REQUIRE(placed.places->placed());
  const Fitted fitted = drives::fitted(placed);
  const SpreadAnswer answer = Spread(fitted, kLimits).answer();
  const auto at = [&](double deg) {
    DriveSpec other = spec;
    *other.measured.back().bearing_deg += deg;
    return near(reading_of(drives::fitted(with_places(other))).value(), answer.nominal);
  };
  const double apart = std::abs(at(kDeg) - at(-kDeg));
  CHECK(apart > 0.5);
  // The distances' thousandths beside it, and the second order of a degree.
  CHECK_THAT(answer.reading.deviation, WithinRel(apart / 2.0, 0.02));
  CHECK_THAT(answer.reading.linear_deviation, WithinRel(apart / 2.0, 0.02));
  const Uncertainty& known = fitted.uncertainty();
  std::vector<Wheel> off;
  const std::vector<double> effects = known.length_effects(fitted.drive(), 0.7, 111);
  const auto length = [&](double deg) {
    DriveSpec other = spec;
    *other.measured.back().bearing_deg += deg;
    const Drive turned = drives::fitted(with_places(other)).drive();
    return path_length(placed_wheels(turned, 0.7)).length_mm;
  };
  for (std::size_t u = 0; u < known.unknowns().size(); ++u) {
    const Unknown& unknown = known.unknowns()[u];
    if (unknown.turn_rad == 0.0) continue;
    const double slope = (length(0.01) - length(-0.01)) / 0.02;
    CHECK_THAT(effects[u], WithinAbs(-slope * sigma_of(kDeg), 1e-6));
    CHECK(std::abs(effects[u]) > 1e-3);
    DriveSpec other = spec;
    *other.measured.back().bearing_deg += sigma_of(kDeg);
    const Drive turned = drives::fitted(with_places(other)).drive();
    // A clock turns the other way.
    known.place_wheels_off(fitted.drive(), 0.7, unknown, -1.0, off);
    const std::vector<Wheel> anew = placed_wheels(turned, 0.7);
    for (std::size_t k = 0; k < off.size(); ++k) {
      CHECK((off[k].centre_mm - anew[k].centre_mm).norm() < 1e-6);
    }
  }
}
