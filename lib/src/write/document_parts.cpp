#include "document_parts.hpp"

#include <cmath>

#include "twoturn/base/assert.hpp"
#include "words/sentences.hpp"

namespace twoturn::documents {

Json number(double value) {
  TWOTURN_ASSERT(!std::isnan(value), value);
  if (!std::isfinite(value)) return nullptr;
  return value == 0.0 ? 0.0 : value;
}

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json number(const std::optional<int>& value) { return value ? Json(*value) : Json(nullptr); }

Json point(const Vec2& point_mm) {
  return Json::array({number(point_mm.x()), number(point_mm.y())});
}

Json head(const Heading& heading) {
  return {{"command", heading.command},
          {"profile", heading.profile},
          {"fit", std::string(sentences::word(heading.fit))}};
}

Json missing(const std::vector<Missing>& missing) {
  Json list = Json::array();
  for (const Missing& item : missing) {
    list.push_back({{"answer", item.answer}, {"key", item.key}, {"measure", item.measure}});
  }
  return list;
}

namespace {

void add_refusal_numbers(const Refusal& refusal, Json& entry) {
  switch (refusal.reason) {
    case Refused::no_tangent:
      entry["distance_mm"] = number(refusal.value);
      entry["needed_mm"] = number(refusal.limit);
      break;
    case Refused::pulley_missed:
      entry["wrap_deg"] = number(refusal.value);
      break;
    case Refused::spans_cross:
      break;
    case Refused::not_one_turn:
      entry["turns"] = number(refusal.value);
      break;
    case Refused::pulleys_overlap:
    case Refused::pulley_meets_obstacle:
    case Refused::rubs_pulley:
    case Refused::rubs_obstacle:
    case Refused::rubs_itself:
      entry["gap_mm"] = number(refusal.value);
      break;
  }
}

}  // namespace

Json unsure(const Unsure& unsure, TensionerKind kind) {
  return {{in_unit("give_or_take", kind), number(unsure.give_or_take)},
          {"most", unsure.most.empty() ? Json() : Json(unsure.most)},
          {"most_share", number(unsure.most_share)}};
}

Json refusals(const std::vector<NamedRefusal>& refused) {
  Json list = Json::array();
  for (const NamedRefusal& named : refused) {
    // Two orders that both run have no reason of the path's own.
    const bool of_path = named.refusal.first >= 0 || named.refusal.reason != Refused::no_tangent;
    Json entry = {{"reason", of_path ? std::string(sentences::word(named.refusal.reason))
                                     : std::string("two-orders")},
                  {"about", named.about},
                  {"text", named.text}};
    if (of_path) add_refusal_numbers(named.refusal, entry);
    list.push_back(std::move(entry));
  }
  return list;
}

TensionerKind kind(const Drive& drive) {
  return drive.tensioner ? drive.tensioner->path.kind() : TensionerKind::slide;
}

Json setting(const Setting& setting) {
  const auto& [reading, kind] = setting.reading;
  Json entry;
  entry[in_unit("at", kind)] = number(reading);
  if (kind == TensionerKind::swing) {
    entry["at_clock"] = sentences::clock_face(reading);
    entry["pointer_deg"] = number(setting.pointer_deg);
    entry["pointer_clock"] =
        setting.pointer_deg ? Json(sentences::clock_face(*setting.pointer_deg)) : Json(nullptr);
  }
  entry["travel"] = number(setting.travel);
  entry["in_travel"] = setting.in_travel;
  entry["over_centre"] = std::string(sentences::word(setting.over_centre));
  entry[in_unit("rate_mm_per", kind)] = number(setting.rate);
  entry["adjustment_left_mm"] = number(setting.adjustment_left_mm);
  entry["adjustment_left_teeth"] = number(setting.adjustment_left_teeth);
  entry["length_mm"] = number(setting.length_mm);
  entry["centre_mm"] = point(setting.centre_mm);
  return entry;
}

Json setting(const std::optional<Setting>& value) {
  return value ? setting(*value) : Json(nullptr);
}

Json paint(const Paint& paint) {
  return {{"belt_teeth", paint.belt_teeth},
          {"crank_teeth", paint.crank_teeth},
          {"after_turns", 2},
          {"teeth_further_on", paint.teeth_further_on},
          {"crank_meets_turns", paint.crank_meets_turns},
          {"all_meet_turns", paint.all_meet_turns ? Json(*paint.all_meet_turns) : Json(nullptr)}};
}

Json between_marks(const std::vector<BetweenMarks>& counts) {
  Json list = Json::array();
  for (const BetweenMarks& between : counts) {
    const TeethBetween& count = between.count;
    Json entry = {{"from", between.from},
                  {"to", between.to},
                  {"teeth", number(count.teeth)},
                  {"countable", count.countable()},
                  {"from_in_mesh", count.from_in_mesh},
                  {"to_in_mesh", count.to_in_mesh},
                  {"other_way_teeth", number(count.other_way)},
                  {"past", between.along}};
    list.push_back(std::move(entry));
  }
  return list;
}

std::string printed(const Json& document) {
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace twoturn::documents
