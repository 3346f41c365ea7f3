// What tooth counts alone say. Evidence: arithmetic by hand, the project's list of exact skims, and
// for each number that may be absent both cases.
#include "twoturn/timing/marks.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "support/worked_values.hpp"

using namespace twoturn;

namespace {

CountedPulley counted(std::string name, int teeth, double turns) {
  CountedPulley pulley;
  pulley.name = std::move(name);
  pulley.teeth = teeth;
  pulley.turns_per_crank = turns;
  return pulley;
}

// Crank 22 and cam 44 of 8 mm, 300 mm apart, the cam 0.3 nearer than by the book.
MarksQuestion skimmed() {
  MarksQuestion question;
  question.belt_teeth = 108;
  question.crank_teeth = 22;
  question.pitch_mm = 8.0;
  question.timed = {counted("cam", 44, 0.5)};
  question.timed[0].centre_mm = 300.0;
  question.timed[0].skim_mm = 0.3;
  return question;
}

std::vector<std::string> missing_keys(const MarksQuestion& question) {
  std::vector<std::string> keys;
  for (const Missing& missing : marks_from_counts(question).missing) keys.push_back(missing.key);
  return keys;
}

using Keys = std::vector<std::string>;

// A cam on its one head, with a crank that is not at the origin.
DriveSpec on_one_head() {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 44, 300.0, 108);
  drives::named(spec, "crank").at_mm = Vec2(10.0, 20.0);
  drives::named(spec, "cam").at_mm = Vec2(40.0, 60.0);
  return spec;
}

std::optional<double> skim_of_cam(const DriveSpec& spec, Fit fit = Fit::as_fitted) {
  return marks_question(spec, fit).timed.at(0).skim_mm;
}

}  // namespace

TEST_CASE("A tooth is worth 360 by the count, at the crank by its rate, and so much a millimetre") {
  // By hand.
  MarksQuestion question;
  question.crank_teeth = 20;
  question.pitch_mm = 8.0;
  question.timed = {counted("cam", 40, 0.5), counted("balance shaft", 10, 2.0)};
  const std::vector<ToothWorth> worth = marks_from_counts(question).worth;
  REQUIRE(worth.size() == 3);
  CHECK(worth[0].name == "crank");
  CHECK(worth[0].role == Role::crankshaft);
  CHECK(worth[0].own_deg == 18.0);
  CHECK(worth[0].crank_deg == 18.0);
  CHECK_THAT(worth[0].pitch_radius_mm.value(), WithinRel(80.0 / 3.14159265358979, 1e-14));
  CHECK(worth[1].own_deg == 9.0);
  CHECK(worth[1].crank_deg == 18.0);
  CHECK_THAT(worth[1].pitch_radius_mm.value(), WithinRel(160.0 / 3.14159265358979, 1e-14));
  CHECK(worth[1].own_deg_per_mm == 9.0 / 8.0);
  CHECK(worth[1].crank_deg_per_mm == 18.0 / 8.0);
  CHECK(worth[2].own_deg == 36.0);
  CHECK(worth[2].crank_deg == 18.0);
  for (const ToothWorth& right : worth) CHECK(right.wanders_crank_deg == 0.0);
}

TEST_CASE("Without a pitch a tooth has degrees and no millimetres, without a crank no wandering") {
  MarksQuestion question;
  question.timed = {counted("cam", 39, 0.5)};
  const std::vector<ToothWorth> worth = marks_from_counts(question).worth;
  REQUIRE(worth.size() == 1);
  CHECK_FALSE(worth[0].pitch_radius_mm.has_value());
  CHECK_FALSE(worth[0].own_deg_per_mm.has_value());
  CHECK_FALSE(worth[0].crank_deg_per_mm.has_value());
  CHECK(worth[0].wanders_crank_deg == 0.0);
  CHECK(marks_from_counts({}).empty());
}

