// Profiles for tests of the command.
#pragma once

namespace twoturn::test {

/// A single-cam four, as the format's first example shows it, on a swinging tensioner.
inline constexpr const char* kLaunch = R"(
title = "Harbour launch, single-cam four"
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

/// A diesel whose injection pump is loose while the belt is tensioned, with a pointer, an
/// adjustable cam pulley, a bar for a pin, a cover, a geared shaft and a leaning deck.
inline constexpr const char* kDiesel = R"(
title = "Threshing shed, two-litre diesel"
crank_turns = "clockwise"
[belt]
section = "ZA"
teeth = 145
[[head]]
name = "head"
deck_deg = 8
deck_from_crank_mm = 230
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 22
at_mm = [0, 0]
mark_deg = 12
pin = { radius_mm = 40, play_mm = 0.1 }
[[pulley]]
name = "water pump"
role = "water pump"
teeth = 20
at_mm = [-95, 120]
[[pulley]]
name = "tensioner"
diameter_mm = 62
face = "back"
[pulley.tensioner]
pivot_mm = [-48, 235]
thickest_mm = 14
thinnest_mm = 2
slack_deg = 300
tight_deg = 200
tightens = "clockwise"
set_deg = 0
pointer_deg = 45
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 44
at_mm = [10, 400]
mount = "head"
fixing = "adjustable"
range_deg = 3
key_radius_mm = 12
mark_deg = 20
pin = { bar_mm = 5, slot_mm = 5.1, length_mm = 60 }
[[pulley]]
name = "injection pump"
role = "injection pump"
teeth = 44
at_mm = [150, 215]
fixing = "free until tightened"
mark_deg = 300
[[pulley]]
name = "idler"
role = "idler"
diameter_mm = 55
face = "back"
at_mm = [56, 105]
[[geared]]
name = "balance shaft"
role = "balance shaft"
from = "crank"
ratio = -2
mark_deg = 180
[[cover]]
name = "back cover"
points_mm = [[-150, 300], [-150, 100], [-130, 40]]
[build]
skim_mm = { head = 0.25 }
)";

/// Two pulleys on fixed centres: the belt of 110 teeth is exact by the inverse of ISO 5296.
inline constexpr const char* kFixed = R"(
title = "Lathe countershaft"
[belt]
section = "L"
teeth = 110
[[pulley]]
name = "motor"
role = "crankshaft"
teeth = 20
at_mm = [0, 0]
[[pulley]]
name = "spindle"
teeth = 40
at_mm = [379.789154598, 0]
)";

/// A roller in a straight slot instead of a swing.
inline constexpr const char* kSlide = R"(
title = "Orchard sprayer, slotted roller"
crank_turns = "anticlockwise"
[belt]
section = "ZA"
teeth = 111
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 20
at_mm = [0, 0]
mark_deg = 180
[[pulley]]
name = "roller"
diameter_mm = 60
face = "back"
[pulley.tensioner]
slack_at_mm = [-49, 178]
tight_at_mm = [-31, 170]
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 40
at_mm = [0, 375]
mark_deg = 0
[[pulley]]
name = "water pump"
teeth = 19
at_mm = [62, 150]
)";

/// Tooth counts and nothing else.
inline constexpr const char* kCounts = R"(
title = "Counts on the back of an envelope"
[belt]
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

/// The water pump stands inside the loop without being touched by the belt's teeth side as said.
inline constexpr const char* kRefused = R"(
title = "Pump on the wrong side"
[belt]
section = "ZA"
teeth = 111
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 20
at_mm = [0, 0]
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 40
at_mm = [0, 375]
[[pulley]]
name = "water pump"
teeth = 19
at_mm = [10, 150]
)";

}  // namespace twoturn::test
