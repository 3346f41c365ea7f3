// A drive that nothing was tuned on: a saw-mill's twin-cam four whose belt runs anticlockwise.
#pragma once

#include "twoturn/read/profile.hpp"

namespace holdout {

inline constexpr const char* kText = R"(
title = "Saw-mill engine, twin-cam four"
crank_turns = "anticlockwise"

[belt]
section = "H8M"
teeth = 147

[[head]]
name = "head"
deck_deg = 12
deck_from_crank_mm = 214

[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 23
at_mm = [0, 0]
mark_deg = 160
pin = { radius_mm = 58, play_mm = 0.12 }

[[pulley.mark]]
name = "damper"
at_deg = 35
radius_mm = 81

[[pulley]]
name = "tensioner"
role = "idler"
diameter_mm = 64
face = "back"

[pulley.tensioner]
pivot_mm = [70, 172]
arm_mm = 6.5
slack_deg = 80
tight_deg = 300
tightens = "anticlockwise"
set_deg = 28
pointer_deg = 110
holds = "sprung"

[[pulley]]
name = "exhaust cam"
role = "camshaft"
teeth = 46
at_mm = [118, 331]
mount = "head"
fixing = "keyed"
mark_deg = 24
pin = { radius_mm = 41, play_mm = 0.14 }

[[pulley]]
name = "inlet cam"
role = "camshaft"
teeth = 46
at_mm = [-14, 356]
mount = "head"
fixing = "keyed"
mark_deg = 338
pin = { radius_mm = 37, play_mm = 0.16 }

[[pulley.mark]]
name = "other notch"
at_deg = 62
radius_mm = 57

[[pulley]]
name = "oil pump"
role = "oil pump"
teeth = 23
at_mm = [-70, 141]
fixing = "keyed"
mark_deg = 205

[[geared]]
name = "balance shaft"
from = "oil pump"
ratio = -2
role = "balance shaft"
mark_deg = 100
pin = { radius_mm = 22, play_mm = 0.25 }

[build]
skim_mm = { head = 0.1 }

[origin]
default = "measured"
)";

inline twoturn::DriveSpec spec() {
  twoturn::ProfileText profile;
  profile.name = "saw-mill.toml";
  profile.text = kText;
  return twoturn::read_profile(profile);
}

}  // namespace holdout
