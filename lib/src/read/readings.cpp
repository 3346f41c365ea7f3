#include "twoturn/read/readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "readings_parts.hpp"
#include "toml_document.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/parse_number.hpp"

namespace twoturn {
namespace {

using readings::Draft;

constexpr double kMostMm = 100'000.0;

// A table begins with names; a key and its equals sign, or a bracket, is TOML.
bool is_toml(const toml_text::Lines& lines) {
  for (int i = 1; i <= lines.count(); ++i) {
    const std::string_view line = toml_text::trimmed(lines.line(i));
    if (line.empty() || line[0] == '#') continue;
    const std::size_t equals = line.find('=');
    return line[0] == '[' || (equals != std::string_view::npos && equals < line.find(','));
  }
  return false;
}

Problem fault_problem(const FaceFault& fault, const Draft& draft) {
  const auto line_of = [&](int index) {
    return draft.point_lines[static_cast<std::size_t>(index)];
  };
  Problem problem;
  problem.column = 1;
  switch (fault.kind) {
    case FaceFault::Kind::too_few:
      problem.line = draft.point_lines.back();
      problem.rule = fmt::format("{} here; a face needs four or more: any three lie in one plane",
                                 counted(fault.second, "point", "points"));
      break;
    case FaceFault::Kind::too_many:
      problem.line = line_of(fault.first);
      problem.rule = fmt::format("more than {} points", kMostFacePoints);
      break;
    case FaceFault::Kind::not_finite:
      problem.line = line_of(fault.first);
      problem.rule = "must be finite numbers";
      break;
    case FaceFault::Kind::doubled:
      problem.line = line_of(fault.second);
      problem.rule = fmt::format("the same spot as line {}; keep one reading for each spot",
                                 line_of(fault.first));
      break;
    case FaceFault::Kind::on_a_line:
      problem.line = line_of(fault.first);
      problem.rule = fmt::format(
          "all points, to line {}, stand on one line; that is a straight edge, not a face",
          line_of(fault.second));
      break;
  }
  return problem;
}

void judge_limits(Draft& draft) {
  const FaceLimits& limits = draft.face.limits;
  if (!limits.strict_mm || !limits.loose_mm || *limits.strict_mm <= *limits.loose_mm) return;
  Problem problem;
  problem.key = "limits.strict_mm";
  problem.value = fmt::format("{} mm", shortest(*limits.strict_mm, 3));
  problem.rule =
      fmt::format("must not be above limits.loose_mm, {} mm", shortest(*limits.loose_mm, 3));
  draft.problems.push_back(problem);
}

void judge_points(Draft& draft) {
  if (!draft.problems.empty()) return;
  if (draft.face.points.empty()) {
    if (!draft.face.lines.empty()) return;
    Problem nothing;
    nothing.rule =
        "no readings in it; a table starts with x_mm,y_mm,height_mm or line,goes_mm,stops_mm";
    draft.problems.push_back(nothing);
    return;
  }
  for (std::size_t i = 0; i < draft.face.points.size(); ++i) {
    if (draft.face.points[i].cwiseAbs().maxCoeff() <= kMostMm) continue;
    Problem far;
    far.line = draft.point_lines[i];
    far.column = 1;
    far.rule = fmt::format("no face is as large as {} mm", shortest(kMostMm, 0));
    draft.problems.push_back(far);
    return;
  }
  for (const FaceFault& fault : face_faults(draft.face.points)) {
    draft.problems.push_back(fault_problem(fault, draft));
  }
}

}  // namespace

readings::LengthKey readings::length_key(std::string_view key) {
  const auto under = [&](std::string_view ending) {
    return key.size() > ending.size() && key.substr(key.size() - ending.size()) == ending;
  };
  const auto stem = [&](std::string_view ending) {
    return std::string(key.substr(0, key.size() - ending.size()));
  };
  if (under("_mm")) return {stem("_mm"), 1.0, true};
  if (under("_in")) return {stem("_in"), kMmPerInch, false};
  if (under("_thou")) return {stem("_thou"), kMmPerThou, false};
  return {std::string(key), 0.0, true};
}

readings::CellNumber readings::number_in(std::string_view text) {
  if (text.empty()) return {0.0, "is empty; give the number, or leave the whole row out"};
  const NumberReading read = read_number(text);
  if (read.fault == NoNumber::none) return {read.value, ""};
  const std::string point = toml_text::with_point(text);
  if (!point.empty()) return {0.0, fmt::format("a decimal comma: write {}", point)};
  if (read.fault == NoNumber::not_finite) return {0.0, "must be a finite number"};
  if (read.fault == NoNumber::more_behind) {
    return {0.0, "must be a number alone; its unit is part of the column's name"};
  }
  return {0.0, "must be a number"};
}

FaceReadings read_readings(const std::string& name, const std::string& text) {
  const std::string_view plain = toml_text::without_mark(text);
  const toml_text::Lines lines(plain);
  Draft draft = is_toml(lines) ? readings::read_toml(plain, lines, name)
                               : readings::read_table(plain, lines, name);
  judge_points(draft);
  judge_limits(draft);
  if (!draft.problems.empty()) reading::refuse(std::move(draft.problems), name);
  return std::move(draft.face);
}

GapReading read_gap(std::string_view text, double mm_a_unit) {
  GapReading reading;
  std::string_view said = toml_text::trimmed(text);
  double unit = mm_a_unit;
  for (const auto& [ending, mm] :
       {std::pair<std::string_view, double>{"thou", kMmPerThou}, {"mm", 1.0}, {"in", kMmPerInch}}) {
    if (said.size() <= ending.size() || said.substr(said.size() - ending.size()) != ending)
      continue;
    said = toml_text::trimmed(said.substr(0, said.size() - ending.size()));
    unit = mm;
    break;
  }
  const std::size_t dots = said.find("..");
  const bool range = dots != std::string_view::npos;
  const std::string_view first = toml_text::trimmed(said.substr(0, range ? dots : said.size()));
  const std::string_view second =
      range ? toml_text::trimmed(said.substr(dots + 2)) : std::string_view();
  const auto number = [&](std::string_view digits) -> std::optional<double> {
    if (digits.empty()) return std::nullopt;
    const readings::CellNumber read = readings::number_in(digits);
    if (!read.fault.empty()) reading.fault = read.fault;
    if (read.value < 0.0) reading.fault = "a gap cannot be below nought";
    constexpr double kMostGapMm = 10.0;
    if (read.value * unit > kMostGapMm) reading.fault = "no feeler is that thick; mm or thou?";
    return read.value * unit;
  };
  reading.gap.goes_mm = number(first);
  reading.gap.stops_mm = range ? number(second) : reading.gap.goes_mm;
  if (!reading.fault.empty()) return reading;
  if (!reading.gap.goes_mm && !reading.gap.stops_mm) {
    reading.fault =
        "must say which feeler goes and which does not: 0.04..0.05, ..0.03, 0.2.. or one number";
  } else if (reading.gap.goes_mm && reading.gap.stops_mm &&
             *reading.gap.goes_mm > *reading.gap.stops_mm) {
    reading.fault = fmt::format(
        "the range stands the wrong way round: the feeler that goes comes first, {}..{}", second,
        first);
  }
  return reading;
}

EdgeWay edge_way(std::string_view name) {
  if (name.substr(0, 5) == "along") return EdgeWay::along;
  if (name.substr(0, 6) == "across") return EdgeWay::across;
  if (name.substr(0, 8) == "diagonal") return EdgeWay::diagonal;
  return EdgeWay::other;
}

}  // namespace twoturn
