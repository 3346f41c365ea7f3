#include <cmath>

#include "html_parts.hpp"
#include "page_files.hpp"
#include "sheet_layout.hpp"
#include "sheet_words.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/page/html_page.hpp"
#include "twoturn/page/sheet.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using html::Data;
using html::List;
using html::Object;

// An empty text counts as absent, as in every other place of the template.
void put_text(Object& object, const char* key, const std::string& text) {
  object[key] = text.empty() ? Data(Data::type::bool_false) : Data(text);
}

Data texts(const std::vector<std::string>& lines) {
  List list;
  for (const std::string& line : lines) list.push_back(Data(Object{{"text", Data(line)}}));
  return Data(list);
}

Data blanks(const SheetLine& line) {
  List list;
  for (const SheetBlank& blank : line.blanks) {
    Object object;
    put_text(object, "label", blank.label);
    put_text(object, "unit", blank.unit);
    const bool bare = blank.label.empty() && blank.unit.empty();
    object["bare"] = bare ? Data::type::bool_true : Data::type::bool_false;
    list.push_back(Data(object));
  }
  return Data(list);
}

Data lines(const SheetStep& step) {
  List list;
  for (const SheetLine& line : step.lines) {
    const bool tick = line.kind == SheetLine::Kind::tick;
    Object object{{"text", Data(line.text)}, {"kind", Data(tick ? "tick" : "note")}};
    object["tick"] = tick ? Data::type::bool_true : Data::type::bool_false;
    object["blanks"] = blanks(line);
    list.push_back(Data(object));
  }
  return Data(list);
}

Data steps(const SheetAnswer& sheet, std::size_t from, std::size_t to) {
  List list;
  for (std::size_t i = from; i < to; ++i) {
    const SheetStep& step = sheet.steps[i];
    list.push_back(Data(Object{{"number", Data(std::to_string(i + 1))},
                               {"title", Data(step.title)},
                               {"lines", lines(step)}}));
  }
  return Data(list);
}

// All steps in one part, or with a picture in two: beside it and under it.
Data parts(const SheetAnswer& sheet, const sheet::Layout& layout, const std::string& view) {
  const std::size_t all = sheet.steps.size();
  const std::size_t first = layout.first_steps == 0 ? all : layout.first_steps;
  Object whole{{"part", Data("first")}, {"steps", steps(sheet, 0, first)}};
  put_text(whole, "view", "");
  List list{Data(whole)};
  if (layout.first_steps == 0) return Data(list);
  Object second{{"part", Data("second")}, {"steps", steps(sheet, first, all)}};
  put_text(second, "view", view);
  list.push_back(Data(second));
  return Data(list);
}

std::string classes(const SheetAnswer& sheet, const sheet::Layout& layout) {
  std::string text = "sheet";
  if (sheet.check.verdict == Verdict::stop) text += " stop";
  if (layout.density == sheet::Density::dense) text += " dense";
  if (layout.first_steps > 0) text += " has-view";
  const long tenths = std::lround(layout.view_scale * 10.0);
  if (layout.first_steps > 0 && tenths < 10) text += " v" + std::to_string(tenths);
  return text;
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
  const bool holds = sheet::fits(sheet, sheet::lay_out(sheet, sheet::Picture::none));
  return holds ? sheet : sheet::with_short_names(sheet);
}

}  // namespace

std::optional<Vec2> sheet_view_mm(const SheetAnswer& sheet) {
  const double scale = sheet::lay_out(on_paper(sheet), sheet::Picture::there).view_scale;
  if (scale <= 0.0) return std::nullopt;
  return Vec2(sheet::kViewWideMm * scale, sheet::kViewHighMm * scale);
}

std::string sheet_html(const SheetAnswer& whole, const std::optional<std::string>& view_svg) {
  const sheet::Picture picture = view_svg ? sheet::Picture::there : sheet::Picture::none;
  const SheetAnswer sheet = on_paper(whole);
  Object page{{"profile", Data(sheet.heading.profile)},
              {"fit", Data(std::string(sentences::word(sheet.heading.fit)))}};
  const sheet::Layout layout = sheet::lay_out(sheet, picture);
  page["classes"] = classes(sheet, layout);
  const Drive* drive = sheet.check.judged.drive();
  const bool known = drive && drive->direction == Direction::given;
  put_text(page, "turning", known ? std::string(word(drive->crank_turns)) : "");
  put_text(page, "shout", sheet.shout);
  put_text(page, "must_do", sheet.must_do);
  put_text(page, "says", sheet.says);
  page["any_found"] = sheet.found.empty() ? Data::type::bool_false : Data::type::bool_true;
  page["found"] = texts(sheet.found);
  page["parts"] = parts(sheet, layout, view_svg.value_or(""));
  page["faults"] = faults(sheet, layout.faults);
  page["marks"] = marks(sheet);
  put_text(page, "not_checked", sheet.not_checked.text);
  put_text(page, "origins", sheet.origins.text);
  page["cautions"] = texts(sheet.cautions);
  return html_page({"Job sheet: " + sheet.heading.profile, std::string(files::kSheetCss),
                    html::filled(files::kSheetHtml, Data(page))});
}

}  // namespace twoturn