TEST_CASE("A wrong count wanders by what two turns bring too many or too few") {
  // By hand: two turns of 20 bring 40 teeth, one too many for 39: 1/39 of a cam turn, twice that
  // at the crank; of a balance shaft with 11 teeth for 10 they make 40/11 of the 4 turns due.
  MarksQuestion question;
  question.crank_teeth = 20;
  question.timed = {counted("cam", 39, 0.5), counted("balance shaft", 11, 2.0)};
  const std::vector<ToothWorth> worth = marks_from_counts(question).worth;
  CHECK_THAT(worth.at(1).wanders_crank_deg, WithinAbs(720.0 / 39.0, 1e-11));
  CHECK_THAT(worth.at(2).wanders_crank_deg, WithinAbs(-4.0 / 11.0 * 180.0, 1e-11));
}

TEST_CASE("A skim shifts a cam in line with its crank by the exact values") {
  const worked::InLineSkim row = GENERATE(from_range(worked::kInLineSkims));
  MarksQuestion question = skimmed();
  question.pitch_mm = row.pitch_mm;
  question.crank_teeth = row.crank_teeth;
  question.timed[0].teeth = row.cam_teeth;
  question.timed[0].centre_mm = row.centre_mm;
  question.timed[0].skim_mm = row.skim_mm;
  const std::vector<SkimShift> skims = marks_from_counts(question).skims;
  REQUIRE(skims.size() == 1);
  constexpr double kHalfDigit = 5e-10;
  CHECK(skims[0].name == "cam");
  CHECK(skims[0].centre_mm == row.centre_mm);
  CHECK(skims[0].skim_mm == row.skim_mm);
  CHECK_THAT(skims[0].own_deg, WithinAbs(-row.cam_deg, kHalfDigit));
  CHECK_THAT(skims[0].crank_deg, WithinAbs(-row.crank_deg, kHalfDigit));
  const double radius = row.pitch_mm * row.cam_teeth / (2.0 * 3.14159265358979);
  CHECK_THAT(skims[0].edge_mm, WithinAbs(-row.cam_deg * 3.14159265358979 / 180.0 * radius, 1e-8));
}

TEST_CASE("A straight run has as much more on one side as on the other, and none inside a pulley") {
  // Exact: a run from radius 10 to 40 needs centres more than 30 apart.
  CHECK(straight_run_change_mm(10.0, 40.0, 31.0, 0.5).has_value());
  CHECK_FALSE(straight_run_change_mm(10.0, 40.0, 31.0, 1.0).has_value());
  CHECK_FALSE(straight_run_change_mm(10.0, 40.0, 31.0, 2.0).has_value());
  CHECK_FALSE(straight_run_change_mm(10.0, 40.0, 30.0, -1.0).has_value());
  CHECK_FALSE(straight_run_change_mm(10.0, 40.0, 29.0, -2.0).has_value());
  CHECK_FALSE(straight_run_change_mm(40.0, 10.0, 30.0, -1.0).has_value());
  // Exact: which end is the larger does not matter; pulleys alike change by the skim itself.
  CHECK(straight_run_change_mm(10.0, 40.0, 100.0, 1.0) ==
        straight_run_change_mm(40.0, 10.0, 100.0, 1.0));
  CHECK_THAT(straight_run_change_mm(20.0, 20.0, 100.0, 0.5).value(), WithinAbs(-0.5, 1e-12));
  // Exact, a 3-4-5 triangle: k = 3, centres from 5 to 3.75 (k/C from 3/5 to 4/5).
  const double longer = 4.0 + 3.0 * std::asin(0.6);
  const double shorter = 2.25 + 3.0 * std::asin(0.8);
  CHECK_THAT(straight_run_change_mm(1.0, 4.0, 5.0, 1.25).value(),
             WithinAbs(shorter - longer, 1e-14));
}

