#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "profile_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/parse_number.hpp"

namespace twoturn::reading {
namespace {

// What a column holds, and what one of its units is worth in the spec's.
struct Column {
  std::string_view name;
  bool angle;
  LiftAtPart part;
  double factor;
};

constexpr double kCrankDegACamDeg = 2.0;
constexpr std::array kColumns{
    Column{"crank_deg", true, LiftAtPart::valve, 1.0},
    Column{"cam_deg", true, LiftAtPart::valve, kCrankDegACamDeg},
    Column{"lift_mm", false, LiftAtPart::valve, 1.0},
    Column{"lift_in", false, LiftAtPart::valve, kMmPerInch},
    Column{"lift_thou", false, LiftAtPart::valve, kMmPerThou},
    Column{"cam_lift_mm", false, LiftAtPart::cam, 1.0},
    Column{"cam_lift_in", false, LiftAtPart::cam, kMmPerInch},
    Column{"cam_lift_thou", false, LiftAtPart::cam, kMmPerThou},
};

// The column nearest to a word; a name without its unit means the first that begins with it.
std::string nearest_column(std::string_view word) {
  std::vector<std::string> names;
  for (const Column& column : kColumns) {
    if (column.name.substr(0, word.size() + 1) == std::string(word) + "_") {
      return std::string(column.name);
    }
    names.emplace_back(column.name);
  }
  return nearest_word(word, names);
}

// Numbers without exponents; one too large for a double has no value here.
std::optional<double> number_of(std::string_view cell) {
  return toml_text::is_number(cell) ? parsed_number(cell) : std::nullopt;
}

class Parser {
 public:
  Parser(const TableText& table, Reading& reading)
      : table_(table), reading_(reading), lines_(toml_text::without_mark(table.text)) {}

  std::optional<LiftTable> read() {
    for (int number = 1; number <= lines_.count() && good_; ++number) {
      const std::string_view line = toml_text::trimmed(lines_.line(number));
      if (line.empty() || line[0] == '#') continue;
      if (angle_ == nullptr) {
        read_header(line, number);
      } else {
        read_row(line, number);
      }
    }
    if (good_) judge();
    if (!good_) return std::nullopt;
    return read_;
  }

 private:
  void blame(int line, std::string_view value, std::string rule, std::string nearest = "") {
    good_ = false;
    Problem problem;
    problem.file = table_.name;
    problem.line = line;
    problem.column = line > 0 ? 1 : 0;
    if (!value.empty()) problem.key = "row";
    problem.value = std::string(value);
    problem.rule = std::move(rule);
    problem.nearest = std::move(nearest);
    reading_.add(std::move(problem));
  }

  std::vector<std::string_view> cells(std::string_view line) const {
    std::vector<std::string_view> found;
    while (true) {
      const std::size_t end = std::min(line.find(divider_), line.size());
      found.push_back(toml_text::trimmed(line.substr(0, end)));
      if (end == line.size()) return found;
      line = line.substr(end + 1);
    }
  }

  void read_header(std::string_view line, int number) {
    for (const char divider : {'\t', ';', ','}) {
      if (line.find(divider) != std::string_view::npos) divider_ = divider;
    }
    const std::vector<std::string_view> names = cells(line);
    for (std::size_t place = 0; place < names.size(); ++place) {
      const auto known = std::find_if(kColumns.begin(), kColumns.end(), [&](const Column& column) {
        return column.name == names[place];
      });
      if (known == kColumns.end()) {
        blame(number, names[place],
              "no such column; the first row names two with their units, as in cam_deg,lift_mm",
              nearest_column(names[place]));
        return;
      }
      (known->angle ? angle_ : lift_) = &*known;
      (known->angle ? angle_at_ : lift_at_) = place;
    }
    if (names.size() != 2 || angle_ == nullptr || lift_ == nullptr) {
      blame(number, line, "must name one column of angles and one of lifts: cam_deg,lift_mm");
    }
  }

  void read_row(std::string_view line, int number) {
    constexpr std::size_t kMost = 10000;
    const std::vector<std::string_view> row = cells(line);
    const std::optional<double> angle = row.size() == 2 ? number_of(row[angle_at_]) : std::nullopt;
    const std::optional<double> lift = row.size() == 2 ? number_of(row[lift_at_]) : std::nullopt;
    if (!angle || !lift) {
      const bool digits = std::all_of(row.begin(), row.end(), toml_text::is_number);
      blame(number, line,
            row.size() == 2 && digits ? "must be smaller: no such number"
                                      : "must be two numbers with decimal points");
    } else if (read_.rows.size() == kMost) {
      blame(number, "", fmt::format("must have {} rows at most", kMost));
    } else if (!read_.rows.empty() && *angle * angle_->factor <= read_.rows.back().crank_deg) {
      blame(number, line, "angles must rise from row to row");
    } else {
      read_.rows.push_back({*angle * angle_->factor, *lift * lift_->factor});
    }
  }

  // From nothing only up, then only down to nothing.
  void judge() {
    constexpr std::size_t kFewest = 5;
    if (angle_ == nullptr) return blame(0, "", "nothing in it; begin with cam_deg,lift_mm");
    read_.at = lift_->part;
    const std::vector<LiftRow>& rows = read_.rows;
    if (rows.size() < kFewest) {
      return blame(0, "", fmt::format("must have {} rows or more, not {}", kFewest, rows.size()));
    }
    if (rows.front().lift_mm != 0.0 || rows.back().lift_mm != 0.0) {
      return blame(0, "", "must begin and end with a lift of 0: measure from shut to shut");
    }
    if (rows.back().crank_deg - rows.front().crank_deg >= 720.0) {
      return blame(0, "", "must span less than two turns of the crank");
    }
    bool falling = false;
    for (std::size_t k = 1; k < rows.size(); ++k) {
      const bool falls = rows[k].lift_mm < rows[k - 1].lift_mm;
      if (falling && rows[k].lift_mm > rows[k - 1].lift_mm) {
        return blame(0, "",
                     fmt::format("the lift falls and rises again at row {}: measure that place "
                                 "again, a lobe has one nose",
                                 k + 1));
      }
      falling = falling || falls;
    }
    if (!falling) blame(0, "", "must show a lift: all of it is 0");
  }

  const TableText& table_;
  Reading& reading_;
  toml_text::Lines lines_;
  LiftTable read_;
  const Column* angle_ = nullptr;
  const Column* lift_ = nullptr;
  std::size_t angle_at_ = 0;
  std::size_t lift_at_ = 0;
  char divider_ = ',';
  bool good_ = true;
};

}  // namespace

std::optional<LiftTable> read_lift_table(const TableText& table, Reading& reading) {
  return Parser(table, reading).read();
}

}  // namespace twoturn::reading
