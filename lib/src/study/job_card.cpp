#include "twoturn/study/job_card.hpp"

#include "sheet_parts.hpp"
#include "twoturn/study/bolts.hpp"
#include "words/bolts.hpp"

namespace twoturn {
namespace {

void add_pin(const std::string& shaft, const std::optional<PinSpec>& pin, JobCard& card) {
  if (!pin) return;
  card.pins.push_back({shaft, pin->bar_mm ? "bar" : "pin", pin->access_hole});
}

std::optional<CardSetting> setting_to_read(const CheckAnswer& check) {
  const std::optional<TensionerAnswer>& tensioner = check.judged.tensioner;
  if (!tensioner) return std::nullopt;
  const bool run = check.judged.turns && check.judged.turns->assembly.fitted_setting;
  if (!run && !tensioner->meant) return std::nullopt;
  const Setting& setting = run ? *check.judged.turns->assembly.fitted_setting : *tensioner->meant;
  CardSetting asked;
  asked.allowed = tensioner->set_give + tensioner->unsure.give_or_take;
  asked.value = setting.reading.value;
  if (tensioner->kind == TensionerKind::slide) {
    asked.by = CardSetting::By::roller_mm;
  } else if (setting.pointer_deg) {
    asked.value = *setting.pointer_deg;
  } else {
    asked.by = CardSetting::By::roller_deg;
  }
  return asked;
}

std::optional<CardTension> tension_to_read(const CheckAnswer& check) {
  if (!check.tension || !check.tension->target_n) return std::nullopt;
  for (const TensionRun& run : check.tension->runs) {
    if (!run.best || !run.tension_n) continue;
    CardTension asked;
    asked.from = run.from;
    asked.to = run.to;
    asked.tension_n = *run.tension_n;
    return asked;
  }
  return std::nullopt;
}

}  // namespace

JobCard job_card(const DriveSpec& spec, const CheckAnswer& check) {
  JobCard card;
  card.profile = spec.title;
  card.fingerprint = spec.fingerprint;
  for (const HeadSpec& head : spec.heads) card.heads.push_back(head.name);
  std::vector<Missing> told_by_bolts;
  card.bolts = bolts_answer(spec, told_by_bolts).groups;
  card.setting = setting_to_read(check);
  card.tension = tension_to_read(check);
  for (const sheet::TimedShaft& shaft : sheet::timed_shafts(spec)) {
    card.marks.push_back({shaft.name, shaft.held_by, shaft.mark_deg});
  }
  for (const PulleySpec& pulley : spec.pulleys) add_pin(pulley.name, pulley.pin, card);
  for (const GearedSpec& geared : spec.geared) add_pin(geared.name, geared.pin, card);
  for (const AccessHoleSpec& hole : spec.access_holes) {
    card.holes.push_back({hole.name, sentences::closed_with(hole.closed_by, hole.seal)});
  }
  for (const TraySpec& tray : spec.trays) {
    card.trays.push_back({tray.name, tray.rows.value_or(1), tray.columns.value_or(1)});
  }
  return card;
}

}  // namespace twoturn
