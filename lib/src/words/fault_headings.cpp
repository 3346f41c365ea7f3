#include <array>

#include "fault_words.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {

namespace {

// In the order of the kinds.
constexpr std::array<std::string_view, kAllFaultKinds.size()> kHeadings{
    "Nothing wrong",
    "Nothing wrong but the eye",
    "A shaft whole teeth out",
    "The belt whole teeth out at the crank",
    "A shaft half a turn out",
    "Slack left where the tensioner does not take it up",
    "A belt with a tooth more or less",
    "The tensioner at its other place for this belt",
    "The tensioner short of its place, or past it",
    "A skim or a thicker gasket that was not allowed for",
    "A roller or an untimed pulley of another size",
    "A timed pulley with a tooth more or less",
    "A pulley turned on its shaft, the belt put on by its mark",
    "A pulley turned on its shaft, the belt put on with the pin in",
    "Two pulleys, each on the other's shaft",
    "Set by another mark of the same pulley",
    "A pulley that slipped on its shaft",
    "A wrong or worn pin",
    "Turned backwards last",
    "The tensioner's transit pin left in",
    "The belt not seated",
    "An outer mark that has moved",
    "Something left in a cylinder"};

}  // namespace

std::string_view heading(FaultKind kind) { return kHeadings[static_cast<std::size_t>(kind)]; }

std::string in_hundred(double probability) {
  constexpr double kLeast = 0.005;
  constexpr double kHundred = 100.0;
  if (probability < kLeast) return "fewer than 1 in 100";
  if (probability > 1.0 - kLeast) return "more than 99 in 100";
  return fixed(kHundred * probability, 0) + " in 100";
}

}  // namespace twoturn::sentences
