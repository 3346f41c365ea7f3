#include "text_heading.hpp"

#include <fmt/format.h>

#include "words/sentences.hpp"

namespace twoturn::sentences {

std::string heading(const Heading& heading) {
  return wrapped(fmt::format("{}. {}.", heading.profile, capital(std::string(word(heading.fit)))));
}

}  // namespace twoturn::sentences
