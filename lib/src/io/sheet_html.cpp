#include "html_parts.hpp"
#include "sentences.hpp"
#include "sheet_page.hpp"
#include "sheet_parts.hpp"
#include "twoturn/drive/words.hpp"
#include "twoturn/io/html_page.hpp"
#include "twoturn/io/sheet.hpp"

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
    list.push_back(Data(object));
  }
  return Data(list);
}

Data steps(const SheetAnswer& sheet) {
  List list;
  for (const SheetStep& step : sheet.steps) {
    List lines;
    for (const SheetLine& line : step.lines) {
      const bool tick = line.kind == SheetLine::Kind::tick;
      Object object{{"text", Data(line.text)}, {"kind", Data(tick ? "tick" : "note")}};
      object["tick"] = tick ? Data::type::bool_true : Data::type::bool_false;
      object["blanks"] = blanks(line);
      lines.push_back(Data(object));
    }
    list.push_back(Data(Object{{"number", Data(std::to_string(list.size() + 1))},
                               {"title", Data(step.title)},
                               {"lines", Data(lines)}}));
  }
  return Data(list);
}

Data marks(const SheetAnswer& sheet) {
  List list;
  for (const SheetMark& mark : sheet.marks) {
    Object object{{"shaft", Data(mark.shaft)}};
    put_text(object, "start", sheet::start_words(mark));
    put_text(object, "after_one", sheet::after_one_words(mark));
    put_text(object, "stands", sheet::stands_words(mark));
    put_text(object, "pin", sheet::pin_words(mark));
    put_text(object, "held_by", mark.held_by);
    list.push_back(Data(object));
  }
  return Data(list);
}

Data faults(const SheetAnswer& sheet) {
  List list;
  for (const SheetFault& fault : sheet.faults) {
    list.push_back(
        Data(Object{{"seen", Data(fault.seen.text)}, {"means", Data(fault.means.text)}}));
  }
  return Data(list);
}

}  // namespace

std::string sheet_html(const SheetAnswer& sheet, const std::optional<std::string>& view_svg) {
  Object page{{"profile", Data(sheet.heading.profile)},
              {"fit", Data(std::string(sentences::word(sheet.heading.fit)))}};
  const bool stop = sheet.check.verdict == Verdict::stop;
  page["classes"] = std::string("sheet") + (stop ? " stop" : "") + (view_svg ? " has-view" : "");
  const Drive* drive = sheet.check.judged.drive ? &*sheet.check.judged.drive : nullptr;
  const bool known = drive && drive->direction_known;
  put_text(page, "turning", known ? std::string(word(drive->crank_turns)) : "");
  put_text(page, "shout", sheet.shout);
  put_text(page, "must_do", sheet.must_do);
  put_text(page, "says", sheet.says);
  page["any_found"] = sheet.found.empty() ? Data::type::bool_false : Data::type::bool_true;
  page["found"] = texts(sheet.found);
  page["steps"] = steps(sheet);
  put_text(page, "view", view_svg.value_or(""));
  page["faults"] = faults(sheet);
  page["marks"] = marks(sheet);
  put_text(page, "not_checked", sheet.not_checked.text);
  put_text(page, "origins", sheet.origins.text);
  page["cautions"] = texts(sheet.cautions);
  return html_page({"Job sheet: " + sheet.heading.profile, std::string(sheet::kStyle),
                    html::filled(sheet::kPage, Data(page))});
}

}  // namespace twoturn
