#pragma once

#include <string>

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn {

/// The job card alone: bolts stage by stage with their order drawn, trays, and a box for everything
/// that is looked at and counted. A sheet with bolts or trays has it on its other side.
std::string job_card_html(const SheetAnswer& sheet);

/// The same as plain text for a phone, at most 40 columns.
std::string job_card_phone(const SheetAnswer& sheet);

}  // namespace twoturn
