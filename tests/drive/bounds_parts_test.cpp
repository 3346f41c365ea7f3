// The least and the most of every key of a build, an engine, bolts, limits and sights, and the
// first number beyond each. Written here a second time, by hand.
#include <optional>
#include <vector>

#include "drive/bounds.hpp"

using namespace twoturn;
using namespace validated;

namespace {

ValveSpec& valve(DriveSpec& spec) {
  spec.valves.push_back({});
  spec.valves[0].name = "inlet";
  return spec.valves[0];
}

BoltsSpec& bolts(DriveSpec& spec) {
  spec.bolts.push_back({});
  spec.bolts[0].name = "head";
  return spec.bolts[0];
}

WarmSpec& warm(DriveSpec& spec) { return spec.build.warm.emplace(); }

}  // namespace

TEST_CASE("Numbers of a build have their bounds") {
  const auto warmth = [](std::optional<double> WarmSpec::*part) {
    return [part](DriveSpec& s, double v) { warm(s).*part = v; };
  };
  check_bounds({
      {"build.skim_mm.head", -5, 5, [](DriveSpec& s, double v) { s.build.skim_mm["head"] = v; }},
      {"build.block_skim_mm.head", -5, 5,
       [](DriveSpec& s, double v) { s.build.block_skim_mm["head"] = v; }},
      {"build.gasket_change_mm.head", -5, 5,
       [](DriveSpec& s, double v) { s.build.gasket_change_mm["head"] = v; }},
      {"build.renewed.roller.diameter_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.build.renewed["roller"].diameter_mm = v; }},
      {"build.renewed.pump.at_mm", -kMm, kMm,
       [](DriveSpec& s, double v) { s.build.renewed["pump"].at_mm = Vec2(v, v); }},
      {"build.adjusted_deg.cam", -180, 180,
       [](DriveSpec& s, double v) {
         s.pulleys[2].fixing = Fixing::adjustable;
         s.build.adjusted_deg["cam"] = v;
       }},
      {"build.adjusted_deg.cam", -5, 5,
       [](DriveSpec& s, double v) {
         s.pulleys[2].fixing = Fixing::adjustable;
         s.pulleys[2].range_deg = 5;
         s.build.adjusted_deg["cam"] = v;
       }},
      {"build.stretch_percent", -1, 1, [](DriveSpec& s, double v) { s.build.stretch_percent = v; }},
      {"build.warm.cold_c", -60, 200, warmth(&WarmSpec::cold_c)},
      {"build.warm.block_c", -60, 200, warmth(&WarmSpec::block_c)},
      {"build.warm.head_c", -60, 200, warmth(&WarmSpec::head_c)},
      {"build.warm.belt_c", -60, 200, warmth(&WarmSpec::belt_c)},
      {"build.warm.block_ppm_per_c", -20, 200, warmth(&WarmSpec::block_ppm_per_c)},
      {"build.warm.head_ppm_per_c", -20, 200, warmth(&WarmSpec::head_ppm_per_c)},
      {"build.warm.belt_ppm_per_c", -20, 200, warmth(&WarmSpec::belt_ppm_per_c)},
  });
  check_counts({
      {"build.renewed.pump.teeth", 3, 1000,
       [](DriveSpec& s, double v) { s.build.renewed["pump"].teeth = whole(v); }},
      {"build.teeth_out.cam", -39, 39,
       [](DriveSpec& s, double v) { s.build.teeth_out["cam"] = whole(v); }},
  });
}

TEST_CASE("Numbers of an engine have their bounds") {
  check_bounds({
      {"engine.bore_mm", kOverNothing, 1500, [](DriveSpec& s, double v) { s.engine.bore_mm = v; }},
      {"engine.stroke_mm", kOverNothing, 3000,
       [](DriveSpec& s, double v) { s.engine.stroke_mm = v; }},
      {"engine.throw_mm", kOverNothing, 1500,
       [](DriveSpec& s, double v) { s.engine.throw_mm = v; }},
      {"engine.rod_mm", kOverNothing, 4500, [](DriveSpec& s, double v) { s.engine.rod_mm = v; }},
      {"engine.pin_offset_mm", -100, 100,
       [](DriveSpec& s, double v) { s.engine.pin_offset_mm = v; }},
      {"engine.chamber_cc", kOverNothing, 1e5,
       [](DriveSpec& s, double v) { s.engine.chamber_cc = v; }},
      {"engine.compression_ratio", 1.5, 50,
       [](DriveSpec& s, double v) { s.engine.compression_ratio = v; }},
      {"engine.timing_position_deg", -720, 720,
       [](DriveSpec& s, double v) { s.engine.timing_position_deg = v; }},
      {"engine.crank_pins_deg", -720, 720,
       [](DriveSpec& s, double v) {
         s.engine.cylinders = 2;
         s.engine.crank_pins_deg = {0, v};
       }},
      {"engine.bores_deg", -720, 720,
       [](DriveSpec& s, double v) {
         s.engine.cylinders = 2;
         s.engine.bores_deg = {0, v};
       }},
  });
  check_counts({
      {"engine.cylinders", 1, 16, [](DriveSpec& s, double v) { s.engine.cylinders = whole(v); }},
      {"valve.inlet.cylinders", 1, 16,
       [](DriveSpec& s, double v) { valve(s).cylinders = {whole(v)}; }},
      {"valve.inlet.cylinders", 1, 4,
       [](DriveSpec& s, double v) {
         s.engine.cylinders = 4;
         valve(s).cylinders = {whole(v)};
       }},
      {"valve.inlet.per_cylinder", 1, 4,
       [](DriveSpec& s, double v) { valve(s).per_cylinder = whole(v); }},
  });
}

TEST_CASE("Numbers of a valve have their bounds") {
  const auto of = [](std::optional<double> ValveSpec::*part) {
    return [part](DriveSpec& s, double v) { valve(s).*part = v; };
  };
  check_bounds({
      {"valve.inlet.lift_mm", kOverNothing, 60, of(&ValveSpec::lift_mm)},
      {"valve.inlet.cam_lift_mm", kOverNothing, 60, of(&ValveSpec::cam_lift_mm)},
      {"valve.inlet.rocker_ratio", 0.3, 5, of(&ValveSpec::rocker_ratio)},
      {"valve.inlet.lash_mm", 0, 5, of(&ValveSpec::lash_mm)},
      {"valve.inlet.opens_deg", -120, 150, of(&ValveSpec::opens_deg)},
      {"valve.inlet.closes_deg", -120, 150, of(&ValveSpec::closes_deg)},
      {"valve.inlet.lobe_centre_deg", 60, 180, of(&ValveSpec::lobe_centre_deg)},
      {"valve.inlet.duration_deg", 60, 480, of(&ValveSpec::duration_deg)},
      {"valve.inlet.timed_at_lift_mm", 0, 30, of(&ValveSpec::timed_at_lift_mm)},
      {"valve.inlet.valve_deg", 0, 70, of(&ValveSpec::valve_deg)},
      {"valve.inlet.room_tdc_mm", 0, 200, of(&ValveSpec::room_tdc_mm)},
      {"valve.inlet.clay_mm", 0, 50, of(&ValveSpec::clay_mm)},
      {"valve.inlet.head_mm", kOverNothing, 500, of(&ValveSpec::head_mm)},
      {"valve.inlet.across_mm", -500, 500, of(&ValveSpec::across_mm)},
      {"valve.inlet.spring_n", 0, 5000, of(&ValveSpec::spring_n)},
      {"valve.inlet.spring_rate_n_mm", 0, 1000, of(&ValveSpec::spring_rate_n_mm)},
  });
}

TEST_CASE("Numbers of tension, bolts and trays have their bounds") {
  const auto pull = [](std::optional<double> TensionSpec::*part) {
    return [part](DriveSpec& s, double v) { s.tension.*part = v; };
  };
  const auto bolt = [](std::optional<double> BoltsSpec::*part) {
    return [part](DriveSpec& s, double v) { bolts(s).*part = v; };
  };
  check_bounds({
      {"tension.target_n", kOverNothing, 1e5, pull(&TensionSpec::target_n)},
      {"tension.target_hz", kOverNothing, 2000, pull(&TensionSpec::target_hz)},
      {"tension.give_mm", kOverNothing, 200,
       [](DriveSpec& s, double v) {
         s.tension.give_mm = v;
         s.tension.push_n = 20;
       }},
      {"tension.push_n", kOverNothing, 5000, pull(&TensionSpec::push_n)},
      {"tension.at_crank_deg", -720, 720, pull(&TensionSpec::at_crank_deg)},
      {"bolts.head.pitch_mm", kOverNothing, 10, bolt(&BoltsSpec::pitch_mm)},
      {"bolts.head.length_mm", kOverNothing, kMm, bolt(&BoltsSpec::length_mm)},
      {"bolts.head.shank_mm", kOverNothing, kMm, bolt(&BoltsSpec::shank_mm)},
      {"bolts.head.modulus_n_mm2", kOverNothing, 1e6, bolt(&BoltsSpec::modulus_n_mm2)},
      {"bolts.head.joint_stiffness_n_mm", kOverNothing, 1e9,
       bolt(&BoltsSpec::joint_stiffness_n_mm)},
      {"bolts.head.positions_mm[0]", -kMm, kMm,
       [](DriveSpec& s, double v) { bolts(s).positions_mm = {Vec2(v, v)}; }},
      {"bolts.head.stage.1.torque_nm", kOverNothing, 2000,
       [](DriveSpec& s, double v) {
         bolts(s).stages = {{v, {}}};
       }},
      {"bolts.head.stage.2.angle_deg", kOverNothing, 720,
       [](DriveSpec& s, double v) {
         bolts(s).stages = {{20.0, {}}, {{}, v}};
       }},
  });
  check_counts({
      {"bolts.head.count", 1, 100, [](DriveSpec& s, double v) { bolts(s).count = whole(v); }},
      {"tray.lifters.rows", 1, 12,
       [](DriveSpec& s, double v) {
         s.trays = {{"lifters", whole(v), 4}};
       }},
      {"tray.lifters.columns", 1, 40,
       [](DriveSpec& s, double v) {
         s.trays = {{"lifters", 2, whole(v)}};
       }},
  });
}

TEST_CASE("Limits and what was seen have their bounds") {
  const auto limit = [](std::optional<double> LimitSpec::*part) {
    return [part](DriveSpec& s, double v) { s.limits.*part = v; };
  };
  check_bounds({
      {"limits.phase_crank_deg", kOverNothing, 180, limit(&LimitSpec::phase_crank_deg)},
      {"limits.stop_teeth", kOverNothing, 10, limit(&LimitSpec::stop_teeth)},
      {"limits.pin_tight_mm", 0, 10, limit(&LimitSpec::pin_tight_mm)},
      {"limits.travel_end", 0, 0.5, limit(&LimitSpec::travel_end)},
      {"limits.adjustment_left_percent", 0, 100, limit(&LimitSpec::adjustment_left_percent)},
      {"limits.near_mm", 0, 100, limit(&LimitSpec::near_mm)},
      {"limits.teeth_in_mesh", 0, 100, limit(&LimitSpec::teeth_in_mesh)},
      {"limits.inlet_room_mm", 0, 50, limit(&LimitSpec::inlet_room_mm)},
      {"limits.exhaust_room_mm", 0, 50, limit(&LimitSpec::exhaust_room_mm)},
      {"limits.valve_to_valve_mm", 0, 50, limit(&LimitSpec::valve_to_valve_mm)},
      {"limits.park_room_mm", 0, 50, limit(&LimitSpec::park_room_mm)},
      {"seen.mark_mm.cam", -1000, 1000, [](DriveSpec& s, double v) { s.seen.mark_mm["cam"] = v; }},
      {"seen.mark_teeth.cam", -1000, 1000,
       [](DriveSpec& s, double v) {
         s.pulleys[2].teeth.reset();
         s.seen.mark_teeth["cam"] = v;
       }},
      {"seen.mark_crank_deg.cam", -720, 720,
       [](DriveSpec& s, double v) { s.seen.mark_crank_deg["cam"] = v; }},
      {"seen.give_mm", kOverNothing, 50, [](DriveSpec& s, double v) { s.seen.give_mm = v; }},
      {"seen.pointer_deg", -720, 720, [](DriveSpec& s, double v) { s.seen.pointer_deg = v; }},
      {"seen.pointer_mm", 0, kMm,
       [](DriveSpec& s, double v) {
         slide(s);
         s.seen.pointer_mm = v;
       }},
      {"seen.stop_deg", 0, 720, [](DriveSpec& s, double v) { s.seen.stop_deg = v; }},
      {"seen.prior.seat", 0, 1000, [](DriveSpec& s, double v) { s.seen.prior["seat"] = v; }},
  });
  const auto count = [](DriveSpec& s, double v) {
    s.pulleys[0].mark_deg = s.pulleys[2].mark_deg = 0;
    s.seen.count = {{"crank", "cam", whole(v)}};
  };
  check_counts({{"seen.count.1.teeth", 1, 110, count},
                {"seen.count.1.teeth", 1, 9999, [&](DriveSpec& s, double v) {
                   count(s, v);
                   s.belt.teeth.reset();
                 }}});
}
