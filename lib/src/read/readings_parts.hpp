// Pieces that reading a face from a table and from TOML share.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "toml_text.hpp"
#include "twoturn/base/problem.hpp"
#include "twoturn/read/readings.hpp"

namespace twoturn::readings {

/// What is read so far, with the line of every point and of every feeler line.
struct Draft {
  FaceReadings face;
  std::vector<int> point_lines;
  std::vector<Problem> problems;
};

struct LengthKey {
  std::string stem;
  double mm = 0.0;  ///< in one unit; 0: no length's key
  bool metric = true;
};
/// "height_thou": height, 0.0254.
LengthKey length_key(std::string_view key);

/// A finite number, or why not.
struct CellNumber {
  double value = 0.0;
  std::string fault;
};
CellNumber number_in(std::string_view text);

/// Both throw InputError where the text cannot be read at all.
Draft read_table(std::string_view text, const toml_text::Lines& lines, const std::string& name);
Draft read_toml(std::string_view text, const toml_text::Lines& lines, const std::string& name);

}  // namespace twoturn::readings
