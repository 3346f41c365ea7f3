// Which head carries a valve, what a skim reaches, and engine data that contradict themselves.
#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/findings.hpp"
#include "twoturn/drive/validate.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;
using findings::found;

namespace {

double least_room(const CheckAnswer& answer, std::string_view name) {
  REQUIRE(answer.engine.valves);
  for (const ValveAnswer& one : answer.engine.valves->valves) {
    if (one.name == name) return one.fitted.least_mm;
  }
  throw std::out_of_range("no such valve");
}

// One kind of valve, and where the gasket face lies.
DriveSpec with_engine() {
  DriveSpec spec = drives::four();
  spec.heads[0].deck_from_crank_mm = 200.0;
  spec.valves = {drives::valve("inlet", ValveSide::inlet)};
  spec.valves[0].room_tdc_mm = 8.0;
  return spec;
}

// The cam in the block, so that a skim turns nothing and brings the valve down by itself alone.
DriveSpec pushrod() {
  DriveSpec spec = with_engine();
  drives::named(spec, "cam").mount = "block";
  spec.heads[0].deck_from_crank_mm = 400.0;  // above the cam
  return spec;
}

}  // namespace

TEST_CASE("A skim comes off a valve's room wherever its head is told, and never silently not") {
  // With the cam where it was, the whole skim is lost between valve and piston: common practice.
  constexpr double kSkimMm = 2.5;
  const auto lost = [](DriveSpec spec, const std::string& head) {
    const double before = least_room(check_drive(spec), "inlet");
    spec.build.skim_mm[head] = kSkimMm;
    const CheckAnswer answer = check_drive(spec);
    if (found(answer, "head", "inlet")) return -1.0;  // asked
    return before - least_room(answer, "inlet");
  };
  SECTION("one head, cam in the block") {
    CHECK_THAT(lost(pushrod(), "head"), WithinAbs(kSkimMm, 1e-9));
  }
  SECTION("two heads, the valve's own word") {
    DriveSpec spec = pushrod();
    spec.heads.push_back(drives::head("left", 270.0));
    CHECK(lost(spec, "left") == -1.0);
    spec.valves[0].head = "left";
    CHECK_THAT(lost(spec, "left"), WithinAbs(kSkimMm, 1e-9));
    CHECK_THAT(lost(spec, "head"), WithinAbs(0.0, 1e-9));
  }
  SECTION("two heads, the bank by the angles of its bores") {
    DriveSpec spec = pushrod();
    spec.heads[0].deck_deg = 315.0;
    spec.heads.push_back(drives::head("right", 45.0));
    spec.heads[1].deck_from_crank_mm = 400.0;
    // Clockwise from cylinder 1's bank to the other: 90 on from the left is the right, and 90 on
    // from the right none.
    spec.engine.bores_deg = {0, 0, 90, 90};
    spec.valves[0].cylinders = {3, 4};
    CHECK_THAT(lost(spec, "right"), WithinAbs(kSkimMm, 1e-9));
    CHECK_THAT(lost(spec, "head"), WithinAbs(0.0, 1e-9));
    spec.valves[0].cylinders = {1, 2};
    CHECK_THAT(lost(spec, "head"), WithinAbs(kSkimMm, 1e-9));
    spec.valves[0].cylinders = {2, 3};  // in both: asked
    CHECK(lost(spec, "head") == -1.0);
    spec.valves[0].cylinders = {3, 4};
    spec.heads[1].deck_deg = 135.0;  // 180 apart: no bank tells
    CHECK(lost(spec, "head") == -1.0);
  }
  SECTION("a cam geared off another is on that one's head") {
    DriveSpec spec = with_engine();
    GearedSpec geared;
    geared.name = "second cam";
    geared.from = "cam";
    geared.ratio = -1.0;
    geared.role = Role::camshaft;
    spec.geared = {geared};
    spec.heads.push_back(drives::head("left", 270.0));
    spec.valves[0].cam = "second cam";
    const double before = least_room(check_drive(spec), "inlet");
    spec.build.skim_mm["head"] = kSkimMm;
    const CheckAnswer answer = check_drive(spec);
    CHECK_FALSE(found(answer, "head", "inlet"));
    CHECK(before - least_room(answer, "inlet") > kSkimMm / 2);  // late by the skim gives some back
  }
  SECTION("a valve without its cam is asked for its cam, and its head where there are two") {
    DriveSpec spec = pushrod();
    spec.heads.push_back(drives::head("left", 270.0));
    spec.valves[0].cam.reset();
    spec.build.skim_mm["left"] = kSkimMm;
    const CheckAnswer answer = check_drive(spec);
    CHECK(answer.verdict != Verdict::agrees);
    CHECK(found(answer, "head", "inlet"));
  }
}

