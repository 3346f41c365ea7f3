// What tests do with texts, printed or put in.
#pragma once

#include <regex>
#include <string>

#include "support/catch.hpp"

namespace texts {

/// As it reads wherever its lines end.
inline std::string on_one_line(const std::string& text) {
  return std::regex_replace(text, std::regex("\\s+"), " ");
}

/// With the first of a piece written otherwise; the piece is there.
inline std::string with(std::string text, const std::string& piece, const std::string& otherwise) {
  const std::size_t at = text.find(piece);
  INFO(piece);
  REQUIRE(at != std::string::npos);
  return text.replace(at, piece.size(), otherwise);
}

}  // namespace texts
