#include "find_in_record.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/study/bolts.hpp"
#include "words/bolts.hpp"

namespace twoturn::study {
namespace {

using State = RecordItem::State;

const std::vector<int>& done_in(const Record& record, const std::string& group, int stage) {
  static const std::vector<int> none;
  for (const Record::Stage& one : record.stages) {
    if (one.group == group && one.stage == stage) return one.done;
  }
  return none;
}

bool holds(const std::vector<int>& list, int number) {
  return std::find(list.begin(), list.end(), number) != list.end();
}

std::vector<int> not_done(const BoltGroup& group, const std::vector<int>& done) {
  std::vector<int> open;
  for (const BoltPlace& bolt : group.bolts) {
    if (!holds(done, bolt.number)) open.push_back(bolt.number);
  }
  return open;
}

// The first that came before one of a lower number; nothing where all came in order.
std::optional<std::pair<int, int>> first_swap(const std::vector<int>& done) {
  for (std::size_t k = 1; k < done.size(); ++k) {
    if (done[k] < done[k - 1]) return std::pair(done[k - 1], done[k]);
  }
  return std::nullopt;
}

Judged stage_judged(const BoltGroup& group, const BoltStage& stage, const Record& record) {
  const std::vector<int>& done = done_in(record, group.name, stage.stage);
  Judged judged;
  const std::string name = fmt::format("{}, stage {}", group.name, stage.stage);
  judged.item = {"bolts", name, State::done, stage.move};
  const std::vector<int> open = not_done(group, done);
  if (!open.empty()) {
    judged.item.state = State::open;
    const bool none = open.size() > 1 && open.size() == group.bolts.size();
    judged.item.text =
        fmt::format("{} ({})",
                    none ? fmt::format("none of {} bolts ticked", open.size())
                         : fmt::format("{} not ticked", sentences::bolts_numbered(open)),
                    stage.move);
    judged.action = "go on where the card ends: \"twoturn bolts\" tells the next move";
  } else if (const auto swap = first_swap(done)) {
    judged.item.state = State::wrong;
    judged.item.text = fmt::format("bolt {} was done before bolt {}", swap->first, swap->second);
    judged.action = "see what the manual says of bolts tightened out of order";
  }
  judged.brief = fmt::format("{}: {}", name, judged.item.text);
  judged.value = static_cast<double>(done.size());
  judged.limit = static_cast<double>(group.bolts.size());
  judged.unit = "bolts";
  judged.item.read = judged.value;
  judged.item.wanted = judged.limit;
  return judged;
}

// A tick in a stage of a bolt that the stage before has not.
std::optional<Judged> ahead(const BoltGroup& group, const BoltStage& stage, const Record& record) {
  if (stage.stage == 1) return std::nullopt;
  const std::vector<int>& before = done_in(record, group.name, stage.stage - 1);
  for (const int bolt : done_in(record, group.name, stage.stage)) {
    if (holds(before, bolt)) continue;
    Judged judged;
    judged.item = {"bolts", fmt::format("{}, stage {}", group.name, stage.stage), State::wrong,
                   fmt::format("bolt {} is ticked, but not in stage {}", bolt, stage.stage - 1)};
    judged.brief = fmt::format("{}: {}", judged.item.about, judged.item.text);
    judged.action = "find out which of the two is so";
    return judged;
  }
  return std::nullopt;
}

void group_not_known(const BoltGroup& group, RecordAnswer& answer, std::vector<Finding>& findings) {
  Judged judged;
  judged.item = {"bolts", group.name, State::open, what_lacks(group) + " not given"};
  judged.brief = fmt::format("{}: {}", group.name, judged.item.text);
  judged.action = "give them to the profile";
  settle(std::move(judged), answer, findings);
}

}  // namespace

void settle(Judged judged, RecordAnswer& answer, std::vector<Finding>& findings) {
  const State state = judged.item.state;
  judged.item.unit = judged.unit;
  if (state == State::open) ++answer.open;
  if (state == State::wrong) ++answer.wrong;
  if (state != State::done) {
    Finding finding{judged.level, state == State::open ? "record-open" : "record-wrong",
                    judged.item.about,
                    capital(fmt::format("{}: {}.", judged.brief, judged.action))};
    finding.value = judged.value;
    finding.limit = judged.limit;
    finding.unit = std::move(judged.unit);
    finding.brief = std::move(judged.brief);
    finding.action = std::move(judged.action);
    findings.push_back(std::move(finding));
  }
  answer.items.push_back(std::move(judged.item));
}

void bolts_of_record(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  for (const BoltGroup& group : job.card.bolts) {
    if (group.bolts.empty() || group.stages.empty()) {
      group_not_known(group, answer, findings);
      continue;
    }
    for (const BoltStage& stage : group.stages) {
      answer.bolt_ticks_of += static_cast<int>(group.bolts.size());
      answer.bolt_ticks += static_cast<int>(done_in(job.record, group.name, stage.stage).size());
      settle(stage_judged(group, stage, job.record), answer, findings);
      if (auto judged = ahead(group, stage, job.record)) {
        settle(std::move(*judged), answer, findings);
      }
    }
  }
}

RecordAnswer items_of_record(const RecordCase& job, std::vector<Finding>& findings) {
  RecordAnswer answer;
  answer.file = job.record.file;
  answer.by = job.record.by;
  answer.date = job.record.date;
  answer.fingerprint = job.card.fingerprint;
  counts_of_record(job, answer, findings);
  bolts_of_record(job, answer, findings);
  readings_of_record(job, answer, findings);
  answer.counts = fmt::format("{}, {}", sentences::pins_out({answer.pins_out, answer.pins}),
                              sentences::holes_closed({answer.holes_closed, answer.holes}));
  return answer;
}

}  // namespace twoturn::study
