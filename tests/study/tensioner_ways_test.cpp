// Which way a tensioner tightens, which of two counts is right, and what fits only in part.
#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/findings.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;
using findings::found;

namespace {

SwingSpec& swing_of(DriveSpec& spec) {
  return std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
}

TensionerSpec& tensioner_of(DriveSpec& spec) { return *drives::named(spec, "tensioner").tensioner; }

DriveSpec without_set(DriveSpec spec) {
  tensioner_of(spec).set_deg.reset();
  return spec;
}

}  // namespace

TEST_CASE("A tensioner said to tighten the other way is a stop, and no clock time sends a hand") {
  // Every demo with an eccentric: its own ends, the other way round, no mark to set it by.
  int tried = 0;
  for (const std::string& name : demos::names()) {
    DriveSpec spec = demos::spec_of(name);
    for (PulleySpec& pulley : spec.pulleys) {
      if (!pulley.tensioner || !std::holds_alternative<SwingSpec>(pulley.tensioner->path)) continue;
      CAPTURE(name);
      auto& swing = std::get<SwingSpec>(pulley.tensioner->path);
      CHECK_FALSE(found(check_drive(spec), "tightens-contradicted"));
      swing.tightens = swing.tightens == Turn::clockwise ? Turn::anticlockwise : Turn::clockwise;
      pulley.tensioner->set_deg.reset();
      pulley.tensioner->pointer_deg.reset();
      const CheckAnswer answer = check_drive(spec);
      CHECK(answer.verdict != Verdict::agrees);
      if (found(answer, "tightens-open")) continue;  // ends half a circle apart: only marks tell
      const auto told = found(answer, "tightens-contradicted");
      REQUIRE(told);
      CHECK(told->level == Level::stop);
      CHECK(told->value > 2.0);
      CHECK_FALSE(found(answer, "setting-moved"));
      const auto preview = preview_tensioner(drives::fitted(spec));
      REQUIRE(preview);
      CHECK_FALSE(preview->meant);
      CHECK(preview->only_tightens != swing.tightens);
      ++tried;
    }
  }
  CHECK(tried >= 3);
}

TEST_CASE("A slack end with the longer path is not the slack end") {
  DriveSpec spec = without_set(drives::worked_example());
  swing_of(spec).slack_deg = 300.0;
  swing_of(spec).tight_deg = 80.0;
  CHECK_FALSE(found(check_drive(spec), "ends-contradicted"));
  std::swap(swing_of(spec).slack_deg, swing_of(spec).tight_deg);
  swing_of(spec).tightens = Turn::anticlockwise;  // the same arc, called the other way round
  const auto told = found(check_drive(spec), "ends-contradicted");
  REQUIRE(told);
  CHECK(told->level == Level::look);
  // By the two ends' own lengths, each solved with the roller held there.
  const auto length_at = [](double deg) {
    DriveSpec held = without_set(drives::worked_example());
    swing_of(held).slack_deg = deg;
    swing_of(held).tight_deg = deg + 0.01;
    return drives::fitted(held).curve()->describe(0.0).length_mm;
  };
  CHECK_THAT(told->value, WithinAbs(length_at(80.0) - length_at(300.0), 1e-6));
}

TEST_CASE("Over centre within the travel is a note beside marks, a look without them") {
  DriveSpec spec = drives::worked_example();  // 300 to 200: past the farthest place, at 86.31
  REQUIRE(found(check_drive(spec), "over-centre-in-travel"));
  CHECK(found(check_drive(spec), "over-centre-in-travel")->level == Level::note);
  CHECK(found(check_drive(without_set(spec)), "over-centre-in-travel")->level == Level::look);
  swing_of(spec).tight_deg = 80.0;
  CHECK_FALSE(found(check_drive(without_set(spec)), "over-centre-in-travel"));
}

TEST_CASE("Of two counts that go on, the one that meets the marks is right, else neither") {
  // A longer arm lets two counts go on.
  DriveSpec spec = drives::worked_example();
  swing_of(spec).arm_mm = 25.0;
  swing_of(spec).tight_deg = 80.0;
  tensioner_of(spec).set_deg.reset();
  const TeethAnswer open = fitting_teeth(drives::fitted(spec));
  REQUIRE(open.fits.size() > 1);
  CHECK_FALSE(open.right_teeth);
  for (const FittingCount& count : open.fits) {
    const auto in_travel = std::find_if(count.settings.begin(), count.settings.end(),
                                        [](const Setting& setting) { return setting.in_travel; });
    REQUIRE(in_travel != count.settings.end());
    tensioner_of(spec).set_deg = in_travel->reading.value;
    CHECK(fitting_teeth(drives::fitted(spec)).right_teeth == count.teeth);
    for (const FittingCount& other : open.fits) {
      spec.belt.teeth = other.teeth;
      const auto told = found(check_drive(spec), "other-counts-fit");
      REQUIRE(told);
      const bool right = other.teeth == count.teeth;
      CHECK((told->text.find("is right") != std::string::npos) == right);
    }
  }
}

