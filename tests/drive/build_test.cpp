// A drive made of a profile's numbers, by hand; and what is told where one is left out.
#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"

using namespace twoturn;

namespace {

SwingSpec& swing(DriveSpec& spec) {
  return std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
}

std::vector<std::string> missing_of(const DriveSpec& spec) {
  const FittedResult built = fitted_for(spec, Fit::by_the_book);
  CHECK_FALSE(built.fitted.has_value());
  std::vector<std::string> keys;
  for (const Missing& missing : built.missing) keys.push_back(missing.key);
  return keys;
}

using Keys = std::vector<std::string>;

DriveSpec sliding() {
  DriveSpec spec = drives::worked_example();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(-40, 170), Vec2(-34, 178)};
  drives::named(spec, "tensioner").tensioner = tensioner;
  return spec;
}

// A smooth pulley on the belt's tooth side beside two toothed ones and a roller on the back.
DriveSpec four_kinds() {
  DriveSpec spec = drives::worked_example();
  PulleySpec& pump = drives::named(spec, "water pump");
  pump.teeth.reset();
  pump.diameter_mm = 57.0;
  pump.face = Face::tooth;
  return spec;
}

const Pulley& built_pulley(const Drive& drive, const char* name) {
  return drive.pulleys[static_cast<std::size_t>(drive.index_of(name))];
}

}  // namespace

TEST_CASE("Each key of a tensioner that is left out is told as missing, and no other") {
  const auto without = [](void (*change)(SwingSpec&)) {
    DriveSpec spec = drives::worked_example();
    change(swing(spec));
    return missing_of(spec);
  };
  const std::string key = "pulley.tensioner.tensioner.";
  CHECK(without([](SwingSpec& s) { s.pivot_mm.reset(); }) == Keys{key + "pivot_mm"});
  CHECK(without([](SwingSpec& s) { s.arm_mm.reset(); }) == Keys{key + "arm_mm"});
  CHECK(without([](SwingSpec& s) { s.slack_deg.reset(); }) == Keys{key + "slack_deg"});
  CHECK(without([](SwingSpec& s) { s.tight_deg.reset(); }) == Keys{key + "tight_deg"});
  CHECK(without([](SwingSpec& s) { s.tightens.reset(); }) == Keys{key + "tightens"});
  for (const bool thickest : {true, false}) {
    DriveSpec spec = drives::worked_example();
    swing(spec).arm_mm.reset();
    (thickest ? swing(spec).thickest_mm : swing(spec).thinnest_mm) = 12.0;
    CHECK(missing_of(spec) == Keys{key + "arm_mm"});
  }
  for (const bool slack : {true, false}) {
    DriveSpec spec = sliding();
    auto& slide = std::get<SlideSpec>(drives::named(spec, "tensioner").tensioner->path);
    (slack ? slide.slack_at_mm : slide.tight_at_mm).reset();
    CHECK(missing_of(spec) == Keys{key + (slack ? "slack_at_mm" : "tight_at_mm")});
  }
}

TEST_CASE("Each size and place that is left out is told as missing, and no other") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").at_mm.reset();
  CHECK(missing_of(spec) == Keys{"pulley.cam.at_mm"});
  spec = drives::worked_example();
  drives::named(spec, "tensioner").diameter_mm.reset();
  CHECK(missing_of(spec) == Keys{"pulley.tensioner.diameter_mm"});
  spec = drives::worked_example();
  drives::named(spec, "tensioner").face.reset();
  CHECK(missing_of(spec) == Keys{"pulley.tensioner.face"});
  spec = drives::worked_example();
  spec.belt.section.reset();
  CHECK(missing_of(spec) == Keys{"belt.section"});
  spec.belt.pitch_mm = 9.525;
  CHECK(missing_of(spec) == Keys{"belt.thickness_mm"});
  spec = four_kinds();
  spec.belt.section.reset();
  spec.belt.pitch_mm = 9.525;
  spec.belt.tooth_height_mm = 1.91;
  CHECK(missing_of(spec) == Keys{"belt.thickness_mm", "belt.tooth_height_mm"});
}

TEST_CASE("Without a pitch what else is missing is still told") {
  DriveSpec spec = four_kinds();
  spec.belt = {};
  drives::named(spec, "cam").at_mm.reset();
  CHECK(missing_of(spec) == Keys{"belt.section", "pulley.cam.at_mm"});
}

