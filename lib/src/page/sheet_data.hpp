// What the parts of the job sheet's page are filled in from.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "html_parts.hpp"
#include "twoturn/study/sheet_answer.hpp"

namespace twoturn::sheet {

/// An empty text counts as absent, as in every other place of the template.
void put_text(html::Object& object, const char* key, const std::string& text);
html::Data texts(const std::vector<std::string>& lines);
/// Steps from one to before another, numbered from 1 on.
html::Data steps(const std::vector<SheetStep>& all, std::size_t from, std::size_t to);

enum class JobCardAs { other_side, alone };
/// Of the sheet and of the job card.
std::string css();
/// The job card as a section of a page.
std::string job_card_section(const SheetAnswer& sheet, JobCardAs as);

}  // namespace twoturn::sheet
