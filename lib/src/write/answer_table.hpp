// An answer's table: its columns, rows and digits said once, for text, CSV and pages.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "text_table.hpp"

namespace twoturn {

class AnswerTable {
 public:
  /// What heads a column in each form; the form has no such column where this is empty.
  struct Column {
    std::optional<std::string> text;  ///< lines divided by '\n'
    std::optional<std::string> page;
    std::optional<std::string> csv;  ///< a key with its unit
    TextTable::Align align = TextTable::Align::right;
  };

  /// A cell as each form prints it: read by people in text and on a page, by programs in CSV.
  struct Cell {
    std::string text;
    std::string page;
    std::string csv;
  };

  explicit AnswerTable(std::vector<Column> columns) : columns_(std::move(columns)) {}

  /// The forms that have a row.
  enum class In { all, text_and_csv, csv };

  void add(std::vector<Cell> row, In forms = In::all) { rows_.push_back({std::move(row), forms}); }

  std::string text() const;  ///< empty where text has no row
  /// Its columns in their own order (RFC 4180), or in this one, which names each of them once.
  std::string csv() const;
  std::string csv(const std::vector<std::string_view>& order) const;
  std::vector<std::string> page_heads() const;
  std::vector<std::vector<std::string>> page_rows() const;

 private:
  struct Row {
    std::vector<Cell> cells;
    In forms = In::all;
  };

  std::string csv_of(const std::vector<std::size_t>& places) const;

  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

namespace cells {

/// For people with so many decimals, for programs as it is. Nothing known: empty, a page's dash.
AnswerTable::Cell number(std::optional<double> value, int digits);
/// The same for people with as few decimals as show it, at most so many.
AnswerTable::Cell shortest_number(std::optional<double> value, int most_digits);
/// As `number`, with its sign always shown.
AnswerTable::Cell signed_number(std::optional<double> value, int digits);
AnswerTable::Cell count(std::optional<int> value);
/// A cell with a dash in text too where nothing is known.
AnswerTable::Cell or_dash(AnswerTable::Cell cell);
AnswerTable::Cell words(std::string_view text);

}  // namespace cells
}  // namespace twoturn
