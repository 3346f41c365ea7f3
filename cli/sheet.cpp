#include "twoturn/page/sheet.hpp"

#include <memory>
#include <optional>

#include "commands.hpp"
#include "target.hpp"
#include "twoturn/page/card.hpp"
#include "twoturn/page/job_card.hpp"
#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/svg.hpp"
#include "twoturn/study/card.hpp"
#include "twoturn/study/sheet.hpp"
#include "twoturn/study/view.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/record.hpp"
#include "write_file.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  bool phone = false;
  bool card = false;
  bool job_card = false;
  std::string record;
  Target target;
};

// A text, and how many sides of paper it takes where it is a page; 0: not known.
struct Made {
  std::string text;
  int sides = 0;
};

// The page with the belt end on it, or the order of the pulleys where their places are not known;
// a stop shows first what has to be moved.
Made page_of(const DriveSpec& spec, const SheetAnswer& sheet) {
  if (!sheet.has_belt) return {sheet_html(sheet)};
  const std::optional<BeltView> view = view_of(spec, sheet.check, 0.0);
  SheetPictures pictures{view ? view_sizes(*view) : threading_sizes(spec)};
  SheetSvgs svgs;
  const bool stop = sheet.check.verdict == twoturn::Verdict::stop;
  if (const auto move = stop && view ? move_scene(*view) : std::nullopt) {
    pictures.move_mm = move->size_mm;
    svgs.move = svg_of(*move, "move-");
  }
  const std::optional<Vec2> room = sheet_view_mm(sheet, pictures);
  pictures.views_mm.clear();
  if (room) {
    pictures.views_mm = {*room};
    svgs.view = svg_of(
        view ? view_scene(*view, *room, Errors::told_elsewhere) : threading_scene(spec, *room),
        "view-");
  }
  return {sheet_html(sheet, pictures, svgs), sheet_sides(sheet, pictures)};
}

void refuse_together(const Options& options) {
  if (options.card && options.job_card) {
    throw UsageError("--card and --job-card are two pages: ask for one at a time");
  }
  if (options.record.empty()) return;
  const bool other = options.phone || options.card || options.job_card || options.target.force ||
                     !options.target.path.empty();
  if (other) throw UsageError("--record writes the record and nothing else");
  refuse_record_by_the_book(options.asked);
}

// A blank record, in place of a sheet.
Output write_record(const Options& options, const SheetAnswer& sheet, int code) {
  const std::string text = blank_record(sheet.job_card);
  write_file(options.record, text, Existing::kept_for_good);
  if (options.asked.json) {
    return {sheet_document(sheet, {"record", options.record, text.size()}), code};
  }
  return {"Written: " + options.record +
              ", blank. Type into it what the job card says, then run \"twoturn check\" with "
              "--record on it.\n",
          code};
}

Made made_of(const Options& options, const DriveSpec& spec, const SheetAnswer& sheet) {
  if (options.job_card) return {options.phone ? job_card_phone(sheet) : job_card_html(sheet)};
  return options.phone ? Made{sheet_phone(sheet)} : page_of(spec, sheet);
}

const char* how_to_print(const Options& options, int sides) {
  if (options.phone) return "";
  if (sides == 1) return " Open it in any browser and print it on one side of A4.";
  if (sides == 2) return " Open it in any browser and print it on A4, both sides.";
  return " Open it in any browser and print it on A4.";
}

std::string form_of(const Options& options) {
  if (options.job_card) return options.phone ? "phone job card" : "job card";
  return options.phone ? "phone" : "page";
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
  refuse_together(options);
  const DriveSpec spec = read_spec(asked, ProfileText::Fingerprint::wanted);
  if (options.card) return run_card(options, spec);
  const SheetAnswer sheet = sheet_of(spec, heading_for(asked, spec, "sheet"));
  const int code = exit_code(asked, sheet.check.verdict);
  if (!options.record.empty()) return write_record(options, sheet, code);
  const Made made = made_of(options, spec, sheet);
  write_to(options.target, made.text);
  const std::string path = options.target.is_file() ? options.target.path : "";
  if (asked.json) {
    return {sheet_document(sheet, {form_of(options), path, made.text.size()}), code};
  }
  if (path.empty()) return {made.text, code};
  const std::string stop =
      sheet.shout.empty() ? "" : sheet.shout + ". " + sheet.must_do + " It heads the sheet.\n";
  return {stop + "Written: " + path + "." + how_to_print(options, made.sides) + "\n", code};
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
        command.flag("--job-card", options->job_card,
                     "the job card alone: bolts, trays, and a box for all that is looked at and "
                     "counted");
        command
            .option(
                "--record", options->record,
                "write a blank record of the job to a new file, to be typed in; check judges it")
            .hint("FILE");
        add_target(command, options->target);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
