#include "fingerprint.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <sstream>
#include <vector>

#include "toml_section.hpp"

namespace twoturn::reading {
namespace {

// Nine digits: a length in inches and the same in mm are one number.
std::string said(const toml::node& node, const std::string& path) {
  if (node.is_number()) {
    const double value = node.value<double>().value_or(0.0) * unit_of(path).factor;
    return fmt::format("{:.9g}", value == 0.0 ? 0.0 : value);
  }
  std::ostringstream out;
  node.visit([&out](const auto& value) { out << value; });
  return out.str();
}

void gather(const toml::node& node, const std::string& path, std::vector<std::string>& lines) {
  if (const toml::table* table = node.as_table()) {
    for (const auto& [key, inner] : *table) {
      gather(inner, path.empty() ? std::string(key.str()) : fmt::format("{}.{}", path, key.str()),
             lines);
    }
  } else if (const toml::array* list = node.as_array()) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      // The place goes before the key, so that a unit still ends the path.
      gather(*list->get(i), fmt::format("[{}]{}", i, path), lines);
    }
  } else {
    lines.push_back(fmt::format("{} = {}", under_mm(path), said(node, path)));
  }
}

}  // namespace

std::string fingerprint(const toml::table& tree) {
  std::vector<std::string> lines;
  for (const auto& [key, node] : tree) {
    // What was seen is seen after the record was written.
    if (key.str() == "origin" || key.str() == "example" || key.str() == "seen") continue;
    gather(node, std::string(key.str()), lines);
  }
  std::sort(lines.begin(), lines.end());
  constexpr std::uint64_t kBasis = 0xcbf29ce484222325ULL;
  constexpr std::uint64_t kPrime = 0x100000001b3ULL;
  std::uint64_t hash = kBasis;
  const auto add = [&hash](char c) { hash = (hash ^ static_cast<unsigned char>(c)) * kPrime; };
  for (const std::string& line : lines) {
    std::for_each(line.begin(), line.end(), add);
    add('\n');
  }
  return fmt::format("{:016x}", hash);
}

}  // namespace twoturn::reading
