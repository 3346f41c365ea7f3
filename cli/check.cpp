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
  std::string record;
};

// The drive on paper, and the record of the job where one is given.
CheckAnswer answer_of(const Options& options, const DriveSpec& spec) {
  CheckAnswer paper = check_drive(spec, options.asked.fit());
  if (options.record.empty()) return paper;
  const JobCard card = job_card(spec, paper);
  const std::string text = read_file(options.record, kProfileSize);
  return with_record(spec, std::move(paper), card, read_record(options.record, text, card));
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  if (!options.record.empty()) refuse_record_by_the_book(asked);
  using Fingerprint = ProfileText::Fingerprint;
  const DriveSpec spec =
      read_spec(asked, options.record.empty() ? Fingerprint::left_out : Fingerprint::wanted);
  const Heading heading = heading_for(asked, spec, "check");
  const CheckAnswer answer = answer_of(options, spec);
  const int code = exit_code(asked, answer.verdict);
  if (asked.json) return {check_document(heading, answer), code};
  return {check_text(heading, answer), code};
}

}  // namespace

void add_check(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "check", "is it right? the verdict first, why, what to see after two turns, what is open",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::strict);
        command
            .option("--record", options->record,
                    "the record of the job, as \"twoturn sheet --record\" writes a blank one: is "
                    "everything back in, in order and counted?")
            .hint("FILE");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
