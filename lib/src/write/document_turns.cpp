#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

const Shaft& shaft_at(const TurnsAnswer& answer, int index) {
  return answer.assembly.shafts[static_cast<std::size_t>(index)];
}

Json role_word(const std::optional<Role>& role) {
  return role ? Json(std::string(word(*role))) : Json(nullptr);
}

Json after_turns(const TurnsAnswer& answer) {
  Json list = Json::array();
  for (const AfterTurns& after : answer.after) {
    for (const ShaftAfter& seen : after.shafts) {
      Json clock = Json(nullptr);
      if (seen.mark_deg) clock = sentences::clock_face(*seen.mark_deg);
      Json marks = Json::array();
      const Shaft& shaft = shaft_at(answer, seen.shaft);
      for (std::size_t k = 0; k < seen.marks_deg.size(); ++k) {
        marks.push_back({{"name", shaft.marks[k].name},
                         {"mark_deg", number(seen.marks_deg[k])},
                         {"radius_mm", number(shaft.marks[k].radius_mm)}});
      }
      list.push_back(
          {{"turns", after.turns},
           {"shaft", shaft.name},
           {"error_crank_deg", number(seen.error_crank_deg)},
           {"error_own_deg", number(seen.error_own_deg)},
           {"error_teeth", number(seen.error_teeth)},
           {"error_edge_mm", number(seen.error_edge_mm)},
           {"known_within_own_deg", number(seen.known_within_own_deg)},
           {"early_or_late",
            std::string(sentences::early_or_late(seen.error_crank_deg, seen.direction))},
           {"pin", std::string(sentences::word(seen.pin))},
           {"pin_sure", seen.pin_sure},
           {"miss_mm", number(seen.miss_mm)},
           {"error_unsure", documents::unsure(seen.error_unsure, TensionerKind::swing)},
           {"beyond_play_unsure", documents::unsure(seen.beyond_unsure, TensionerKind::slide)},
           {"mark_deg", number(seen.mark_deg)},
           {"mark_clock", clock},
           {"belongs_deg", number(seen.belongs_deg)},
           {"marks", std::move(marks)}});
    }
  }
  return list;
}

Json pin(const std::optional<Pin>& pin) {
  if (!pin) return nullptr;
  return {{"kind", pin->bar ? "bar" : "pin"},
          {"radius_mm", number(pin->radius_mm)},
          {"play_deg", number(pin->play_deg)},
          {"play_mm", number(pin->play_mm)}};
}

Json shafts(const TurnsAnswer& answer) {
  const Assembly& assembly = answer.assembly;
  Json list = Json::array();
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    const Shaft& shaft = assembly.shafts[i];
    const ShaftFit& fit = assembly.fits[i];
    const bool follows = i > 0;
    Json entry = {{"shaft", shaft.name},
                  {"role", role_word(shaft.role)},
                  {"teeth", shaft.teeth > 0 ? Json(shaft.teeth) : Json(nullptr)},
                  {"turns_per_crank", number(shaft.turns_per_crank)},
                  {"fixing", shaft.fixing ? Json(std::string(word(*shaft.fixing))) : Json(nullptr)},
                  {"range_deg", number(shaft.range_deg)},
                  {"key_radius_mm", number(shaft.key_radius_mm)},
                  {"pin", pin(shaft.pin)},
                  {"pattern", std::string(sentences::word(answer.patterns[i]))}};
    entry["timed_over"] =
        follows ? Json(std::string(sentences::word(fit.reference))) : Json(nullptr);
    entry["way_change_mm"] = number(fit.way_change_mm);
    entry["way_change_teeth"] = fit.way_change_teeth;
    entry["pulley_shift_deg"] = number(fit.pulley_shift_deg);
    entry["turned_on_shaft_deg"] = number(fit.turned_on_shaft_deg);
    entry["shaft_shift_deg"] = number(fit.shaft_shift_deg());
    entry["drawn_remainder_teeth"] = number(fit.drawn_remainder_teeth);
    list.push_back(std::move(entry));
  }
  return list;
}

Json cures(const TurnsAnswer& answer) {
  Json list = Json::array();
  for (const Cure& cure : answer.cures) {
    const Shaft& shaft = shaft_at(answer, cure.shaft);
    list.push_back({{"shaft", shaft.name},
                    {"moved", shaft_at(answer, cure.moved).name},
                    {"teeth_on", cure.teeth_on},
                    {"rest_own_deg", number(cure.rest_own_deg)},
                    {"rest_crank_deg", number(cure.rest_crank_deg)},
                    {"rest_moved_deg", number(cure.rest_moved_deg)},
                    {"slots_short_deg", number(cure.slots_short_deg)},
                    {"key_offset_mm", number(cure.key_offset_mm)},
                    {"key_radius_mm", number(shaft_at(answer, cure.moved).key_radius_mm)}});
  }
  return list;
}

Json steps(const TurnsAnswer& answer) {
  Json list = Json::array();
  for (const TurnStep& step : answer.steps) {
    Json shaft_list = Json::array();
    for (std::size_t i = 0; i < step.shaft_deg.size(); ++i) {
      const Shaft& shaft = answer.assembly.shafts[i];
      shaft_list.push_back(
          {{"shaft", shaft.name},
           {"turned_own_deg", number(step.shaft_deg[i])},
           {"error_crank_deg", shaft.timed() ? number(step.error_crank_deg[i]) : Json(nullptr)}});
    }
    list.push_back({{"crank_deg", number(step.crank_deg)},
                    {"belt_teeth", number(step.belt_teeth)},
                    {"shafts", std::move(shaft_list)}});
  }
  return list;
}

