#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/fault/bench.hpp"
#include "twoturn/fault/look.hpp"
#include "twoturn/study/sheet_answer.hpp"

namespace twoturn {

/// What one look of the bench card asks, easiest first. The first two look at all pins or marks
/// together.
enum class CardAsk { pins, marks, mark, further_mark, again, pointer, count, signs };

/// One thing that a look may show, and where it leads.
struct CardBranch {
  enum class When { none, all, only, several, within, yes, no, sign };

  When when = When::none;
  int part = -1;                  ///< only: the shaft of the layout
  std::optional<double> above{};  ///< within: more than this; empty: no bound
  std::optional<double> up_to{};  ///< within: at most this
  std::optional<LookKind> sign{};
  SheetLine seen{};           ///< in words
  int next = -1;              ///< the look that follows; below 0: it ends here
  int end = -1;               ///< below 0 with no look to follow: use `twoturn why`
  std::vector<int> may_be{};  ///< with `end`: it and those not told from it here, commonest first
  double faults = 0.0;        ///< share of all simulated faults that come here
  double right_in = 0.0;      ///< of those, the share that `end` puts right; without one 0
};

struct CardLook {
  CardAsk ask = CardAsk::pins;
  int part = -1;              ///< shaft, further mark or pair of the layout
  double more_than_mm = 0.0;  ///< marks: off is what is off by more
  double belongs = 0.0;       ///< pointer: values count from here, clockwise or towards tight
  SheetLine asks{};
  std::vector<CardBranch> branches{};
};

/// What to do: all faults that the same hands put right.
struct CardEnd {
  std::string key;                 ///< of the remedy: `card_key` of its faults
  std::vector<std::string> kinds;  ///< of faults, words of the catalogue
  SheetLine title;
  SheetLine remedy;
  std::vector<int> alike;  ///< ends whose benches this card's looks do not tell from this one's
};

/// The catalogue turned round: what you see leads in at most three looks to what to do.
struct CardAnswer {
  Heading heading;
  Direction direction = Direction::given;
  BenchLayout layout;
  std::vector<CardLook> looks;  ///< the first is where to begin
  std::vector<CardEnd> ends;
  std::vector<SheetLine> trust;  ///< which mark to trust first
  std::vector<std::string> cautions;
  double reached = 0.0;  ///< share of simulated single faults that it puts right
};

}  // namespace twoturn