TEST_CASE("A skim whose numbers are not all there, or that leaves no run, is not worked out") {
  CHECK(marks_from_counts(skimmed()).skims.size() == 1);
  MarksQuestion question = skimmed();
  question.pitch_mm.reset();
  CHECK(marks_from_counts(question).skims.empty());
  question = skimmed();
  question.crank_teeth.reset();
  CHECK(marks_from_counts(question).skims.empty());
  question = skimmed();
  question.timed[0].centre_mm.reset();
  CHECK(marks_from_counts(question).skims.empty());
  question = skimmed();
  question.timed[0].skim_mm.reset();
  CHECK(marks_from_counts(question).skims.empty());
  question = skimmed();
  question.timed[0].centre_mm = 20.0;  // the pitch radii differ by 28
  CHECK(marks_from_counts(question).skims.empty());
}

TEST_CASE("Paint needs the belt's count and the crank's, and goes by every timed pulley") {
  MarksQuestion question = skimmed();
  question.belt_teeth = 111;
  question.crank_teeth = 20;
  question.timed = {counted("cam", 40, 0.5)};
  // Common practice: 111 teeth on 20/40 meet after 222 turns.
  REQUIRE(marks_from_counts(question).paint.has_value());
  CHECK(marks_from_counts(question).paint->all_meet_turns == 222);
  question.belt_teeth.reset();
  CHECK_FALSE(marks_from_counts(question).paint.has_value());
  question.belt_teeth = 111;
  question.crank_teeth.reset();
  CHECK_FALSE(marks_from_counts(question).paint.has_value());
}

TEST_CASE("What is absent is listed, each by the key that would supply it") {
  CHECK(missing_keys({}) ==
        Keys{"pulley.crank.teeth", "pulley.cam.teeth", "belt.teeth", "belt.over_10_teeth_mm"});
  CHECK(missing_keys(skimmed()).empty());
  MarksQuestion question = skimmed();
  question.crank_teeth.reset();
  CHECK(missing_keys(question) == Keys{"pulley.crank.teeth"});
  question = skimmed();
  question.belt_teeth.reset();
  CHECK(missing_keys(question) == Keys{"belt.teeth"});
  question = skimmed();
  question.pitch_mm.reset();
  CHECK(missing_keys(question) == Keys{"belt.over_10_teeth_mm"});
  question = skimmed();
  question.timed[0].centre_mm.reset();
  CHECK(missing_keys(question) == Keys{"rough_centre_mm"});
  question.timed[0].skim_mm.reset();  // nothing was skimmed: no centre is wanted
  CHECK(missing_keys(question).empty());
  question = skimmed();
  question.timed[0].centre_mm.reset();
  question.timed[0].role = Role::injection_pump;  // no tape is held to that
  CHECK(missing_keys(question).empty());
}

TEST_CASE("A pitch is the one given, else the section's, else a tenth of what ten teeth measure") {
  DriveSpec spec = on_one_head();
  spec.belt.section = "ZA";
  spec.belt.over_10_teeth_mm = 95.1;
  CHECK(marks_question(spec, Fit::as_fitted).pitch_mm == 8.0);
  spec.belt.pitch_mm.reset();
  CHECK(marks_question(spec, Fit::as_fitted).pitch_mm == 9.525);  // ISO 9010
  spec.belt.section.reset();
  CHECK_THAT(marks_question(spec, Fit::as_fitted).pitch_mm.value(), WithinAbs(9.51, 1e-12));
  spec.belt.over_10_teeth_mm.reset();
  CHECK_FALSE(marks_question(spec, Fit::as_fitted).pitch_mm.has_value());
}

