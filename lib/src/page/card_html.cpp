#include "card_words.hpp"
#include "html_parts.hpp"
#include "page_files.hpp"
#include "twoturn/page/card.hpp"
#include "twoturn/page/html_page.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

html::Data looks_of_card(const CardAnswer& card) {
  html::List list;
  for (std::size_t i = 0; i < card.looks.size(); ++i) {
    html::List branches;
    for (const CardBranch& branch : card.looks[i].branches) {
      branches.push_back(
          html::Data(html::Object{{"seen", html::Data(branch.seen.text)},
                                  {"leads", html::Data(card::leads_to(card, branch))}}));
    }
    list.push_back(html::Data(html::Object{{"number", html::Data(std::to_string(i + 1))},
                                           {"asks", html::Data(card.looks[i].asks.text)},
                                           {"branches", html::Data(branches)}}));
  }
  return html::Data(list);
}

html::Data ends_of_card(const CardAnswer& card) {
  html::List list;
  for (const int end : card::ends_on_card(card)) {
    list.push_back(html::Data(html::Object{{"letter", html::Data(card::letter(card, end))},
                                           {"text", html::Data(card::end_text(card, end))}}));
  }
  return html::Data(list);
}

}  // namespace

std::string card_html(const CardAnswer& card) {
  html::List cautions;
  for (const std::string& caution : card.cautions) {
    cautions.push_back(html::Data(html::Object{{"text", html::Data(caution)}}));
  }
  const html::Object page{{"profile", html::Data(card.heading.profile)},
                          {"fit", html::Data(std::string(sentences::word(card.heading.fit)))},
                          {"begin", html::Data(std::string(card::kBegin))},
                          {"trust", html::Data(card::trust_text(card))},
                          {"looks", looks_of_card(card)},
                          {"ends", ends_of_card(card)},
                          {"cautions", html::Data(cautions)}};
  return html_page({"Bench card: " + card.heading.profile, std::string(files::kCardCss),
                    html::filled(files::kCardHtml, html::Data(page))});
}

}  // namespace twoturn
