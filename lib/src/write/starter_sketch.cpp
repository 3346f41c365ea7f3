#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "starter_parts.hpp"

namespace twoturn::starter {
namespace {

struct Centre {
  char letter;
  std::string name;
  Vec2 near_mm;
};

std::vector<Centre> centres_of(const DriveSpec& example) {
  std::vector<Centre> centres;
  for (const PulleySpec& pulley : example.pulleys) {
    const bool crank = pulley.role == Role::crankshaft;
    if (!crank && !pulley.near_mm) continue;
    const char letter = static_cast<char>('A' + static_cast<int>(centres.size()));
    const std::string name = pulley.tensioner ? pulley.name + "'s bolt" : pulley.name;
    centres.push_back({letter, name, crank ? Vec2::Zero() : *pulley.near_mm});
  }
  return centres;
}

// A character is about twice as high as wide.
std::string drawn(const std::vector<Centre>& centres) {
  constexpr double kMmAColumn = 8.0;
  constexpr double kMmARow = 16.0;
  Vec2 least = centres.front().near_mm;
  Vec2 most = least;
  for (const Centre& centre : centres) {
    least = least.cwiseMin(centre.near_mm);
    most = most.cwiseMax(centre.near_mm);
  }
  const auto column = [&](const Vec2& mm) {
    return static_cast<std::size_t>(std::lround((mm.x() - least.x()) / kMmAColumn));
  };
  const auto row = [&](const Vec2& mm) {
    return static_cast<std::size_t>(std::lround((most.y() - mm.y()) / kMmARow));
  };
  constexpr std::size_t kMargin = 6;
  std::vector<std::string> rows(row(least) + 1, std::string(column(most) + kMargin + 1, ' '));
  for (const Centre& centre : centres) {
    std::string& line = rows[row(centre.near_mm)];
    const std::size_t at = column(centre.near_mm) + kMargin;
    line.replace(at > 0 ? at - 1 : 0, 3, fmt::format("({})", centre.letter));
  }
  std::string text;
  for (std::string& line : rows) {
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

char letter_of(const std::vector<Centre>& centres, const std::string& name,
               const DriveSpec& example) {
  std::size_t at = 0;
  for (const PulleySpec& pulley : example.pulleys) {
    if (pulley.role != Role::crankshaft && !pulley.near_mm) continue;
    if (pulley.name == name) return centres[at].letter;
    ++at;
  }
  return '?';
}

}  // namespace

std::string sketch(const DriveSpec& example) {
  const std::vector<Centre> centres = centres_of(example);
  std::string text =
      "\nWHAT TO MEASURE (not to scale; an example's belt end)\n\n" + drawn(centres) + '\n';
  for (const Centre& centre : centres) {
    text += fmt::format("  {} {}\n", centre.letter, centre.name);
  }
  text += '\n';
  for (const MeasuredSpec& measured : example.measured) {
    text +=
        fmt::format("  {} to {}  ________ mm   {}\n", letter_of(centres, measured.from, example),
                    letter_of(centres, measured.to, example),
                    measured.bearing_deg ? "and which way by the clock  ________" : "");
    text.erase(text.find_last_not_of(" \n") + 1);
    text += '\n';
  }
  return text;
}

}  // namespace twoturn::starter
