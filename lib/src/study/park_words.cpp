#include "twoturn/study/park_words.hpp"

#include <fmt/format.h>

#include "twoturn/base/numbers.hpp"

namespace twoturn {

std::string told(const ParkWay& way) {
  const std::string turned =
      fmt::format("{} {} crank deg: ",
                  way.way == TurnWay::forwards ? "forwards (the way it runs)" : "backwards",
                  fixed(way.turn_deg, 1));
  if (way.clear) {
    return turned + fmt::format("meets no open valve; {} mm at least, in cylinder {}",
                                fixed(way.least_mm, 2), way.cylinder);
  }
  return turned + fmt::format(
                      "NOT this way: the piston of cylinder {} meets an open valve, {} mm "
                      "too little room at {} crank deg",
                      way.cylinder, fixed(-way.least_mm, 2), fixed(way.at_deg, 1));
}

}  // namespace twoturn