TEST_CASE("Built to fit a belt that by the book does not is a stop, as for turns") {
  DriveSpec spec = drives::worked_example();
  swing_of(spec).tight_deg = 80.0;
  const DriveSpec book = spec;
  // A belt of 110 teeth is too short by the book; a head skimmed by 4 mm takes it.
  spec.belt.teeth = 110;
  double skim = 0.0;
  for (skim = 0.5; skim < 12.0; skim += 0.5) {
    spec.build.skim_mm["head"] = skim;
    const TeethAnswer teeth = fitting_teeth(drives::fitted(spec, Fit::as_fitted));
    if (std::any_of(teeth.fits.begin(), teeth.fits.end(),
                    [](const FittingCount& count) { return count.teeth == 110; })) {
      break;
    }
  }
  REQUIRE(skim < 12.0);
  const CheckAnswer answer = check_drive(spec);
  CHECK(answer.verdict == Verdict::stop);
  REQUIRE(found(answer, "book-fit"));
  CHECK(found(answer, "book-fit")->level == Level::stop);
  CHECK_FALSE(found(check_drive(book), "book-fit"));
}

TEST_CASE("A smooth roller on the teeth has the least size of a toothed pulley") {
  DriveSpec spec = drives::worked_example();
  spec.belt.section = "H8M";
  spec.belt.teeth.reset();
  spec.pulleys = {drives::toothed("crank", 24, 0, 0), drives::toothed("cam", 48, 0, 300)};
  PulleySpec roller;
  roller.name = "roller";
  roller.face = Face::tooth;
  roller.at_mm = Vec2(90, 150);
  roller.diameter_mm = 40.0;  // H8M's smallest pulley, 22 teeth by its standard, is 56.02 across
  spec.pulleys.push_back(roller);
  const Drive drive = drives::built(spec);
  REQUIRE(drive.belt.least_teeth);
  const double least_mm = 8.0 * *drive.belt.least_teeth / kPi;
  const auto told = found(check_drive(spec), "small-pulley");
  REQUIRE(told);
  CHECK(told->about == "roller");
  CHECK_THAT(told->limit, WithinRel(least_mm, 1e-12));
  drives::named(spec, "roller").diameter_mm = least_mm + 0.1;
  CHECK_FALSE(found(check_drive(spec), "small-pulley"));
}

TEST_CASE("Sections of one pitch and another form, width and age are outside the check") {
  const auto outside = [](const std::string& section) {
    DriveSpec spec = drives::worked_example();
    spec.belt.section = section;
    std::string all;
    for (const std::string& one : check_drive(spec).outside) all += one + "\n";
    return all;
  };
  // ISO 13050 and ISO 5296: H8M, S8M and R8M share 8 mm, ZA, YU and L near 9.525 mm or 8 mm do.
  CHECK_THAT(outside("H8M"), ContainsSubstring("S8M"));
  CHECK_THAT(outside("ZA"), ContainsSubstring("L"));
  CHECK_THAT(outside("ZA"), ContainsSubstring("width") && ContainsSubstring("age"));
  CHECK(outside("ZA").find("S8M") == std::string::npos);
  CHECK_THAT(outside("ZA"), ContainsSubstring("belt tension"));
}

TEST_CASE("Limits looser than the usual ones stand beside the verdict") {
  DriveSpec spec = demos::spec_of("cam-bench");
  CHECK(check_drive(spec).headline.find("loosened") == std::string::npos);
  spec.limits.phase_crank_deg = 9.0;
  const CheckAnswer answer = check_drive(spec);
  CHECK_THAT(answer.headline, ContainsSubstring("loosened limits") &&
                                  ContainsSubstring("limits.phase_crank_deg 9 for"));
  REQUIRE(found(answer, "limits-loosened"));
  spec.limits.phase_crank_deg = 0.1;  // tighter
  CHECK_FALSE(found(check_drive(spec), "limits-loosened"));
}
