// The questions that a starter's profile asks.
#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"
#include "twoturn/write/starter.hpp"

namespace twoturn::starter {

/// One line of the profile. A question has a text; what the starter knows itself has none.
struct Line {
  std::string key;
  std::string value;                   ///< as TOML writes it
  std::string question{};              ///< how to find it out
  std::vector<std::string> choices{};  ///< of a word; empty for numbers
  std::vector<std::string> blanks{};   ///< what to write on paper: "mm", "right mm", "up mm"
  std::string example_path{};          ///< under [example]; empty where no number stands here
  bool commented_out = false;          ///< for who knows it
};

/// One table of the profile with its lines.
struct Table {
  std::string head;  ///< "[[pulley]]"; empty at the top
  std::string about;
  std::vector<Line> lines;
};

/// The belt end in letters, not to scale, with the distances to measure between them.
std::string sketch(const DriveSpec& example);

/// What a starter says before its first question.
std::string how_to_look();

/// Goes through all lines with the number of each question; 0 for what is no question.
template <class Visit>
void number_questions(const std::vector<Table>& tables, const Visit& visit) {
  int count = 0;
  for (const Table& table : tables) {
    for (const Line& line : table.lines) visit(table, line, line.question.empty() ? 0 : ++count);
  }
}

/// The key of a table's line without names, as a sketch has it: "build.skim_mm".
std::string key_without_names(const Table& table, const Line& line);

std::vector<Table> questions(const StarterDrive& drive, const DriveSpec& example);

}  // namespace twoturn::starter