TEST_CASE("Centres that measurements could not place are told once, as that") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").at_mm.reset();
  MeasuredSpec measured;
  measured.from = "crank";
  measured.to = "cam";
  measured.distance_mm = 375.0;
  spec.measured = {measured};
  spec = with_places(spec);
  REQUIRE_FALSE(spec.places->placed());
  CHECK(missing_of(spec) == Keys{"measured"});
  // Placed, but for a pulley of which nothing was measured.
  DriveSpec other = drives::worked_example();
  other.places = std::make_shared<MeasuredPlaces>();
  drives::named(other, "cam").at_mm.reset();
  CHECK(missing_of(other) == Keys{"pulley.cam.at_mm"});
}

TEST_CASE("A crank whose place is not said stands at the origin") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "crank").at_mm.reset();
  CHECK(drives::built(spec).pulleys[0].wheel.centre_mm == Vec2(0, 0));
}

TEST_CASE("Pitch radii, running faces and rims are those of the belt's own layers") {
  // ZA (ISO 9010): 9.525, 1.91 high, 4.1 thick, 0.686 from land to pitch line; its back is 1.504
  // off.
  DriveSpec spec = four_kinds();
  drives::named(spec, "cam").flange_mm = 125.0;
  const Drive drive = drives::built(spec);
  const auto radius = [&](const char* name) { return built_pulley(drive, name).wheel.radius_mm; };
  const auto outside = [&](const char* name) { return built_pulley(drive, name).outside_mm; };
  const auto rim = [&](const char* name) { return built_pulley(drive, name).rim_mm; };
  constexpr double kRounding = 1e-12;
  const double cam = 40 * 9.525 / 2.0 / kPi;
  CHECK_THAT(radius("cam"), WithinAbs(cam, kRounding));
  CHECK_THAT(outside("cam"), WithinAbs(2.0 * cam - 2 * 0.686, 1e-10));
  CHECK(rim("cam") == 62.5);
  CHECK_THAT(rim("crank"), WithinAbs(20 * 9.525 / 2.0 / kPi - 0.686, kRounding));
  CHECK_THAT(radius("tensioner"), WithinAbs(30.0 + 1.504, kRounding));
  CHECK_THAT(radius("water pump"), WithinAbs(28.5 + 1.91 + 0.686, kRounding));
  CHECK(outside("water pump") == 57.0);
  CHECK_THAT(*drive.belt.back_to_pitch_line_mm, WithinAbs(1.504, kRounding));
  CHECK(drive.belt.length_tolerance_mm == 0.76);  // 1057.275 mm: up to 1270, ISO 5296 from memory
}

TEST_CASE("A belt's own numbers come before its section's, and those before a calliper") {
  DriveSpec spec = drives::worked_example();
  spec.belt.over_10_teeth_mm = 95.6;
  CHECK(drives::built(spec).belt.pitch_mm == 9.525);
  CHECK(drives::built(spec).belt.least_teeth == 18);
  CHECK(drives::built(spec).belt.least_roller_mm == 50.0);
  spec.belt.pitch_mm = 9.53;
  spec.belt.tooth_height_mm = 2.0;
  spec.belt.thickness_mm = 4.5;
  spec.belt.land_to_pitch_line_mm = 0.7;
  spec.belt.least_teeth = 14;
  spec.belt.least_roller_mm = 44.0;
  spec.belt.length_tolerance_mm = 0.3;
  spec.belt.reference_tension_n = 250.0;
  const Belt belt = drives::built(spec).belt;
  CHECK(belt.pitch_mm == 9.53);
  CHECK_THAT(*belt.back_to_pitch_line_mm, WithinAbs(1.8, 1e-12));
  CHECK(belt.least_teeth == 14);
  CHECK(belt.least_roller_mm == 44.0);
  CHECK(belt.length_tolerance_mm == 0.3);
  CHECK(belt.reference_tension_n == 250.0);
  CHECK(belt.section == "ZA");
}

TEST_CASE("Ten teeth over a calliper give the pitch where nothing else does") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.belt.pitch_mm.reset();
  spec.belt.over_10_teeth_mm = 80.0;
  const Fitted fitted = drives::fitted(spec);
  CHECK(fitted.drive().belt.pitch_mm == 8.0);
  CHECK_THAT(path_length(placed_wheels(fitted.drive(), 0.0)).length_mm, WithinAbs(776.0, 1e-9));
  CHECK_FALSE(fitted.drive().belt.back_to_pitch_line_mm.has_value());
}

