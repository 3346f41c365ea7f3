#include <fmt/format.h>

#include <cmath>

#include "sentences.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {
namespace {

std::string between_words(const BetweenMarks& between) {
  const TeethBetween& count = between.count;
  const bool whole = count.countable();
  std::string text = fmt::format("- {} to {}", between.from, between.to);
  if (!between.along.empty()) text += fmt::format(", past {}", between.along);
  text += fmt::format(": {} teeth", fixed(count.teeth, whole ? 0 : 1));
  if (count.other_way) {
    text += fmt::format(" ({} the other way)", fixed(*count.other_way, whole ? 0 : 1));
  }
  std::string out;
  const auto add_out = [&out](const std::string& name) {
    out += (out.empty() ? "the mark of " : " and that of ") + the(name);
  };
  if (!count.from_in_mesh) add_out(between.from);
  if (!count.to_in_mesh) add_out(between.to);
  if (!out.empty()) {
    text += fmt::format("; {} {} clear of the belt, counted from the last tooth in mesh", out,
                        count.from_in_mesh || count.to_in_mesh ? "stands" : "stand");
  }
  return wrapped(text + ".", 2);
}

}  // namespace

std::string after_turns(const std::optional<long long>& turns) {
  return turns ? "after " + counted(*turns, "turn", "turns") : "never in practice";
}

std::string paint(const Paint& paint) {
  return wrapped(fmt::format(
      "Paint over belt and pulleys: {}after two turns the belt's paint stands {} further on than "
      "the crank's, the way it travels. It meets the crank's again {}, all of them {}.",
      paint.teeth_further_on == 0 ? "" : "it does not line up again, and that is right: ",
      counted(paint.teeth_further_on, "tooth", "teeth"), after_turns(paint.crank_meets_turns),
      after_turns(paint.all_meet_turns)));
}

std::string teeth_between_marks(const std::vector<BetweenMarks>& counts) {
  if (counts.empty()) return "";
  std::string text = "\nBelt teeth to count from mark to mark when every pin is in:\n";
  for (const BetweenMarks& between : counts) text += between_words(between);
  return text;
}

}  // namespace twoturn::sentences
