#include <fmt/format.h>

#include <cmath>

#include "fault_words.hpp"
#include "sentences.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"

namespace twoturn::sentences {
namespace {

std::string off_by(double value, std::string_view unit, Direction direction) {
  if (prints_as_nothing(value, 1)) return "right";
  return fmt::format("{} {} {}", fixed(std::abs(value), 1), unit, early_or_late(value, direction));
}

}  // namespace

std::string sight(const BenchLayout& layout, const Sight& sight, Direction direction) {
  const auto part = static_cast<std::size_t>(std::max(sight.look.part, 0));
  switch (sight.look.kind) {
    case LookKind::pin:
      return std::string(word(sight.pin));
    case LookKind::mark:
      return off_by(sight.value, layout.shafts[part].mark_radius_mm ? "mm" : "deg", direction);
    case LookKind::further_mark:
      return off_by(sight.value, layout.further[part].radius_mm ? "mm" : "deg", direction);
    case LookKind::again:
      return sight.yes ? "further out each time" : "the same again";
    case LookKind::pointer:
      return layout.tensioner == TensionerKind::slide
                 ? fmt::format("{} mm from the slack end", fixed(sight.value, 1))
                 : clock(sight.value);
    case LookKind::count:
      return fixed(std::round(sight.value), 0);
    case LookKind::stop:
      if (!sight.yes) return "nothing does";
      return sight.sigma > 0.0 ? fmt::format("at {} crank deg", fixed(sight.value, 0)) : "it does";
    default:
      return sight.yes ? "yes" : "no";
  }
}

}  // namespace twoturn::sentences
