#include "label_placer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "twoturn/geometry/segment.hpp"

namespace twoturn {
namespace {

using namespace scene;

constexpr double kLineGap = 1.95;    // from foot to foot, of the capitals' height
constexpr double kClearMm = 0.7;     // round words
constexpr double kLeaderFrom = 3.0;  // words nearer than this need no line to what they are about

double width_of(const std::string& text, double height, Weight weight) {
  Label label;
  label.text = text;
  label.height_mm = height;
  label.weight = weight;
  return text_width_mm(label);
}

Box around(const Vec2& middle, const Vec2& size) {
  return {middle - size / 2.0, middle + size / 2.0};
}

Vec2 nearest_in(const Box& box, const Vec2& point) {
  return point.cwiseMax(box.least_mm).cwiseMin(box.most_mm);
}

// Whether a line touches a box, looked at closely enough for boxes of words.
bool crosses(const Vec2& from, const Vec2& to, const Box& box) {
  constexpr int kLooks = 40;
  for (int k = 0; k <= kLooks; ++k) {
    if (box.holds(Vec2(from + (to - from) * k / kLooks))) return true;
  }
  return false;
}

double distance_to_line(const Vec2& point, const Vec2& from, const Vec2& to) {
  return (nearest_on({from, to}, point) - point).norm();
}

std::size_t letter_end(const std::string& text, std::size_t from) {
  std::size_t end = from + 1;
  while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) ++end;
  return end;
}

}  // namespace

Vec2 Words::size_mm() const {
  double width = 0.0;
  for (const Line& line : lines)
    width = std::max(width, width_of(line.text, height_mm, line.weight));
  const double feet = static_cast<double>(lines.size()) - 1.0;
  constexpr double kTailsAndAccents = 0.8;
  return {width, height_mm * (1.0 + kTailsAndAccents + kLineGap * feet)};
}

std::vector<Label> Words::around(const Vec2& middle) const {
  std::vector<Label> labels;
  const double feet = static_cast<double>(lines.size()) - 1.0;
  double y = middle.y() + kLineGap * height_mm * feet / 2.0;
  for (const Line& line : lines) {
    Label label;
    label.at_mm = Vec2(middle.x(), y);
    label.text = line.text;
    label.height_mm = height_mm;
    label.across = Across::middle;
    label.upwards = Upwards::middle;
    label.weight = line.weight;
    label.ground = Ground::cleared;
    labels.push_back(label);
    y -= kLineGap * height_mm;
  }
  return labels;
}

void LabelPlacer::line(const Vec2& from, const Vec2& to) {
  constexpr double kStepMm = 1.0;
  const int steps = 1 + static_cast<int>((to - from).norm() / kStepMm);
  for (int k = 0; k <= steps; ++k) points_.emplace_back(from + (to - from) * k / steps);
}

void LabelPlacer::circle(const Vec2& centre, double radius_mm) {
  const int steps = 12 + static_cast<int>(kFullTurn * radius_mm);
  for (int k = 0; k < steps; ++k) {
    const double angle = kFullTurn * k / steps;
    points_.emplace_back(centre + radius_mm * Vec2(std::cos(angle), std::sin(angle)));
  }
}

void LabelPlacer::disc(const Vec2& centre, double radius_mm) {
  discs_.push_back({centre, radius_mm});
}

bool LabelPlacer::is_free(const Box& box) const {
  const auto on_paper = [&](const Box& paper) { return paper.holds(box); };
  if (std::none_of(papers_.begin(), papers_.end(), on_paper)) return false;
  return std::none_of(taken_.begin(), taken_.end(),
                      [&](const Box& other) { return other.meets(box); });
}

