// What one sigma of each number moves. Evidence: the drive built anew with that number a sigma off,
// by the very code that reads it in earnest, and differences of its length.
#include <cmath>
#include <functional>

#include "drive/leaning.hpp"
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/uncertainty.hpp"

using namespace twoturn;

namespace {

constexpr double kGive = 0.02;

// One number of a spec: its key, and how it is moved.
struct Number {
  const char* key;
  std::function<void(DriveSpec&, double)> add;
};

SwingSpec& swing(DriveSpec& spec) {
  return std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
}

SlideSpec& slide(DriveSpec& spec) {
  return std::get<SlideSpec>(drives::named(spec, "tensioner").tensioner->path);
}

PulleySpec& pulley(DriveSpec& spec, const char* name) { return drives::named(spec, name); }

// Nothing of it upright: a leaning head that carries cam and tensioner, a smooth idler inside,
// everything said by its own number, and all of [build].
DriveSpec lively() {
  DriveSpec spec = drives::leaning();
  PulleySpec idler;
  idler.name = "idler";
  idler.diameter_mm = 50.0;
  idler.face = Face::tooth;
  idler.at_mm = Vec2(75, 260);
  spec.pulleys.insert(spec.pulleys.begin() + 3, idler);
  spec.build.skim_mm["head"] = 0.3;
  spec.build.block_skim_mm["head"] = 0.1;
  spec.build.gasket_change_mm["head"] = 0.2;
  spec.build.renewed["water pump"].at_mm = Vec2(63, 149);
  spec.build.renewed["tensioner"].diameter_mm = 61.0;
  return spec;
}

DriveSpec with_slide(DriveSpec spec) {
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(-46, 168), Vec2(-35, 174)};
  pulley(spec, "tensioner").tensioner = tensioner;
  return spec;
}

// The drive with a number so much more.
Drive moved(const DriveSpec& spec, const Number& number, double by) {
  DriveSpec other = spec;
  number.add(other, by);
  return drives::fitted(other, Fit::as_fitted).drive();
}

// The same place of the travel: an angle of a swing, a share of a slide.
double place_of(const Drive& drive, double share) {
  const TensionerPath& path = drive.tensioner->path;
  return path.swing() ? 2.0 * share : share * path.travel_length();
}

std::vector<Wheel> wheels_of(const Drive& drive, double share) {
  return placed_wheels(drive, place_of(drive, share));
}

double length_less_belt(const Drive& drive, double share, int teeth) {
  return path_length(wheels_of(drive, share)).length_mm - drive.belt.length_mm(teeth);
}

void check_effect(DriveSpec spec, const Number& number) {
  constexpr int kTeeth = 111;
  spec.given = {drives::measured(number.key, kGive)};
  const Fitted fitted = drives::fitted(spec, Fit::as_fitted);
  REQUIRE(fitted.uncertainty().unknowns().size() == 1);
  const Unknown& unknown = fitted.uncertainty().unknowns()[0];
  CHECK(unknown.number == number.key);
  const double sigma = sigma_of(kGive);
  for (const double share : {0.05, 0.4, 0.8}) {
    CAPTURE(number.key, share);
    const double q = place_of(fitted.drive(), share);
    const std::vector<double> effects =
        fitted.uncertainty().length_effects(fitted.drive(), q, kTeeth);
    REQUIRE(effects.size() == 1);
    const double up = length_less_belt(moved(spec, number, sigma), share, kTeeth);
    const double down = length_less_belt(moved(spec, number, -sigma), share, kTeeth);
    // Third order: a millionth of a cubic mm over the square of some 100.
    CHECK_THAT(effects[0], WithinAbs((up - down) / 2.0, 1e-8));
    CHECK(std::abs(effects[0]) > 1e-6);
    for (const double sigmas : {1.0, -2.0}) {
      std::vector<Wheel> off;
      fitted.uncertainty().place_wheels_off(fitted.drive(), q, unknown, sigmas, off);
      const std::vector<Wheel> anew = wheels_of(moved(spec, number, sigmas * sigma), share);
      REQUIRE(off.size() == anew.size());
      for (std::size_t k = 0; k < off.size(); ++k) {
        CHECK((off[k].centre_mm - anew[k].centre_mm).norm() <= 1e-6);
        CHECK_THAT(off[k].radius_mm, WithinAbs(anew[k].radius_mm, 1e-9));
      }
    }
  }
}

