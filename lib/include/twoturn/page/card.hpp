#pragma once

#include <string>

#include "twoturn/study/card_answer.hpp"

namespace twoturn {

/// One A4 page of HTML that needs nothing else, black on white.
std::string card_html(const CardAnswer& card);

/// Plain text for a phone, at most 40 columns.
std::string card_phone(const CardAnswer& card);

}  // namespace twoturn