TEST_CASE("A skim that reaches nothing is looked at") {
  const auto asked = [](auto change) {
    DriveSpec spec = with_engine();
    spec.build.skim_mm["head"] = 0.2;
    change(spec);
    const CheckAnswer answer = check_drive(spec);
    for (const Finding& finding : answer.findings) {
      if (finding.code == "head" && finding.level == Level::look) return finding.text;
    }
    return std::string();
  };
  CHECK(asked([](DriveSpec&) {}).empty());
  CHECK_THAT(asked([](DriveSpec& spec) { drives::named(spec, "cam").mount = "block"; }),
             ContainsSubstring("pulley.cam.mount") && ContainsSubstring("175.0 mm"));
  CHECK_THAT(asked([](DriveSpec& spec) {
               drives::named(spec, "cam").mount = "block";
               spec.heads[0].deck_from_crank_mm.reset();
             }),
             ContainsSubstring("deck_from_crank_mm"));
  CHECK_THAT(asked([](DriveSpec& spec) { spec.heads[0].deck_deg = 180.0; }),
             ContainsSubstring("lies the other way"));
  CHECK(asked([](DriveSpec& spec) {  // a cam in the block, below its gasket face
          drives::named(spec, "cam").mount = "block";
          spec.heads[0].deck_from_crank_mm = 400.0;
        })
            .empty());
}

TEST_CASE("Less than a quarter of the room there should be is a stop, a little less a look") {
  // limits.inlet_room_mm, 1 mm for each mm of lift per bore is not known here: a limit as given.
  const auto level_at = [](double share) {
    DriveSpec spec = with_engine();
    const double room = least_room(check_drive(spec), "inlet");
    spec.limits.inlet_room_mm = room / share;
    const auto told = found(check_drive(spec), "valve-room", "inlet");
    return told ? std::optional(told->level) : std::nullopt;
  };
  CHECK(level_at(0.249) == Level::stop);
  CHECK(level_at(0.251) == Level::look);
  CHECK(level_at(0.999) == Level::look);
  CHECK_FALSE(level_at(1.001));
}

TEST_CASE("A rod no longer than the stroke and a lobe where no lobe stands are refused") {
  const auto rule_for = [](const std::string& key, auto change) {
    DriveSpec spec = with_engine();
    change(spec);
    for (const Problem& problem : validate(spec)) {
      if (problem.key == key) return problem.rule;
    }
    return std::string();
  };
  const auto rod = [&](double mm) {
    return rule_for("engine.rod_mm", [mm](DriveSpec& spec) { spec.engine.rod_mm = mm; });
  };
  CHECK_THAT(rod(86.0), ContainsSubstring("longer than the stroke"));
  CHECK_FALSE(rod(14.3).empty());  // in cm
  CHECK(rod(86.1).empty());
  const auto lobe = [&](double deg) {
    return rule_for("valve.inlet.lobe_centre_deg", [deg](DriveSpec& spec) {
      ValveSpec& valve = spec.valves[0];
      valve.opens_deg.reset();
      valve.closes_deg.reset();
      valve.duration_deg = 240.0;
      valve.lobe_centre_deg = deg;
    });
  };
  CHECK_FALSE(lobe(59.9).empty());
  CHECK(lobe(60.0).empty());
  CHECK(lobe(180.0).empty());
  CHECK_FALSE(lobe(180.1).empty());
}

TEST_CASE("Inlet and exhaust swapped show in the opening order") {
  DriveSpec spec = with_engine();
  CHECK_FALSE(found(check_drive(spec), "valve-events"));
  spec.valves[0].side = ValveSide::exhaust;
  REQUIRE(found(check_drive(spec), "valve-events"));
  CHECK(found(check_drive(spec), "valve-events")->level == Level::look);
  CHECK_THAT(found(check_drive(spec), "valve-events")->text, ContainsSubstring("swapped"));
  std::swap(spec.valves[0].opens_deg, spec.valves[0].closes_deg);
  CHECK_FALSE(found(check_drive(spec), "valve-events"));
}
