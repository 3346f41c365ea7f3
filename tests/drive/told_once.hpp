// What is wrong with a drive is told once, at its key, with a rule that names the number or word.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "drive/validate_sound.hpp"

namespace validated {

struct Told {
  std::function<void(DriveSpec&)> change;
  const char* key;
  const char* rule;  // a part of it
  const char* nearest = "";
};

inline void check_told(const std::vector<Told>& all) {
  for (std::size_t k = 0; k < all.size(); ++k) {
    DriveSpec spec = sound();
    all[k].change(spec);
    const std::vector<Problem> problems = validate(spec);
    std::string keys;
    for (const Problem& problem : problems) keys += problem.key + ": " + problem.rule + "\n";
    CAPTURE(k, all[k].key, keys);
    CHECK(problems.size() == 1);
    if (problems.size() != 1) continue;
    CHECK(problems[0].key == all[k].key);
    CHECK_THAT(problems[0].rule, ContainsSubstring(all[k].rule));
    CHECK(problems[0].nearest == all[k].nearest);
  }
}

inline void check_all_sound(const std::vector<std::function<void(DriveSpec&)>>& changes) {
  for (std::size_t k = 0; k < changes.size(); ++k) {
    check_sound("change " + std::to_string(k), changes[k]);
  }
}

// A pulley of which nothing is known but its name.
inline PulleySpec& bare(DriveSpec& spec) {
  PulleySpec pulley;
  pulley.name = "idler";
  spec.pulleys.push_back(pulley);
  return spec.pulleys.back();
}

}  // namespace validated
