#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "readings_parts.hpp"
#include "toml_document.hpp"

namespace twoturn::readings {
namespace {

struct Cell {
  std::string_view text;
  std::size_t byte = 0;  // in its line
};

// A column of the table: which number it is, and its unit.
struct Column {
  std::string name;
  std::string stem;
  double mm = 0.0;
  bool metric = true;
};

class Table {
 public:
  explicit Table(const toml_text::Lines& lines) : lines_(lines) {}

  Draft read() {
    for (int number = 1; number <= lines_.count(); ++number) {
      const std::string_view line = lines_.line(number);
      const std::string_view said = toml_text::trimmed(line);
      if (said.empty() || said[0] == '#') continue;
      if (columns_.empty()) {
        if (!read_header(line, number)) break;
      } else {
        read_row(cells(line), number);
        constexpr std::size_t kEnough = 200;
        if (draft_.problems.size() > kEnough) break;
      }
    }
    return std::move(draft_);
  }

 private:
  void blame(int line, std::size_t byte, std::string key, std::string value, std::string rule,
             std::string nearest = "") {
    Problem problem;
    problem.key = std::move(key);
    problem.value = std::move(value);
    problem.rule = std::move(rule);
    problem.nearest = std::move(nearest);
    problem.line = line;
    problem.column = lines_.column(line, byte);
    draft_.problems.push_back(std::move(problem));
  }

  std::vector<Cell> cells(std::string_view line) const {
    std::vector<Cell> result;
    std::size_t from = 0;
    while (true) {
      const std::size_t end = std::min(line.find(divider_, from), line.size());
      std::string_view cell = line.substr(from, end - from);
      std::size_t byte =
          from +
          (cell.size() - cell.substr(std::min(cell.find_first_not_of(" \t"), cell.size())).size());
      cell = toml_text::trimmed(cell);
      if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"') {
        cell = toml_text::trimmed(cell.substr(1, cell.size() - 2));
      }
      result.push_back({cell, byte});
      if (end == line.size()) return result;
      from = end + 1;
    }
  }

  bool read_header(std::string_view line, int number) {
    for (const char divider : {'\t', ';', ','}) {
      if (line.find(divider) != std::string_view::npos) divider_ = divider;
    }
    const std::vector<Cell> names = cells(line);
    if (number_in(names.front().text).fault.empty()) {
      blame(number, 0, "", "",
            "the first row must name the columns with their units: x_mm,y_mm,height_mm");
      return false;
    }
    for (const Cell& cell : names) add_column(cell, number);
    feelers_ = place_of("line") >= 0;
    if (draft_.problems.empty()) judge_columns(number);
    return draft_.problems.empty();
  }

  void add_column(const Cell& cell, int number) {
    static const std::vector<std::string> known{
        "x_mm",    "y_mm",     "height_mm",   "x_in",       "y_in",    "height_in",
        "x_thou",  "y_thou",   "height_thou", "line",       "goes_mm", "stops_mm",
        "goes_in", "stops_in", "goes_thou",   "stops_thou", "rocks",   "name"};
    Column column;
    column.name = std::string(cell.text);
    const LengthKey key = length_key(column.name);
    column.stem = key.stem;
    column.mm = key.mm;
    column.metric = key.metric;
    if (std::find(known.begin(), known.end(), column.name) == known.end()) {
      const std::string with_unit = column.name + "_mm";
      const bool no_unit = std::find(known.begin(), known.end(), with_unit) != known.end();
      blame(number, cell.byte, column.name, "",
            no_unit ? "the column must say its unit, _mm, _in or _thou" : "no such column",
            no_unit ? "" : nearest_word(column.name, known));
    } else if (place_of(column.stem) >= 0) {
      blame(number, cell.byte, column.name, "", "the same column stands twice; keep one");
    }
    columns_.push_back(std::move(column));
  }

  int place_of(std::string_view stem) const {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      if (columns_[i].stem == stem) return static_cast<int>(i);
    }
    return -1;
  }

