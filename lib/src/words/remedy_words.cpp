#include <fmt/format.h>

#include <cmath>

#include "fault_words.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {
namespace {

// "9.5 mm at the edge of the cam": pulleys of one size are named together.
std::string tooth_at_edges(const BenchLayout& layout) {
  std::string text;
  std::vector<bool> told(layout.shafts.size(), false);
  for (std::size_t i = 1; i < layout.shafts.size(); ++i) {
    const BenchPart& part = layout.shafts[i];
    if (told[i] || !part.mark_radius_mm) continue;
    const double mm = Angle::degrees(part.tooth_deg).radians() * *part.mark_radius_mm;
    std::string names;
    for (std::size_t k = i; k < layout.shafts.size(); ++k) {
      const BenchPart& other = layout.shafts[k];
      if (!other.mark_radius_mm) continue;
      const double its = Angle::degrees(other.tooth_deg).radians() * *other.mark_radius_mm;
      if (std::abs(its - mm) > 1e-6) continue;
      told[k] = true;
      names += (names.empty() ? "" : ", ") + plain_name(other.name);
    }
    text += fmt::format("{}{} mm ({})", text.empty() ? "" : "; ", fixed(mm, 1), names);
  }
  return text;
}

}  // namespace

std::string class_remedy(const BenchLayout& layout, Remedy remedy) {
  switch (remedy) {
    case Remedy::move_belt: {
      const std::string tooth = tooth_at_edges(layout);
      return fmt::format(
          "Crank parked clear of the valves, belt off: turn the pulley whose mark is off by whole "
          "teeth: late, on; early, back. {}All off alike: at the crank. Opposite: half a turn.",
          tooth.empty() ? "" : "One tooth at the edge: " + tooth + ". ");
    }
    case Remedy::take_up_slack:
      return "Slacken the belt; lay it on again from the crank, taut on the way without the "
             "tensioner; tension, two turns.";
    case Remedy::right_part:
      return "Count and measure rollers, pump and pulleys against the book; fit the right one.";
    case Remedy::reseat_pulley:
      return "Take that pulley off: look at key or dowel, seat, and whose pulley it is; a slipped "
             "one is set at its pin and tightened again.";
    case Remedy::right_mark:
      return "Another mark was used: set that shaft by its own.";
    default:
      return "";
  }
}

}  // namespace twoturn::sentences
