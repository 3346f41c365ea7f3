#include "twoturn/base/names.hpp"

#include <cctype>

namespace twoturn {
namespace {

constexpr std::string_view kArticle = "the ";

bool brings_article(std::string_view name) {
  if (name.size() <= kArticle.size()) return false;
  for (std::size_t i = 0; i < kArticle.size(); ++i) {
    if (std::tolower(static_cast<unsigned char>(name[i])) != kArticle[i]) return false;
  }
  return true;
}

bool starts_with(std::string_view name, std::string_view word) {
  return name.size() > word.size() && name.substr(0, word.size()) == word;
}

std::string with_article(std::string_view rest) { return std::string(kArticle).append(rest); }

}  // namespace

std::string the(std::string_view name) {
  if (brings_article(name)) return with_article(name.substr(kArticle.size()));
  // "A cam" is bank A's.
  if (starts_with(name, "a ") || starts_with(name, "an ")) return std::string(name);
  return with_article(name);
}

std::string plain_name(std::string_view name) {
  return brings_article(name) ? the(name) : std::string(name);
}

std::string capital(std::string text) {
  if (!text.empty()) {
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  }
  return text;
}

}  // namespace twoturn
