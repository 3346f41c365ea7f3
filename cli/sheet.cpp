#include "twoturn/page/sheet.hpp"

#include <memory>
#include <optional>

#include "commands.hpp"
#include "target.hpp"
#include "twoturn/page/card.hpp"
#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/svg.hpp"
#include "twoturn/study/card.hpp"
#include "twoturn/study/sheet.hpp"
#include "twoturn/study/view.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  bool phone = false;
  bool card = false;
  Target target;
};

// The page with the belt end on it where there is one to see and room for it.
std::string page_of(const DriveSpec& spec, const SheetAnswer& sheet) {
  const std::optional<Vec2> room = sheet_view_mm(sheet);
  const std::optional<BeltView> view = view_of(spec, sheet.check, 0.0);
  if (!room || !view) return sheet_html(sheet);
  return sheet_html(sheet, svg_of(view_scene(*view, *room), "view-"));
}

// The card gives no verdict: it is for a drive on which something is seen to be wrong.
Output run_card(const Options& options, const DriveSpec& spec) {
  const Asked& asked = options.asked;
  Heading heading = heading_for(asked, spec, "card");
  const std::optional<CardAnswer> card = card_of(spec, heading, heading.missing);
  if (!card) return none(asked, heading, not_enough_given("the bench card"));
  const std::string text = options.phone ? card_phone(*card) : card_html(*card);
  write_to(options.target, text);
  const std::string path = options.target.is_file() ? options.target.path : "";
  const std::string form = options.phone ? "phone" : "page";
  if (asked.json) return {card_document(*card, {form, path, text.size()})};
  if (path.empty()) return {text};
  const char* next = options.phone ? "" : " Open it in any browser and print it on one side of A4.";
  return {"Written: " + path + "." + next + "\n"};
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const DriveSpec spec = read_spec(asked);
  if (options.card) return run_card(options, spec);
  const SheetAnswer sheet = sheet_of(spec, heading_for(asked, spec, "sheet"));
  const int code = exit_code(asked, sheet.check.verdict);
  const std::string text = options.phone ? sheet_phone(sheet) : page_of(spec, sheet);
  write_to(options.target, text);
  const std::string path = options.target.is_file() ? options.target.path : "";
  if (asked.json) {
    const std::string form = options.phone ? "phone" : "page";
    return {sheet_document(sheet, {form, path, text.size()}), code};
  }
  if (path.empty()) return {text, code};
  const std::string stop =
      sheet.shout.empty() ? "" : sheet.shout + ". " + sheet.must_do + " It heads the sheet.\n";
  const char* next = options.phone ? "" : " Open it in any browser and print it on one side of A4.";
  return {stop + "Written: " + path + "." + next + "\n", code};
}

}  // namespace

void add_sheet(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "sheet", "the job on one side of paper: order of work, marks, faults, boxes to tick",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::strict);
        command.flag("--phone", options->phone, "plain text, 40 columns wide, in place of HTML");
        command.flag("--card", options->card,
                     "the bench card: what you see leads in at most three looks to what to do");
        add_target(command, options->target);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
