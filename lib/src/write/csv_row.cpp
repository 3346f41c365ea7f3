#include "csv_row.hpp"

#include <fmt/format.h>

#include <cmath>

#include "twoturn/base/assert.hpp"

namespace twoturn::csv {

std::string field(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c;
    if (c == '"') quoted += '"';
  }
  return quoted + '"';
}

std::string field(double value) {
  TWOTURN_ASSERT(!std::isnan(value), value);
  if (!std::isfinite(value)) return "";
  return fmt::format("{}", value == 0.0 ? 0.0 : value);
}

std::string field(int value) { return fmt::format("{}", value); }

std::string row(const std::vector<std::string>& fields) {
  std::string line;
  for (const std::string& one : fields) {
    if (&one != &fields.front()) line += ',';
    line += one;
  }
  return line + "\r\n";
}

}  // namespace twoturn::csv
