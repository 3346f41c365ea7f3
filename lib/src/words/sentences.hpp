// Words and phrases that the text output and the documents share.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "twoturn/base/names.hpp"
#include "twoturn/drive/missing.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/engine/valve_room.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn::sentences {

/// "11:32" for 346 deg: where the hand of a clock would point.
std::string clock_face(double clock_deg);
/// "clock 346.1 (11:32)"
std::string clock(double clock_deg);
/// Its degrees alone, never "360".
std::string clock_number(double clock_deg, int digits);

/// "after 28 turns", "never in practice" where no whole number tells.
std::string after_turns(const std::optional<long long>& turns);

/// "clock 346.1 (11:32)" for a swing, "12.30 mm from the slack end" for a slide.
std::string reading(const TensionerReading& reading);
/// The same with how far off it may be, in no more digits than that leaves: "clock 346 (11:32),
/// give or take 3 deg".
std::string reading(const TensionerReading& reading, const Unsure& unsure);
/// The reading with the pointer behind it where it is known: "..., pointer at clock 12.0 (12:24)".
std::string setting(const Setting& setting);
std::string setting(const Setting& setting, const Unsure& unsure);
/// What a key's number is, as its reader would say it: "the place of the cam"; else the key.
std::string number_of(std::string_view key);
enum class Sureness { sure, open };
inline Sureness sureness(const ShaftAfter& seen) {
  return seen.pin_sure ? Sureness::sure : Sureness::open;
}

/// How far off, in the digits that matter, and the digits it leaves of the number itself.
struct Give {
  int digits = 0;
  std::string size;  ///< empty where it prints as nothing
};
Give give_of(const Unsure& unsure);
/// "3.73"; of what may be off by 0.3 "3.7".
std::string value_left(double value, const Unsure& unsure);
/// "3.73 mm"; "3.7 mm, give or take 0.3".
std::string mm(double value, const Unsure& unsure);
/// The same amid a sentence, a comma behind what may be off: "3.7 mm, give or take 0.3,".
std::string mm_amid(double value, const Unsure& unsure);
/// "; these numbers leave 2.3 deg open": behind a limit; empty where all is exact.
std::string left_open(const Unsure& unsure, std::string_view unit);
/// " It is past by 1.2 deg, and these numbers leave 3.4 deg open: measure the place of the cam
/// better, it settles most.":
/// why "may be", and the number that would settle it.
std::string not_sure(std::string_view by, const Unsure& unsure, std::string_view unit);
/// What a tensioner is said to tighten by, against its geometry; where only_tightens is given.
std::string tightens_contradicted(const TensionerAnswer& tensioner);

std::string_view word(Fit fit);
std::string_view word(OverCentre over_centre);
std::string_view word(SettingChoice choice);
std::string_view word(PinState pin);
/// "goes in", "may be tight", "does not go in": what it shows, and whether that is sure. Empty
/// where none is given or due.
std::string_view pin_shows(PinState pin, Sureness sure);
std::string_view word(RoomStands stands);
std::string_view word(Pattern pattern);
std::string_view word(Way way);
std::string_view word(Trust trust);
std::string_view word(Refused reason);
/// "early", "late"; "out" where it is not known which, "right" where the error is nothing.
std::string_view early_or_late(double error_deg, Direction direction);
/// "17.14 crank deg late"; "right" where it prints as nothing.
std::string error(double error_crank_deg, Direction direction);

/// The size of an angle with the digits that matter: two below ten, one above.
std::string degrees(double deg);

/// "cam deg" for a camshaft, "deg of the injection pump" for others.
std::string own_deg(const std::optional<Role>& role, std::string_view name);

/// The belt's travel that leaves the crank, or arrives at it.
inline constexpr std::string_view kTightSide = "tight side";
inline constexpr std::string_view kSlackSide = "slack side";

std::string paint(const Paint& paint);
/// A line a pair, under a heading; empty where no two shafts have marks.
std::string teeth_between_marks(const std::vector<BetweenMarks>& counts);

/// Words wrapped at `width`, each line after the first indented.
std::string wrapped(std::string_view text, int indent = 0, std::size_t width = 80);

/// "inlet valve"; a name that says so already stays.
std::string valve(std::string_view name);
/// "inlet and exhaust valve"
std::string valves(std::string_view inlet, std::string_view exhaust);

/// What the drive leaves open, one measurement each; empty where nothing is.
std::string missing(const std::vector<Missing>& missing);
std::string refusals(const std::vector<NamedRefusal>& refused);

/// "9.4 crank deg before top dead centre on overlap": between exhaust and inlet stroke.
std::string overlap_place(double at_deg);

}  // namespace twoturn::sentences
