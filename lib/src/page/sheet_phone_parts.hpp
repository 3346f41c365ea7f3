// What sheet and job card share as plain text for a phone.
#pragma once

#include <cstddef>
#include <string>

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn::sheet {

std::string step_text(const SheetStep& step, std::size_t number);
std::string job_card_text(const SheetAnswer& sheet);

}  // namespace twoturn::sheet
