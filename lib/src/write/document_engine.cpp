#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

constexpr TensionerKind kMm = TensionerKind::slide;  // whose unit that is

const char* word_of(RoomStands stands) {
  switch (stands) {
    case RoomStands::clears:
      return "clears";
    case RoomStands::below_limit:
      return "below limit";
    case RoomStands::touches:
      return "touches";
  }
  return "";
}

const char* word_of(PhaseFrom from) {
  switch (from) {
    case PhaseFrom::book:
      return "book";
    case PhaseFrom::two_turns:
      return "two turns";
    case PhaseFrom::counts:
      return "counts";
  }
  return "";
}

Json places(const PistonsAt& at) {
  Json list = Json::array();
  for (const PistonPlace& place : at.places) {
    list.push_back({{"cylinder", place.cylinder},
                    {"after_top_deg", number(place.after_top_deg)},
                    {"depth_mm", number(place.depth_mm)},
                    {"below_half_mm", number(place.below_half_mm)}});
  }
  return {{"crank_deg", number(at.crank_deg)}, {"pistons", std::move(list)}};
}

Json places(const std::optional<PistonsAt>& at) { return at ? places(*at) : Json(nullptr); }

Json phases(const CylinderPhases& phases) {
  Json list = Json::array();
  for (std::size_t k = 0; k < phases.top_deg.size(); ++k) {
    const bool fires = !phases.firing_deg.empty();
    list.push_back({{"cylinder", static_cast<int>(k) + 1},
                    {"top_deg", number(phases.top_deg[k])},
                    {"firing_deg", fires ? number(phases.firing_deg[k]) : Json(nullptr)}});
  }
  return {{"cylinders", std::move(list)},
          {"even_firing_taken", phases.even},
          {"fault", phases.fault.empty() ? Json(nullptr) : Json(phases.fault)}};
}

Json pistons(const std::optional<PistonsAnswer>& answer) {
  if (!answer) return nullptr;
  return {{"cylinders", answer->cylinders},
          {"throw_mm", number(answer->throw_mm)},
          {"stroke_mm", number(answer->stroke_mm)},
          {"rod_mm", number(answer->rod_mm)},
          {"pin_offset_mm", number(answer->pin_offset_mm)},
          {"half_stroke_deg", number(answer->half_stroke_deg)},
          {"firing_order", answer->firing_order},
          {"phases", phases(answer->phases)},
          {"at_pins", places(answer->at_pins)}};
}

Json room(const ValveRoom& room) {
  Json where = Json(nullptr);
  if (room.where) {
    where = {{"cylinder", room.where->cylinder}, {"crank_deg", number(room.where->crank_deg)}};
  }
  return {{"error_crank_deg", number(room.error_crank_deg)},
          {"least_mm", number(room.least_mm)},
          {"least_unsure", documents::unsure(room.unsure, kMm)},
          {"after_overlap_deg", number(room.at_deg)},
          {"stands", word_of(room.stands)},
          {"touches_from_deg", number(room.touches_from_deg)},
          {"touches_to_deg", number(room.touches_to_deg)},
          {"where", std::move(where)}};
}

Json teeth(const ValveAnswer& valve) {
  Json list = Json::array();
  for (const ValveRoomAtTeeth& out : valve.teeth) {
    Json entry = {{"teeth_out", out.teeth_out}};
    entry.update(room(out.room));
    list.push_back(std::move(entry));
  }
  return list;
}

Json valve_parts(const ValveAnswer& valve) {
  Json entry = {{"name", valve.name},
                {"cam", valve.cam},
                {"side", std::string(word(valve.side))},
                {"cylinders", valve.cylinders},
                {"head", valve.head},
                {"limit_mm", number(valve.limit_mm)},
                {"limit_given", valve.limit_given},
                {"lash_mm", number(valve.lash_mm)},
                {"law", valve.law ? std::string(word(*valve.law)) : std::string("table")},
                {"law_given", valve.law_given},
                {"crown", std::string(word(valve.crown))},
                {"crown_given", valve.crown_given},
                {"valve_deg", number(valve.valve_deg)},
                {"drop_a_lift", number(valve.drop_a_lift)},
                {"greatest_lift_mm", number(valve.greatest_lift_mm)},
                {"greatest_drop_mm", number(valve.greatest_drop_mm)},
                {"opens_after_overlap_deg", number(valve.opens_deg)},
                {"full_lift_after_overlap_deg", number(valve.centre_deg)},
                {"closes_after_overlap_deg", number(valve.closes_deg)}};
  entry["room_tdc_mm"] = number(valve.room_tdc_mm);
  entry["room_from_clay"] = valve.room_from_clay;
  entry["nearer_mm"] = number(valve.nearer_mm);
  entry["least_any_cam_mm"] = number(valve.least_any_cam_mm);
  entry["can_meet"] = valve.can_meet();
  entry["tooth_crank_deg"] = number(valve.tooth_crank_deg);
  entry["phase_from"] = word_of(valve.phase_from);
  entry["by_the_book"] = room(valve.book);
  entry["nearer_alone"] = room(valve.nearer);
  entry["as_fitted"] = room(valve.fitted);
  entry["fitted_teeth_out"] = valve.fitted_teeth_out;
  entry["rest_crank_deg"] = number(valve.rest_crank_deg);
  entry["teeth"] = teeth(valve);
  return entry;
}

