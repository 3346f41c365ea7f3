#include <fmt/format.h>

#include <cmath>

#include "document_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

Json place(const Vec3& at) { return Json::array({number(at.x()), number(at.y()), number(at.z())}); }

// A length in both units that the text prints.
void add_length(Json& entry, const std::string& stem, const std::optional<double>& mm) {
  entry[stem + "_mm"] = number(mm);
  entry[stem + "_thou"] = mm ? number(*mm / kMmPerThou) : Json(nullptr);
}

std::string word(FaceStands stands) {
  switch (stands) {
    case FaceStands::within:
      return "within the strict limit";
    case FaceStands::between:
      return "between the limits";
    case FaceStands::beyond:
      return "refused";
    case FaceStands::open:
      return "not decided";
  }
  return "";
}

Json findings(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) {
    list.push_back(
        {{"level", twoturn::word(finding.level)},
         {"code", finding.code},
         {"about", finding.about},
         {"text", finding.text},
         {"value", number(finding.value)},
         {"limit", number(finding.limit)},
         {"unit", finding.unit},
         {"limit_key", finding.limit_key.empty() ? Json(nullptr) : Json(finding.limit_key)}});
  }
  return list;
}

Json spots(const std::vector<FaceSpot>& spots) {
  Json list = Json::array();
  for (const FaceSpot& spot : spots) {
    list.push_back({{"point", spot.point + 1},
                    {"at_mm", place(spot.at_mm)},
                    {"above_low_plane_mm", number(spot.height_mm)}});
  }
  return list;
}

Json heights(const FaceAnswer& answer) {
  Json entry;
  entry["points"] = answer.points;
  entry["size_mm"] = documents::point(answer.size_mm);
  add_length(entry, "out_of_flat", answer.flatness_mm());
  add_length(entry, "least_squares", answer.least_squares_mm);
  entry["least_squares_vertical_mm"] = number(answer.least_squares_vertical_mm);
  entry["best_plane_normal"] = place(answer.zone.slab.normal);
  Json decisive = Json::array();
  for (const int point : answer.zone.decisive) decisive.push_back(point + 1);
  entry["decisive_points"] = decisive;
  entry["proof_gap_mm"] = number(answer.zone.proof_gap_mm);
  Json local = {{"side_mm", number(answer.local.side_mm)},
                {"corner_mm", documents::point(answer.local.corner_mm)},
                {"points", answer.local.points},
                {"exact", answer.local.exact},
                {"step_mm", answer.local.exact ? Json(nullptr) : number(answer.local.step_mm)},
                {"every_square_up_to_points", kMostPointsForEverySquare}};
  add_length(local, "out_of_flat",
             answer.local.points > 0 ? std::optional(answer.local.width_mm) : std::nullopt);
  entry["local"] = std::move(local);
  add_length(entry, "bow_x", answer.shape.bow_x_mm);
  add_length(entry, "bow_y", answer.shape.bow_y_mm);
  add_length(entry, "twist", answer.shape.twist_mm);
  entry["high_spots"] = spots(answer.high);
  entry["high_spot_count"] = answer.high_count;
  entry["low_spots"] = spots(answer.low);
  entry["low_spot_count"] = answer.low_count;
  Json skim;
  add_length(skim, "to_best_plane", answer.skim.to_best_plane_mm);
  add_length(skim, "to_readings", answer.skim.to_readings_mm);
  add_length(skim, "to_datum", answer.skim.to_datum_mm);
  skim["more_at_far_x_mm"] = number(answer.skim.tilt_x_mm);
  skim["more_at_far_y_mm"] = number(answer.skim.tilt_y_mm);
  entry["least_skim"] = std::move(skim);
  entry["height_mm"] = number(answer.height_mm);
  entry["least_height_mm"] = number(answer.least_height_mm);
  entry["may_come_off_mm"] = number(answer.may_come_off_mm);
  entry["left_after_skim_mm"] = number(answer.left_after_skim_mm);
  return entry;
}

Json feelers(const FeelerAnswer& answer) {
  Json lines = Json::array();
  for (const LineBounds& bounds : answer.lines) {
    lines.push_back({{"line", bounds.line.name},
                     {"goes_mm", number(bounds.line.goes_mm)},
                     {"stops_mm", number(bounds.line.stops_mm)},
                     {"rocks", bounds.line.rocks},
                     {"face_at_least_mm", number(bounds.face_at_least_mm)}});
  }
  Json entry = {{"lines_felt", lines.size()}, {"lines", lines}};
  add_length(entry, "out_of_flat_at_least", answer.at_least_mm);
  entry["decisive_line"] = answer.lines[static_cast<std::size_t>(answer.decisive)].line.name;
  entry["out_of_flat_at_most_mm"] = nullptr;
  add_length(entry, "most_on_a_line", answer.most_on_a_line_mm);
  add_length(entry, "twist_at_most", answer.twist_at_most_mm);
  entry["along_felt"] = answer.along_felt;
  entry["across_felt"] = answer.across_felt;
  entry["diagonals_felt"] = answer.diagonals_felt;
  return entry;
}

