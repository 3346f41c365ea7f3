// The parts of fault finding's text that several commands print.
#pragma once

#include <string>

#include "twoturn/study/why_answer.hpp"

namespace twoturn::text_why {

/// A list of lines with all that a fault shows on the bench, then what to do; without its title.
std::string shows(const WhyAnswer& answer, const WhyFault& fault);
/// The same in as few words as two faults together need: title, what is off, what to do.
std::string in_short(const WhyAnswer& answer, const WhyFault& fault);
/// Shafts that stand out of place without any fault, by what was done to the engine; else empty.
std::string without_fault(const WhyAnswer& answer);
/// All faults under the headings of their kinds, in the answer's order, two together last.
std::string catalogue(const WhyAnswer& answer);

/// The ranking of what was seen, without its first line.
std::string ranking(const WhyAnswer& answer, const WhySeen& seen);

/// Text that stands as a sentence: a capital in front, a full stop behind where it has none.
std::string sentence(std::string text);

}  // namespace twoturn::text_why
