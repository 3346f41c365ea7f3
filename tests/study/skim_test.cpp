#include "twoturn/study/skim.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/worked_values.hpp"
#include "twoturn/study/skim_verdict.hpp"

using namespace twoturn;

namespace {

// Printed to nine decimals.
constexpr double kPrinted9 = 0.5e-9;

SkimAnswer after_skim(const DriveSpec& spec, double skim_mm, const std::string& head = "") {
  return skim_consequences(spec, {head, skim_mm, Fit::as_fitted});
}

FaceVerdict judged(double out_of_flat_mm, const FaceLimits& limits = {}) {
  FaceAnswer heights;
  heights.zone.slab.high_mm = out_of_flat_mm;
  return judge_face(heights, std::nullopt, limits);
}

FaceVerdict felt(std::optional<double> goes, std::optional<double> stops,
                 const FaceLimits& limits = {}) {
  return judge_face(std::nullopt, judge_feelers({{"along", EdgeWay::along, goes, stops, false}}),
                    limits);
}

}  // namespace

TEST_CASE("exact skims come out through the whole chain") {
  for (const worked::InLineSkim& row : worked::kInLineSkims) {
    const DriveSpec spec = drives::two_pulleys(row.pitch_mm, row.crank_teeth, row.cam_teeth,
                                               row.centre_mm, row.belt_teeth);
    const SkimAnswer answer = after_skim(spec, row.skim_mm);
    REQUIRE(answer.shafts.size() == 1);
    const SkimmedShaft& cam = answer.shafts[0];
    CHECK_THAT(cam.error_own_deg, WithinAbs(-row.cam_deg, kPrinted9));
    CHECK_THAT(cam.error_crank_deg, WithinAbs(-row.crank_deg, kPrinted9));
    CHECK(cam.before_crank_deg == 0.0);
    // What would put it back: as much on, and what was taken off back again.
    CHECK_THAT(cam.cure.value().rest_own_deg, WithinAbs(row.cam_deg, kPrinted9));
    CHECK_THAT(cam.gasket_mm.value(), WithinAbs(row.skim_mm, 1e-9));
  }
}

TEST_CASE("the worked example: cam late, tensioner moved, adjustment less") {
  const SkimAnswer answer = after_skim(drives::worked_example(), 0.3);
  REQUIRE(answer.shafts.size() == 1);
  CHECK_THAT(answer.shafts[0].error_own_deg,
             WithinAbs(-worked::kLateOwnDeg, worked::kLateHalfDigitDeg));
  CHECK_THAT(answer.shafts[0].error_crank_deg,
             WithinAbs(-2.0 * worked::kLateOwnDeg, 2.0 * worked::kLateHalfDigitDeg));
  CHECK_THAT(answer.tensioner_before.value().reading.value,
             WithinAbs(worked::kSetDeg, worked::kHalfDigitDeg));
  CHECK_THAT(answer.tensioner_after.value().reading.value,
             WithinAbs(worked::kSkimmedSetDeg, worked::kHalfDigitDeg));
  CHECK_THAT(answer.tensioner_before.value().adjustment_left_mm,
             WithinAbs(worked::kAdjustmentLeftMm, worked::kHalfDigitMm));
  CHECK(answer.tensioner_after.value().adjustment_left_mm <
        answer.tensioner_before.value().adjustment_left_mm);
}

TEST_CASE("the gasket that puts a cam back does, and an offset key is its turn at its radius") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").key_radius_mm = 14.0;
  const SkimAnswer answer = after_skim(spec, 0.4);
  const SkimmedShaft& cam = answer.shafts[0];
  DriveSpec mended = skimmed(spec, {"head", 0.4, Fit::as_fitted});
  mended.build.gasket_change_mm["head"] += cam.gasket_mm.value();
  const SkimAnswer after = after_skim(mended, 0.0);
  CHECK_THAT(after.shafts[0].error_own_deg, WithinAbs(0.0, 1e-9));
  CHECK_THAT(cam.cure.value().key_offset_mm.value(),
             WithinAbs(cam.cure.value().rest_own_deg * kRadPerDeg * 14.0, 1e-12));
}

TEST_CASE("a skim goes on top of what [build] says, and by the book stands alone") {
  const DriveSpec spec = demos::spec_of("harbour-launch");
  const SkimAnswer fitted = after_skim(spec, 0.1);
  CHECK(fitted.already_mm == 0.2);
  CHECK_THAT(fitted.total_mm(), WithinAbs(0.3, 1e-15));
  const SkimAnswer book = skim_consequences(spec, {"head", 0.3, Fit::by_the_book});
  CHECK(book.already_mm == 0.0);
  CHECK_THAT(book.shafts[0].error_own_deg, WithinAbs(fitted.shafts[0].error_own_deg, 1e-9));
}

TEST_CASE("a pulley free until tightened turns on its shaft and retards nothing") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").fixing = Fixing::free_until_tightened;
  const SkimAnswer answer = after_skim(spec, 0.3);
  const SkimmedShaft& cam = answer.shafts[0];
  CHECK_THAT(cam.error_own_deg, WithinAbs(0.0, 1e-9));
  CHECK_THAT(std::abs(cam.turned_on_shaft_deg), WithinAbs(0.2810, 0.5e-4));
  CHECK_FALSE(cam.gasket_mm.has_value());
}

