#include <fmt/format.h>

#include "base/at.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"
#include "words/sentences_places.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string first_line(const MeasuredPlaces& places) {
  if (!places.placed()) {
    return wrapped(fmt::format("Not placed: {}.", told(places.faults.front()).measure));
  }
  const std::string centres =
      counted(static_cast<long long>(places.points.size()), "centre is", "centres are");
  if (places.rows.empty()) {
    return wrapped(
        fmt::format("Nothing is measured: {} taken as the profile gives them.", centres));
  }
  if (places.worst < 0) return wrapped(fmt::format("{} placed.", centres));
  const MeasuredPoint& worst = places.points[static_cast<std::size_t>(places.worst)];
  return wrapped(fmt::format("{} placed; worst known is {}, to {} mm.", centres, the(worst.name),
                             fixed(worst.ellipse->longer_mm, 2)));
}

std::string centres_table(const MeasuredPlaces& places) {
  TextTable table({{"centre", Align::left},
                   {"right\nmm"},
                   {"up\nmm"},
                   {"give or\ntake mm", Align::left},
                   {"most\ntowards", Align::left},
                   {"times\nmeasured"}});
  for (const MeasuredPoint& point : places.points) {
    const std::string name = point.pivot ? point.name + " (pivot)" : point.name;
    if (!point.at_mm) {
      table.add({name, "-", "-", "not placed", "", std::to_string(point.measurements)});
      continue;
    }
    std::string give = "exact";
    std::string way;
    if (point.ellipse) {
      give = fmt::format("{} x {}", fixed(point.ellipse->longer_mm, 2),
                         fixed(point.ellipse->shorter_mm, 2));
      way = sentences::clock(point.ellipse->longer_way.clock_deg());
    }
    table.add({name, fixed(point.at_mm->x(), 2), fixed(point.at_mm->y(), 2), give, way,
               std::to_string(point.measurements)});
  }
  return "\nCentres, from the crank's (half axes of the ellipse that holds 95 in 100):\n" +
         table.text();
}

std::string measured_table(const MeasuredPlaces& places) {
  if (places.rows.empty()) return "";
  TextTable table({{"no", Align::left},
                   {"from", Align::left},
                   {"to", Align::left},
                   {"measured"},
                   {"found"},
                   {"off"},
                   {"give or\ntake"},
                   {"by", Align::left}});
  for (const MeasuredRow& row : places.rows) {
    const bool bearing = row.kind == MeasuredKind::bearing;
    const bool place = row.kind == MeasuredKind::place;
    const int digits = bearing ? 1 : 2;
    const auto shown = [&](double value) {
      return bearing ? sentences::clock_number(value, digits) + " deg" : fixed(value, digits);
    };
    table.add({place ? "" : std::to_string(row.number), row.from, place ? "(its place)" : row.to,
               place ? "" : shown(row.measured), place || !places.placed() ? "" : shown(row.found),
               places.placed() ? signed_fixed(row.off, digits) : "",
               shortest(row.give_or_take.value, 2),
               row.give_or_take.stated ? "as stated" : std::string(word(row.give_or_take.with))});
  }
  return "\nMeasured, between centres, in mm where no unit stands:\n" + table.text();
}

}  // namespace

std::string place_text(const Heading& heading, const MeasuredPlaces& places) {
  std::string text = first_line(places) + sentences::heading(heading);
  text += centres_table(places) + measured_table(places);
  if (!places.placed()) {
    text += "\nNot tied down:\n";
    for (const PlaceFault& fault : places.faults) {
      const Missing missing = told(fault);
      text +=
          wrapped(fmt::format("- {}: {}. ({})", missing.answer, missing.measure, missing.key), 2);
    }
    return text;
  }
  if (places.rows.empty()) return text;
  text += '\n';
  const std::string contradiction = sentences::contradiction(places);
  text += contradiction.empty()
              ? wrapped("Nothing measured contradicts the rest. " + sentences::spare(places))
              : wrapped(contradiction + " " + sentences::spare(places));
  if (!prints_as_nothing(places.turn_deg, 1)) {
    text += wrapped(fmt::format(
        "All of them together may be turned round the crank by {} deg, by the direction measured: "
        "no length hangs on that, and the table leaves it out.",
        fixed(places.turn_deg, 1)));
  }
  const std::string next = sentences::next_measurement(places);
  return next.empty() ? text : text + wrapped(next);
}

}  // namespace twoturn