double LabelPlacer::cost(const Box& box, const Wanted& wanted) const {
  constexpr double kPerPoint = 1.2;
  constexpr double kCrossedWords = 60.0;
  const auto covered = std::count_if(points_.begin(), points_.end(),
                                     [&](const Vec2& point) { return box.holds(point); });
  const Vec2 end = nearest_in(box, wanted.anchor_mm);
  const double away = std::max(0.0, (end - wanted.anchor_mm).norm() - wanted.radius_mm);
  double cost = kPerPoint * static_cast<double>(covered) + away;
  constexpr double kOnAPart = 14.0;
  for (const Disc& disc : discs_) {
    const bool over = (nearest_in(box, disc.centre_mm) - disc.centre_mm).norm() < disc.radius_mm;
    if (over && disc.centre_mm != wanted.anchor_mm) cost += kOnAPart;
    const double passes = distance_to_line(disc.centre_mm, wanted.anchor_mm, end);
    if (away > kLeaderFrom && passes < disc.radius_mm && disc.centre_mm != wanted.anchor_mm) {
      cost += kOnAPart;
    }
  }
  if (away > kLeaderFrom) {
    for (const Box& other : taken_) {
      if (crosses(wanted.anchor_mm, end, other)) cost += kCrossedWords;
    }
  }
  return cost;
}

std::vector<Item> LabelPlacer::place(const Wanted& wanted) {
  const Vec2 size = wanted.words.size_mm() + 2.0 * Vec2(kClearMm, kClearMm);
  std::optional<Vec2> best;
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](const Vec2& middle, double extra) {
    const Box box = around(middle, size);
    if (extra >= least || !is_free(box)) return;
    const double here = cost(box, wanted) + extra;
    if (here >= least) return;
    least = here;
    best = middle;
  };
  constexpr double kOutsideRather = 6.0;
  if (wanted.rather_at_mm) look(*wanted.rather_at_mm, 0.0);
  const double extra = wanted.rather_at_mm ? kOutsideRather : 0.0;
  constexpr int kDirections = 36;
  constexpr int kRings = 40;
  constexpr double kRingMm = 2.0;
  for (int ring = 0; ring < kRings && least > extra + kRingMm * ring; ++ring) {
    for (int k = 0; k < kDirections; ++k) {
      const Angle off = Angle::radians(kFullTurn * k / kDirections);
      const Angle at = wanted.rather_along.value_or(Angle()) + off;
      const Vec2 out(std::cos(at.radians()), std::sin(at.radians()));
      // The box just clear of the disc in this direction.
      const double half = std::min(size.x() / 2.0 / std::max(1e-9, std::abs(out.x())),
                                   size.y() / 2.0 / std::max(1e-9, std::abs(out.y())));
      const double turned = wanted.rather_along ? std::abs(off.wrapped_half().radians()) : 0.0;
      look(wanted.anchor_mm + (wanted.radius_mm + half + kRingMm * ring) * out, extra + turned);
    }
  }
  if (!best) return {};
  const Box box = around(*best, size);
  taken_.push_back(box);
  std::vector<Item> items;
  const Vec2 end = nearest_in(box, wanted.anchor_mm);
  if ((end - wanted.anchor_mm).norm() > wanted.radius_mm + kLeaderFrom) {
    const Vec2 towards = (end - wanted.anchor_mm).normalized();
    const Vec2 start = wanted.anchor_mm + wanted.radius_mm * towards;
    items.push_back({Line{start, end, Pen::thin, Arrow::none}});
    line(start, end);
  }
  for (Label& label : wanted.words.around(*best)) items.push_back({std::move(label)});
  return items;
}

std::vector<std::string> lines_within(const std::string& text, double width_mm, double height_mm,
                                      Weight weight) {
  std::vector<std::string> lines;
  std::string line;
  const auto fits = [&](const std::string& candidate) {
    return width_of(candidate, height_mm, weight) <= width_mm;
  };
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t space = std::min(text.find(' ', from), text.size());
    std::string word = text.substr(from, space - from);
    from = space + 1;
    if (!line.empty() && fits(line + ' ' + word)) {
      line += ' ' + word;
      continue;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    line.clear();
    for (std::size_t at = 0; at < word.size(); at = letter_end(word, at)) {
      const std::string letter = word.substr(at, letter_end(word, at) - at);
      if (!line.empty() && !fits(line + letter)) {
        lines.push_back(std::move(line));
        line.clear();
      }
      line += letter;
    }
  }
  if (!line.empty()) lines.push_back(std::move(line));
  return lines;
}

}  // namespace twoturn
