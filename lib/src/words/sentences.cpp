#include "sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"

namespace twoturn::sentences {
namespace {

constexpr std::string_view kValve = " valve";

bool says_valve(std::string_view name) {
  const std::size_t size = kValve.size();
  return name.size() > size && name.substr(name.size() - size) == kValve;
}

// What a key's number is called: of a part, and by itself.
struct Kind {
  std::string_view start;
  std::string_view end;
  std::string_view what;
};
constexpr std::array<Kind, 30> kKinds{{
    {"pulley.", ".at_mm", "the place of"},
    {"pulley.", ".tensioner.pivot_mm", "the pivot of"},
    {"pulley.", ".tensioner.arm_mm", "the arm of"},
    {"pulley.", ".diameter_mm", "the diameter of"},
    {"build.skim_mm.", "", "the skim of"},
    {"build.block_skim_mm.", "", "the block's skim under"},
    {"build.gasket_change_mm.", "", "the change of the gasket of"},
    {"head.", ".deck_deg", "the deck_deg of"},
    {"build.adjusted_deg.", "", "the slots' turn of"},
    {"pulley.", ".pin.radius_mm", "the pin's radius of"},
    {"pulley.", ".pin.play_mm", "the pin's play of"},
    {"pulley.", ".pin.bar_mm", "the bar of"},
    {"pulley.", ".pin.slot_mm", "the bar's slot of"},
    {"pulley.", ".pin.length_mm", "the bar's length in the slot of"},
    {"geared.", ".pin.radius_mm", "the pin's radius of"},
    {"geared.", ".pin.play_mm", "the pin's play of"},
    {"valve.", ".lift_mm", "the lift of"},
    {"valve.", ".cam_lift_mm", "the cam's lift for"},
    {"valve.", ".rocker_ratio", "the rocker's ratio of"},
    {"valve.", ".lash_mm", "the lash of"},
    {"valve.", ".opens_deg", "the opening of"},
    {"valve.", ".closes_deg", "the closing of"},
    {"valve.", ".lobe_centre_deg", "the lobe centre of"},
    {"valve.", ".duration_deg", "the duration of"},
    {"valve.", ".timed_at_lift_mm", "the lift that times"},
    {"valve.", ".valve_deg", "the lean of"},
    {"valve.", ".room_tdc_mm", "the room at top dead centre of"},
    {"valve.", ".clay_mm", "the clay under"},
    {"valve.", ".head_mm", "the head of"},
    {"valve.", ".across_mm", "the place across of"},
}};
constexpr std::array<std::pair<std::string_view, const char*>, 6> kOnly{{
    {"engine.stroke_mm", "the stroke"},
    {"engine.throw_mm", "the crank's throw"},
    {"engine.rod_mm", "the connecting rod"},
    {"engine.pin_offset_mm", "the pin's offset"},
    {"engine.timing_position_deg", "the timing position"},
    {"build.stretch_percent", "the belt's stretch"},
}};

}  // namespace

std::string clock_face(double clock_deg) {
  constexpr int kMinutesRound = 720;
  constexpr double kMinutesADegree = 2.0;
  const int minutes =
      static_cast<int>(std::lround(clock_deg * kMinutesADegree) % kMinutesRound + kMinutesRound) %
      kMinutesRound;
  const int hour = minutes / 60;
  return fmt::format("{}:{:02}", hour == 0 ? 12 : hour, minutes % 60);
}

std::string clock_number(double clock_deg, int digits) {
  constexpr double kRound = 360.0;
  const std::string text = fixed(clock_deg, digits);
  return text == fixed(kRound, digits) ? fixed(0.0, digits) : text;
}

std::string clock(double clock_deg) {
  return fmt::format("clock {} ({})", clock_number(clock_deg, 1), clock_face(clock_deg));
}

std::string reading(const TensionerReading& reading) {
  if (reading.kind == TensionerKind::swing) return clock(reading.value);
  return fmt::format("{} mm from the slack end", fixed(reading.value, digits(reading.kind)));
}

std::string reading(const TensionerReading& where, const Unsure& unsure) {
  const double give = unsure.give_or_take;
  if (prints_as_nothing(give, digits(where.kind))) return reading(where);
  constexpr double kHalfCircleDeg = 180.0;
  if (where.kind == TensionerKind::swing && give > kHalfCircleDeg) {
    return reading(where) + ", which the numbers given leave quite open";
  }
  constexpr double kWholeOnly = 2.0;  // a tenth beside it would say nothing
  const int shown = give >= kWholeOnly ? 0 : digits(where.kind);
  const std::string value = where.kind == TensionerKind::swing ? clock_number(where.value, shown)
                                                               : fixed(where.value, shown);
  return fmt::format("{}, give or take {} {}",
                     where.kind == TensionerKind::swing
                         ? fmt::format("clock {} ({})", value, clock_face(where.value))
                         : value + " mm from the slack end",
                     fixed(give, shown), unit(where.kind));
}

std::string setting(const Setting& setting) { return sentences::setting(setting, {}); }

std::string setting(const Setting& setting, const Unsure& unsure) {
  std::string text = reading(setting.reading, unsure);
  if (setting.pointer_deg) text += ", pointer at " + clock(*setting.pointer_deg);
  return text;
}

std::string number_of(std::string_view key) {
  for (const Kind& kind : kKinds) {
    const bool fits = key.size() > kind.start.size() + kind.end.size() &&
                      key.substr(0, kind.start.size()) == kind.start &&
                      key.substr(key.size() - kind.end.size()) == kind.end;
    if (!fits) continue;
    key.remove_prefix(kind.start.size());
    key.remove_suffix(kind.end.size());
    const bool of_valve = kind.start == "valve.";
    return fmt::format("{} {}", kind.what, the(of_valve ? valve(key) : std::string(key)));
  }
  for (const auto& [only, what] : kOnly) {
    if (key == only) return what;
  }
  constexpr std::string_view kMeasured = "measured.";
  if (key.substr(0, kMeasured.size()) == kMeasured) {
    return fmt::format("what was taken as measurement {}", key.substr(kMeasured.size()));
  }
  return std::string(key);
}

Give give_of(const Unsure& unsure) {
  constexpr int kExact = 2;
  constexpr double kWholeOnly = 1.95;
  constexpr double kTenthsOnly = 0.095;
  const double give = unsure.give_or_take;
  if (prints_as_nothing(give, kExact)) return {kExact, ""};
  const int digits = give >= kWholeOnly ? 0 : give >= kTenthsOnly ? 1 : kExact;
  return {digits, fixed(give, digits)};
}

std::string value_left(double value, const Unsure& unsure) {
  return fixed(value, give_of(unsure).digits);
}

std::string mm(double value, const Unsure& unsure) {
  const Give give = give_of(unsure);
  return fmt::format("{} mm{}{}", fixed(value, give.digits),
                     give.size.empty() ? "" : ", give or take ", give.size);
}

std::string mm_amid(double value, const Unsure& unsure) {
  return mm(value, unsure) + (give_of(unsure).size.empty() ? "" : ",");
}

std::string left_open(const Unsure& unsure, std::string_view unit) {
  if (unsure.give_or_take == 0.0) return "";
  return fmt::format("; these numbers leave {} {} open", fixed(unsure.give_or_take, 1), unit);
}

std::string not_sure(std::string_view by, const Unsure& unsure, std::string_view unit) {
  return fmt::format(" {}, and these numbers leave {} {} open: measure {} better, it settles most.",
                     by, fixed(unsure.give_or_take, std::max(1, give_of(unsure).digits)), unit,
                     number_of(unsure.most));
}

std::string tightens_contradicted(const TensionerAnswer& tensioner) {
  const std::string_view only = twoturn::word(*tensioner.only_tightens);
  return fmt::format(
      "{} is said to tighten {}, but turned that way from its slack end to its tight end it lets "
      "{} "
      "percent of what it can take up off again, and turned {} to the same tight end it takes belt "
      "up all the way: by its geometry it tightens {}. Look which way the spanner tightens it, and "
      "check slack_deg, tight_deg and tightens.",
      capital(the(tensioner.pulley)), twoturn::word(tensioner.tightens),
      fixed(100.0 * tensioner.lets_off, 1), only, only);
}

std::string_view word(Fit fit) { return fit == Fit::by_the_book ? "by the book" : "as fitted"; }

std::string_view word(OverCentre over_centre) {
  switch (over_centre) {
    case OverCentre::before:
      return "before";
    case OverCentre::at:
      return "at";
    case OverCentre::past:
      return "past";
  }
  return "";
}

std::string_view word(SettingChoice choice) {
  switch (choice) {
    case SettingChoice::fixed_centres:
      return "fixed centres";
    case SettingChoice::as_asked:
      return "as asked";
    case SettingChoice::maker_marks:
      return "maker's marks";
    case SettingChoice::belt_length:
      return "belt's length";
    case SettingChoice::mid_travel:
      return "mid-travel";
  }
  return "";
}

std::string_view word(RoomStands stands) {
  switch (stands) {
    case RoomStands::clears:
      return "clears";
    case RoomStands::below_limit:
      return "near";
    case RoomStands::touches:
      return "TOUCHES";
  }
  return "";
}

std::string_view word(PinState pin) {
  switch (pin) {
    case PinState::not_given:
      return "not given";
    case PinState::not_due:
      return "not due";
    case PinState::in:
      return "in";
    case PinState::tight:
      return "tight";
    case PinState::out:
      return "out";
  }
  return "";
}

std::string_view pin_shows(PinState pin, Sureness sureness) {
  const bool sure = sureness == Sureness::sure;
  switch (pin) {
    case PinState::not_given:
    case PinState::not_due:
      return "";
    case PinState::in:
      return sure ? "goes in" : "may go in";
    case PinState::tight:
      return sure ? "is tight" : "may be tight";
    case PinState::out:
      return sure ? "does not go in" : "may not go in";
  }
  return "";
}

std::string_view word(Pattern pattern) {
  switch (pattern) {
    case Pattern::right:
      return "right";
    case Pattern::repeats:
      return "repeats";
    case Pattern::wanders:
      return "wanders";
  }
  return "";
}

std::string_view word(Way way) { return way == Way::with_travel ? kSlackSide : kTightSide; }

std::string_view word(Trust trust) {
  return trust == Trust::low_confidence ? "low confidence" : "from memory";
}

std::string_view word(Refused reason) {
  switch (reason) {
    case Refused::no_tangent:
      return "no-tangent";
    case Refused::pulley_missed:
      return "pulley-missed";
    case Refused::spans_cross:
      return "runs-cross";
    case Refused::not_one_turn:
      return "not-one-turn";
    case Refused::pulleys_overlap:
      return "pulleys-overlap";
    case Refused::pulley_meets_obstacle:
      return "pulley-meets-cover";
    case Refused::rubs_pulley:
      return "rubs-pulley";
    case Refused::rubs_obstacle:
      return "rubs-cover";
    case Refused::rubs_itself:
      return "rubs-itself";
  }
  return "";
}

std::string_view early_or_late(double error_deg, Direction direction) {
  if (prints_as_nothing(error_deg, 2)) return "right";
  if (direction == Direction::assumed) return "out";
  return error_deg > 0.0 ? "early" : "late";
}

std::string error(double error_crank_deg, Direction direction) {
  if (prints_as_nothing(error_crank_deg, 2)) return "right";
  return fmt::format("{} crank deg {}", fixed(std::abs(error_crank_deg), 2),
                     early_or_late(error_crank_deg, direction));
}

std::string degrees(double value) {
  const double size = std::abs(value);
  constexpr double kPlain = 9.995;
  return fixed(size, size < kPlain ? 2 : 1);
}

std::string own_deg(const std::optional<Role>& role, std::string_view name) {
  if (role == Role::camshaft) return "cam deg";
  if (role == Role::crankshaft) return "crank deg";
  return fmt::format("deg of {}", the(name));
}

std::string wrapped(std::string_view text, int indent, std::size_t width) {
  std::string lines;
  lines.reserve(text.size() +
                (text.size() / width + 1) * 2 * (static_cast<std::size_t>(indent) + 1));
  std::size_t column = 0;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    const std::string_view next = text.substr(from, end - from);
    // Counts letters, not bytes: continuation bytes of UTF-8 take no room.
    std::size_t letters = 0;
    for (const char c : next) letters += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
    if (column > 0 && column + 1 + letters > width) {
      lines += '\n';
      lines.append(static_cast<std::size_t>(indent), ' ');
      column = static_cast<std::size_t>(indent);
    } else if (column > 0 && !next.empty()) {
      lines += ' ';
      ++column;
    }
    lines += next;
    column += letters;
    from = end + 1;
  }
  return lines + '\n';
}

