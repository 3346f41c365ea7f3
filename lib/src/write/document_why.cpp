#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

Json role_or_null(const std::optional<Role>& role) {
  return role ? Json(std::string(word(*role))) : Json(nullptr);
}

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

template <class Choice>
Json word_or_null(const std::optional<Choice>& choice) {
  return choice ? Json(std::string(word(*choice))) : Json(nullptr);
}

Json yes_or_null(const std::optional<bool>& value) { return value ? Json(*value) : Json(nullptr); }

// A clock angle, or mm of a slide, under keys that carry the unit.
void add_reading(const char* stem, const std::optional<double>& value, TensionerKind kind,
                 Json& entry) {
  entry[in_unit(stem, kind)] = number(value);
  if (kind != TensionerKind::swing) return;
  entry[std::string(stem) + "_clock"] = value ? Json(sentences::clock_face(*value)) : Json(nullptr);
}

Json pointer_of(const WhyFault& fault, const std::optional<TensionerKind>& kind) {
  if (!kind || !fault.pointer) return nullptr;
  Json entry = Json::object();
  add_reading("at", fault.pointer, *kind, entry);
  add_reading("should_be", fault.pointer_should, *kind, entry);
  return entry;
}

Json layout_shafts(const BenchLayout& layout) {
  Json list = Json::array();
  for (const BenchPart& part : layout.shafts) {
    const bool pinned = part.pin_radius_mm.has_value();
    list.push_back({{"shaft", part.name},
                    {"role", role_or_null(part.role)},
                    {"turns_per_crank", number(part.turns_per_crank)},
                    {"tooth_own_deg", number(part.tooth_deg)},
                    {"has_mark", part.has_mark},
                    {"mark_radius_mm", number(part.mark_radius_mm)},
                    {"mark_deg", number(part.mark_at_deg)},
                    {"pin", pinned ? Json(part.bar ? "bar" : "pin") : Json(nullptr)},
                    {"pin_radius_mm", number(part.pin_radius_mm)},
                    {"pin_play_mm", pinned ? number(part.pin_play_mm) : Json(nullptr)}});
  }
  return list;
}

Json looked_at(const BenchLayout& layout) {
  Json further = Json::array();
  for (const FurtherMark& mark : layout.further) {
    further.push_back({{"mark", mark.name},
                       {"shaft", layout.shafts[static_cast<std::size_t>(mark.shaft)].name},
                       {"radius_mm", number(mark.radius_mm)}});
  }
  Json pairs = Json::array();
  for (const CountedPair& pair : layout.pairs) {
    pairs.push_back({{"from", pair.from},
                     {"to", pair.to},
                     {"teeth", number(pair.nominal)},
                     {"countable", pair.countable}});
  }
  Json tensioner = nullptr;
  if (layout.tensioner) {
    tensioner = {{"pulley", layout.tensioner_name},
                 {"kind", *layout.tensioner == TensionerKind::swing ? "swing" : "slide"}};
  }
  return {{"shafts", layout_shafts(layout)},
          {"further_marks", std::move(further)},
          {"between_marks", std::move(pairs)},
          {"tensioner", std::move(tensioner)},
          {"pin_tight_mm", number(layout.pin_tight_mm)},
          {"stops_known", layout.has_engine}};
}

Json causes(const FaultCase& suspect) {
  Json list = Json::array();
  for (const Fault& cause : suspect.faults) {
    Json size = nullptr;
    if (cause.size) {
      size = {{"least", number(cause.size->least)},
              {"greatest", number(cause.size->greatest)},
              {"unit", std::string(cause.size->unit)}};
    }
    list.push_back({{"fault", std::string(word(cause.kind))},
                    {"about", text_or_null(cause.about)},
                    {"other", text_or_null(cause.other)},
                    {"teeth", cause.teeth},
                    {"sizes", std::move(size)}});
  }
  return list;
}

Json fault_stops(const WhyShaft& shaft, Direction direction) {
  Json list = Json::array();
  for (const WhyStop& stop : shaft.stops) {
    list.push_back(
        {{"turns", stop.turns},
         {"mark_crank_deg", number(stop.mark_crank_deg)},
         {"mark_own_deg", number(stop.mark_own_deg)},
         {"mark_teeth", number(stop.mark_teeth)},
         {"mark_mm", number(stop.mark_mm)},
         {"early_or_late", std::string(sentences::early_or_late(stop.mark_crank_deg, direction))},
         {"mark_at_deg", number(stop.mark_at_deg)},
         {"mark_at_clock",
          stop.mark_at_deg ? Json(sentences::clock_face(*stop.mark_at_deg)) : Json(nullptr)},
         {"belongs_deg", number(stop.belongs_deg)},
         {"belongs_clock",
          stop.belongs_deg ? Json(sentences::clock_face(*stop.belongs_deg)) : Json(nullptr)},
         {"shaft_crank_deg", number(stop.shaft_crank_deg)},
         {"pin", word_or_null(stop.pin)}});
  }
  return list;
}

