// What stands over an answer that a test asks for.
#pragma once

#include <string>

#include "twoturn/study/no_answer.hpp"

namespace headings {

inline twoturn::Heading of(std::string command, std::string profile = "A pump engine",
                           twoturn::Fit fit = twoturn::Fit::as_fitted) {
  twoturn::Heading heading;
  heading.command = std::move(command);
  heading.profile = std::move(profile);
  heading.fit = fit;
  return heading;
}

}  // namespace headings
