#include "document_parts.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

// Each under a key that carries its unit; of a clock angle the face beside it. In the order of the
// keys: in which one a sentence puts its numbers down is the compiler's choice.
Json numbers(const std::vector<SheetNumber>& numbers) {
  nlohmann::json object = nlohmann::json::object();
  for (const SheetNumber& entry : numbers) {
    object[entry.key] = number(entry.value);
    if (entry.clock_face.empty()) continue;
    constexpr std::string_view kUnit = "_deg";
    object[entry.key.substr(0, entry.key.size() - kUnit.size()) + "_clock"] = entry.clock_face;
  }
  return object;
}

Json line(const SheetLine& line) {
  Json blanks = Json::array();
  for (const SheetBlank& blank : line.blanks) {
    blanks.push_back({{"label", blank.label}, {"unit", blank.unit}});
  }
  return {{"text", line.text},
          {"tick", line.kind == SheetLine::Kind::tick},
          {"numbers", numbers(line.numbers)},
          {"blanks", std::move(blanks)}};
}

Json steps(const std::vector<SheetStep>& steps) {
  Json list = Json::array();
  for (const SheetStep& step : steps) {
    Json lines = Json::array();
    for (const SheetLine& entry : step.lines) lines.push_back(line(entry));
    list.push_back({{"code", step.code}, {"title", step.title}, {"lines", std::move(lines)}});
  }
  return list;
}

Json clock(const std::optional<double>& deg) {
  return deg ? Json(sentences::clock_face(*deg)) : Json(nullptr);
}

Json marks(const SheetAnswer& sheet) {
  Json list = Json::array();
  for (const SheetMark& mark : sheet.marks) {
    list.push_back({{"shaft", mark.shaft},
                    {"held_by", mark.held_by.empty() ? Json(nullptr) : Json(mark.held_by)},
                    {"start_deg", number(mark.start_deg)},
                    {"start_clock", clock(mark.start_deg)},
                    {"after_one_deg", number(mark.after_one_deg)},
                    {"after_one_clock", clock(mark.after_one_deg)},
                    {"opposite_after_one", mark.opposite_after_one},
                    {"off_crank_deg", number(mark.off_crank_deg)},
                    {"off_edge_mm", number(mark.off_edge_mm)},
                    {"pin", std::string(sentences::word(mark.pin))},
                    {"pin_sure", mark.pin_sure}});
  }
  return list;
}

Json holes(const JobCard& card) {
  Json list = Json::array();
  for (const CardHole& hole : card.holes) {
    list.push_back({{"name", hole.name}, {"closed_with", hole.closed_with}});
  }
  return list;
}

Json pins(const JobCard& card) {
  Json list = Json::array();
  for (const CardPin& pin : card.pins) {
    list.push_back({{"shaft", pin.shaft},
                    {"held_by", pin.held_by},
                    {"access_hole", pin.hole ? Json(*pin.hole) : Json(nullptr)}});
  }
  return list;
}

// The numbers as they stand, row by row.
Json map_of(const CardTray& tray) {
  Json rows = Json::array();
  for (int row = 0; row < tray.rows; ++row) {
    Json numbers = Json::array();
    for (int k = 1; k <= tray.columns; ++k) numbers.push_back(row * tray.columns + k);
    rows.push_back(std::move(numbers));
  }
  return rows;
}

Json trays(const JobCard& card) {
  Json list = Json::array();
  for (const CardTray& tray : card.trays) {
    list.push_back({{"name", tray.name},
                    {"rows", tray.rows},
                    {"columns", tray.columns},
                    {"parts", tray.parts()},
                    {"map", map_of(tray)}});
  }
  return list;
}

Json job_card(const SheetAnswer& sheet) {
  return {{"fingerprint", sheet.job_card.fingerprint},
          {"bolts", documents::bolt_groups(sheet.job_card.bolts)},
          {"pins", pins(sheet.job_card)},
          {"access_holes", holes(sheet.job_card)},
          {"trays", trays(sheet.job_card)},
          {"steps", steps(sheet.job_card_steps)}};
}

Json faults(const SheetAnswer& sheet) {
  Json list = Json::array();
  for (const SheetFault& fault : sheet.faults) {
    list.push_back({{"seen", line(fault.seen)}, {"means", line(fault.means)}});
  }
  return list;
}

Json may_be(const CardBranch& branch) {
  Json list = Json::array();
  for (const int end : branch.may_be) list.push_back(end + 1);
  return list;
}

Json looks_of_card(const CardAnswer& card) {
  Json list = Json::array();
  for (const CardLook& look : card.looks) {
    Json branches = Json::array();
    for (const CardBranch& branch : look.branches) {
      branches.push_back({{"seen", branch.seen.text},
                          {"numbers", numbers(branch.seen.numbers)},
                          {"next_look", branch.next < 0 ? Json(nullptr) : Json(branch.next + 1)},
                          {"end", branch.end < 0 ? Json(nullptr) : Json(branch.end + 1)},
                          {"may_be", may_be(branch)},
                          {"faults_share", number(branch.faults)},
                          {"right_share", number(branch.right_in)}});
    }
    list.push_back({{"asks", look.asks.text},
                    {"numbers", numbers(look.asks.numbers)},
                    {"branches", std::move(branches)}});
  }
  return list;
}

Json ends_of_card(const CardAnswer& card) {
  Json list = Json::array();
  for (const CardEnd& end : card.ends) {
    Json alike = Json::array();
    for (const int other : end.alike) alike.push_back(other + 1);
    list.push_back({{"title", end.title.text},
                    {"remedy", end.remedy.text},
                    {"kinds", end.kinds},
                    {"alike", std::move(alike)}});
  }
  return list;
}

}  // namespace

std::string card_document(const CardAnswer& card, const SheetFile& file) {
  Json document = documents::head(card.heading);
  document["form"] = file.form;
  document["path"] = file.path.empty() ? Json(nullptr) : Json(file.path);
  document["bytes"] = file.path.empty() ? Json(nullptr) : Json(file.bytes);
  document["looks"] = looks_of_card(card);
  document["ends"] = ends_of_card(card);
  document["reached_share"] = number(card.reached);
  Json trust = Json::array();
  for (const SheetLine& entry : card.trust) trust.push_back(entry.text);
  document["trust"] = std::move(trust);
  document["cautions"] = card.cautions;
  return documents::printed(document);
}

std::string sheet_document(const SheetAnswer& sheet, const SheetFile& file) {
  Json document = documents::head(sheet.heading);
  document["form"] = file.form;
  document["path"] = file.path.empty() ? Json(nullptr) : Json(file.path);
  document["bytes"] = file.path.empty() ? Json(nullptr) : Json(file.bytes);
  document["verdict"] = word(sheet.check.verdict);
  document["says"] =
      sheet.shout.empty() ? sheet.says : sheet.shout + ". " + sheet.must_do + ' ' + sheet.says;
  document["findings"] = documents::findings(sheet.check.findings);
  document["steps"] = steps(sheet.steps);
  document["marks"] = marks(sheet);
  document["faults"] = faults(sheet);
  document["not_checked"] = line(sheet.not_checked);
  document["origins"] = line(sheet.origins);
  document["job_card"] = job_card(sheet);
  document["cautions"] = sheet.cautions;
  Heading check = sheet.heading;
  check.command = "check";
  document["check"] = documents::check(check, sheet.check);
  return documents::printed(document);
}

}  // namespace twoturn
