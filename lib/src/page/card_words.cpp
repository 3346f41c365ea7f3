#include "card_words.hpp"

#include <algorithm>

#include "base/at.hpp"
#include "twoturn/base/names.hpp"

namespace twoturn::card {

std::vector<int> ends_on_card(const CardAnswer& card) {
  std::vector<int> ends;
  const auto add = [&](int end) {
    if (end >= 0 && std::find(ends.begin(), ends.end(), end) == ends.end()) ends.push_back(end);
  };
  for (const CardLook& look : card.looks) {
    for (const CardBranch& branch : look.branches) {
      for (const int end : branch.may_be) add(end);
    }
  }
  return ends;
}

std::string letter(const CardAnswer& card, int end) {
  const std::vector<int> ends = ends_on_card(card);
  const auto number = std::find(ends.begin(), ends.end(), end) - ends.begin();
  constexpr int kLetters = 26;
  const std::string last(1, static_cast<char>('A' + number % kLetters));
  return number < kLetters ? last
                           : std::string(1, static_cast<char>('@' + number / kLetters)) + last;
}

std::string leads_to(const CardAnswer& card, const CardBranch& branch) {
  if (branch.next >= 0) return "look " + std::to_string(branch.next + 1);
  if (branch.end < 0) return "use twoturn why";
  std::string text;
  for (const int end : branch.may_be) text += (text.empty() ? "" : " or ") + letter(card, end);
  return text;
}

std::string end_text(const CardAnswer& card, int end) {
  const CardEnd& own = card.ends[at(end)];
  return own.remedy.text.empty() ? capital(own.title.text) + '.' : own.remedy.text;
}

std::string trust_text(const CardAnswer& card) {
  std::string text;
  for (std::size_t i = 0; i < card.trust.size(); ++i) {
    text += (text.empty() ? "" : "; ") + std::to_string(i + 1) + ". " + card.trust[i].text;
  }
  return text + '.';
}

}  // namespace twoturn::card