const std::vector<Number>& numbers() {
  static const std::vector<Number> all{
      {"pulley.cam.at_mm[0]", [](DriveSpec& s, double v) { pulley(s, "cam").at_mm->x() += v; }},
      {"pulley.cam.at_mm[1]", [](DriveSpec& s, double v) { pulley(s, "cam").at_mm->y() += v; }},
      {"pulley.idler.diameter_mm",
       [](DriveSpec& s, double v) { *pulley(s, "idler").diameter_mm += v; }},
      {"belt.pitch_mm", [](DriveSpec& s, double v) { *s.belt.pitch_mm += v; }},
      {"belt.tooth_height_mm", [](DriveSpec& s, double v) { *s.belt.tooth_height_mm += v; }},
      {"belt.thickness_mm", [](DriveSpec& s, double v) { *s.belt.thickness_mm += v; }},
      {"belt.land_to_pitch_line_mm",
       [](DriveSpec& s, double v) { *s.belt.land_to_pitch_line_mm += v; }},
      {"build.skim_mm.head", [](DriveSpec& s, double v) { s.build.skim_mm["head"] += v; }},
      {"build.block_skim_mm.head",
       [](DriveSpec& s, double v) { s.build.block_skim_mm["head"] += v; }},
      {"build.gasket_change_mm.head",
       [](DriveSpec& s, double v) { s.build.gasket_change_mm["head"] += v; }},
      {"build.stretch_percent", [](DriveSpec& s, double v) { *s.build.stretch_percent += v; }},
      {"build.renewed.water pump.at_mm[0]",
       [](DriveSpec& s, double v) { s.build.renewed["water pump"].at_mm->x() += v; }},
      {"build.renewed.water pump.at_mm[1]",
       [](DriveSpec& s, double v) { s.build.renewed["water pump"].at_mm->y() += v; }},
      {"build.renewed.tensioner.diameter_mm",
       [](DriveSpec& s, double v) { *s.build.renewed["tensioner"].diameter_mm += v; }},
  };
  return all;
}

// The keys of what may be off, in their order.
std::vector<std::string> unknown_of(const DriveSpec& spec, Fit fit) {
  std::vector<std::string> found;
  const Fitted fitted = drives::fitted(spec, fit);
  for (const Unknown& unknown : fitted.uncertainty().unknowns()) found.push_back(unknown.number);
  return found;
}

}  // namespace

TEST_CASE("Each number moves wheels and length as the drive built anew has them, on a swing") {
  for (const Number& number : numbers()) check_effect(lively(), number);
  const DriveSpec spec = lively();
  check_effect(spec, {"pulley.tensioner.tensioner.pivot_mm[0]",
                      [](DriveSpec& s, double v) { swing(s).pivot_mm->x() += v; }});
  check_effect(spec, {"pulley.tensioner.tensioner.pivot_mm[1]",
                      [](DriveSpec& s, double v) { swing(s).pivot_mm->y() += v; }});
  check_effect(spec, {"pulley.tensioner.tensioner.arm_mm",
                      [](DriveSpec& s, double v) { *swing(s).arm_mm += v; }});
  DriveSpec walls = spec;
  swing(walls).arm_mm.reset();
  swing(walls).thickest_mm = 15.5;
  swing(walls).thinnest_mm = 3.5;
  check_effect(walls, {"pulley.tensioner.tensioner.thickest_mm",
                       [](DriveSpec& s, double v) { *swing(s).thickest_mm += v; }});
  check_effect(walls, {"pulley.tensioner.tensioner.thinnest_mm",
                       [](DriveSpec& s, double v) { *swing(s).thinnest_mm += v; }});
  DriveSpec ten = spec;
  ten.belt.pitch_mm.reset();
  ten.belt.over_10_teeth_mm = 95.25;
  check_effect(ten, {"belt.over_10_teeth_mm",
                     [](DriveSpec& s, double v) { *s.belt.over_10_teeth_mm += v; }});
}

