#include "way_change.hpp"

#include "base/at.hpp"

namespace twoturn {
namespace {

Angle mark_angle(const PlacedPath& book, const MarkedPulley& pulley) {
  if (pulley.mark) return *pulley.mark;
  const Wheel& wheel = book.wheels[at(pulley.book)];
  const Angle half = book.path.wraps[at(pulley.book)] / 2.0;
  return entry_angle(wheel, book.path, pulley.book) + wheel.sense * half;
}

}  // namespace

OnArc book_mark(const PlacedPath& book, const MarkedPulley& pulley) {
  if (pulley.mark) return on_arc(book, pulley.book, *pulley.mark);
  const double arc =
      book.wheels[at(pulley.book)].radius_mm * book.path.wraps[at(pulley.book)].radians();
  return {arc / 2.0, arc};
}

double fitted_mark_from_entry_mm(const BookAndFitted& paths, const MarkedPulley& pulley) {
  const OnArc book = book_mark(paths.book, pulley);
  const double book_off =
      (book.from_entry_mm - book.arc_mm / 2.0) / paths.book.wheels[at(pulley.book)].radius_mm;
  const OnArc fitted = on_arc(paths.fitted, pulley.fitted, mark_angle(paths.book, pulley));
  const double radius = paths.fitted.wheels[at(pulley.fitted)].radius_mm;
  const double off = (fitted.from_entry_mm - fitted.arc_mm / 2.0) / radius;
  const double same_branch = book_off + Angle::radians(off - book_off).wrapped_half().radians();
  return fitted.arc_mm / 2.0 + same_branch * radius;
}

}  // namespace twoturn
