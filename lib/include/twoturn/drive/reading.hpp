#pragma once

#include <string>

namespace twoturn {

/// How a tensioner's pulley goes: round a pivot, or along a slot.
enum class TensionerKind { swing, slide };

/// What its readings are in: "deg" of a swing, "mm" of a slide.
const char* unit(TensionerKind kind);
/// A key that ends in that unit: "at" becomes "at_deg" or "at_mm".
std::string in_unit(const char* stem, TensionerKind kind);
/// How many decimals of a reading say something: 1 of a degree, 2 of a mm.
int digits(TensionerKind kind);

/// Where a tensioner stands, as it is read off it. Swing: the clock angle of its roller's centre
/// seen from the pivot, deg. Slide: mm from the slack end.
struct TensionerReading {
  double value = 0.0;
  TensionerKind kind = TensionerKind::swing;
};

}  // namespace twoturn
