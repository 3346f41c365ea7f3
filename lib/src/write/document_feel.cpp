#include "document_parts.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

Json spans(const std::vector<FeelSpan>& all) {
  Json list = Json::array();
  for (const FeelSpan& span : all) {
    list.push_back({{"from_deg", number(span.from_deg)}, {"to_deg", number(span.to_deg)}});
  }
  return list;
}

Json parts(const FeelHump& hump) {
  Json list = Json::array();
  for (const FeelPart& part : hump.parts) {
    list.push_back(
        {{"valve", part.valve}, {"cylinder", part.cylinder}, {"share", number(part.share)}});
  }
  return list;
}

Json humps(const FeelAnswer& answer) {
  Json list = Json::array();
  for (const FeelHump& hump : answer.humps) {
    const auto of = [&](double HandPull::*unit) {
      return hump.pull ? number((*hump.pull).*unit) : Json(nullptr);
    };
    list.push_back({{"crank_deg", number(hump.crank_deg)},
                    {"past_firing_deg", number(hump.past_firing_deg)},
                    {"crank_nm", of(&HandPull::nm)},
                    {"crank_lbf_ft", of(&HandPull::lbf_ft)},
                    {"at_spanner_n", of(&HandPull::at_spanner_n)},
                    {"parts", parts(hump)}});
  }
  return list;
}

Json runs(const FeelBelt& belt) {
  Json list = Json::array();
  for (const FeelRun& run : belt.runs) {
    list.push_back({{"from", run.from},
                    {"to", run.to},
                    {"length_mm", number(run.length_mm)},
                    {"least_n", number(run.least_n)},
                    {"least_at_deg", number(run.least_at_deg)},
                    {"greatest_n", number(run.greatest_n)},
                    {"greatest_at_deg", number(run.greatest_at_deg)},
                    {"slack", spans(run.slack)}});
  }
  return list;
}

Json shafts(const FeelBelt& belt) {
  Json list = Json::array();
  for (const FeelShaft& shaft : belt.shafts) {
    list.push_back({{"shaft", shaft.name},
                    {"most_early_crank_deg", number(shaft.most_early_deg)},
                    {"early_at_deg", number(shaft.early_at_deg)},
                    {"most_late_crank_deg", number(shaft.most_late_deg)},
                    {"late_at_deg", number(shaft.late_at_deg)}});
  }
  return list;
}

Json belt(const std::optional<FeelBelt>& belt) {
  if (!belt) return nullptr;
  Json snaps = Json::array();
  for (const FeelSnap& snap : belt->snaps) {
    snaps.push_back({{"crank_deg", number(snap.crank_deg)},
                     {"shaft", snap.shaft},
                     {"own_deg", number(snap.own_deg)}});
  }
  Json tensioner = nullptr;
  if (belt->kind) {
    tensioner = {{in_unit("least", *belt->kind), number(belt->least_reading)},
                 {in_unit("greatest", *belt->kind), number(belt->greatest_reading)},
                 {"over_centre", belt->over_centre},
                 {"on_stop", belt->on_stop}};
  }
  return {{"static_n", number(belt->static_n)},
          {"stiffness_n", number(belt->stiffness_n)},
          {"runs", runs(*belt)},
          {"shafts", shafts(*belt)},
          {"snaps", std::move(snaps)},
          {"undetermined", belt->undetermined},
          {"sprung_tensioner", std::move(tensioner)},
          {"settled", belt->settled},
          {"solves", number(belt->solves)}};
}

Json stops(const FeelAnswer& answer) {
  if (!answer.stops_known) return nullptr;
  Json list = Json::array();
  for (const FeelStop& stop : answer.stops) {
    list.push_back({{"valve", stop.valve},
                    {"cylinder", stop.cylinder},
                    {"teeth_out", stop.teeth_out},
                    {"as_fitted", stop.as_fitted},
                    {"forwards_deg", number(stop.forwards_deg)},
                    {"backwards_deg", number(stop.backwards_deg)}});
  }
  return list;
}

Json squeezed(const std::optional<FeelCompression>& air) {
  if (!air) return nullptr;
  return {{"ratio", number(air->ratio)},
          {"greatest_crank_nm", number(air->greatest.nm)},
          {"before_top_deg", number(air->before_top_deg)}};
}

// Every tenth step would hide a snap: all of them, in columns.
Json steps(const FeelAnswer& answer) {
  Json deg = Json::array(), nm = Json::array(), tension = Json::array(), ahead = Json::array();
  for (const FeelStep& step : answer.steps) {
    deg.push_back(number(step.crank_deg));
    nm.push_back(number(step.crank_nm));
    Json pulls = Json::array(), early = Json::array();
    for (const double n : step.tension_n) pulls.push_back(number(n));
    for (const double one : step.ahead_crank_deg) early.push_back(number(one));
    tension.push_back(std::move(pulls));
    ahead.push_back(std::move(early));
  }
  return {{"crank_deg", std::move(deg)},
          {"crank_nm", std::move(nm)},
          {"tension_n", std::move(tension)},
          {"early_crank_deg", std::move(ahead)}};
}

}  // namespace

documents::Json documents::feel(const FeelAnswer& answer) {
  Json part;
  part["springs_known"] = answer.springs_known;
  part["from_pins_in"] = answer.at_engine_place;
  part["valves"] = answer.valves_seen;
  part["drag_nm"] = number(answer.drag_nm);
  part["greatest_nm"] = answer.springs_known ? number(answer.greatest.nm) : Json(nullptr);
  part["greatest_at_deg"] = number(answer.greatest_at_deg);
  part["least_nm"] = answer.springs_known ? number(answer.least_nm) : Json(nullptr);
  part["least_at_deg"] = number(answer.least_at_deg);
  part["humps"] = humps(answer);
  part["runs_on"] = spans(answer.runs_on);
  part["belt"] = belt(answer.belt);
  part["stops"] = stops(answer);
  part["compression"] = squeezed(answer.compression);
  return part;
}

std::string feel_document(const Heading& heading, const FeelAnswer& answer) {
  Json document = documents::head(heading);
  document.update(documents::feel(answer));
  document["steps"] = steps(answer);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
