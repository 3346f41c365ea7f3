#include "words/bolts.hpp"

#include <fmt/format.h>

#include <cmath>

#include "twoturn/base/angle.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn::sentences {
namespace {

constexpr double kHourDeg = 30.0;

bool is_whole_hour(double deg) { return std::fmod(deg, kHourDeg) == 0.0; }

std::string hour(double deg) {
  const int hours = static_cast<int>(in_turn(deg) / kHourDeg);
  return std::to_string(hours == 0 ? 12 : hours);
}

}  // namespace

double lbf_ft(double nm) { return nm / kNmPerLbfFt; }

std::string torque(double nm) {
  return fmt::format("{} Nm ({} lbf ft)", shortest(nm, 1), shortest(lbf_ft(nm), 1));
}

double dot_from_deg(const AngleMove& move) { return in_turn(move.total_deg - move.angle_deg); }
double dot_to_deg(const AngleMove& move) { return in_turn(move.total_deg); }

std::string angle_move(const AngleMove& move) {
  const double from = dot_from_deg(move);
  const double to = dot_to_deg(move);
  const bool hours = is_whole_hour(from) && is_whole_hour(to);
  const std::string way = hours ? fmt::format("from {} to {} o'clock", hour(from), hour(to))
                                : fmt::format("from {} to {}", clock_face(from), clock_face(to));
  const long long turns = static_cast<long long>(move.angle_deg / kTurnDeg);
  const std::string round = turns == 0 ? "" : fmt::format(", {} past it", times(turns));
  return fmt::format("{} more: dot {}{} ({} in all)", shortest(move.angle_deg, 1), way, round,
                     shortest(move.total_deg, 1));
}

std::string bolts_numbered(const std::vector<int>& bolts) {
  std::string text = bolts.size() == 1 ? "bolt " : "bolts ";
  for (std::size_t k = 0; k < bolts.size(); ++k) {
    if (k > 0) text += k + 1 == bolts.size() ? " and " : ", ";
    text += std::to_string(bolts[k]);
  }
  return text;
}

std::string pins_out(const CountOut& pins) {
  return fmt::format("{} {} out of {}", pins.done, pins.done == 1 ? "pin" : "pins", pins.of);
}

std::string holes_closed(const CountOut& holes) {
  return fmt::format("{} {} closed of {}", holes.done, holes.done == 1 ? "plug" : "plugs",
                     holes.of);
}

std::string closed_with(const std::optional<std::string>& closed_by,
                        const std::optional<std::string>& seal) {
  if (!closed_by) return seal ? fmt::format("seal: {}", *seal) : "";
  return seal ? fmt::format("{}; seal: {}", *closed_by, *seal) : *closed_by;
}

}  // namespace twoturn::sentences
