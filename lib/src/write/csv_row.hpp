// Fields and rows of RFC 4180.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace twoturn::csv {

/// In quotes where it needs them.
std::string field(std::string_view text);
/// Round-trips; empty where not finite.
std::string field(double value);
std::string field(int value);

template <class T>
std::string field(const std::optional<T>& value) {
  return value ? field(*value) : std::string();
}

/// Fields made by `field`, ended by CR LF.
std::string row(const std::vector<std::string>& fields);

}  // namespace twoturn::csv