TEST_CASE("Each number moves wheels and length as the drive built anew has them, on a slide") {
  for (const Number& number : numbers()) check_effect(with_slide(lively()), number);
  const DriveSpec spec = with_slide(lively());
  check_effect(spec, {"pulley.tensioner.tensioner.slack_at_mm[0]",
                      [](DriveSpec& s, double v) { slide(s).slack_at_mm->x() += v; }});
  check_effect(spec, {"pulley.tensioner.tensioner.slack_at_mm[1]",
                      [](DriveSpec& s, double v) { slide(s).slack_at_mm->y() += v; }});
  check_effect(spec, {"pulley.tensioner.tensioner.tight_at_mm[0]",
                      [](DriveSpec& s, double v) { slide(s).tight_at_mm->x() += v; }});
  check_effect(spec, {"pulley.tensioner.tensioner.tight_at_mm[1]",
                      [](DriveSpec& s, double v) { slide(s).tight_at_mm->y() += v; }});
}

TEST_CASE("A deck that leans otherwise takes what is lifted along") {
  // A whole millimetre of lift, 5 deg: 0.044 mm a sigma.
  constexpr double kDeg = 5.0;
  for (const bool slides : {false, true}) {
    DriveSpec spec = slides ? with_slide(lively()) : lively();
    spec.build.skim_mm["head"] = 1.2;  // lifts 0.2 - 1.2 - 0.1
    spec.given = {drives::measured("head.head.deck_deg", kDeg)};
    const Fitted fitted = drives::fitted(spec, Fit::as_fitted);
    const double q = place_of(fitted.drive(), 0.4);
    const auto length = [&](double deg) {
      DriveSpec other = spec;
      *other.heads[0].deck_deg += deg;
      return length_less_belt(drives::fitted(other, Fit::as_fitted).drive(), 0.4, 111);
    };
    const double slope = (length(0.01) - length(-0.01)) / 0.02;
    const std::vector<double> effects = fitted.uncertainty().length_effects(fitted.drive(), q, 111);
    REQUIRE(effects.size() == 1);
    CHECK_THAT(effects[0], WithinAbs(slope * sigma_of(kDeg), 1e-6));
    CHECK(std::abs(effects[0]) > 1e-3);
  }
}

TEST_CASE("What moves nothing is no unknown") {
  DriveSpec spec = lively();
  spec.given = {drives::measured("pulley.crank.at_mm[0]", kGive),
                drives::measured("pulley.water pump.at_mm[0]", kGive),
                drives::measured("pulley.tensioner.diameter_mm", kGive),
                drives::measured("build.renewed.cam.at_mm[0]", kGive),
                drives::measured("build.renewed.water pump.diameter_mm", kGive),
                drives::measured("build.renewed.tensioner.at_mm[0]", kGive),
                drives::measured("belt.width_mm", kGive),
                drives::measured("pulley.cam.mark_deg", kGive),
                drives::measured("pulley.nobody.at_mm[0]", kGive),
                drives::measured("pulley.tensioner.tensioner.slack_at_mm[0]", 0.0),
                drives::measured("pulley.tensioner.tensioner.set_deg", kGive),
                drives::measured("build.skim_mm.other", kGive),
                drives::measured("build.adjusted_deg.cam", kGive),
                drives::measured("head.other.deck_deg", kGive),
                drives::measured("head.head.mark_deg", kGive),
                drives::measured("head.a", kGive),
                drives::measured("head.head.deck_from_crank_mm", kGive),
                drives::measured("rough_centre_mm", kGive)};
  CHECK(unknown_of(spec, Fit::as_fitted).empty());
  DriveSpec toothed = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  toothed.given = {drives::measured("belt.thickness_mm", kGive),
                   drives::measured("belt.tooth_height_mm", kGive)};
  CHECK(unknown_of(toothed, Fit::as_fitted).empty());
  DriveSpec straight = lively();
  straight.build.skim_mm["head"] = 0.1;  // and the block's 0.1, less a gasket of 0.2: no lift
  straight.given = {drives::measured("head.head.deck_deg", kGive)};
  CHECK(unknown_of(straight, Fit::as_fitted).empty());
}

