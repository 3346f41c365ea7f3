#include <fmt/format.h>

#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/place_answer.hpp"

namespace twoturn {
namespace {

std::string place(const Vec2& at_mm) {
  return fmt::format("[{}, {}]", fixed(at_mm.x(), 1), fixed(at_mm.y(), 1));
}

std::string others_of(const PlaceFault& fault) {
  std::string text;
  for (std::size_t k = 0; k < fault.others.size(); ++k) {
    if (k > 0) text += k + 1 == fault.others.size() ? " and " : ", ";
    text += the(fault.others[k]);
  }
  return text;
}

std::string told_of_belt(const PlaceFault& fault) {
  if (fault.trouble == PlaceTrouble::no_belt) {
    return fmt::format(
        "check {} and where its tensioner stood: at the places measured it has no way round the "
        "pulleys",
        the(fault.about));
  }
  return fmt::format(
      "give the size of every pulley, the belt's section and how the tensioner moves: without them "
      "{} measures nothing",
      the(fault.about));
}

// Of two mirrored places, and of one on the other side than was said.
std::string told_of_side(const PlaceFault& fault) {
  const std::string about = the(fault.about);
  if (fault.trouble == PlaceTrouble::mirrored) {
    return fmt::format(
        "say to the nearest cm where {} stands, or measure it from one more centre: by what is "
        "measured{} it may be at {} or at {}",
        about, fault.others.empty() ? "" : fmt::format(" from {}", others_of(fault)),
        place(fault.at_mm), place(fault.other_mm));
  }
  return fmt::format(
      "look on which side of the line from {} to {} {} stands: near_mm says about {}, but the "
      "measurements put it at {}",
      the(fault.others.front()), the(fault.others.back()), about, place(fault.other_mm),
      place(fault.at_mm));
}

}  // namespace

Missing told(const PlaceFault& fault) {
  const std::string about = the(fault.about);
  Missing missing{fmt::format("where {} stands, and with it the belt's route", about), "measured",
                  ""};
  switch (fault.trouble) {
    case PlaceTrouble::too_few:
      missing.measure =
          !fault.best.empty()
              ? fmt::format("measure from {} to {}, which ties it best", about, the(fault.best))
          : fault.others.empty()
              ? fmt::format("measure from {} to two other centres, or to one and take its bearing",
                            about)
              : fmt::format("measure from {} to one more centre than {}", about, others_of(fault));
      break;
    case PlaceTrouble::unturned:
      missing.answer = "which way up the measured centres lie, and with it the belt's route";
      missing.measure = fmt::format(
          "take one bearing_deg: the way {} lies from the crank, as on a clock face; by eye will "
          "do",
          about);
      break;
    case PlaceTrouble::mirrored:
    case PlaceTrouble::wrong_side:
      missing.key = fmt::format("pulley.{}.near_mm", fault.about);
      missing.measure = told_of_side(fault);
      break;
    case PlaceTrouble::no_belt:
    case PlaceTrouble::belt_sizes:
      missing.measure = told_of_belt(fault);
      break;
    case PlaceTrouble::no_triangle:
      missing.measure = fmt::format(
          "measure from {} to {} again: the two distances and that between their other ends close "
          "no triangle, by {} mm at least",
          about, others_of(fault), fixed(fault.short_mm, 1));
      break;
  }
  return missing;
}

}  // namespace twoturn
