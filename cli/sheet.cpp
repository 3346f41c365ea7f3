#include "twoturn/io/sheet.hpp"

#include <memory>

#include "commands.hpp"
#include "write_file.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  bool phone = false;
  std::string out;
  bool force = false;
};

int exit_code(const CheckAnswer& answer, bool strict) {
  if (answer.verdict == twoturn::Verdict::stop) return kStopOrNone;
  const bool look = answer.verdict == twoturn::Verdict::look_again;
  return strict && look ? kStopOrNone : kDone;
}

Output run(const Options& options) {
  if (options.force && options.out.empty()) throw UsageError("--force goes with -o FILE");
  const Asked& asked = options.asked;
  const DriveSpec spec = read_spec(asked);
  const SheetAnswer sheet = sheet_of(spec, heading_for(asked, spec, "sheet"));
  const int code = exit_code(sheet.check, asked.strict);
  const std::string text = options.phone ? sheet_phone(sheet) : sheet_html(sheet);
  if (!options.out.empty()) {
    write_file(options.out, text, options.force ? Existing::replaced : Existing::kept);
  }
  if (asked.json) {
    const std::string form = options.phone ? "phone" : "page";
    return {sheet_document(sheet, {form, options.out, text.size()}), code};
  }
  if (options.out.empty()) return {text, code};
  const std::string stop =
      sheet.shout.empty() ? "" : sheet.shout + ". " + sheet.must_do + " It heads the sheet.\n";
  const char* next = options.phone ? "" : " Open it in any browser and print it on one side of A4.";
  return {stop + "Written: " + options.out + "." + next + "\n", code};
}

}  // namespace

void add_sheet(CLI::App& program, Job& job) {
  const auto options = std::make_shared<Options>();
  CLI::App* command = program.add_subcommand(
      "sheet", "the job on one side of paper: order of work, marks, faults, boxes to tick");
  add_common(*command, options->asked, Profile::required, Table::none, Verdict::strict);
  command->add_flag("--phone", options->phone, "plain text, 40 columns wide, in place of HTML");
  command
      ->add_option("-o,--output", options->out,
                   "the file to write, whole or not at all; else standard output")
      ->type_name("FILE");
  command->add_flag("--force", options->force, "write over a file that is there already");
  command->callback([options, &job] { job = [options] { return run(*options); }; });
}

}  // namespace twoturn::cli