TEST_CASE("A belt's back is known where all three of its layers are, and only there") {
  for (int which = 0; which < 8; ++which) {
    DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
    if ((which & 1) != 0) spec.belt.thickness_mm = 6.0;
    if ((which & 2) != 0) spec.belt.tooth_height_mm = 3.4;
    if ((which & 4) != 0) spec.belt.land_to_pitch_line_mm = 0.7;
    const std::optional<double> back = drives::built(spec).belt.back_to_pitch_line_mm;
    CHECK(back.has_value() == (which == 7));
    if (back) CHECK_THAT(*back, WithinAbs(1.9, 1e-12));
  }
}

TEST_CASE("A stretched belt's teeth lie further apart, its pulleys keep their pitch") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.build.stretch_percent = 0.5;
  const Drive drive = drives::fitted(spec, Fit::as_fitted).drive();
  CHECK_THAT(drive.belt.length_mm(100), WithinAbs(804.0, 1e-9));
  CHECK_THAT(drive.pulleys[0].wheel.radius_mm, WithinAbs(22 * 8 / 2.0 / kPi, 1e-12));
}

TEST_CASE("The belt's body reaches to its back on one side and over its teeth on the other") {
  for (const Turn turn : {Turn::clockwise, Turn::anticlockwise}) {
    DriveSpec spec = drives::worked_example();
    spec.crank_turns = turn;
    const Drive drive = drives::built(spec);
    const bool left = turn == Turn::anticlockwise;  // teeth on the left of a belt that goes so
    CHECK_THAT(left ? drive.around.body.left_mm : drive.around.body.right_mm,
               WithinAbs(1.91 + 0.686, 1e-12));
    CHECK_THAT(left ? drive.around.body.right_mm : drive.around.body.left_mm,
               WithinAbs(1.504, 1e-12));
    CHECK(drive.around.loop == (left ? Loop::anticlockwise : Loop::clockwise));
    CHECK(built_pulley(drive, "crank").wheel.sense == (left ? 1 : -1));
    CHECK(built_pulley(drive, "cam").wheel.sense == (left ? 1 : -1));
    CHECK(built_pulley(drive, "tensioner").wheel.sense == (left ? -1 : 1));
    CHECK(drive.direction == Direction::given);
  }
  DriveSpec spec = drives::worked_example();
  spec.crank_turns.reset();
  CHECK(drives::built(spec).direction == Direction::assumed);
  CHECK(drives::built(spec).crank_turns == Turn::clockwise);
  spec.belt.double_sided = true;
  CHECK(drives::built(spec).around.loop == Loop::either);
}

TEST_CASE("A crank on the belt's back turns its body round") {
  DriveSpec spec = drives::worked_example();
  spec.belt.double_sided = true;
  for (PulleySpec& pulley : spec.pulleys) {
    pulley.face = pulley.face == Face::back ? Face::tooth : Face::back;
  }
  const Drive drive = drives::built(spec);
  CHECK(built_pulley(drive, "crank").wheel.sense == -1);
  CHECK_THAT(drive.around.body.left_mm, WithinAbs(1.91 + 0.686, 1e-12));
  CHECK_THAT(drive.around.body.right_mm, WithinAbs(1.504, 1e-12));
}

TEST_CASE("However its pulleys are listed a drive begins at its crank and runs as its belt does") {
  const DriveSpec spec = drives::worked_example();
  const Drive plain = drives::built(spec);
  CHECK(plain.order == Order::as_listed);
  CHECK_FALSE(plain.both_orders_run);
  for (std::size_t first = 0; first < 4; ++first) {
    for (const bool backwards : {false, true}) {
      DriveSpec listed = spec;
      const auto by = static_cast<std::ptrdiff_t>(first);
      std::rotate(listed.pulleys.begin(), listed.pulleys.begin() + by, listed.pulleys.end());
      if (backwards) std::reverse(listed.pulleys.begin(), listed.pulleys.end());
      const Drive drive = drives::built(listed);
      CHECK(drive.order == (backwards ? Order::reversed : Order::as_listed));
      REQUIRE(drive.pulleys.size() == 4);
      for (std::size_t k = 0; k < 4; ++k) {
        CHECK(drive.pulleys[k].name == plain.pulleys[k].name);
        const auto at = static_cast<std::size_t>(drive.pulleys[k].listed);
        CHECK(listed.pulleys[at].name == drive.pulleys[k].name);
        CHECK(drive.around.rims_mm[k] == drive.pulleys[k].rim_mm);
      }
      CHECK(drive.tensioner->pulley == 1);
    }
  }
}

