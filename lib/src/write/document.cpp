#include "twoturn/write/document.hpp"

#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

const char* neighbour_word(Neighbour kind) {
  switch (kind) {
    case Neighbour::pulley:
      return "pulley";
    case Neighbour::obstacle:
      return "cover";
    case Neighbour::own_run:
      return "own run";
  }
  return "";
}

Json route_pulleys(const RouteAnswer& answer) {
  Json list = Json::array();
  for (const RoutePulley& pulley : answer.pulleys) {
    list.push_back({{"name", pulley.name},
                    {"teeth", pulley.teeth > 0 ? Json(pulley.teeth) : Json(nullptr)},
                    {"face", std::string(word(pulley.face))},
                    {"pitch_radius_mm", number(pulley.pitch_radius_mm)},
                    {"centre_mm", documents::point(pulley.centre_mm)},
                    {"wrap_deg", number(pulley.wrap_deg)},
                    {"mesh_exact", number(pulley.mesh_exact)},
                    {"teeth_in_mesh", number(pulley.teeth_in_mesh)},
                    {"length_per_move_mm_per_mm", documents::point(pulley.gradient)}});
  }
  return list;
}

Json route_spans(const RouteAnswer& answer) {
  Json list = Json::array();
  for (const RouteSpan& span : answer.spans) {
    list.push_back({{"from", span.from},
                    {"to", span.to},
                    {"length_mm", number(span.length_mm)},
                    {"start_mm", documents::point(span.start_mm)},
                    {"end_mm", documents::point(span.end_mm)}});
  }
  return list;
}

Json approaches(const RouteAnswer& answer, TensionerKind kind) {
  Json list = Json::array();
  for (const NamedApproach& near : answer.approaches) {
    Json entry = {{"to", near.to},
                  {"kind", neighbour_word(near.approach.kind)},
                  {"gap_mm", number(near.approach.gap_mm)},
                  {"piece", near.piece},
                  {"place_mm", documents::point(near.approach.at_mm)},
                  {"least_in_travel_mm", number(near.least_in_travel_mm)}};
    entry[in_unit("least_at", kind)] =
        near.least_at_reading ? number(near.least_at_reading->value) : Json(nullptr);
    list.push_back(std::move(entry));
  }
  return list;
}

Json cover_points(const RouteAnswer& answer) {
  Json list = Json::array();
  for (const CoverPoint& point : answer.cover_points) {
    list.push_back({{"cover", point.cover},
                    {"point", point.point},
                    {"at_mm", documents::point(point.at_mm)},
                    {"gap_mm", number(point.gap_mm)}});
  }
  return list;
}

Json own_check(const PathFaults& faults) {
  return {{"off_circle_mm", number(faults.off_circle_mm)},
          {"off_square", number(faults.off_square)},
          {"open_end_mm", number(faults.open_end_mm)},
          {"length_mm", number(faults.length_mm)},
          {"wrong_way", number(faults.wrong_way)}};
}

Json problems(const std::vector<Problem>& problems) {
  Json list = Json::array();
  for (const Problem& problem : problems) {
    const auto text = [](const std::string& value) {
      return value.empty() ? Json(nullptr) : Json(value);
    };
    list.push_back({{"file", text(problem.file)},
                    {"line", problem.line > 0 ? Json(problem.line) : Json(nullptr)},
                    {"column", problem.column > 0 ? Json(problem.column) : Json(nullptr)},
                    {"key", text(problem.key)},
                    {"value", text(problem.value)},
                    {"rule", problem.rule},
                    {"nearest", text(problem.nearest)},
                    {"text", describe(problem)}});
  }
  return list;
}

}  // namespace

void documents::add_route(const Drive& drive, const RouteAnswer& answer, Json& document) {
  document["is_belt"] = answer.is_belt;
  document["length_mm"] = number(answer.length_mm);
  document["length_is"] = answer.is_belt ? "belt" : "tangent path, not a belt";
  document["teeth_exact"] = number(answer.teeth_exact);
  document["belt_teeth"] = number(drive.belt.teeth);
  document["pitch_mm"] = number(drive.belt.pitch_mm);
  document["reference_tension_n"] = number(drive.belt.reference_tension_n);
  document["setting_from"] = std::string(sentences::word(answer.choice));
  document["setting"] = documents::setting(answer.setting);
  document["crank_turns"] = std::string(word(drive.crank_turns));
  document["crank_turns_known"] = drive.direction == Direction::given;
  document["order"] = answer.order == Order::reversed ? "reversed" : "as listed";
  document["pulleys"] = route_pulleys(answer);
  document["spans"] = route_spans(answer);
  document["refused"] = documents::refusals(answer.refused);
  document["approaches"] = approaches(answer, documents::kind(drive));
  document["cover_points"] = cover_points(answer);
  document["own_check"] = own_check(answer.faults);
}

std::string route_document(const Heading& heading, const Drive& drive, const RouteAnswer& answer) {
  Json document = documents::head(heading);
  documents::add_route(drive, answer, document);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

std::string sections_document() {
  Json list = Json::array();
  for (const BeltSection& section : belt_sections()) {
    list.push_back({{"name", std::string(section.name)},
                    {"pitch_mm", section.pitch_mm},
                    {"tooth_height_mm", section.tooth_height_mm},
                    {"thickness_mm", section.thickness_mm},
                    {"land_to_pitch_line_mm", section.land_to_pitch_line_mm},
                    {"back_to_pitch_line_mm", number(section.back_to_pitch_line_mm())},
                    {"least_teeth", number(section.least_teeth)},
                    {"least_roller_mm", number(section.least_roller_mm)},
                    {"standard", std::string(section.standard)},
                    {"trust", std::string(sentences::word(section.trust))}});
  }
  return documents::printed({{"command", "sections"}, {"sections", list}});
}

std::string none_document(const Heading& heading, const NoAnswer& none) {
  Json document = documents::head(heading);
  Json reason = {{"reason", none.reason}, {"about", none.about}, {"text", none.text}};
  for (const auto& [key, value] : none.numbers) reason[key] = number(value);
  document["none"] = std::move(reason);
  document["refused"] = documents::refusals(none.refused);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

std::string error_document(const Failure& failure) {
  const Json error = {{"kind", failure.kind},
                      {"text", failure.text},
                      {"exit_code", failure.exit_code},
                      {"problems", problems(failure.problems)}};
  return documents::printed({{"error", error}});
}

}  // namespace twoturn
