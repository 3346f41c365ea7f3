// What the forms of the bench card share: letters of ends, and where a branch leads.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "twoturn/study/card_answer.hpp"

namespace twoturn::card {

inline constexpr std::string_view kBegin =
    "Begin at look 1; at most three looks lead to a letter. Where more than one stands, the first "
    "is likeliest; twoturn why tells them apart, and what is not listed.";

/// The ends that the card leads to, in its order.
std::vector<int> ends_on_card(const CardAnswer& card);

/// "A", "B", ... "AA" by the order of `ends_on_card`.
std::string letter(const CardAnswer& card, int end);

/// "look 4", "A or B" where it tells no further, "use twoturn why".
std::string leads_to(const CardAnswer& card, const CardBranch& branch);

/// "The cam is 1 tooth late. Turn ..."
std::string end_text(const CardAnswer& card, int end);

/// "1. a pin ...; 2. ..."
std::string trust_text(const CardAnswer& card);

}  // namespace twoturn::card
