#include "sentences_places.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/at.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {

std::string measurement(const MeasuredRow& row) {
  if (row.kind == MeasuredKind::place) {
    return fmt::format("the place given of {}", the(row.from));
  }
  if (row.kind == MeasuredKind::belt) {
    return fmt::format("measurement {} (the {})", row.number, row.from);
  }
  return fmt::format("measurement {} ({}from {} to {})", row.number,
                     row.kind == MeasuredKind::bearing ? "the bearing " : "", plain_name(row.from),
                     plain_name(row.to));
}

std::string contradiction(const MeasuredPlaces& places) {
  if (places.suspect.seen < 0) return "";
  const MeasuredRow& row = places.rows[at(places.suspect.seen)];
  const std::string off = row.kind == MeasuredKind::bearing
                              ? fmt::format("{} deg", fixed(std::abs(row.off), 1))
                              : fmt::format("{} mm", fixed(std::abs(row.off), 2));
  if (places.suspect.told) {
    return fmt::format(
        "The measurements contradict each other. Most likely wrong is {}: it lies {} from what all "
        "together say, {} times what is usual of it. Measure it again.",
        measurement(row), off, fixed(std::abs(row.standardized), 1));
  }
  std::string same = measurement(row);
  for (std::size_t k = 0; k < places.suspect.same.size(); ++k) {
    same += k + 1 == places.suspect.same.size() ? " or " : ", ";
    same += measurement(places.rows[at(places.suspect.same[k])]);
  }
  return fmt::format(
      "The measurements contradict each other, by more than they can be off, and which of them is "
      "wrong cannot be told: {}. Measure these again, and one distance more.",
      same);
}

std::string spare(const MeasuredPlaces& places) {
  const int count = places.found.spare;
  if (count == 0) {
    return "Every one of them was needed: none can be held against the others, and a wrong one "
           "would not show.";
  }
  if (count == 1) {
    return "One more was taken than needed: it shows that one is wrong, but not which.";
  }
  return fmt::format("{} more were taken than needed.", count);
}

std::string next_measurement(const MeasuredPlaces& places) {
  if (!places.next) return "";
  return fmt::format(
      "Worst known is {}, to {} mm: the distance from {} to {} would make that {} mm.",
      the(places.next->about), fixed(places.next->now_mm, 1), plain_name(places.next->from),
      plain_name(places.next->to), fixed(places.next->then_mm, 1));
}

}  // namespace twoturn::sentences
