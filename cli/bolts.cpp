#include "twoturn/study/bolts.hpp"

#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "read_file.hpp"
#include "twoturn/read/record.hpp"
#include "twoturn/study/job_card.hpp"
#include "twoturn/study/record.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::string group;
  std::vector<int> reached;
  std::string record;
};

std::vector<std::string> names_of(const BoltsAnswer& answer) {
  std::vector<std::string> names;
  for (const BoltGroup& group : answer.groups) names.push_back(group.name);
  return names;
}

// The one that --group names, or the only one.
const BoltGroup& group_asked(const Options& options, const BoltsAnswer& answer) {
  if (options.group.empty()) {
    if (answer.groups.size() == 1) return answer.groups.front();
    throw UsageError("--reached: the profile has several [[bolts]]; name one with --group");
  }
  const auto found = std::find_if(answer.groups.begin(), answer.groups.end(),
                                  [&](const BoltGroup& one) { return one.name == options.group; });
  if (found != answer.groups.end()) return *found;
  const std::string nearest = nearest_word(options.group, names_of(answer));
  throw UsageError("--group " + options.group + ": no such [[bolts]]" +
                   (nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?"));
}

// Each group that can be asked about, from how far a record has it.
void ask_record(const Options& options, const DriveSpec& spec, BoltsAnswer& answer) {
  if (!options.reached.empty()) throw UsageError("--reached and --record: one of the two");
  const JobCard card = job_card(spec, check_drive(spec, options.asked.fit()));
  const Record record = read_record(options.record, read_file(options.record, kProfileSize), card);
  for (const BoltGroup& group : answer.groups) {
    const bool asked = options.group.empty() || options.group == group.name;
    const std::vector<int> reached = reached_by(record, group);
    if (asked && why_not_reached(group, reached).empty()) {
      answer.next.push_back(next_bolt(group, reached));
    }
  }
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  if (!options.record.empty()) refuse_record_by_the_book(asked);
  const DriveSpec spec = read_spec(asked, ProfileText::Fingerprint::wanted);
  Heading heading = heading_for(asked, spec, "bolts");
  BoltsAnswer answer = bolts_answer(spec, heading.missing);
  if (answer.groups.empty()) {
    heading.missing.push_back({"bolts, their order and stages", "bolts",
                               "look up how many there are and how they are tightened: [[bolts]]"});
    return none(asked, heading, not_enough_given("the bolts"));
  }
  if (!options.record.empty()) {
    if (!options.group.empty()) group_asked(options, answer);
    ask_record(options, spec, answer);
  } else if (!options.reached.empty()) {
    const BoltGroup& group = group_asked(options, answer);
    const std::string why_not = why_not_reached(group, options.reached);
    if (!why_not.empty()) throw UsageError("--reached: " + why_not);
    answer.next.push_back(next_bolt(group, options.reached));
  } else if (!options.group.empty()) {
    throw UsageError("--group goes with --reached or --record");
  }
  return {asked.json ? bolts_document(heading, answer) : bolts_text(heading, answer)};
}

}  // namespace

void add_bolts(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "bolts", "bolts in order and stage by stage, what an angle comes to, and where was I?",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::none);
        constexpr int kMostStages = 100;
        command
            .option("--reached", options->reached,
                    "where was I? the stages that each bolt has been through, in order: 2,2,1,1")
            .hint("N,...")
            .divided_by_commas()
            .one_at_a_time()
            .between_counts(0, kMostStages);
        command.option("--record", options->record, "where was I? by the record of the job")
            .hint("FILE");
        command.option("--group", options->group, "which [[bolts]] is meant").hint("NAME");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
