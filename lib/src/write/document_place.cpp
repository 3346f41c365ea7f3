#include "document_parts.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences_places.hpp"

namespace twoturn {
namespace documents {
namespace {

Json ellipse(const std::optional<Ellipse95>& ellipse) {
  if (!ellipse) return nullptr;
  return {{"longer_mm", number(ellipse->longer_mm)},
          {"shorter_mm", number(ellipse->shorter_mm)},
          {"longer_way_deg", number(ellipse->longer_way.clock_deg())}};
}

Json centres(const MeasuredPlaces& places) {
  Json list = Json::array();
  for (const MeasuredPoint& centre : places.points) {
    list.push_back({{"pulley", centre.name},
                    {"pivot", centre.pivot},
                    {"at_mm", centre.at_mm ? point(*centre.at_mm) : Json()},
                    {"exact", centre.exact},
                    {"ellipse", ellipse(centre.ellipse)},
                    {"measurements", centre.measurements}});
  }
  return list;
}

std::string_view kind(MeasuredKind kind) {
  switch (kind) {
    case MeasuredKind::distance:
      return "distance";
    case MeasuredKind::bearing:
      return "bearing";
    case MeasuredKind::place:
      return "place";
    case MeasuredKind::belt:
      return "belt";
  }
  return "";
}

Json measured(const MeasuredPlaces& places) {
  Json list = Json::array();
  for (const MeasuredRow& row : places.rows) {
    const bool place = row.kind == MeasuredKind::place;
    const auto if_placed = [&](double value) { return places.placed() ? number(value) : Json(); };
    list.push_back({{"number", row.number > 0 ? Json(row.number) : Json()},
                    {"kind", kind(row.kind)},
                    {"from", row.from},
                    {"to", place ? Json() : Json(row.to)},
                    {"unit", row.kind == MeasuredKind::bearing ? "clock deg" : "mm"},
                    {"measured", place ? Json() : number(row.measured)},
                    {"found", place ? Json() : if_placed(row.found)},
                    {"off", if_placed(row.off)},
                    {"give_or_take", number(row.give_or_take.value)},
                    {"stated", row.give_or_take.stated},
                    {"taken_with", word(row.give_or_take.with)},
                    {"spare", if_placed(row.spare)},
                    {"standardized", if_placed(row.standardized)}});
  }
  return list;
}

// By place in the list of what is measured, from 1.
Json suspect(const MeasuredPlaces& places) {
  if (places.suspect.seen < 0) return nullptr;
  Json same = Json::array();
  for (const int other : places.suspect.same) same.push_back(other + 1);
  return {{"row", places.suspect.seen + 1},
          {"told", places.suspect.told},
          {"same", std::move(same)},
          {"text", sentences::contradiction(places)}};
}

Json next(const MeasuredPlaces& places) {
  if (!places.next) return nullptr;
  return {{"from", places.next->from},
          {"to", places.next->to},
          {"about", places.next->about},
          {"now_mm", number(places.next->now_mm)},
          {"then_mm", number(places.next->then_mm)}};
}

}  // namespace

Json places(const MeasuredPlaces& places) {
  std::vector<Missing> faults;
  for (const PlaceFault& fault : places.faults) faults.push_back(told(fault));
  const bool solved = places.placed() && !places.rows.empty();
  return {{"placed", places.placed()},
          {"centres", centres(places)},
          {"measured", measured(places)},
          {"spare", solved ? Json(places.found.spare) : Json()},
          {"chi_square", solved ? number(places.found.chi_square) : Json()},
          {"turn_deg", solved ? number(places.turn_deg) : Json()},
          {"suspect", suspect(places)},
          {"next", next(places)},
          {"not_tied_down", missing(faults)}};
}

}  // namespace documents

std::string place_document(const Heading& heading, const MeasuredPlaces& places) {
  documents::Json document = documents::head(heading);
  document.update(documents::places(places));
  return documents::printed(document);
}

}  // namespace twoturn