TEST_CASE("Only timed pulleys with a count are asked about, a renewed one by its new count") {
  DriveSpec spec = on_one_head();
  PulleySpec pump = drives::toothed("water pump", 19, 60, 40);
  pump.role = Role::water_pump;
  PulleySpec uncounted = drives::toothed("other cam", 0, 90, 40);
  uncounted.teeth.reset();
  uncounted.role = Role::camshaft;
  spec.pulleys.push_back(pump);
  spec.pulleys.push_back(uncounted);
  spec.build.renewed["cam"].teeth = 46;
  spec.build.renewed["crank"].teeth = 23;
  const MarksQuestion fitted = marks_question(spec, Fit::as_fitted);
  REQUIRE(fitted.timed.size() == 1);
  CHECK(fitted.timed[0].name == "cam");
  CHECK(fitted.timed[0].teeth == 46);
  CHECK(fitted.timed[0].turns_per_crank == 0.5);
  CHECK(fitted.crank_teeth == 23);
  CHECK(fitted.belt_teeth == 108);
  CHECK(marks_question(spec, Fit::by_the_book).timed.at(0).teeth == 44);
  CHECK(marks_question(spec, Fit::by_the_book).crank_teeth == 22);
  CHECK_FALSE(marks_question({}, Fit::as_fitted).crank_teeth.has_value());
}

TEST_CASE("Head, block and gasket each bring a cam nearer, and nothing of it counts by the book") {
  DriveSpec spec = on_one_head();
  CHECK_FALSE(skim_of_cam(spec).has_value());
  spec.build.skim_mm["head"] = 0.3;
  CHECK_THAT(skim_of_cam(spec).value(), WithinAbs(0.3, 1e-15));
  CHECK_FALSE(skim_of_cam(spec, Fit::by_the_book).has_value());
  spec.build.block_skim_mm["head"] = 0.1;
  spec.build.gasket_change_mm["head"] = 0.05;
  CHECK_THAT(skim_of_cam(spec).value(), WithinAbs(0.35, 1e-15));
  spec.build = {};
  spec.build.block_skim_mm["head"] = 0.1;
  CHECK_THAT(skim_of_cam(spec).value(), WithinAbs(0.1, 1e-15));
  spec.build = {};
  spec.build.gasket_change_mm["head"] = 0.05;
  CHECK_THAT(skim_of_cam(spec).value(), WithinAbs(-0.05, 1e-15));
}

TEST_CASE(
    "A cam that says nothing stands on the only head; of two heads, or a pump, none is taken") {
  DriveSpec spec = on_one_head();
  spec.build.skim_mm["head"] = 0.3;
  PulleySpec& cam = drives::named(spec, "cam");
  cam.mount.reset();
  CHECK(skim_of_cam(spec).has_value());
  cam.role = Role::injection_pump;
  CHECK_FALSE(skim_of_cam(spec).has_value());
  cam.role = Role::camshaft;
  cam.mount = "another head";  // what it says counts, the only head or not
  CHECK_FALSE(skim_of_cam(spec).has_value());
  cam.mount.reset();
  spec.heads.push_back(drives::head("another head", 60.0));
  CHECK_FALSE(skim_of_cam(spec).has_value());
  cam.mount = "another head";
  spec.build.skim_mm["another head"] = 0.2;
  CHECK_THAT(skim_of_cam(spec).value(), WithinAbs(0.2, 1e-15));
}

TEST_CASE("A centre is the tape's for a camshaft, else from the coordinates of both") {
  DriveSpec spec = on_one_head();
  const auto centre = [&spec] {
    return marks_question(spec, Fit::as_fitted).timed.at(0).centre_mm;
  };
  CHECK(centre() == 50.0);  // by hand: 30 and 40 apart
  spec.rough_centre_mm = 51.0;
  CHECK(centre() == 51.0);
  drives::named(spec, "cam").role = Role::injection_pump;
  CHECK(centre() == 50.0);
  spec.rough_centre_mm.reset();
  drives::named(spec, "cam").at_mm.reset();
  CHECK_FALSE(centre().has_value());
  drives::named(spec, "cam").at_mm = Vec2(40.0, 60.0);
  drives::named(spec, "crank").at_mm.reset();
  CHECK_FALSE(centre().has_value());
  spec.pulleys.erase(spec.pulleys.begin());
  CHECK_FALSE(centre().has_value());
}
