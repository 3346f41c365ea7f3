// The cells of the marks' table in words; empty: nobody knows yet, write it in.
#pragma once

#include <string>

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn::sheet {

std::string start_words(const SheetMark& mark);
std::string after_one_words(const SheetMark& mark);
std::string stands_words(const SheetMark& mark);  ///< "0.36 crank deg late, 0.19 mm"
std::string pin_words(const SheetMark& mark);     ///< as this drive stands: "goes in"

}  // namespace twoturn::sheet
