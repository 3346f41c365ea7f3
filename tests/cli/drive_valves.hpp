// The engine under a drive, for tests of the command.
#pragma once

namespace twoturn::test {

/// Put behind the launch: its engine and valves, with valve heads across the chamber.
inline constexpr const char* kValves = R"(
[engine]
cylinders = 4
bore_mm = 80
stroke_mm = 84
rod_mm = 139
pin_offset_mm = 0.5
compression_ratio = 9.5
crank_pins_deg = [0, 180, 180, 0]
firing_order = [1, 3, 4, 2]
timing_position_deg = 90
[[valve]]
name = "inlet"
cam = "cam"
side = "inlet"
lift_mm = 9
lash_mm = 0.2
opens_deg = 10
closes_deg = 50
valve_deg = 18
room_tdc_mm = 4.5
head_mm = 31
across_mm = 18.5
[[valve]]
name = "exhaust"
cam = "cam"
side = "exhaust"
lift_mm = 8.6
opens_deg = 52
closes_deg = 12
law = "3-4-5"
valve_deg = 19
crown = "flat"
clay_mm = 3.2
head_mm = 27
across_mm = -17
)";

}  // namespace twoturn::test
