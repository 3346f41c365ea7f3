#include "document_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {

using documents::Json;
using documents::number;

Json documents::findings(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) {
    list.push_back({{"level", word(finding.level)},
                    {"code", finding.code},
                    {"about", finding.about},
                    {"text", whole_text(finding)},
                    {"value", number(finding.value)},
                    {"limit", number(finding.limit)},
                    {"unit", finding.unit},
                    {"limit_key", finding.limit_key}});
  }
  return list;
}

namespace {

Json given(const CheckAnswer& answer) {
  Json list = Json::array();
  for (const GivenValue& value : answer.given) {
    list.push_back({{"key", value.key},
                    {"value", number(value.number)},
                    {"text", value.text},
                    {"origin", std::string(word(value.origin))},
                    {"give_or_take", number(value.give_or_take)},
                    {"line", value.line}});
  }
  return list;
}

Json unused(const CheckAnswer& answer) {
  Json list = Json::array();
  for (const UnusedKey& unused : answer.unused) {
    list.push_back({{"key", unused.key}, {"why", unused.why}});
  }
  return list;
}

// Everything that one fit of the drive gave, each part as its own command would print it; the
// route by the book beside one as fitted has nothing of the tensioner's travel.
Json fit_parts(const FitAnswer& answer) {
  Json parts = Json::object();
  const auto part = [&](const char* name, const auto& there, auto add) {
    parts[name] = Json(nullptr);
    if (!there) return;
    Json document = Json::object();
    add(document);
    parts[name] = std::move(document);
  };
  part("route", answer.route,
       [&](Json& to) { documents::add_route(*answer.drive(), *answer.route, to); });
  part("teeth", answer.teeth,
       [&](Json& to) { documents::add_teeth(*answer.drive(), *answer.teeth, to); });
  part("tensioner", answer.tensioner,
       [&](Json& to) { documents::add_tensioner(*answer.drive(), *answer.tensioner, to); });
  part("turns", answer.turns, [&](Json& to) { documents::add_turns(*answer.turns, to); });
  return parts;
}

std::string word_of(RecordItem::State state) {
  switch (state) {
    case RecordItem::State::done:
      return "done";
    case RecordItem::State::open:
      return "open";
    case RecordItem::State::wrong:
      return "wrong";
  }
  return "";
}

Json record_of(const RecordAnswer& record) {
  Json items = Json::array();
  for (const RecordItem& item : record.items) {
    items.push_back({{"what", item.what},
                     {"about", item.about},
                     {"state", word_of(item.state)},
                     {"text", item.text},
                     {"read", number(item.read)},
                     {"wanted", number(item.wanted)},
                     {"allowed", number(item.allowed)},
                     {"unit", item.unit}});
  }
  return {{"file", record.file},
          {"by", record.by},
          {"date", record.date},
          {"fingerprint", record.fingerprint},
          {"complete", record.complete()},
          {"pins_out", record.pins_out},
          {"pins", record.pins},
          {"holes_closed", record.holes_closed},
          {"holes", record.holes},
          {"bolt_ticks", record.bolt_ticks},
          {"bolt_ticks_of", record.bolt_ticks_of},
          {"open", record.open},
          {"wrong", record.wrong},
          {"counts", record.counts},
          {"items", std::move(items)}};
}

// The heart of what was seen; `why` has all of it.
Json seen(const std::optional<WhySeen>& seen) {
  if (!seen) return nullptr;
  Json groups = Json::array();
  for (const WhyGroup& group : seen->groups) {
    Json titles = Json::array();
    for (const WhyCandidate& member : group.members) titles.push_back(member.fault.title);
    groups.push_back(
        {{"probability", documents::number(group.probability)}, {"titles", std::move(titles)}});
  }
  return {{"headline", seen->headline},
          {"explained", seen->explained},
          {"groups", std::move(groups)},
          {"serious", documents::number(seen->serious)},
          {"steps", seen->steps},
          {"next_look", seen->next ? Json(seen->next->look) : Json(nullptr)},
          {"not_seen", seen->not_seen},
          {"not_used", seen->not_used}};
}

}  // namespace

std::string check_document(const Heading& heading, const CheckAnswer& answer) {
  return documents::printed(documents::check(heading, answer));
}

documents::Json documents::check(const Heading& heading, const CheckAnswer& answer) {
  Json document = documents::head(heading);
  document["verdict"] = word(answer.verdict);
  document["basis"] = word(answer.basis);
  document["headline"] = answer.headline;
  document["judged"] = {{"route", answer.route_judged},
                        {"fit", answer.fit_judged},
                        {"phasing", answer.phasing_judged}};
  document["findings"] = documents::findings(answer.findings);
  document["not_checked"] = documents::missing(answer.not_checked);
  document["whole_move"] = answer.whole_move;
  document["seen"] = seen(answer.seen);
  document["next_command"] =
      answer.next_command.empty() ? Json(nullptr) : Json(answer.next_command);
  document["outside"] = answer.outside;
  document["paint"] = answer.paint ? documents::paint(*answer.paint) : Json(nullptr);
  document.update(fit_parts(answer.judged));
  document["engine"] = documents::engine(answer.engine);
  document["feel"] = answer.feel ? documents::feel(*answer.feel) : Json(nullptr);
  document["tension"] = answer.tension ? documents::tension(*answer.tension) : Json(nullptr);
  document["by_the_book"] = answer.book ? fit_parts(*answer.book) : Json(nullptr);
  document["record"] = answer.record ? record_of(*answer.record) : Json(nullptr);
  document["places"] = answer.places ? documents::places(*answer.places) : Json();
  document["cautions"] = answer.cautions;
  document["given"] = given(answer);
  document["unused"] = unused(answer);
  return document;
}

}  // namespace twoturn
