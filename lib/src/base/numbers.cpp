#include "twoturn/base/numbers.hpp"

#include <fmt/format.h>

#include <cmath>

#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

bool all_noughts(const std::string& text) {
  return text.find_first_of("123456789") == std::string::npos;
}

// fmt's own formatting ignores the locale unless asked for with 'L'.
std::string without_minus_zero(std::string text) {
  if (all_noughts(text) && !text.empty() && (text[0] == '-' || text[0] == '+')) text.erase(0, 1);
  return text;
}

}  // namespace

std::string fixed(double value, int digits) {
  TWOTURN_ASSERT(value == value, value);
  return without_minus_zero(fmt::format("{:.{}f}", value, digits));
}

std::string signed_fixed(double value, int digits) {
  return without_minus_zero(fmt::format("{:+.{}f}", value, digits));
}

std::string shortest(double value, int digits) {
  std::string text = fixed(value, digits);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

bool prints_as_nothing(double value, int digits) {
  constexpr double kSurely = 1.001;  // beyond what scaling rounds
  double scaled = 2.0 * std::abs(value);
  for (int k = 0; k < digits; ++k) scaled *= 10.0;
  if (scaled > kSurely) return false;
  if (scaled < 1.0 / kSurely) return true;
  return all_noughts(fixed(value, digits));
}

std::string mm_and_thou(double mm, int digits) {
  return fmt::format("{} mm ({} thou)", fixed(mm, digits), fixed(mm / kMmPerThou, 1));
}

std::string counted(long long count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 || count == -1 ? one : many);
}

std::string times(long long count) {
  if (count == 1) return "once";
  if (count == 2) return "twice";
  return fmt::format("{} times", count);
}

}  // namespace twoturn
