#include "card_words.hpp"
#include "phone_lines.hpp"
#include "twoturn/page/card.hpp"
#include "words/sentences.hpp"

namespace twoturn {

using phone::narrow;

std::string card_phone(const CardAnswer& own) {
  std::string text = narrow("Bench card: " + own.heading.profile + ", " +
                            std::string(sentences::word(own.heading.fit)) + ".");
  text += narrow(card::kBegin);
  for (std::size_t i = 0; i < own.looks.size(); ++i) {
    text += '\n' + narrow(std::to_string(i + 1) + ". " + own.looks[i].asks.text, 3);
    for (const CardBranch& branch : own.looks[i].branches) {
      text += narrow("- " + branch.seen.text + ": " + card::leads_to(own, branch), 2);
    }
  }
  text += phone::title("What to do");
  for (const int end : card::ends_on_card(own)) {
    text += narrow(card::letter(own, end) + ". " + card::end_text(own, end), 3);
  }
  text += phone::title("Which to trust first") + narrow(card::trust_text(own));
  text += phone::title("Cautions");
  for (const std::string& caution : own.cautions) text += narrow("- " + caution, 2);
  return text;
}

}  // namespace twoturn