Json limits_used(const FaceVerdict& verdict) {
  const auto from = [](bool given) { return given ? "given" : "common practice"; };
  return {{"strict_mm", number(verdict.strict_mm)}, {"strict_from", from(verdict.strict_given)},
          {"loose_mm", number(verdict.loose_mm)},   {"loose_from", from(verdict.loose_given)},
          {"gap_mm", number(verdict.gap_mm)},       {"gap_from", from(verdict.gap_given)},
          {"local_mm", number(verdict.local_mm)}};
}

Json shafts(const SkimAnswer& skim) {
  Json list = Json::array();
  for (const SkimmedShaft& shaft : skim.shafts) {
    const Cure cure = shaft.cure.value_or(Cure{});
    list.push_back(
        {{"name", shaft.name},
         {"role", shaft.role ? Json(std::string(twoturn::word(*shaft.role))) : Json(nullptr)},
         {"fixing", shaft.fixing ? Json(std::string(twoturn::word(*shaft.fixing))) : Json(nullptr)},
         {"before_crank_deg", number(shaft.before_crank_deg)},
         {"before_own_deg", number(shaft.before_own_deg)},
         {"error_crank_deg", number(shaft.error_crank_deg)},
         {"error_own_deg", number(shaft.error_own_deg)},
         {"error_teeth", number(shaft.error_teeth)},
         {"error_edge_mm", number(shaft.error_edge_mm)},
         {"pin", std::string(sentences::word(shaft.pin))},
         {"miss_mm", number(shaft.miss_mm)},
         {"play_mm", number(shaft.play_mm)},
         {"turned_on_shaft_deg", number(shaft.turned_on_shaft_deg)},
         {"put_back",
          {{"teeth_on", cure.teeth_on},
           {"turn_own_deg", number(cure.rest_own_deg)},
           {"range_deg", number(shaft.range_deg)},
           {"slots_short_deg", number(cure.slots_short_deg)},
           {"key_radius_mm", number(shaft.key_radius_mm)},
           {"key_offset_mm", number(cure.key_offset_mm)},
           {"gasket_mm", number(shaft.gasket_mm)}}}});
  }
  return list;
}

Json skim(const FaceReport& report) {
  const SkimAnswer& skim = *report.skim;
  Json entry = {{"profile", report.profile},
                {"fit", std::string(sentences::word(report.fit))},
                {"head", skim.head.empty() ? Json(nullptr) : Json(skim.head)},
                {"skim_from", report.skim_is_least ? "least that trues the face" : "given"}};
  add_length(entry, "skim", skim.skim_mm);
  entry["already_mm"] = number(skim.already_mm);
  entry["total_mm"] = number(skim.total_mm());
  entry["shafts"] = shafts(skim);
  entry["tensioner_before"] = documents::setting(skim.tensioner_before);
  entry["tensioner_after"] = documents::setting(skim.tensioner_after);
  if (skim.none && skim.drive) {
    const NoAnswer none = no_assembly(*skim.none, *skim.drive);
    Json reason = {{"reason", none.reason}, {"about", none.about}, {"text", none.text}};
    for (const auto& [key, value] : none.numbers) reason[key] = number(value);
    entry["none"] = std::move(reason);
  } else {
    entry["none"] = nullptr;
  }
  entry["compression"] =
      skim.compression ? documents::compression(*skim.compression) : Json(nullptr);
  entry["ratio_before"] = number(skim.ratio_before);
  entry["verdict"] = skim.headline.empty() ? Json(nullptr) : Json(twoturn::word(skim.verdict));
  entry["headline"] = skim.headline.empty() ? Json(nullptr) : Json(skim.headline);
  entry["findings"] = findings(skim.findings);
  Json rough = Json::array();
  for (const SkimShift& shift : skim.rough) {
    rough.push_back({{"name", shift.name},
                     {"centre_mm", number(shift.centre_mm)},
                     {"skim_mm", number(shift.skim_mm)},
                     {"own_deg", number(shift.own_deg)},
                     {"crank_deg", number(shift.crank_deg)},
                     {"edge_mm", number(shift.edge_mm)}});
  }
  entry["from_counts"] = rough;
  entry["missing"] = documents::missing(skim.missing);
  return entry;
}

}  // namespace

std::string face_document(const FaceReport& report) {
  Json document = {{"command", "face"},
                   {"readings", report.title.empty() ? Json(nullptr) : Json(report.title)}};
  if (report.verdict) {
    document["verdict"] = twoturn::word(report.verdict->verdict);
    document["stands"] = word(report.verdict->stands);
    document["headline"] = report.verdict->headline;
    document["findings"] = findings(report.verdict->findings);
    document["limits"] = limits_used(*report.verdict);
  }
  document["heights"] = report.heights ? heights(*report.heights) : Json(nullptr);
  document["feelers"] = report.feelers ? feelers(*report.feelers) : Json(nullptr);
  document["skim"] = report.skim ? skim(report) : Json(nullptr);
  return documents::printed(document);
}

std::string face_csv(std::span<const Vec3> points, const FaceAnswer& answer) {
  std::string text = "point,x_mm,y_mm,height_mm,above_low_plane_mm\r\n";
  int count = 0;
  for (const Vec3& at : points) {
    const auto plain = [](double value) { return value == 0.0 ? 0.0 : value; };
    text += fmt::format("{},{},{},{},{}\r\n", ++count, plain(at.x()), plain(at.y()), plain(at.z()),
                        plain(answer.zone.slab.height_mm(at)));
  }
  return text;
}

}  // namespace twoturn
