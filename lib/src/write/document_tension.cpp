#include "document_parts.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

std::string word(TensionBy by) {
  return by == TensionBy::newton ? "newton" : by == TensionBy::note ? "note" : "give";
}

Json word(const std::optional<TensionStands>& stands) {
  if (!stands) return nullptr;
  switch (*stands) {
    case TensionStands::fits:
      return "fits";
    case TensionStands::open:
      return "open";
    case TensionStands::low:
      return "low";
    case TensionStands::high:
      return "high";
    case TensionStands::another_note_up:
      return "another note, up";
    case TensionStands::another_note_down:
      return "another note, down";
  }
  return nullptr;
}

Json runs(const TensionAnswer& answer) {
  Json list = Json::array();
  for (const TensionRun& run : answer.runs) {
    list.push_back({{"from", run.from},
                    {"to", run.to},
                    {"length_mm", number(run.length_mm)},
                    {"length_give_or_take_mm", number(run.length_give_mm)},
                    {"meant", run.target},
                    {"measure_here", run.best},
                    {"tension_n", number(run.tension_n)},
                    {"note_hz", number(run.note_hz)},
                    {"give_mm", number(run.give_mm)}});
  }
  return list;
}

Json hands(const std::optional<HandTests>& hands) {
  if (!hands) return nullptr;
  return {{"from", hands->from},
          {"to", hands->to},
          {"push_give_mm", number(hands->push_give_mm)},
          {"push_least_n", number(hands->push_least_n)},
          {"push_greatest_n", number(hands->push_greatest_n)},
          {"twist_least_n", number(hands->twist_least_n)},
          {"twist_greatest_n", number(hands->twist_greatest_n)}};
}

Json pointer(const TensionAnswer& answer) {
  if (!answer.pointer) return nullptr;
  return {{"untensioned", documents::setting(answer.pointer->untensioned)},
          {"target", documents::setting(answer.pointer->target)},
          {*answer.kind == TensionerKind::swing ? "n_per_deg" : "n_per_mm",
           number(answer.pointer->n_per_unit)}};
}

Json reading(const std::optional<TensionReading>& reading) {
  if (!reading) return nullptr;
  const char* unit = reading->by == TensionBy::newton ? "_n"
                     : reading->by == TensionBy::note ? "_hz"
                                                      : "_mm";
  Json read = {{"by", word(reading->by)},
               {std::string("value") + unit, number(reading->value)},
               {std::string("give_or_take") + unit, number(reading->give_or_take)},
               {"from", reading->from},
               {"to", reading->to},
               {"tension_n", number(reading->tension_n)},
               {"tension_give_or_take_n", number(reading->tension_give_n)},
               {"share", number(reading->share)},
               {"stands", word(reading->stands)}};
  if (reading->by == TensionBy::give) read["push_n"] = number(reading->push_n);
  return read;
}

Json note(const TensionReport& report) {
  if (!report.note) return nullptr;
  const NoteFound& found = *report.note;
  Json harmonics = Json::array();
  for (const Harmonic& harmonic : found.harmonics) {
    harmonics.push_back({{"number", harmonic.number},
                         {"hz", number(harmonic.hz)},
                         {"level_db", number(harmonic.level_db)}});
  }
  return {{"note_hz", number(found.note_hz)},
          {"give_or_take_hz", number(found.give_or_take_hz)},
          {"strongest_harmonic", found.strongest_harmonic},
          {"harmonics", std::move(harmonics)},
          {"sureness", number(found.sureness)},
          {"other_hz", number(found.other_hz)},
          {"other_sureness", number(found.other_sureness)},
          {"plucked_at_s", number(found.plucked_at_s)},
          {"heard_s", number(found.heard_s)},
          {"signal_to_noise_db", number(found.signal_to_noise_db)},
          {"recording_s", number(report.recording_s)}};
}

}  // namespace

documents::Json documents::tension(const TensionAnswer& answer) {
  Json part;
  part["target_n"] = number(answer.target_n);
  part["static_n"] = number(answer.static_n);
  part["at_crank_deg"] = number(answer.at_crank_deg);
  part["push_n"] = number(answer.push_n);
  part["mass_kg_per_m"] = number(answer.mass_kg_per_m);
  part["springs_counted"] = answer.springs_counted;
  part["reference_n"] = number(answer.reference_n);
  part["runs"] = runs(answer);
  part["pointer"] = pointer(answer);
  part["by_hand"] = hands(answer.hands);
  part["reading"] = reading(answer.reading);
  return part;
}

std::string tension_document(const Heading& heading, const TensionReport& report) {
  Json document = documents::head(heading);
  document.update(documents::tension(report.answer));
  document["sound"] = note(report);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
