#include "answer_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "csv_row.hpp"
#include "twoturn/base/assert.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn {

std::string AnswerTable::text() const {
  std::vector<TextTable::Column> heads;
  for (const Column& column : columns_) {
    if (column.text) heads.push_back({*column.text, column.align});
  }
  TextTable table(std::move(heads));
  for (const Row& row : rows_) {
    if (row.forms == In::csv) continue;
    std::vector<std::string> shown;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      if (columns_[k].text) shown.push_back(row.cells[k].text);
    }
    table.add(std::move(shown));
  }
  return table.empty() ? "" : table.text();
}

std::string AnswerTable::csv() const {
  std::vector<std::size_t> places;
  for (std::size_t k = 0; k < columns_.size(); ++k) {
    if (columns_[k].csv) places.push_back(k);
  }
  return csv_of(places);
}

std::string AnswerTable::csv(const std::vector<std::string_view>& order) const {
  std::vector<std::size_t> places;
  for (const std::string_view key : order) {
    const auto found = std::find_if(columns_.begin(), columns_.end(),
                                    [key](const Column& column) { return column.csv == key; });
    TWOTURN_ASSERT(found != columns_.end(), static_cast<double>(places.size()));
    places.push_back(static_cast<std::size_t>(found - columns_.begin()));
  }
  return csv_of(places);
}

std::string AnswerTable::csv_of(const std::vector<std::size_t>& places) const {
  std::vector<std::string> fields;
  for (const std::size_t place : places) fields.push_back(*columns_[place].csv);
  std::string text = csv::row(fields);
  for (const Row& row : rows_) {
    fields.clear();
    for (const std::size_t place : places) fields.push_back(row.cells[place].csv);
    text += csv::row(fields);
  }
  return text;
}

std::vector<std::string> AnswerTable::page_heads() const {
  std::vector<std::string> heads;
  for (const Column& column : columns_) {
    if (column.page) heads.push_back(*column.page);
  }
  return heads;
}

std::vector<std::vector<std::string>> AnswerTable::page_rows() const {
  std::vector<std::vector<std::string>> rows;
  for (const Row& row : rows_) {
    if (row.forms != In::all) continue;
    rows.emplace_back();
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      if (columns_[k].page) rows.back().push_back(row.cells[k].page);
    }
  }
  return rows;
}

namespace cells {
namespace {

AnswerTable::Cell shown(const std::string& text, std::optional<double> value) {
  return {text, text, csv::field(value)};
}

}  // namespace

AnswerTable::Cell number(std::optional<double> value, int digits) {
  return value ? shown(fixed(*value, digits), value) : AnswerTable::Cell{"", "-", ""};
}

AnswerTable::Cell shortest_number(std::optional<double> value, int most_digits) {
  return value ? shown(shortest(*value, most_digits), value) : AnswerTable::Cell{"", "-", ""};
}

AnswerTable::Cell or_dash(AnswerTable::Cell cell) {
  if (cell.text.empty()) cell.text = "-";
  return cell;
}

AnswerTable::Cell signed_number(std::optional<double> value, int digits) {
  return value ? shown(signed_fixed(*value, digits), value) : AnswerTable::Cell{"", "-", ""};
}

AnswerTable::Cell count(std::optional<int> value) {
  const std::string text = value ? fmt::format("{}", *value) : std::string();
  return {text, value ? text : "-", text};
}

AnswerTable::Cell words(std::string_view text) {
  return {std::string(text), std::string(text), csv::field(text)};
}

}  // namespace cells
}  // namespace twoturn