TEST_CASE("A pulley knows its head by its place among several, and the block by none") {
  DriveSpec spec = drives::worked_example();
  spec.heads = {drives::head("left", 330.0), drives::head("right", 30.0)};
  drives::named(spec, "cam").mount = "right";
  drives::named(spec, "water pump").mount = "left";
  const Drive drive = drives::built(spec);
  CHECK(built_pulley(drive, "cam").head == 1);
  CHECK(built_pulley(drive, "water pump").head == 0);
  CHECK(built_pulley(drive, "crank").head == -1);
  CHECK(drive.index_of("nobody") == -1);
}

TEST_CASE("Marks of a tensioner allow what is usual, or what is said") {
  DriveSpec spec = drives::worked_example();
  CHECK(drives::built(spec).tensioner->set_give == 3.0);
  drives::named(spec, "tensioner").tensioner->set_give_deg = 5.0;
  CHECK(drives::built(spec).tensioner->set_give == 5.0);
  // 346 of a clock is 46 on from 300.
  CHECK_THAT(*drives::built(spec).tensioner->set_q, WithinAbs(46 * kRadPerDeg, 1e-12));
  DriveSpec slide = sliding();
  CHECK(drives::built(slide).tensioner->set_give == 0.5);
  CHECK_FALSE(drives::built(slide).tensioner->set_q.has_value());
  drives::named(slide, "tensioner").tensioner->set_mm = 4.0;
  drives::named(slide, "tensioner").tensioner->set_give_mm = 0.2;
  CHECK(drives::built(slide).tensioner->set_give == 0.2);
  CHECK(drives::built(slide).tensioner->set_q == 4.0);
}

TEST_CASE("A pointer is seen only where it and the marks are said, and only on a swing") {
  DriveSpec spec = drives::worked_example();
  CHECK_FALSE(drives::built(spec).tensioner->pointer_at(0.5).has_value());
  drives::named(spec, "tensioner").tensioner->pointer_deg = 90.0;
  // 20 deg on from the slack end is 26 before the marks.
  CHECK_THAT(*drives::built(spec).tensioner->pointer_at(20 * kRadPerDeg), WithinAbs(64.0, 1e-9));
  drives::named(spec, "tensioner").tensioner->set_deg.reset();
  CHECK_FALSE(drives::built(spec).tensioner->pointer_at(0.5).has_value());
  DriveSpec slide = sliding();
  drives::named(slide, "tensioner").tensioner->set_mm = 4.0;
  Tensioner tensioner = *drives::built(slide).tensioner;
  tensioner.pointer_deg = 90.0;
  CHECK_FALSE(tensioner.pointer_at(4.0).has_value());
}

TEST_CASE("A swing that tightens the other way has the rest of the circle for its travel") {
  for (const Turn tightens : {Turn::clockwise, Turn::anticlockwise}) {
    DriveSpec spec = drives::worked_example();
    swing(spec).tightens = tightens;
    const TensionerPath path = drives::built(spec).tensioner->path;
    // From 300 to 200: 260 clockwise, 100 the other way.
    const double travel = tightens == Turn::clockwise ? 260 : 100;
    CHECK_THAT(path.travel_length(), WithinAbs(travel * kRadPerDeg, 1e-12));
    CHECK(path.swing()->sense == (tightens == Turn::clockwise ? -1 : 1));
  }
}

TEST_CASE("Camshafts turn half as often as the crank, balance shafts twice") {
  PulleySpec pulley;
  const auto turns = [&](Role role) {
    pulley.role = role;
    return turns_per_crank(pulley);
  };
  CHECK_FALSE(turns_per_crank(pulley).has_value());
  CHECK(turns(Role::crankshaft) == 1.0);
  CHECK(turns(Role::camshaft) == 0.5);
  CHECK(turns(Role::injection_pump) == 0.5);
  CHECK(turns(Role::balance_shaft) == 2.0);
  CHECK_FALSE(turns(Role::water_pump).has_value());
  CHECK_FALSE(turns(Role::oil_pump).has_value());
  CHECK_FALSE(turns(Role::idler).has_value());
  CHECK_FALSE(turns(Role::auxiliary_shaft).has_value());
  pulley.turns_per_crank = -0.75;
  CHECK(turns(Role::auxiliary_shaft) == 0.75);
  GearedSpec geared;
  geared.role = Role::camshaft;
  CHECK(turns_per_crank(geared) == 0.5);
}
