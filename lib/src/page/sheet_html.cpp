#include <fmt/format.h>

#include "html_parts.hpp"
#include "page_files.hpp"
#include "sheet_data.hpp"
#include "sheet_layout.hpp"
#include "sheet_words.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/page/html_page.hpp"
#include "twoturn/page/job_card.hpp"
#include "twoturn/page/sheet.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using html::Data;
using html::List;
using html::Object;
using sheet::put_text;
using sheet::steps;
using sheet::texts;

// All steps in one part, or with a picture in two: beside it and under it. A step may go on there.
Data parts(const SheetAnswer& sheet, const sheet::Layout& layout, const std::string& view) {
  const std::size_t all = sheet.steps.size();
  Object whole{{"part", Data("first")}, {"steps", steps(sheet.steps, 0, all)}};
  put_text(whole, "view", "");
  if (!layout.cut) return Data(List{Data(whole)});
  const std::size_t cut = layout.cut->step;
  const auto line = static_cast<std::ptrdiff_t>(layout.cut->line);
  SheetAnswer beside = sheet;
  SheetAnswer under = sheet;
  std::vector<SheetLine>& before = beside.steps[cut].lines;
  std::vector<SheetLine>& after = under.steps[cut].lines;
  before.erase(before.begin() + line, before.end());
  after.erase(after.begin(), after.begin() + line);
  whole["steps"] = steps(beside.steps, 0, line > 0 ? cut + 1 : cut);
  Object second{{"part", Data(line > 0 ? "second goes-on" : "second")},
                {"steps", steps(under.steps, cut, all)}};
  put_text(second, "view", view);
  return Data(List{Data(whole), Data(second)});
}

std::string classes(const SheetAnswer& sheet, const sheet::Layout& layout) {
  std::string text = "sheet";
  if (sheet.check.verdict == Verdict::stop) text += " stop";
  if (layout.density != sheet::Density::plain) text += " dense";
  if (layout.density == sheet::Density::tight) text += " tight";
  if (layout.sides == sheet::Sides::faults_over) text += " faults-over";
  if (layout.sides == sheet::Sides::small_print_over) text += " small-print-over";
  if (layout.sides == sheet::Sides::marks_over) text += " marks-over";
  if (layout.cut) text += " has-view";
  return text;
}

// Sizes that the style sheet takes from the page.
std::string sizes(const sheet::Layout& layout) {
  return fmt::format("--second:{}mm;--wide:{}mm;--high:{}mm",
                     shortest(sheet::second_column_mm(layout), 2), shortest(layout.view_mm.x(), 2),
                     shortest(layout.view_mm.y(), 2));
}

Data marks(const SheetAnswer& sheet) {
  List list;
  for (const SheetMark& mark : sheet.marks) {
    Object object{{"shaft", Data(mark.shaft)}};
    put_text(object, "start", sheet::start_words(mark));
    put_text(object, "after_one", sheet::after_one_words(mark));
    put_text(object, "stands", sheet::stands_words(mark));
    put_text(object, "pin", sheet::pin_words(mark));
    object["bar"] = mark.held_by == "bar" ? Data::type::bool_true : Data::type::bool_false;
    put_text(object, "held_by", mark.held_by);
    list.push_back(Data(object));
  }
  return Data(list);
}

Data faults(const SheetAnswer& sheet, std::size_t count) {
  List list;
  for (std::size_t i = 0; i < count; ++i) {
    const SheetFault& fault = sheet.faults[i];
    list.push_back(
        Data(Object{{"seen", Data(fault.seen.text)}, {"means", Data(fault.means.text)}}));
  }
  return Data(list);
}

// With its long names cut short where one side would not hold them.
SheetAnswer on_paper(const SheetAnswer& sheet) {
  const bool holds = sheet::fits(sheet, sheet::lay_out(sheet, {}));
  return holds ? sheet : sheet::with_short_names(sheet);
}

}  // namespace

std::optional<Vec2> sheet_view_mm(const SheetAnswer& sheet, const SheetPictures& pictures) {
  const sheet::Layout layout = sheet::lay_out(on_paper(sheet), pictures);
  if (layout.view_mm.x() <= 0.0) return std::nullopt;
  return layout.view_mm;
}

int sheet_sides(const SheetAnswer& sheet, const SheetPictures& pictures) {
  const sheet::Layout layout = sheet::lay_out(on_paper(sheet), pictures);
  const bool card = sheet.has_other_side();
  const int own = layout.sides == sheet::Sides::one ? 1 : 2;
  // The fault card alone goes before the job card.
  const bool shared = card && layout.sides == sheet::Sides::faults_over;
  return own + (card && !shared ? 1 : 0);
}

std::string sheet_html(const SheetAnswer& whole, const SheetPictures& pictures,
                       const SheetSvgs& svgs) {
  if (!whole.has_belt) return job_card_html(whole);
  const SheetAnswer sheet = on_paper(whole);
  Object page{{"profile", Data(sheet.heading.profile)},
              {"fit", Data(std::string(sentences::word(sheet.heading.fit)))}};
  const sheet::Layout layout = sheet::lay_out(sheet, pictures);
  page["classes"] = classes(sheet, layout);
  const Drive* drive = sheet.check.judged.drive();
  const bool known = drive && drive->direction == Direction::given;
  put_text(page, "turning", known ? std::string(word(drive->crank_turns)) : "");
  put_text(page, "shout", sheet.shout);
  put_text(page, "must_do", sheet.must_do);
  put_text(page, "says", sheet.says);
  page["any_found"] = sheet.found.empty() ? Data::type::bool_false : Data::type::bool_true;
  page["found"] = texts(sheet.found);
  page["sizes"] = sizes(layout);
  put_text(page, "move", svgs.move);
  page["parts"] = parts(sheet, layout, svgs.view);
  page["faults"] = faults(sheet, layout.faults);
  const bool over = layout.sides == sheet::Sides::faults_over;
  page["faults_over"] = over ? Data::type::bool_true : Data::type::bool_false;
  page["marks"] = marks(sheet);
  put_text(page, "not_checked", sheet.not_checked.text);
  put_text(page, "origins", sheet.origins.text);
  page["cautions"] = texts(sheet.cautions);
  page["other_side"] =
      whole.has_other_side() ? sheet::job_card_section(whole, sheet::JobCardAs::other_side) : "";
  return html_page({"Job sheet: " + sheet.heading.profile, sheet::css(),
                    html::filled(files::kSheetHtml, Data(page))});
}

}  // namespace twoturn
