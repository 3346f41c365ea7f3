#include <fmt/format.h>

#include <Eigen/Geometry>

#include "readings_parts.hpp"
#include "toml_document.hpp"
#include "toml_section.hpp"

namespace twoturn::readings {
namespace {

using reading::Entry;
using reading::Reading;
using reading::Section;
using reading::unit_of;

std::optional<double> above_zero(Section& section, std::string_view stem) {
  const std::optional<Entry> found = section.find_length(stem);
  if (!found) return std::nullopt;
  const std::optional<double> value = section.reading().value(*found);
  if (!value || *value > 0.0) return value;
  section.reading().blame(*found, "must be above nought");
  return std::nullopt;
}

std::optional<Vec3> point_of(const Entry& entry, Reading& reading) {
  const toml::array* list = entry.node->as_array();
  if (list == nullptr || list->size() != 3) {
    reading.blame(entry, list != nullptr && list->size() > 3
                             ? "must be three numbers, [x, y, height]; was a decimal comma used?"
                             : "must be three numbers in brackets, [x, y, height]");
    return std::nullopt;
  }
  Vec3 point = Vec3::Zero();
  for (std::size_t i = 0; i < 3; ++i) {
    const std::optional<double> value = reading.value(entry.element(i));
    if (!value) return std::nullopt;
    point(static_cast<Eigen::Index>(i)) = *value;
  }
  return point;
}

struct PlacedPoint {
  Vec3 at;
  int line = 0;
};

std::vector<PlacedPoint> points_of(const Entry& entry, Reading& reading) {
  std::vector<PlacedPoint> points;
  const toml::array* list = entry.node->as_array();
  if (list == nullptr) {
    reading.blame(entry, "must be a list of points, [[x, y, height], [x, y, height], ...]");
    return points;
  }
  for (std::size_t i = 0; i < list->size() && !reading.full(); ++i) {
    const Entry element = entry.element(i);
    const std::optional<Vec3> at = point_of(element, reading);
    if (at) points.push_back({*at, static_cast<int>(element.node->source().begin.line)});
  }
  return points;
}

void read_points(Section& top, Draft& draft) {
  const std::optional<Entry> found = top.find_length("points");
  if (!found) return;
  for (const PlacedPoint& point : points_of(*found, top.reading())) {
    draft.face.points.push_back(point.at);
    draft.point_lines.push_back(point.line);
  }
}

void read_datum(Section& top, Draft& draft) {
  const std::optional<Entry> found = top.find_length("datum");
  if (!found) return;
  Reading& reading = top.reading();
  const std::size_t before = reading.problems.size();
  const std::vector<PlacedPoint> read = points_of(*found, reading);
  if (reading.problems.size() > before) return;
  constexpr double kOnALine = 1e-9;
  if (read.size() == 3) {
    const Vec3 one = read[1].at - read[0].at;
    const Vec3 other = read[2].at - read[0].at;
    if (one.cross(other).norm() > kOnALine * one.norm() * other.norm()) {
      draft.face.datum = {read[0].at, read[1].at, read[2].at};
      return;
    }
  }
  reading.blame(*found, "must be three points that are not on a line, [[x, y, height], ...]");
}

void read_point(Section table, Draft& draft) {
  Reading& reading = table.reading();
  const std::size_t before = reading.problems.size();
  std::vector<double> parts;
  std::vector<bool> metric;
  for (const std::string_view stem : {"x", "y", "height"}) {
    const std::optional<Entry> found = table.find_length(stem);
    const std::optional<double> value = found ? reading.value(*found) : std::nullopt;
    if (!value) continue;
    parts.push_back(*value);
    metric.push_back(unit_of(found->path).factor == 1.0);
  }
  table.finish();
  if (reading.problems.size() > before) return;
  if (parts.size() != 3) {
    reading.blame(table.self(), "needs x_mm, y_mm and height_mm");
  } else if (metric[0] != metric[1] || metric[0] != metric[2]) {
    reading.blame(table.self(), "mixed units: all three in mm, or all in inches and thou");
  } else {
    draft.face.points.emplace_back(parts[0], parts[1], parts[2]);
    draft.point_lines.push_back(static_cast<int>(table.self().node->source().begin.line));
  }
}

// A gap in words, or one number for what was measured.
GapReading gap_of(const Entry& entry, Reading& reading) {
  const double unit = unit_of(entry.path).factor;
  if (const auto* said = entry.node->as_string()) return read_gap(said->get(), unit);
  if (!entry.node->is_number()) return read_gap("");
  const std::optional<double> mm = reading.value(entry);
  return mm ? read_gap(fmt::format("{}", *mm)) : GapReading{};
}

void read_line(Section table, Draft& draft) {
  Reading& reading = table.reading();
  const std::size_t before = reading.problems.size();
  FeelerLine line;
  line.name = table.text("name").value_or("");
  line.rocks = table.yes_no("rocks").value_or(false);
  const std::optional<Entry> found = table.find_length("gap");
  if (found) {
    const GapReading read = gap_of(*found, reading);
    if (!read.fault.empty()) reading.blame(*found, read.fault);
    line.goes_mm = read.gap.goes_mm;
    line.stops_mm = read.gap.stops_mm;
  }
  table.finish();
  if (reading.problems.size() > before) return;
  if (!found || line.name.empty()) {
    reading.blame(
        table.self(),
        "needs a name (\"along\", \"across\", \"diagonal 1\", ...) and gap_mm = \"0.04..0.05\"");
    return;
  }
  line.way = edge_way(line.name);
  draft.face.lines.push_back(std::move(line));
}

FaceLimits read_limits(Section table) {
  FaceLimits limits;
  limits.strict_mm = above_zero(table, "strict");
  limits.loose_mm = above_zero(table, "loose");
  limits.gap_mm = above_zero(table, "gap");
  limits.local_mm = above_zero(table, "local");
  table.finish();
  return limits;
}

}  // namespace

Draft read_toml(std::string_view text, const toml_text::Lines& lines, const std::string& name) {
  const toml::table tree = reading::parsed(text, lines, name);
  Reading reading(name, lines, reading::Kind::readings);
  Section top(tree, reading);
  Draft draft;
  FaceReadings& face = draft.face;
  face.title = top.text("title").value_or("");
  read_points(top, draft);
  for (const Section& one : top.tables("point", kMostFacePoints)) read_point(one, draft);
  for (const Section& one : top.tables("line")) read_line(one, draft);
  read_datum(top, draft);
  face.height_mm = top.length("height");
  face.least_height_mm = top.length("least_height");
  face.local_side_mm = above_zero(top, "local_side");
  if (const auto limits = top.table("limits")) face.limits = read_limits(*limits);
  top.finish();
  draft.problems = std::move(reading.problems);
  return draft;
}

}  // namespace twoturn::readings
