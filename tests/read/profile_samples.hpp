// Profiles that the tests of the reader share.
#pragma once

#include <string>

namespace samples {

// The middle of the ladder: one tensioner, one camshaft, a pump, a skim.
inline const std::string kLaunch = R"(title = "Harbour launch, single-cam four"
crank_turns = "clockwise"         # seen from the belt end
[belt]
section = "ZA"
teeth = 111                       # leave out to ask which would fit
[[head]]
name = "head"
deck_deg = 0                      # which way the head lifts off, as on a clock face
deck_from_crank_mm = 210          # crank centre to gasket face
[[pulley]]                        # in belt order, either way round
name = "crank"
role = "crankshaft"
teeth = 20
at_mm = [0, 0]                    # right, up; from the crank
mark_deg = 0                      # 0 = 12 o'clock, 90 = 3 o'clock, pins in
[[pulley]]
name = "tensioner"
diameter_mm = 60                  # no teeth: plain
face = "back"
[pulley.tensioner]
pivot_mm = [-40, 170]
arm_mm = 6                        # pivot to roller centre
slack_deg = 300                   # roller centre seen from the pivot
tight_deg = 200
tightens = "clockwise"
set_deg = 346
[[pulley]]
name = "cam"
role = "camshaft"                 # 1/2; injection pump 1/2, balance shaft 2 or -2, others untimed
teeth = 40
at_mm = [0, 375]
mount = "head"
fixing = "keyed"
mark_deg = 0
pin = { radius_mm = 35, play_mm = 0.15 }
[[pulley]]
name = "water pump"
teeth = 19
at_mm = [62, 150]
[build]                           # what is different from the book
skim_mm = { head = 0.3 }
teeth_out = { cam = "1 late" }
)";

// Tooth counts alone.
inline const std::string kCounts = R"([belt]
teeth = 111
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 20
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 40
)";

// Every table and nearly every key.
inline const std::string kEverything = R"(title = "Everything"
crank_turns = "counterclockwise"
lean_deg = -12.5
rough_centre_in = 14.8
[belt]
teeth = 145
pitch_mm = 9.525
tooth_height_mm = 1.91
thickness_mm = 4.1
land_to_pitch_line_thou = 27
least_teeth = 18
least_roller_mm = 50
double_sided = true
length_tolerance_mm = 0.8
reference_tension_n = 200
[[head]]
name = "left"
deck_deg = "10:30"
deck_from_crank_mm = 210
[[head]]
name = "right"
deck_deg = 45
deck_from_crank_mm = 210
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 22
at_mm = [0, 0]
flange_mm = 72
mark_deg = "12:00"
mark_radius_mm = 70
mark_on = "tooth"
[[pulley.mark]]
name = "damper"
at_deg = "4:30"
radius_in = 3.5
[[pulley.mark]]
name = "flywheel"
at_deg = 0
radius_mm = 140
[[pulley]]
name = "idler"
role = "idler"
diameter_in = 2.165
face = "back"
at_in = [2.2, 4.13]
mount = "block"
[[pulley]]
name = "pump No. 2"
role = "injection pump"
teeth = 44
at_mm = [150, 215]
fixing = "free until tightened"
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 44
at_mm = [10, 400]
mount = "right"
fixing = "adjustable"
range_deg = 5
key_radius_mm = 12
mark_deg = 350
pin = { bar_mm = 5, slot_mm = 5.1, length_mm = 30 }
[[pulley]]
name = "roller"
diameter_mm = 62
face = "back"
mount = "left"
tensioner = { slack_at_mm = [-52, 235], tight_at_mm = [-44, 238], set_mm = 4, set_give_mm = 0.5 }
[[pulley]]
name = "water pump"
role = "auxiliary shaft"
turns_per_crank = 1.1
teeth = 20
at_mm = [-95, 120]
[[geared]]
name = "balance"
from = "crank"
ratio = -2
role = "balance shaft"
mark_deg = 90
mark_radius_mm = 20
pin = { radius_mm = 15, play_mm = 0.1 }
[[geared]]
name = "second balance"
from = "balance"
ratio = -1
[[cover]]
name = "lower cover"
points_mm = [[-80, -40], [0, -60.5], [80, -40]]
mount = "block"
[[cover]]
name = "bracket"
points_mm = [[300, 0], [320, 0], [320, 20]]
closed = true
[build]
skim_thou = { left = 12 }
block_skim_mm = { right = 0.1 }
gasket_change_mm = { left = -0.2, right = 0.15 }
renewed = { "water pump" = { teeth = 21 }, idler = { diameter_mm = 56, at_mm = [56, 105] } }
teeth_out = { cam = "2 teeth early", "water pump" = -1 }
adjusted_deg = { cam = -1.5 }
[limits]
phase_crank_deg = 1.5
stop_teeth = 0.5
pin_tight_mm = 0.1
travel_end = 0.1
adjustment_left_percent = 10
near_mm = 2
teeth_in_mesh = 6
[engine]
interference = true
[seen]
pin = { cam = "tight", "pump No. 2" = "out" }
mark_thou = { damper = "40 late", cam = -20 }
mark_teeth = { "pump No. 2" = "1 tooth early" }
mark_crank_deg = { "second balance" = "right" }
give_in = 0.06
after_turns = 2
again = "repeats"
pointer_mm = 5
turned = "forwards"
stop_deg = 75
rocks = false
prior = { tooth-out = 3, eye = 0 }
[[seen.count]]
from = "crank"
to = "cam"
teeth = 51
[origin]
default = "manual"
"seen.mark_thou.damper" = { give_or_take = 10 }
"pulley.cam.at_mm" = { from = "measured", give_or_take = 0.3 }
"pulley.pump No. 2.teeth" = "measured"
pulley.idler = "assumed"
[example]
"belt.teeth" = 145
)";

}  // namespace samples
