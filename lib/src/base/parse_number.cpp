#include "twoturn/base/parse_number.hpp"

#include <fast_float/fast_float.h>

#include <charconv>
#include <cmath>
#include <system_error>

namespace twoturn {
namespace {

constexpr std::string_view kDigits = "0123456789";

// A number with other digits than 0 that came out as 0 was too small for a double.
bool vanished(double value, std::string_view text) {
  const std::string_view mantissa = text.substr(0, text.find_first_of("eE"));
  return value == 0.0 && mantissa.find_first_of("123456789") != std::string_view::npos;
}

}  // namespace

NumberReading read_number(std::string_view text) {
  NumberReading reading;
  if (!text.empty() && text.front() == '+') {
    text.remove_prefix(1);
    if (!text.empty() && text.front() == '-') return {0.0, NoNumber::no_digits};
  }
  const char* end = text.data() + text.size();
  const auto [stopped, error] = fast_float::from_chars(text.data(), end, reading.value);
  if (error != std::errc() && error != std::errc::result_out_of_range) {
    return {0.0, NoNumber::no_digits};
  }
  const auto used = static_cast<std::size_t>(stopped - text.data());
  if (used < text.size()) {
    // "infinite" and "nano" begin like words that stand for numbers.
    const bool digits = text.substr(0, used).find_first_of(kDigits) != std::string_view::npos;
    return {0.0, digits ? NoNumber::more_behind : NoNumber::no_digits};
  }
  if (error != std::errc() || !std::isfinite(reading.value) || vanished(reading.value, text)) {
    return {0.0, NoNumber::not_finite};
  }
  return reading;
}

std::optional<double> parsed_number(std::string_view text) {
  const NumberReading reading = read_number(text);
  if (reading.fault != NoNumber::none) return std::nullopt;
  return reading.value;
}

// Every standard library reads whole numbers; of some it is only the others that are missing.
std::optional<int> parsed_whole(std::string_view text) {
  if (text.find_first_not_of(kDigits) != std::string_view::npos) return std::nullopt;
  int value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc()) return std::nullopt;
  return value;
}

}  // namespace twoturn