Json worth(const MarksAnswer& answer) {
  Json list = Json::array();
  for (const ToothWorth& pulley : answer.worth) {
    list.push_back({{"name", pulley.name},
                    {"role", role_word(pulley.role)},
                    {"teeth", pulley.teeth},
                    {"tooth_own_deg", number(pulley.own_deg)},
                    {"tooth_crank_deg", number(pulley.crank_deg)},
                    {"tooth_edge_mm", number(answer.question.pitch_mm)},
                    {"pitch_radius_mm", number(pulley.pitch_radius_mm)},
                    {"own_deg_per_mm", number(pulley.own_deg_per_mm)},
                    {"crank_deg_per_mm", number(pulley.crank_deg_per_mm)},
                    {"wanders_crank_deg", number(pulley.wanders_crank_deg)}});
  }
  return list;
}

Json skims(const MarksAnswer& answer) {
  Json list = Json::array();
  for (const SkimShift& shift : answer.skims) {
    list.push_back({{"name", shift.name},
                    {"role", role_word(shift.role)},
                    {"centre_mm", number(shift.centre_mm)},
                    {"skim_mm", number(shift.skim_mm)},
                    {"error_own_deg", number(shift.own_deg)},
                    {"error_crank_deg", number(shift.crank_deg)},
                    {"error_edge_mm", number(shift.edge_mm)},
                    {"early_or_late",
                     std::string(sentences::early_or_late(shift.crank_deg, Direction::given))},
                    {"assumed", "straight run"}});
  }
  return list;
}

}  // namespace

void documents::add_turns(const TurnsAnswer& answer, Json& document) {
  const Assembly& assembly = answer.assembly;
  const double pitch_mm = assembly.fitted.belt.pitch_mm;
  document["belt_teeth"] = assembly.belt_teeth;
  document["pitch_mm"] = number(pitch_mm);
  document["crank_turns"] = std::string(word(assembly.fitted.crank_turns));
  document["crank_turns_known"] = assembly.fitted.direction == Direction::given;
  document["crank_play_deg"] = number(answer.crank_play_deg);
  document["after_turns"] = after_turns(answer);
  document["shafts"] = shafts(answer);
  document["cures"] = cures(answer);
  document["cure_at_crank_teeth"] = number(answer.cure_at_crank);
  document["crank_once_round"] = answer.crank_once_round;
  document["paint"] = documents::paint(answer.paint);
  document["between_marks"] = documents::between_marks(answer.between_marks);
  document["setting"] = documents::setting(assembly.fitted_setting);
  document["setting_by_the_book"] = documents::setting(assembly.book_setting);
  if (assembly.setting_moved) {
    document[in_unit("setting_moved", documents::kind(assembly.fitted))] =
        number(*assembly.setting_moved);
  }
  document["steps"] = steps(answer);
}

namespace {

Json share(const BuildShare& share, const BuildShares& shares) {
  Json shafts = Json::array();
  for (std::size_t k = 0; k < share.error_crank_deg.size(); ++k) {
    shafts.push_back({{"shaft", shares.shafts[k]},
                      {"error_crank_deg", number(share.error_crank_deg[k])},
                      {"give_or_take_crank_deg", number(share.give_or_take_crank_deg[k])}});
  }
  const TensionerKind kind = shares.kind.value_or(TensionerKind::slide);
  return {{"key", share.key},
          {"said", share.said},
          {"told", share.told},
          {in_unit("setting_moved", kind), number(share.setting_moved)},
          {"shafts", std::move(shafts)}};
}

Json warm(const std::optional<WarmAnswer>& warm) {
  if (!warm || !warm->missing.empty()) return nullptr;
  Json shafts = Json::array();
  for (const WarmShaft& shaft : warm->shafts) {
    shafts.push_back({{"shaft", shaft.name},
                      {"cold_crank_deg", number(shaft.cold_crank_deg)},
                      {"locked_crank_deg", number(shaft.locked_crank_deg)},
                      {"sprung_crank_deg", number(shaft.sprung_crank_deg)}});
  }
  return {{"cold_c", number(warm->at.cold_c)},
          {"block_c", number(warm->at.block_c)},
          {"head_c", number(warm->at.head_c)},
          {"belt_c", number(warm->at.belt_c)},
          {"path_grows_mm", number(warm->path_grows_mm)},
          {"belt_grows_mm", number(warm->belt_grows_mm)},
          {"tighter_mm", number(warm->tighter_mm())},
          {"cold_setting", documents::setting(warm->cold_setting)},
          {"sprung_setting", documents::setting(warm->sprung_setting)},
          {"shafts", std::move(shafts)}};
}

}  // namespace

std::string turns_document(const Heading& heading, const TurnsAnswer& answer,
                           const TurnsBeside& beside) {
  const BuildShares& shares = beside.shares;
  Json document = documents::head(heading);
  documents::add_turns(answer, document);
  Json parts = Json::array();
  for (const BuildShare& part : shares.parts) parts.push_back(share(part, shares));
  document["build_shares"] = std::move(parts);
  document["build_together"] = shares.together ? share(*shares.together, shares) : Json();
  document["warm"] = warm(beside.warm);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

std::string marks_document(const Heading& heading, const MarksAnswer& answer) {
  Json document = documents::head(heading);
  document["belt_teeth"] = number(answer.question.belt_teeth);
  document["crank_teeth"] = number(answer.question.crank_teeth);
  document["pitch_mm"] = number(answer.question.pitch_mm);
  document["pulleys"] = worth(answer);
  document["paint"] = answer.paint ? documents::paint(*answer.paint) : Json(nullptr);
  document["skims"] = skims(answer);
  document["missing"] = documents::missing(answer.missing);
  return documents::printed(document);
}

}  // namespace twoturn
