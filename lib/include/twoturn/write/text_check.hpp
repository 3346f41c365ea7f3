#pragma once

#include <string>

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/no_answer.hpp"

namespace twoturn {

/// The check as a person reads it: the verdict first, then what was found, what to see after one
/// and two turns, what was not checked, cautions.
std::string check_text(const Heading& heading, const CheckAnswer& answer);

/// The check's document, every answer behind the verdict inside it.
std::string check_document(const Heading& heading, const CheckAnswer& answer);

}  // namespace twoturn