TEST_CASE("By the book nothing under [build] may be off, and what it replaces may") {
  DriveSpec spec = lively();
  spec.given = {drives::measured("build.skim_mm.head", kGive),
                drives::measured("build.stretch_percent", kGive),
                drives::measured("build.renewed.water pump.at_mm[0]", kGive),
                drives::measured("head.head.deck_deg", kGive),
                drives::measured("pulley.water pump.at_mm[0]", kGive),
                drives::measured("pulley.tensioner.diameter_mm", kGive)};
  CHECK(unknown_of(spec, Fit::by_the_book) ==
        std::vector<std::string>{"pulley.water pump.at_mm[0]", "pulley.tensioner.diameter_mm"});
  CHECK(unknown_of(spec, Fit::as_fitted).size() == 4);
  spec.heads[0].deck_deg.reset();
  CHECK(unknown_of(spec, Fit::as_fitted).size() == 2);
}

TEST_CASE("A belt that may be off by its standard is off by that, on a tensioner alone") {
  DriveSpec spec = drives::worked_example();
  spec.belt.length_tolerance_mm = 0.5;
  spec.build.length_by_standard = true;
  const Fitted fitted = drives::fitted(spec, Fit::as_fitted);
  const Unsure unsure = fitted.uncertainty().length(fitted.drive(), 0.5, 111);
  CHECK_THAT(unsure.give_or_take, WithinRel(0.5, 1e-12));
  CHECK(unsure.most == "build.length_by_standard");
  spec.belt.length_tolerance_mm = 0.0;
  CHECK(unknown_of(spec, Fit::as_fitted).empty());
  spec.belt.length_tolerance_mm.reset();
  spec.belt.teeth.reset();
  CHECK(unknown_of(spec, Fit::as_fitted).empty());
  DriveSpec fixed = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  fixed.belt.length_tolerance_mm = 0.5;
  fixed.build.length_by_standard = true;
  CHECK(unknown_of(fixed, Fit::as_fitted).empty());
}

TEST_CASE("Of several numbers the root of the squares counts, keys of one list together") {
  const Unsure unsure =
      unsure_of({{"at_mm", 3.0}, {"diameter_mm", -4.5}, {"at_mm", -4.0}, {"arm_mm", 0.5}});
  const double variance = 9.0 + 16.0 + 20.25 + 0.25;
  CHECK_THAT(unsure.give_or_take, WithinRel(kSigmas95 * std::sqrt(variance), 1e-12));
  CHECK_THAT(unsure.sigma(), WithinRel(std::sqrt(variance), 1e-12));
  CHECK(unsure.most == "at_mm");
  CHECK_THAT(unsure.most_share, WithinRel(25.0 / variance, 1e-12));
  CHECK(unsure_of({{"at_mm", 0.0}}).most.empty());
}

TEST_CASE("A reading is as unsure as its belt over the rate, whichever way that goes") {
  DriveSpec spec = drives::worked_example();
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.3)};
  const Fitted fitted = drives::fitted(spec);
  const Uncertainty& known = fitted.uncertainty();
  const double mm = known.length(fitted.drive(), 0.8, 111).give_or_take;
  CHECK_THAT(known.reading(fitted.drive(), 0.8, 111, 0.02).give_or_take,
             WithinRel(mm / 0.02, 1e-12));
  CHECK_THAT(known.reading(fitted.drive(), 0.8, 111, -0.02).give_or_take,
             WithinRel(mm / 0.02, 1e-12));
}

TEST_CASE("What is exactly known is so at over centre too, where the rate is nothing") {
  const Fitted fitted = drives::fitted(drives::worked_example());
  CHECK(fitted.uncertainty().reading(fitted.drive(), 0.8, 111, 0.0).give_or_take == 0.0);
}

TEST_CASE("Shares of the normal distribution are those of its table") {
  // Any table: 0.8413, 0.1587, 0.9772, 0.9750.
  CHECK_THAT(normal_share(1.0), WithinAbs(0.8413, 5e-5));
  CHECK_THAT(normal_share(-1.0), WithinAbs(0.1587, 5e-5));
  CHECK_THAT(normal_share(2.0), WithinAbs(0.9772, 5e-5));
  CHECK_THAT(normal_share(1.96), WithinAbs(0.9750, 5e-5));
  CHECK(normal_share(0.0) == 0.5);
}