Json valves(const std::optional<ValvesAnswer>& answer) {
  if (!answer) return nullptr;
  Json list = Json::array();
  for (const ValveAnswer& valve : answer->valves) list.push_back(valve_parts(valve));
  Json pairs = Json::array();
  for (const ValvePairAnswer& pair : answer->pairs) {
    pairs.push_back({{"inlet", pair.inlet},
                     {"exhaust", pair.exhaust},
                     {"limit_mm", number(pair.limit_mm)},
                     {"limit_given", pair.limit_given},
                     {"by_the_book_mm", number(pair.book_mm)},
                     {"as_fitted_mm", number(pair.fitted_mm)},
                     {"overlap_mm", number(pair.overlap_mm)},
                     {"by_the_book_unsure", documents::unsure(pair.book_unsure, kMm)},
                     {"as_fitted_unsure", documents::unsure(pair.fitted_unsure, kMm)},
                     {"after_overlap_deg", number(pair.at_deg)}});
  }
  return {{"complete", answer->complete},
          {"can_meet", answer->can_meet},
          {"most_teeth_out", kMostTeethOut},
          {"valves", std::move(list)},
          {"pairs", std::move(pairs)}};
}

Json park(const std::optional<ParkAnswer>& answer) {
  if (!answer) return nullptr;
  Json needs = Json::array();
  for (const ParkNeed& need : answer->needs) {
    needs.push_back({{"cylinder", need.cylinder},
                     {"valve", need.valve},
                     {"greatest_drop_mm", number(need.greatest_drop_mm)},
                     {"room_tdc_mm", number(need.room_tdc_mm)},
                     {"margin_mm", number(need.margin_mm)},
                     {"need_mm", number(need.need_mm)}});
  }
  Json clear = Json::array();
  for (const ParkInterval& interval : answer->clear) {
    clear.push_back({{"from_deg", number(interval.from_deg)}, {"to_deg", number(interval.to_deg)}});
  }
  Json ways = Json::array();
  for (const ParkWay& way : answer->ways) {
    ways.push_back({{"way", way.way == TurnWay::forwards ? "forwards" : "backwards"},
                    {"turn_deg", number(way.turn_deg)},
                    {"least_mm", number(way.least_mm)},
                    {"cylinder", way.cylinder},
                    {"at_deg", number(way.at_deg)},
                    {"clear", way.clear}});
  }
  return {{"any", answer->best_is_clear},
          {"needs", std::move(needs)},
          {"clear", std::move(clear)},
          {"best_deg", number(answer->best_deg)},
          {"best_spare_mm", number(answer->best_spare_mm)},
          {"best_spare_unsure", documents::unsure(answer->best_unsure, kMm)},
          {"best_cylinder", answer->best_cylinder},
          {"at_best", places(answer->at_best)},
          {"timing_position_deg", number(answer->timing_position_deg)},
          {"timing_spare_mm", number(answer->timing_spare_mm)},
          {"timing_spare_unsure", documents::unsure(answer->timing_unsure, kMm)},
          {"best_is_timing", answer->best_is_timing},
          {"ways", std::move(ways)}};
}

Json counted(const std::optional<CountedParkAnswer>& answer) {
  if (!answer) return nullptr;
  constexpr double kPercent = 100.0;
  return {{"cylinders", answer->cylinders},
          {"phases", phases(answer->phases)},
          {"best_deg", answer->park.best_deg},
          {"from_top_deg", number(answer->park.from_top_deg)},
          {"least_stroke_percent", number(kPercent * answer->park.stroke_share)},
          {"taken_lift_percent", number(kPercent * kTakenLiftShare)},
          {"enough", answer->enough}};
}

}  // namespace

Json documents::compression(const CompressionAnswer& answer) {
  return {{"head", answer.head},
          {"bore_mm", number(answer.bore_mm)},
          {"swept_cc", number(answer.swept_cc)},
          {"left_cc", number(answer.left_cc)},
          {"ratio", number(answer.ratio)},
          {"nearer_mm", number(answer.nearer_mm)},
          {"left_after_cc", number(answer.left_after_cc)},
          {"ratio_after", number(answer.ratio_after)}};
}

namespace {

Json compressions(const std::vector<CompressionAnswer>& answers) {
  Json list = Json::array();
  for (const CompressionAnswer& answer : answers) list.push_back(documents::compression(answer));
  return list;
}

}  // namespace

Json documents::engine(const EngineAnswers& engine) {
  return {{"pistons", pistons(engine.pistons)},
          {"compression", compressions(engine.compression)},
          {"valves", valves(engine.valves)},
          {"park", park(engine.park)},
          {"counted_park", counted(engine.counted)}};
}

std::string valves_document(const Heading& heading, const ValvesReport& report) {
  Json document = documents::head(heading);
  const EngineAnswers& engine = report.engine;
  document.update(valves(engine.valves));
  document["pistons"] = pistons(engine.pistons);
  document["asked"] = places(report.asked);
  document["compression"] = compressions(engine.compression);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

std::string park_document(const Heading& heading, const ParkReport& report) {
  Json document = documents::head(heading);
  document["any"] = report.any();
  document["park"] = park(report.park);
  document["counted_park"] = counted(report.counted);
  document["pistons"] = pistons(report.pistons);
  document["asked"] = places(report.asked);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
