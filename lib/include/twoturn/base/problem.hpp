#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace twoturn {

/// One thing that makes an input unusable.
///
/// `key` is the dotted path of the value ("pulley.cam.teeth"; the index stands in for a missing
/// name: "pulley.3.teeth"). A reader that knows the file adds the place.
struct Problem {
  std::string key;
  std::string value;    ///< as given, with its unit; empty when the key is absent
  std::string rule;     ///< what must hold, and the likely cause where there is one
  std::string nearest;  ///< the nearest known key or name; empty when none is near
  std::string file;
  int line = 0;    ///< 1-based; 0 when the place is not known
  int column = 0;  ///< 1-based

  bool operator==(const Problem&) const = default;
};

/// The candidate nearest to `word` by edit distance, or "" when none is near enough to be a slip
/// of the pen (more than a third of the word's letters, at least 2, differ).
std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates);

/// One line for people: place, key, value with its unit, rule, and the nearest known key.
/// "launch.toml:12:9: pulley.cam.teeth = 0: must be 3 or more".
std::string describe(const Problem& problem);

}  // namespace twoturn
