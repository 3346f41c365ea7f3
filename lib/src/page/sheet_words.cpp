#include "sheet_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "twoturn/base/numbers.hpp"
#include "words/keep_units.hpp"
#include "words/sentences.hpp"

namespace twoturn {

std::string sheet::start_words(const SheetMark& mark) {
  if (!mark.start_deg) return "";
  return fmt::format("{} ({} deg)", sentences::clock_face(*mark.start_deg),
                     fixed(*mark.start_deg, 1));
}

std::string sheet::after_one_words(const SheetMark& mark) {
  if (!mark.after_one_deg) return mark.opposite_after_one ? "opposite" : "the same";
  return sentences::clock_face(*mark.after_one_deg);
}

std::string sheet::stands_words(const SheetMark& mark) {
  if (!mark.off_crank_deg) return "";
  std::string text = sentences::error(*mark.off_crank_deg, mark.direction);
  if (text != "right" && mark.off_edge_mm) {
    text += fmt::format(", {} mm", fixed(std::abs(*mark.off_edge_mm), 2));
  }
  return sentences::keep_units(text);
}

std::string sheet::pin_words(const SheetMark& mark) {
  switch (mark.pin) {
    case PinState::in:
      return mark.pin_sure ? "goes in" : "may go in";
    case PinState::tight:
      return mark.pin_sure ? "tight" : "may be tight";
    case PinState::out:
      return mark.pin_sure ? "not in" : "may not go in";
    case PinState::not_due:
    case PinState::not_given:
      break;
  }
  return "";
}

}  // namespace twoturn