Json shafts_as_seen(const std::vector<WhyShaft>& shafts, Direction direction) {
  Json list = Json::array();
  for (const WhyShaft& shaft : shafts) {
    list.push_back({{"shaft", shaft.name},
                    {"role", role_or_null(shaft.role)},
                    {"has_mark", shaft.has_mark},
                    {"same_each_time", shaft.same_each_time},
                    {"after_turns", fault_stops(shaft, direction)}});
  }
  return list;
}

Json fault_marks_and_counts(const WhyFault& fault, Json entry) {
  Json further = Json::array();
  for (const WhyFurther& mark : fault.further) {
    further.push_back(
        {{"mark", mark.name}, {"crank_deg", number(mark.crank_deg)}, {"mm", number(mark.mm)}});
  }
  Json counts = Json::array();
  for (const WhyCount& count : fault.counts) {
    counts.push_back({{"from", count.from},
                      {"to", count.to},
                      {"teeth", number(count.teeth)},
                      {"should_be_teeth", number(count.should_be)},
                      {"countable", count.countable}});
  }
  entry["further_marks"] = std::move(further);
  entry["between_marks"] = std::move(counts);
  return entry;
}

Json fault_of(const WhyFault& fault, const WhyAnswer& answer) {
  Json entry = {{"title", fault.title},
                {"causes", causes(fault.suspect)},
                {"likely_before", number(fault.suspect.weight)},
                {"size", fault.unit.empty() ? Json(nullptr) : number(fault.size)},
                {"unit", text_or_null(fault.unit)},
                {"goes_on", fault.goes_on},
                {"none", text_or_null(fault.none)},
                {"shafts", shafts_as_seen(fault.shafts, answer.direction)}};
  entry = fault_marks_and_counts(fault, std::move(entry));
  entry["pointer"] = pointer_of(fault, answer.layout.tensioner);
  entry["adjustment_left_mm"] = number(fault.adjustment_left_mm);
  entry["loose_mm"] = number(fault.loose_mm);
  entry["rocks_crank_deg"] = number(fault.rocks_crank_deg);
  entry["wanders"] = fault.wanders;
  entry["same_each_try"] = fault.same_each_try;
  entry["signs"] = fault.signs;
  entry["rubs"] = fault.rubs;
  Json stops = nullptr;
  if (fault.stops_deg) {
    stops = Json::array();
    for (const double stop : *fault.stops_deg) stops.push_back(number(stop));
  }
  entry["stops_crank_deg"] = std::move(stops);
  entry["remedy"] = fault.remedy;
  return entry;
}

const char* weighs_word(WhyEvidence::Weighs weighs) {
  return weighs == WhyEvidence::Weighs::for_it       ? "for"
         : weighs == WhyEvidence::Weighs::against_it ? "against"
                                                     : "neither";
}

Json candidate_of(const WhyCandidate& candidate, const WhyAnswer& answer) {
  Json evidence = Json::array();
  for (const WhyEvidence& one : candidate.evidence) {
    evidence.push_back({{"key", one.key},
                        {"what", one.what},
                        {"seen", one.seen},
                        {"would_show", one.would},
                        {"bits", number(one.bits)},
                        {"weighs", weighs_word(one.weighs)}});
  }
  return {{"probability", number(candidate.probability)},
          {"fault", fault_of(candidate.fault, answer)},
          {"evidence", std::move(evidence)}};
}

Json next_look(const std::optional<WhyNext>& next) {
  if (!next) return nullptr;
  return {{"look", next->look},           {"first", next->first},
          {"second", next->second},       {"if_first", next->if_first},
          {"if_second", next->if_second}, {"bits", number(next->bits)}};
}

Json ranked(const WhyAnswer& answer) {
  if (!answer.seen) return nullptr;
  const WhySeen& seen = *answer.seen;
  Json groups = Json::array();
  for (const WhyGroup& group : seen.groups) {
    Json members = Json::array();
    for (const WhyCandidate& member : group.members) {
      members.push_back(candidate_of(member, answer));
    }
    groups.push_back({{"probability", number(group.probability)},
                      {"members", std::move(members)},
                      {"unnamed", group.unnamed}});
  }
  const auto datum = static_cast<std::size_t>(seen.datum);
  return {{"headline", seen.headline},
          {"explained", seen.explained},
          {"groups", std::move(groups)},
          {"steps", seen.steps},
          {"next_look", next_look(seen.next)},
          {"not_used", seen.not_used},
          {"not_seen", seen.not_seen},
          {"turns_said", seen.turns_said},
          {"serious", number(seen.serious)},
          {"counted_from",
           datum < answer.layout.shafts.size() ? Json(answer.layout.shafts[datum].name) : Json()},
          {"turned", word_or_null(seen.turned)}};
}