  const Column& column(std::string_view stem) const {
    return columns_[static_cast<std::size_t>(place_of(stem))];
  }

  void judge_columns(int number) {
    const std::vector<std::string> wanted = feelers_ ? std::vector<std::string>{"goes", "stops"}
                                                     : std::vector<std::string>{"x", "y", "height"};
    for (const std::string& stem : wanted) {
      if (place_of(stem) >= 0) continue;
      blame(number, 0, stem + "_mm", "",
            fmt::format("the column is missing ({}_mm, {}_in or {}_thou)", stem, stem, stem));
    }
    if (!draft_.problems.empty()) return;
    const std::string& first = column(wanted.front()).name;
    for (const std::string& stem : wanted) {
      const Column& other = column(stem);
      const bool same = stem == "height" ? other.metric == column("x").metric
                                         : other.mm == column(wanted.front()).mm;
      if (same) continue;
      blame(number, 0, other.name, "",
            fmt::format("mixed units: {} beside {}; put the whole table in mm, or in inches with "
                        "heights in inches or thou",
                        other.name, first));
    }
  }

  void read_row(const std::vector<Cell>& row, int number) {
    if (row.size() != columns_.size()) {
      const bool comma = row.size() > columns_.size() && divider_ == ',';
      blame(number, 0, "", "",
            fmt::format("{} values for {} columns{}", row.size(), columns_.size(),
                        comma ? "; was a decimal comma used? write 0.3, not 0,3" : ""));
      return;
    }
    if (feelers_) {
      read_feelers(row, number);
      return;
    }
    const std::size_t before = draft_.problems.size();
    const Vec3 point(length(row, "x", number), length(row, "y", number),
                     length(row, "height", number));
    if (draft_.problems.size() > before) return;
    draft_.face.points.push_back(point);
    draft_.point_lines.push_back(number);
  }

  double length(const std::vector<Cell>& row, std::string_view stem, int number) {
    const int place = place_of(stem);
    const Column& column = columns_[static_cast<std::size_t>(place)];
    const Cell& cell = row[static_cast<std::size_t>(place)];
    const CellNumber read = number_in(cell.text);
    if (!read.fault.empty()) {
      blame(number, cell.byte, column.name, std::string(cell.text), read.fault);
    }
    return read.value * column.mm;
  }

  void read_feelers(const std::vector<Cell>& row, int number) {
    const auto text = [&](std::string_view stem) -> std::string_view {
      const int place = place_of(stem);
      return place < 0 ? std::string_view() : row[static_cast<std::size_t>(place)].text;
    };
    FeelerLine line;
    line.name = std::string(text("line"));
    line.way = edge_way(line.name);
    std::string rocks(text("rocks"));
    for (char& c : rocks) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    line.rocks = rocks == "yes" || rocks == "true";
    if (!line.rocks && !rocks.empty() && rocks != "no" && rocks != "false") {
      blame(number, 0, "rocks", std::string(text("rocks")), "must be yes or no");
      return;
    }
    const GapReading read =
        read_gap(fmt::format("{}..{}", text("goes"), text("stops")), column("goes").mm);
    if (!read.fault.empty()) {
      blame(number, 0, line.name, fmt::format("{}..{}", text("goes"), text("stops")), read.fault);
      return;
    }
    line.goes_mm = read.gap.goes_mm;
    line.stops_mm = read.gap.stops_mm;
    draft_.face.lines.push_back(std::move(line));
  }

  const toml_text::Lines& lines_;
  char divider_ = ',';

  bool feelers_ = false;
  std::vector<Column> columns_;
  Draft draft_;
};

}  // namespace

Draft read_table(std::string_view text, const toml_text::Lines& lines, const std::string& name) {
  std::vector<Problem> unreadable = toml_text::unreadable(text);
  if (!unreadable.empty()) reading::refuse(std::move(unreadable), name);
  return Table(lines).read();
}

}  // namespace twoturn::readings
