// What [build] changes on a head's height, said once for pictures and pages.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "twoturn/drive/spec.hpp"

namespace twoturn::sentences {

/// "gasket thinner by", -0.1: a number of [build] and the words that stand for its sign.
struct HeadChange {
  std::string_view key;  ///< of [build]
  std::string_view what;
  double mm = 0.0;
};

/// Skim, block's skim and gasket, those that do not print as nothing.
std::vector<HeadChange> head_changes(const BuildSpec& build, const std::string& head);

/// "gasket thinner by 0.1 mm"
std::string told(const HeadChange& change);

}  // namespace twoturn::sentences
