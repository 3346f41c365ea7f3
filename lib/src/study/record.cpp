#include "twoturn/study/record.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "check_parts.hpp"
#include "find_in_record.hpp"
#include "verdict_of.hpp"

namespace twoturn {
namespace {

using study::verdict_of;
using study::worse;

// What paper or sight says, with the record named beside it as what the whole rests on.
std::string paper_too(const std::string& headline) {
  for (const auto& [opening, told] : {std::pair("On paper: ", "By paper and record: "),
                                      std::pair("Seen: ", "By sight and record: ")}) {
    const std::string own = opening;
    if (headline.compare(0, own.size(), own) == 0) return told + headline.substr(own.size());
  }
  return headline;
}

std::string headline_of(const CheckAnswer& paper, const RecordAnswer& record,
                        std::vector<Finding> found) {
  if (paper.verdict == Verdict::stop) {
    return fmt::format("{} By the record: {}.", paper_too(paper.headline), record.counts);
  }
  if (record.complete()) {
    if (paper.verdict != Verdict::agrees) {
      return fmt::format("{} By the record all is done: {}.", paper_too(paper.headline),
                         record.counts);
    }
    return fmt::format(
        "By {} and record: geometry and record agree; this is not leave to start. {}. {}Nobody "
        "but you has seen the fitting.",
        paper.basis == Basis::seen ? "sight" : "paper", record.counts,
        judged_by_loosened(paper.findings));
  }
  sort_findings(found);
  const Finding& first = found.front();
  const std::string more = found.size() == 1 ? "" : fmt::format(" (and {} more)", found.size() - 1);
  if (first.level == Level::stop) {
    return fmt::format("By the record: STOP, do not turn it: {}{}; {}. {}: NOT DONE.", first.brief,
                       more, first.action, record.counts);
  }
  return fmt::format("By the record: {}: NOT DONE: {}{}; {}.", record.counts, first.brief, more,
                     first.action);
}

}  // namespace

std::vector<int> reached_by(const Record& record, const BoltGroup& group) {
  const auto ticked = [&](int bolt, int stage) {
    return std::any_of(record.stages.begin(), record.stages.end(), [&](const Record::Stage& one) {
      return one.group == group.name && one.stage == stage &&
             std::find(one.done.begin(), one.done.end(), bolt) != one.done.end();
    });
  };
  std::vector<int> reached;
  for (const BoltPlace& bolt : group.bolts) {
    int stages = 0;
    while (ticked(bolt.number, stages + 1)) ++stages;
    reached.push_back(stages);
  }
  return reached;
}

CheckAnswer with_record(const DriveSpec& spec, CheckAnswer paper, const JobCard& card,
                        const Record& record) {
  CheckAnswer answer = std::move(paper);
  std::vector<Finding> found;
  RecordAnswer held = study::items_of_record({spec, answer, card, record}, found);
  held.paper_stops = answer.verdict == Verdict::stop;
  const std::string headline = headline_of(answer, held, found);
  const bool done = held.complete();
  answer.verdict =
      worse(answer.verdict, worse(verdict_of(found), done ? Verdict::agrees : Verdict::look_again));
  answer.headline = headline;
  answer.basis = Basis::record;
  answer.record = std::move(held);
  answer.findings.insert(answer.findings.end(), found.begin(), found.end());
  sort_findings(answer.findings);
  return answer;
}

}  // namespace twoturn
