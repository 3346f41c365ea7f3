#include "twoturn/write/starter.hpp"

#include <fmt/format.h>

#include "document_parts.hpp"
#include "starter_parts.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using starter::Line;
using starter::Table;

constexpr std::string_view kBefore =
    "A drive profile to fill in. Every number below is an example's, of an engine that never was: "
    "measure yours and write it over the example. Untouched ones are known, and \"twoturn check\" "
    "lists them by line; until the last is gone its verdict is \"look again\" at best. Where "
    "your number is the same as the example's, say so under [origin], as in \"belt.teeth\" = "
    "\"measured\". Words in quotes (clockwise, keyed, back) are not watched: read each. A line "
    "that "
    "you cannot answer comes out; it only narrows what can be said. \"twoturn starter --paper\" "
    "with the same options prints these questions as a sheet to take to the engine.";
constexpr std::string_view kHowToLook =
    "Look at the belt end, cylinders upright. Right is plus, up is plus, the crank's centre is 0, "
    "0; all places in mm. Angles as on a clock face: 0 is 12 o'clock, 90 is 3 o'clock, not counted "
    "from 3 o'clock as some drawings do. A calliper and a steel rule are enough. Lengths may be "
    "given as _in or _thou in place of _mm. Numbers take a point, not a comma.";
constexpr std::string_view kOrder =
    "The pulleys follow in the order of the belt. If yours go another way, move whole [[pulley]] "
    "blocks; if one is missing or one too many, copy or cut a block. Keep the names until every "
    "number is yours: [example] goes by them.";

// Every line of a text with something before it.
std::string with_each_line_after(std::string_view before, std::string_view text) {
  constexpr std::size_t kWidth = 80;
  std::string lines = sentences::wrapped(text, 0, kWidth - before.size());
  for (std::size_t at = 0; at < lines.size(); at = lines.find('\n', at) + 1) {
    lines.insert(at, before);
  }
  return lines;
}

std::string comment(std::string_view text) { return with_each_line_after("# ", text); }

std::string choices(const Line& line) {
  return fmt::format(" ({})", fmt::join(line.choices, ", "));
}

std::string profile_lines(const std::vector<Table>& tables) {
  std::string text;
  const Table* open = nullptr;
  bool order_said = false;
  starter::number_questions(tables, [&](const Table& table, const Line& line, int number) {
    if (open != &table) {
      text += '\n';
      if (table.head == "[[pulley]]" && !order_said) {
        text += comment(kOrder) + '\n';
        order_said = true;
      }
      if (!table.about.empty()) text += comment(table.about);
      if (!table.head.empty()) text += table.head + '\n';
      open = &table;
    }
    if (number > 0) {
      text += comment(fmt::format("{}. {}{}", number, line.question,
                                  line.choices.empty() ? "" : choices(line)));
    }
    text += fmt::format("{}{} = {}\n", line.commented_out ? "# " : "", line.key, line.value);
  });
  return text;
}

std::string example_lines(const std::vector<Table>& tables) {
  std::string text;
  for (const Table& table : tables) {
    for (const Line& line : table.lines) {
      if (line.example_path.empty()) continue;
      text += fmt::format("\"{}\" = {}\n", line.example_path, line.value);
    }
  }
  return text;
}

// A question on paper: its number, the key, and room to write.
std::string paper_question(const Line& line, int number) {
  constexpr std::string_view kBlank = "________";
  constexpr std::string_view kLongBlank = "______________________________";
  std::string room;
  if (!line.choices.empty()) {
    room = fmt::format("( {} )  ring one", fmt::join(line.choices, " / "));
  }
  for (const std::string& blank : line.blanks) {
    if (!room.empty()) room += "   ";
    room += blank.empty() ? std::string(kLongBlank) : fmt::format("{} {}", kBlank, blank);
  }
  constexpr std::size_t kWidth = 80;
  constexpr std::size_t kRoomFrom = 30;
  const bool beside = kRoomFrom + room.size() <= kWidth;
  std::string text = beside ? fmt::format("\n{:>3}. {:<24} ", number, line.key)
                            : fmt::format("\n{:>3}. {}\n     ", number, line.key);
  return text + room + '\n' + with_each_line_after("     ", line.question);
}

const char* word(StarterDrive::Tensioner tensioner) {
  switch (tensioner) {
    case StarterDrive::Tensioner::eccentric:
      return "eccentric";
    case StarterDrive::Tensioner::slide:
      return "slide";
    case StarterDrive::Tensioner::none:
      return "none";
  }
  return "";
}

documents::Json sketches_json(const std::vector<StarterSketch>& sketches) {
  documents::Json list = documents::Json::array();
  for (const StarterSketch& sketch : sketches) {
    list.push_back({{"title", sketch.title}, {"keys", sketch.keys}, {"svg", sketch.svg}});
  }
  return list;
}

}  // namespace

std::string starter_profile(const StarterAnswer& starter) {
  const std::vector<Table> tables = starter::questions(starter.drive, starter.example);
  std::string text = comment(kBefore) + "#\n" + comment(kHowToLook);
  text += profile_lines(tables);
  text += '\n' + comment("Where the numbers come from: \"measured\", \"manual\" or \"assumed\".");
  text += "[origin]\ndefault = \"measured\"\n\n";
  text += comment(
      "The example's numbers. Leave this table as it is: a number above that still equals its own "
      "here is one that nobody has measured yet.");
  return text + "[example]\n" + example_lines(tables);
}

std::string starter::how_to_look() { return std::string(kHowToLook); }

std::string starter_paper(const StarterAnswer& starter) {
  constexpr std::size_t kWidth = 78;
  std::string text =
      "SHEET TO FILL IN AT THE ENGINE\n\n"
      "Engine ______________________________   By ______________   Date ___________\n\n";
  text += sentences::wrapped(kHowToLook, 0, kWidth);
  text +=
      '\n' + sentences::wrapped(
                 "The numbers before the keys are those of the profile that \"twoturn starter\" "
                 "writes with the same options. Leave empty what you cannot measure.",
                 0, kWidth);
  if (starter.drive.calliper) text += starter::sketch(starter.example);
  const Table* open = nullptr;
  starter::number_questions(starter::questions(starter.drive, starter.example),
                            [&](const Table& table, const Line& line, int number) {
                              if (number > 0 && open != &table) {
                                if (!table.head.empty())
                                  text += fmt::format("\n{}  {}\n", table.head, table.about);
                                open = &table;
                              }
                              if (number > 0) text += paper_question(line, number);
                            });
  return text;
}

std::string starter_document(const StarterResult& result) {
  using documents::Json;
  const StarterDrive& drive = result.drive;
  const bool to_file = !result.path.empty();
  return documents::printed({{"command", "starter"},
                             {"form", result.paper ? "paper" : "profile"},
                             {"drive",
                              {{"cams", drive.cams},
                               {"heads", drive.heads},
                               {"tensioner", word(drive.tensioner)},
                               {"idlers", drive.idlers},
                               {"water_pump", drive.water_pump},
                               {"injection_pump", drive.injection_pump},
                               {"balance_shaft", drive.balance_shaft},
                               {"calliper", drive.calliper}}},
                             {"path", to_file ? Json(result.path) : Json(nullptr)},
                             {"bytes", result.text.size()},
                             {"text", to_file ? Json(nullptr) : Json(result.text)},
                             {"sketches", sketches_json(result.sketches)}});
}

}  // namespace twoturn
