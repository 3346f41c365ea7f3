#include "twoturn/study/tension_report.hpp"

#include <fmt/format.h>

#include "twoturn/base/numbers.hpp"

namespace twoturn {

std::string no_note_words(const NoNote& none) {
  switch (none.reason) {
    case NoNote::Reason::too_short:
      return fmt::format(
          "The recording lasts {} s, and a note takes {} s at least: record a second "
          "or two.",
          fixed(none.length_s, 2), fixed(none.least_s, 2));
    case NoNote::Reason::silent:
      return "The recording is silent: hold the microphone a hand's breadth from the run, and "
             "pluck "
             "it once.";
    case NoNote::Reason::noise:
      return "No note stands out of the noise: engine off, microphone nearer, one clean pluck in "
             "the "
             "middle of the run.";
    case NoNote::Reason::standing:
      return fmt::format(
          "Only a sound that goes on is heard{}: a fan, a lamp, the mains. Start "
          "recording a moment before the pluck, and let it die away.",
          none.hz ? fmt::format(", at {} Hz", fixed(*none.hz, 1)) : "");
    case NoNote::Reason::beyond_range:
      return fmt::format(
          "The note heard{} is none that such a run has: was it the run that was "
          "plucked?",
          none.hz ? fmt::format(", {} Hz,", fixed(*none.hz, 1)) : "");
  }
  return "";
}

}  // namespace twoturn