std::string valve(std::string_view name) {
  return says_valve(name) ? plain_name(name) : plain_name(name) + std::string(kValve);
}

std::string valves(std::string_view inlet, std::string_view exhaust) {
  if (says_valve(inlet) || says_valve(exhaust)) {
    return fmt::format("{} and {}", valve(inlet), valve(exhaust));
  }
  return fmt::format("{} and {}{}", plain_name(inlet), plain_name(exhaust), kValve);
}

std::string missing(const std::vector<Missing>& missing) {
  if (missing.empty()) return "";
  std::string text = "\nNot known, and the one measurement that would supply each:\n";
  for (const Missing& item : missing) {
    text += wrapped(fmt::format("- {}: {} ({})", item.answer, item.measure, item.key), 2);
  }
  return text;
}

std::string refusals(const std::vector<NamedRefusal>& refused) {
  std::string text;
  for (const NamedRefusal& refusal : refused) text += wrapped("- " + refusal.text, 2);
  return text;
}

std::string overlap_place(double at_deg) {
  constexpr double kFiring = 359.95;  // prints as a whole turn from overlap
  if (std::abs(at_deg) >= kFiring) return "at top dead centre where it fires, the valve shut";
  return fmt::format("{} crank deg {} top dead centre on overlap", fixed(std::abs(at_deg), 1),
                     at_deg < 0.0 ? "before" : "after");
}

}  // namespace twoturn::sentences
