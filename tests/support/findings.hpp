// Findings of a check, by their code.
#pragma once

#include <optional>
#include <string_view>

#include "twoturn/study/check.hpp"

namespace findings {

using namespace twoturn;

inline std::optional<Finding> found(const CheckAnswer& answer, std::string_view code,
                                    std::string_view about = "") {
  for (const Finding& finding : answer.findings) {
    if (finding.code == code && (about.empty() || finding.about == about)) return finding;
  }
  return std::nullopt;
}

}  // namespace findings
