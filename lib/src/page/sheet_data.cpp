#include "sheet_data.hpp"

#include "page_files.hpp"

namespace twoturn::sheet {

using html::Data;
using html::List;
using html::Object;

void put_text(Object& object, const char* key, const std::string& text) {
  object[key] = text.empty() ? Data(Data::type::bool_false) : Data(text);
}

std::string css() { return std::string(files::kSheetCss) + std::string(files::kJobCardCss); }

Data texts(const std::vector<std::string>& lines) {
  List list;
  for (const std::string& line : lines) list.push_back(Data(Object{{"text", Data(line)}}));
  return Data(list);
}

namespace {

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

}  // namespace

Data steps(const std::vector<SheetStep>& all, std::size_t from, std::size_t to) {
  List list;
  for (std::size_t i = from; i < to; ++i) {
    const SheetStep& step = all[i];
    list.push_back(Data(Object{{"number", Data(std::to_string(i + 1))},
                               {"title", Data(step.title)},
                               {"lines", lines(step)}}));
  }
  return Data(list);
}

}  // namespace twoturn::sheet
