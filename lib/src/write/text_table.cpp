#include "text_table.hpp"

#include <algorithm>

namespace twoturn {
namespace {

std::size_t letters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::vector<std::string> lines_of(const std::string& head) {
  std::vector<std::string> lines(1);
  for (const char c : head) {
    if (c == '\n') {
      lines.emplace_back();
    } else {
      lines.back() += c;
    }
  }
  return lines;
}

std::string padded(const std::string& cell, std::size_t width, TextTable::Align align) {
  const std::string room(width - std::min(width, letters(cell)), ' ');
  return align == TextTable::Align::left ? cell + room : room + cell;
}

}  // namespace

std::string TextTable::text() const {
  const auto cell = [](const std::vector<std::string>& row, std::size_t column) {
    return column < row.size() ? row[column] : std::string();
  };
  std::vector<bool> used;
  std::vector<std::vector<std::string>> heads;
  std::size_t head_lines = 1;
  for (std::size_t column = 0; column < columns_.size(); ++column) {
    used.push_back(std::any_of(rows_.begin(), rows_.end(),
                               [&](const auto& row) { return !cell(row, column).empty(); }));
    heads.push_back(lines_of(columns_[column].head));
    if (used.back()) head_lines = std::max(head_lines, heads.back().size());
  }
  std::vector<std::vector<std::string>> rows(head_lines);
  for (std::size_t k = 0; k < head_lines; ++k) {
    for (const std::vector<std::string>& head : heads) {
      const std::size_t above = head_lines - std::min(head_lines, head.size());
      rows[k].push_back(k < above ? "" : head[k - above]);
    }
  }
  rows.insert(rows.end(), rows_.begin(), rows_.end());

  std::vector<std::string> lines(rows.size());
  for (std::size_t column = 0; column < columns_.size(); ++column) {
    if (!used[column]) continue;
    std::size_t width = 0;
    for (const auto& row : rows) width = std::max(width, letters(cell(row, column)));
    for (std::size_t k = 0; k < rows.size(); ++k) {
      if (!lines[k].empty() || column > 0) lines[k] += "  ";
      lines[k] += padded(cell(rows[k], column), width, columns_[column].align);
    }
  }
  std::string text;
  std::size_t widest = 0;
  for (std::string& line : lines) {
    line.erase(line.find_last_not_of(' ') + 1);
    widest = std::max(widest, letters(line));
    text += line + '\n';
  }
  constexpr std::size_t kColumns = 80;
  return widest > kColumns ? "(A wide table.)\n" + text : text;
}

}  // namespace twoturn