Json slack_of(const WhyAnswer& answer) {
  Json list = Json::array();
  for (const WhySlack& slack : answer.slack) {
    list.push_back({{"shaft", slack.shaft},
                    {"own_deg_per_mm", number(slack.own_deg_a_mm)},
                    {"crank_deg_per_mm", number(slack.crank_deg_a_mm)},
                    {"goes", slack.goes_late ? "late" : "early"},
                    {"set_back_crank_deg_per_mm", number(slack.set_back_deg_a_mm)}});
  }
  return list;
}

Json turned_back(const std::optional<WhyBackwards>& backwards) {
  if (!backwards) return nullptr;
  Json shafts = Json::array();
  for (std::size_t k = 0; k < backwards->shafts.size(); ++k) {
    shafts.push_back({{"shaft", backwards->shafts[k]},
                      {"early_crank_deg", number(backwards->early_crank_deg[k])}});
  }
  return {{"gives_mm", number(backwards->gives_mm)}, {"shafts", std::move(shafts)}};
}

Json priors_of(const WhyAnswer& answer) {
  Json list = Json::array();
  for (const WhyPrior& prior : answer.priors) {
    list.push_back({{"fault", std::string(word(prior.kind))},
                    {"weight", number(prior.weight)},
                    {"given", prior.given},
                    {"share", number(prior.share)}});
  }
  return list;
}

void add_why(const WhyAnswer& answer, Json& document) {
  document["crank_turns_known"] = answer.direction == Direction::given;
  document["looked_at"] = looked_at(answer.layout);
  document["without_fault"] = shafts_as_seen(answer.without, answer.direction);
  document["seen"] = ranked(answer);
  Json catalogue = Json::array();
  for (const WhyFault& fault : answer.catalogue) catalogue.push_back(fault_of(fault, answer));
  document["catalogue"] = std::move(catalogue);
  document["slack"] = slack_of(answer);
  document["backwards"] = turned_back(answer.backwards);
  document["priors"] = priors_of(answer);
  document["two_together_share"] = number(answer.two_together_share);
}

// One row a mark, in the unit that it was read in.
Json seen_marks(const SeenSpec& seen) {
  Json list = Json::array();
  const auto add = [&](const std::map<std::string, double>& values, const char* unit) {
    for (const auto& [name, value] : values) {
      Json row = {{"mark", name}, {"mm", nullptr}, {"teeth", nullptr}, {"crank_deg", nullptr}};
      row[unit] = number(value);
      list.push_back(std::move(row));
    }
  };
  add(seen.mark_mm, "mm");
  add(seen.mark_teeth, "teeth");
  add(seen.mark_crank_deg, "crank_deg");
  return list;
}

// As [seen] of a profile has it; null where nothing is said.
Json seen_spec(const SeenSpec& seen) {
  Json pins = Json::array();
  for (const auto& [name, pin] : seen.pin) {
    pins.push_back({{"shaft", name}, {"pin", std::string(word(pin))}});
  }
  Json counts = Json::array();
  for (const TeethCounted& count : seen.count) {
    counts.push_back({{"from", count.from}, {"to", count.to}, {"teeth", number(count.teeth)}});
  }
  return {{"pins", std::move(pins)},
          {"marks", seen_marks(seen)},
          {"give_mm", number(seen.give_mm)},
          {"after_turns", number(seen.after_turns)},
          {"again", word_or_null(seen.again)},
          {"pointer_deg", number(seen.pointer_deg)},
          {"pointer_mm", number(seen.pointer_mm)},
          {"counts", std::move(counts)},
          {"turned", word_or_null(seen.turned)},
          {"stops", yes_or_null(seen.stops)},
          {"stop_deg", number(seen.stop_deg)},
          {"moved_when_tensioned", yes_or_null(seen.moved_when_tensioned)},
          {"right_forwards", yes_or_null(seen.right_forwards)},
          {"rocks", yes_or_null(seen.rocks)},
          {"seated", yes_or_null(seen.seated)},
          {"pointer_moves", yes_or_null(seen.pointer_moves)},
          {"same_each_try", yes_or_null(seen.same_each_try)}};
}

}  // namespace

std::string why_document(const Heading& heading, const WhyAnswer& answer) {
  Json document = documents::head(heading);
  add_why(answer, document);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

std::string exercise_document(const Heading& heading, const Exercise& exercise, Solution solution) {
  Json document = documents::head(heading);
  document["seed"] = exercise.seed;
  document["shows"] = exercise.shows;
  document["seen"] = seen_spec(exercise.seen);
  Json answer = nullptr;
  if (solution == Solution::shown) {
    Json working = Json::object();
    add_why(exercise.working, working);
    answer = {{"hidden", fault_of(exercise.hidden, exercise.working)},
              {"working", std::move(working)}};
  }
  document["answer"] = std::move(answer);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
