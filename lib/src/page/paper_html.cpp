#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "html_parts.hpp"
#include "page_files.hpp"
#include "twoturn/page/html_page.hpp"
#include "twoturn/page/paper.hpp"
#include "twoturn/picture/sketches.hpp"
#include "twoturn/picture/svg.hpp"
#include "write/starter_parts.hpp"

namespace twoturn {
namespace {

using html::Data;
using html::List;
using html::Object;

Data question_of(const starter::Line& line, int number) {
  List blanks;
  for (const std::string& unit : line.blanks) {
    Object blank{{"unit", Data(unit)}};
    blank["wide"] = unit.empty() ? Data::type::bool_true : Data::type::bool_false;
    blanks.push_back(Data(blank));
  }
  Object object{{"number", Data(std::to_string(number))},
                {"key", Data(line.key)},
                {"text", Data(line.question)},
                {"blanks", Data(blanks)}};
  object["choices"] = line.choices.empty()
                          ? Data(Data::type::bool_false)
                          : Data(fmt::format("{}", fmt::join(line.choices, " / ")));
  return Data(object);
}

Data tables_of(const std::vector<starter::Table>& tables) {
  List list;
  List questions;
  const starter::Table* open = nullptr;
  const auto close = [&] {
    if (open && !questions.empty()) {
      Object object{{"about", Data(open->about)}, {"questions", Data(questions)}};
      const bool none = open->about.empty() && open->head.empty();
      object["heading"] = none ? Data::type::bool_false : Data::type::bool_true;
      object["head"] = open->head.empty() ? Data(Data::type::bool_false) : Data(open->head);
      list.push_back(Data(object));
    }
    questions.clear();
  };
  starter::number_questions(
      tables, [&](const starter::Table& table, const starter::Line& line, int number) {
        if (open != &table) {
          close();
          open = &table;
        }
        if (number > 0) questions.push_back(question_of(line, number));
      });
  close();
  return Data(list);
}

std::vector<std::string> asked_keys(const std::vector<starter::Table>& tables) {
  std::vector<std::string> keys;
  for (const starter::Table& table : tables) {
    for (const starter::Line& line : table.lines) {
      if (!line.question.empty()) keys.push_back(starter::key_without_names(table, line));
    }
  }
  return keys;
}

// Those of what is asked, in the order of the questions, each once.
Data sketches_of(const std::vector<starter::Table>& tables) {
  const std::vector<MeasuringSketch> all = measuring_sketches();
  std::set<std::string> shown;
  List list;
  for (const std::string& key : asked_keys(tables)) {
    for (const auto& [keys, scene] : all) {
      const bool measures_it = std::find(keys.begin(), keys.end(), key) != keys.end();
      if (!measures_it || !shown.insert(scene.title).second) continue;
      const std::string prefix = fmt::format("sketch{}-", shown.size());
      list.push_back(Data(Object{{"svg", Data(svg_of(scene, prefix))}}));
    }
  }
  return Data(list);
}

}  // namespace

std::string paper_html(const StarterAnswer& starter) {
  const std::vector<starter::Table> tables = starter::questions(starter.drive, starter.example);
  Object page{{"how", Data(starter::how_to_look())},
              {"tables", tables_of(tables)},
              {"sketches", sketches_of(tables)}};
  const std::optional<scene::Scene> distances =
      starter.drive.calliper ? distances_sketch(starter.example) : std::nullopt;
  page["places"] =
      distances ? Data(svg_of(*distances, "distances-")) : Data(Data::type::bool_false);
  return html_page({"Sheet to fill in at the engine", std::string(files::kPaperCss),
                    html::filled(files::kPaperHtml, Data(page))});
}

}  // namespace twoturn