TEST_CASE("an adjustable pulley whose slots end too early says by how much") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").fixing = Fixing::adjustable;
  drives::named(spec, "cam").range_deg = 0.1;
  const SkimmedShaft cam = after_skim(spec, 0.3).shafts[0];
  CHECK_THAT(cam.cure.value().slots_short_deg.value(), WithinAbs(0.2810 - 0.1, 0.5e-4));
}

TEST_CASE("a head of several moves its own cams alone") {
  const DriveSpec spec = demos::spec_of("valley-rescue-v6");
  REQUIRE(spec.heads.size() == 2);
  const std::string head = spec.heads[0].name;
  const SkimAnswer answer = skim_consequences(spec, {head, 0.2, Fit::by_the_book});
  for (const SkimmedShaft& shaft : answer.shafts) {
    DriveSpec copy = spec;
    const bool own = drives::named(copy, shaft.name).mount == head;
    CAPTURE(shaft.name);
    if (own) CHECK(shaft.gasket_mm.has_value());
  }
}

TEST_CASE("from counts and a tape alone, the skim is told near enough") {
  DriveSpec spec;
  spec.rough_centre_mm = 300.0;
  spec.belt.pitch_mm = 8.0;
  PulleySpec crank;
  crank.name = "crank";
  crank.role = Role::crankshaft;
  crank.teeth = 22;
  PulleySpec cam;
  cam.name = "cam";
  cam.role = Role::camshaft;
  cam.teeth = 44;
  spec.pulleys = {crank, cam};
  const SkimAnswer answer = after_skim(spec, 0.3);
  CHECK(answer.shafts.empty());
  REQUIRE(answer.rough.size() == 1);
  CHECK_THAT(answer.rough[0].own_deg, WithinAbs(-0.305476470, kPrinted9));
}

TEST_CASE("between the strict and the loose limit a reading is said to lie between them") {
  CHECK(judged(0.05).stands == FaceStands::within);
  CHECK(judged(0.0501).stands == FaceStands::between);
  CHECK(judged(0.0501).verdict == Verdict::look_again);
  CHECK_THAT(judged(0.07).headline, ContainsSubstring("between the strict 0.05 mm (common practice)"
                                                      " and the loose 0.10 mm (common practice)"));
  CHECK(judged(0.10).stands == FaceStands::between);
  CHECK(judged(0.1001).stands == FaceStands::beyond);
  CHECK(judged(0.1001).verdict == Verdict::stop);
  CHECK_THAT(judged(0.07).headline, StartsWith("Out of flat by 0.070 mm (2.8 thou)"));
}

TEST_CASE("limits are inputs; one given alone draws the other along") {
  FaceLimits limits;
  limits.strict_mm = 0.12;
  CHECK(judged(0.11, limits).stands == FaceStands::within);
  CHECK(judged(0.11, limits).loose_mm == 0.12);
  limits = {};
  limits.loose_mm = 0.03;
  CHECK(judged(0.035, limits).stands == FaceStands::beyond);
  CHECK(judged(0.035, limits).strict_mm == 0.03);
}

TEST_CASE("0.2 mm under the straight edge is refused, whatever the flatness limits") {
  CHECK(felt(0.2, 0.25).verdict == Verdict::stop);  // common practice
  FaceLimits wide;
  wide.strict_mm = 0.3;
  wide.loose_mm = 0.5;
  CHECK(felt(0.2, 0.25, wide).verdict == Verdict::stop);
  CHECK(felt(0.19, 0.2, wide).verdict == Verdict::agrees);
}

TEST_CASE("feelers can condemn a face, not pass it") {
  CHECK(felt(0.04, 0.05).verdict == Verdict::agrees);
  CHECK_THAT(felt(0.04, 0.05).headline, ContainsSubstring("does not show the face between them"));
  CHECK(felt(0.06, 0.07).stands == FaceStands::between);
  CHECK(felt(0.11, std::nullopt).stands == FaceStands::beyond);
  CHECK(felt(0.04, std::nullopt).stands == FaceStands::open);
  CHECK(felt(0.04, 0.08).verdict == Verdict::look_again);
}

TEST_CASE("feelers that show more than the heights are pointed out") {
  FaceAnswer heights;
  heights.zone.slab.high_mm = 0.02;
  const FaceVerdict verdict = judge_face(
      heights, judge_feelers({{"along", EdgeWay::along, 0.05, 0.06, false}}), FaceLimits{});
  REQUIRE_FALSE(verdict.findings.empty());
  CHECK(verdict.findings.front().code == "readings-differ");
}

TEST_CASE("a face out of flat by millimetres, or as small as a stamp, is asked about its unit") {
  const auto asked = [](double heights_by, double places_by) {
    std::vector<Vec3> points;
    for (int i = 0; i < 5; ++i) {
      for (int j = 0; j < 3; ++j) {
        points.emplace_back(places_by * 100 * i, places_by * 75 * j,
                            heights_by * 0.01 * ((3 * i + 2 * j) % 5));
      }
    }
    std::string codes;
    const FaceVerdict verdict = judge_face(examine_face(points, {}), std::nullopt, FaceLimits{});
    for (const Finding& finding : verdict.findings) codes += finding.code + " ";
    return codes;
  };
  CHECK(asked(1.0, 1.0).find("hundredths") == std::string::npos);
  CHECK(asked(1.0, 1.0).find("inches") == std::string::npos);
  CHECK_THAT(asked(100.0, 1.0), ContainsSubstring("hundredths"));
  CHECK_THAT(asked(1.0 / 25.4, 1.0 / 25.4), ContainsSubstring("inches"));
}
