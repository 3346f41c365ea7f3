// A table of plain text with aligned columns.
#pragma once

#include <string>
#include <vector>

namespace twoturn {

class TextTable {
 public:
  enum class Align { left, right };
  struct Column {
    std::string head;  ///< lines divided by '\n', the last one nearest the rows
    Align align = Align::right;
  };

  explicit TextTable(std::vector<Column> columns) : columns_(std::move(columns)) {}

  void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  bool empty() const { return rows_.empty(); }
  /// Head and rows, two spaces between columns; a column without a single cell is left out.
  /// Above one of more than 80 columns stands that it is wide.
  std::string text() const;

 private:
  std::vector<Column> columns_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace twoturn
