#include <cmath>

#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

Json fits(const Drive& drive, const TeethAnswer& answer) {
  Json list = Json::array();
  for (const FittingCount& count : answer.fits) {
    const Setting* meant =
        drive.tensioner ? meant_setting(count.settings, *drive.tensioner) : nullptr;
    Json settings = Json::array();
    for (const Setting& setting : count.settings) {
      Json entry = documents::setting(setting);
      entry["meant"] = &setting == meant;
      settings.push_back(std::move(entry));
    }
    list.push_back({{"teeth", count.teeth},
                    {"length_mm", number(drive.belt.length_mm(count.teeth))},
                    {"probability", number(count.probability)},
                    {"settings", std::move(settings)}});
  }
  return list;
}

Json nearby(const TeethAnswer& answer) {
  Json list = Json::array();
  for (const NearbyCount& count : answer.nearby) {
    list.push_back({{"teeth", count.teeth},
                    {"mismatch_mm", number(count.mismatch_mm)},
                    {"mismatch_unsure", documents::unsure(count.unsure, TensionerKind::slide)},
                    {"probability", number(count.probability)},
                    {"move_mm", number(count.move_mm)}});
  }
  return list;
}

Json rows(const TensionerAnswer& answer) {
  Json list = Json::array();
  for (const TravelRow& row : answer.rows) {
    Json entry = documents::setting(row.setting.value_or(Setting{row.place}));
    if (!row.setting) {
      for (const char* key :
           {"over_centre", "adjustment_left_mm", "adjustment_left_teeth", "length_mm"}) {
        entry[key] = nullptr;
      }
      entry[in_unit("rate_mm_per", answer.kind)] = nullptr;
    }
    entry["teeth_exact"] = number(row.teeth_exact);
    entry["wrap_deg"] = number(row.wrap_deg);
    entry["refused"] = row.refused ? Json(row.refused->text) : Json(nullptr);
    list.push_back(std::move(entry));
  }
  return list;
}

Json usable(const TensionerAnswer& answer) {
  Json list = Json::array();
  const auto end = [&](const TravelEnd& travel_end) {
    Json entry = documents::setting(travel_end.setting);
    const auto cause =
        travel_end.cause ? std::vector{*travel_end.cause} : std::vector<NamedRefusal>{};
    entry["cause"] = cause.empty() ? Json(nullptr) : documents::refusals(cause)[0];
    return entry;
  };
  for (const auto& [slack, tight] : answer.usable) {
    list.push_back({{"slack", end(slack)}, {"tight", end(tight)}});
  }
  return list;
}

}  // namespace

void documents::add_teeth(const Drive& drive, const TeethAnswer& answer, Json& document) {
  document["teeth_exact"] = number(answer.teeth_exact);
  document["teeth_exact_at"] = std::string(sentences::word(answer.choice));
  document["belt_teeth"] = number(answer.belt_teeth);
  document["pitch_mm"] = number(drive.belt.pitch_mm);
  document["reference_tension_n"] = number(drive.belt.reference_tension_n);
  document["fits"] = fits(drive, answer);
  document["right_teeth"] = number(answer.right_teeth);
  document["nearby"] = nearby(answer);
  document["moved"] = answer.moved ? Json(*answer.moved) : Json(nullptr);
  document["move_along_deg"] = number(answer.move_along_deg);
  document["move_along_clock"] =
      answer.move_along_deg ? Json(sentences::clock_face(*answer.move_along_deg)) : Json(nullptr);
  document["tolerance_mm"] = number(answer.tolerance_mm);
}

std::string teeth_document(const Heading& heading, const Drive& drive, const TeethAnswer& answer) {
  Json document = documents::head(heading);
  documents::add_teeth(drive, answer, document);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

void documents::add_tensioner(const Drive& drive, const TensionerAnswer& answer, Json& document) {
  const double pitch_mm = drive.belt.pitch_mm;
  const auto one = [&](const std::optional<Setting>& setting) {
    return documents::setting(setting);
  };
  const auto many = [&](const std::vector<Setting>& settings) {
    Json list = Json::array();
    for (const Setting& setting : settings) list.push_back(one(setting));
    return list;
  };
  document["pulley"] = answer.pulley;
  document["kind"] = answer.kind == TensionerKind::swing ? "swing" : "slide";
  if (answer.kind == TensionerKind::swing) {
    document["tightens"] = std::string(word(answer.tightens));
    document["only_tightens"] =
        answer.only_tightens ? Json(std::string(word(*answer.only_tightens))) : Json(nullptr);
    document["arm_mm"] = number(answer.arm_mm);
  } else {
    document["tightens_towards_deg"] = number(answer.tightens_towards_deg);
    document["tightens_towards_clock"] = sentences::clock_face(answer.tightens_towards_deg);
  }
  document["belt_teeth"] = number(answer.belt_teeth);
  document["pitch_mm"] = number(pitch_mm);
  document["meant"] = one(answer.meant);
  document["meant_unsure"] = documents::unsure(answer.unsure, answer.kind);
  document["adjustment_unsure"] = documents::unsure(answer.adjustment_unsure, TensionerKind::slide);
  document["settings"] = many(answer.settings);
  document["maker"] = one(answer.maker);
  document[in_unit("apart", answer.kind)] = number(answer.apart);
  document[in_unit("set_give", answer.kind)] = number(answer.set_give);
  document["over_centres"] = many(answer.over_centres);
  document["usable"] = usable(answer);
  document["least_mm"] = number(answer.least_mm);
  document["greatest_mm"] = number(answer.greatest_mm);
  document["rows"] = rows(answer);
}

std::string tensioner_document(const Heading& heading, const Drive& drive,
                               const TensionerAnswer& answer) {
  Json document = documents::head(heading);
  documents::add_tensioner(drive, answer, document);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
