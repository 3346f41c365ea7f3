#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace documents {
namespace {

template <class Choice>
Json chosen(const std::optional<Choice>& choice) {
  return choice ? Json(std::string(word(*choice))) : Json(nullptr);
}

Json face(const std::optional<double>& deg) {
  return deg ? Json(sentences::clock_face(*deg)) : Json(nullptr);
}

Json order(BoltOrder order) {
  return order == BoltOrder::given ? "given" : order == BoltOrder::usual ? "usual" : "not known";
}

Json bolts_of(const BoltGroup& group) {
  Json list = Json::array();
  for (const BoltPlace& bolt : group.bolts) {
    list.push_back({{"number", bolt.number},
                    {"position", bolt.position},
                    {"at_mm", bolt.at_mm ? point(*bolt.at_mm) : Json(nullptr)}});
  }
  return list;
}

Json stages_of(const BoltGroup& group) {
  Json list = Json::array();
  for (const BoltStage& stage : group.stages) {
    list.push_back({{"stage", stage.stage},
                    {"torque_nm", number(stage.torque_nm)},
                    {"torque_lbf_ft", number(stage.torque_lbf_ft)},
                    {"angle_deg", number(stage.angle_deg)},
                    {"total_deg", number(stage.total_deg)},
                    {"dot_from_deg", number(stage.dot_from_deg)},
                    {"dot_from_clock", face(stage.dot_from_deg)},
                    {"dot_to_deg", number(stage.dot_to_deg)},
                    {"dot_to_clock", face(stage.dot_to_deg)},
                    {"advance_mm", number(stage.advance_mm)},
                    {"move", stage.move}});
  }
  return list;
}

Json bound_of(const std::optional<BoltBound>& bound) {
  if (!bound) return nullptr;
  return {{"advance_mm", number(bound->advance_mm)},
          {"shank_mm", number(bound->shank_mm)},
          {"modulus_n_mm2", number(bound->modulus_n_mm2)},
          {"modulus_given", bound->modulus_given},
          {"bolt_n_per_mm", number(bound->bolt_n_per_mm)},
          {"joint_n_per_mm", number(bound->joint_n_per_mm)},
          {"load_n", number(bound->load_n)},
          {"stretch_mm", number(bound->stretch_mm)},
          {"squeeze_mm", number(bound->squeeze_mm)},
          {"stress_n_mm2", number(bound->stress_n_mm2)}};
}

}  // namespace

Json bolt_groups(const std::vector<BoltGroup>& groups) {
  Json list = Json::array();
  for (const BoltGroup& group : groups) {
    list.push_back({{"name", group.name},
                    {"holds", group.holds ? Json(*group.holds) : Json(nullptr)},
                    {"order", order(group.order)},
                    {"bolts", bolts_of(group)},
                    {"stages", stages_of(group)},
                    {"pitch_mm", number(group.pitch_mm)},
                    {"length_mm", number(group.length_mm)},
                    {"condition", chosen(group.condition)},
                    {"threads", chosen(group.threads)},
                    {"bound", bound_of(group.bound)},
                    {"notes", group.notes}});
  }
  return list;
}

}  // namespace documents

std::string bolts_document(const Heading& heading, const BoltsAnswer& answer) {
  using documents::Json;
  Json document = documents::head(heading);
  Json next = Json::array();
  for (const NextBolt& move : answer.next) {
    next.push_back({{"group", move.group},
                    {"all_done", move.all_done},
                    {"bolt", move.all_done ? Json(nullptr) : Json(move.bolt)},
                    {"stage", move.all_done ? Json(nullptr) : Json(move.stage)},
                    {"move", move.all_done ? Json(nullptr) : Json(move.move)},
                    {"reached", move.reached},
                    {"ticks", move.ticks},
                    {"of", move.of},
                    {"noticed", move.noticed}});
  }
  document["next"] = std::move(next);
  document["groups"] = documents::bolt_groups(answer.groups);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
