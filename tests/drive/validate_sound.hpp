// A drive with nothing wrong, and how the tests of validate() put something wrong into it.
#pragma once

#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "twoturn/drive/validate.hpp"

namespace validated {

using namespace twoturn;

inline constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
inline constexpr double kInfinite = std::numeric_limits<double>::infinity();

inline PulleySpec toothed(const std::string& name, Role role, int teeth, const Vec2& at_mm) {
  PulleySpec pulley;
  pulley.name = name;
  pulley.role = role;
  pulley.teeth = teeth;
  pulley.at_mm = at_mm;
  return pulley;
}

inline SwingSpec& swing(DriveSpec& spec) {
  return std::get<SwingSpec>(spec.pulleys[3].tensioner->path);
}

inline PulleySpec eccentric() {
  PulleySpec roller;
  roller.name = "roller";
  roller.diameter_mm = 60;
  roller.face = Face::back;
  SwingSpec path;
  path.pivot_mm = Vec2(-40, 170);
  path.arm_mm = 6;
  path.slack_deg = 300;
  path.tight_deg = 200;
  path.tightens = Turn::clockwise;
  roller.tensioner = TensionerSpec{path, 346.0, {}, {}, {}, {}};
  return roller;
}

// Crank, pump, cam and an eccentric on the back; a head, a geared shaft, a cover; nothing wrong.
inline DriveSpec sound() {
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.section = "ZA";
  spec.belt.teeth = 111;
  spec.heads.push_back({"head", 0.0, 210.0});
  spec.pulleys.push_back(toothed("crank", Role::crankshaft, 20, Vec2(0, 0)));
  spec.pulleys.push_back(toothed("pump", Role::water_pump, 19, Vec2(62, 150)));
  spec.pulleys.push_back(toothed("cam", Role::camshaft, 40, Vec2(0, 375)));
  spec.pulleys.push_back(eccentric());
  spec.pulleys[2].mount = "head";
  spec.pulleys[2].pin = PinSpec{35.0, 0.15, {}, {}, {}};
  GearedSpec balance;
  balance.name = "balance";
  balance.from = "crank";
  balance.ratio = -2.0;
  balance.role = Role::balance_shaft;
  spec.geared.push_back(balance);
  spec.covers.push_back(
      {"cover", {Vec2(-80, -40), Vec2(0, -60), Vec2(80, -40)}, Outline::open, {}});
  spec.build.skim_mm["head"] = 0.3;
  return spec;
}

struct Case {
  const char* claim;
  std::function<void(DriveSpec&)> change;
  const char* key;
  const char* value;
  const char* rule;
  const char* nearest = "";
};

inline void check_each(const std::vector<Case>& cases) {
  for (const Case& bad : cases) {
    INFO(bad.claim);
    DriveSpec spec = sound();
    bad.change(spec);
    const std::vector<Problem> problems = validate(spec);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].key == bad.key);
    CHECK(problems[0].value == bad.value);
    CHECK(problems[0].rule == bad.rule);
    CHECK(problems[0].nearest == bad.nearest);
  }
}

inline void check_sound(const std::string& claim, const std::function<void(DriveSpec&)>& change) {
  INFO(claim);
  DriveSpec spec = sound();
  change(spec);
  const std::vector<Problem> problems = validate(spec);
  const std::string first = problems.empty() ? "" : problems[0].key + ": " + problems[0].rule;
  CHECK(first == "");
}

}  // namespace validated
