#include "label_placer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "twoturn/geometry/segment.hpp"

namespace twoturn {
namespace {

using namespace scene;

constexpr double kLineGap = 1.95;    // from foot to foot, of the capitals' height
constexpr double kClearMm = 0.7;     // round words
constexpr double kNumberMm = 2.5;    // round a number of two figures
constexpr double kLeaderFrom = 3.0;  // words nearer than this need no line to what they are about
constexpr double kOnAPart = 90.0;    // as bad as so many mm further off
constexpr double kLongestLineMm =
    12.0;  // from a part to its name: a longer one is lost among others

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
  constexpr double kRounding = 1e-9;  // mm: looks lie between the ends but for this
  const Vec2 least = from.cwiseMin(to).array() - kRounding;
  const Vec2 most = from.cwiseMax(to).array() + kRounding;
  if (!box.meets({least, most})) return false;
  for (int k = 0; k <= kLooks; ++k) {
    if (box.holds(Vec2(from + (to - from) * k / kLooks))) return true;
  }
  return false;
}

// What words cost at least that stand so far away.
double beyond(double away_mm, const Wanted& wanted) {
  return std::max(0.0, away_mm - wanted.radius_mm);
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
  if (ringed) return Vec2::Constant(2.0 * kNumberMm);
  double width = 0.0;
  for (const Line& line : lines)
    width = std::max(width, width_of(line.text, height_mm, line.weight));
  const double feet = static_cast<double>(lines.size()) - 1.0;
  constexpr double kTailsAndAccents = 0.8;
  return {width, height_mm * (1.0 + kTailsAndAccents + kLineGap * feet)};
}

std::vector<Item> Words::around(const Vec2& middle) const {
  std::vector<Item> items;
  if (ringed) items.push_back({Circle{middle, kNumberMm, Pen::thin, Fill::paper}});
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
    label.ground = ringed ? Ground::bare : Ground::cleared;
    items.push_back({std::move(label)});
    y -= kLineGap * height_mm;
  }
  return items;
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
  const auto meets = [&](const Box& other) { return other.meets(box); };
  if (std::any_of(taken_.begin(), taken_.end(), meets)) return false;
  return std::none_of(words_.begin(), words_.end(), [&](const std::optional<Placed>& other) {
    return other && other->box.meets(box);
  });
}

LabelPlacer::Placed LabelPlacer::placed_at(const Vec2& middle, const Box& box,
                                           const Wanted& wanted) const {
  Placed placed;
  placed.middle_mm = middle;
  placed.box = box;
  placed.to_mm = nearest_in(placed.box, wanted.anchor_mm);
  const double away = (placed.to_mm - wanted.anchor_mm).norm();
  placed.leads = away > wanted.radius_mm + kLeaderFrom ||
                 (wanted.names_disc && may_be_taken_for_another(placed.box, wanted));
  // A line to a part that is named ends at its edge.
  double edge_mm = wanted.radius_mm;
  for (const Disc& disc : discs_) {
    if (wanted.names_disc && disc.centre_mm == wanted.anchor_mm) edge_mm = disc.radius_mm;
  }
  constexpr double kShortestMm = 0.8;  // shorter ones would say nothing
  if (away <= edge_mm + kShortestMm) placed.leads = false;
  if (wanted.words.ringed && away > edge_mm) placed.leads = true;
  if (placed.leads) {
    placed.from_mm = wanted.anchor_mm + edge_mm / away * (placed.to_mm - wanted.anchor_mm);
  }
  return placed;
}

bool LabelPlacer::may_be_taken_for_another(const Box& box, const Wanted& wanted) const {
  const auto gap = [&](const Disc& disc) {
    return (nearest_in(box, disc.centre_mm) - disc.centre_mm).norm() - disc.radius_mm;
  };
  double own = 0.0;
  bool inside = false;
  double other = std::numeric_limits<double>::infinity();
  for (const Disc& disc : discs_) {
    if (disc.centre_mm == wanted.anchor_mm) {
      own = gap(disc);
      inside = (box.middle_mm() - disc.centre_mm).norm() < disc.radius_mm;
    } else {
      other = std::min(other, gap(disc));
    }
  }
  constexpr double kClearlyMm = 2.0;
  if (!inside) return other < own + kClearlyMm;
  // Over its own disc: another may not lie under it as well.
  return other <= 0.0;
}

bool LabelPlacer::crosses_another(const Placed& placed, const Wanted& wanted) const {
  constexpr double kOffAnotherMm = 1.2;  // a line that passes nearer could be taken to end there
  return std::any_of(discs_.begin(), discs_.end(), [&](const Disc& disc) {
    return disc.centre_mm != wanted.anchor_mm &&
           distance_to_line(disc.centre_mm, placed.from_mm, placed.to_mm) <
               disc.radius_mm + kOffAnotherMm;
  });
}

bool LabelPlacer::all_named(const std::vector<Wanted>& all) const {
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!all[i].names_disc) continue;
    if (!words_[i]) return false;
    const Placed& placed = *words_[i];
    const bool doubtful = may_be_taken_for_another(placed.box, all[i]);
    if (placed.leads && (placed.to_mm - placed.from_mm).norm() > kLongestLineMm) return false;
    if (placed.leads ? crosses_another(placed, all[i]) : doubtful) return false;
  }
  return true;
}

std::ptrdiff_t LabelPlacer::points_in(const Box& box) const {
  const auto low =
      std::lower_bound(points_.begin(), points_.end(), box.least_mm.y(),
                       [](const Vec2& point, double y_mm) { return point.y() < y_mm; });
  const auto high =
      std::upper_bound(low, points_.end(), box.most_mm.y(),
                       [](double y_mm, const Vec2& point) { return y_mm < point.y(); });
  return std::count_if(low, high, [&](const Vec2& point) {
    return point.x() >= box.least_mm.x() && point.x() <= box.most_mm.x();
  });
}

double LabelPlacer::cost(const Placed& here, const Wanted& wanted) const {
  constexpr double kPerPoint = 1.2;
  constexpr double kCrossed = 60.0;
  const auto covered = points_in(here.box);
  double cost = kPerPoint * static_cast<double>(covered) +
                beyond((here.to_mm - wanted.anchor_mm).norm(), wanted);
  for (const Disc& disc : discs_) {
    if (disc.centre_mm == wanted.anchor_mm) continue;
    const double over = (nearest_in(here.box, disc.centre_mm) - disc.centre_mm).norm();
    if (over < disc.radius_mm) cost += kOnAPart;
  }
  if (here.leads && crosses_another(here, wanted)) cost += kOnAPart;
  constexpr double kTakenForAnother = 12.0;
  if (wanted.names_disc && may_be_taken_for_another(here.box, wanted)) cost += kTakenForAnother;
  if (here.leads) {
    for (const Box& other : taken_) {
      if (crosses(here.from_mm, here.to_mm, other)) cost += kCrossed;
    }
  }
  for (const std::optional<Placed>& other : words_) {
    if (!other) continue;
    if (here.leads && crosses(here.from_mm, here.to_mm, other->box)) cost += kCrossed;
    if (other->leads && crosses(other->from_mm, other->to_mm, here.box)) cost += kCrossed;
    if (here.leads && other->leads &&
        cross_inside({here.from_mm, here.to_mm}, {other->from_mm, other->to_mm})) {
      cost += kCrossed;
    }
  }
  return cost;
}

std::optional<LabelPlacer::Placed> LabelPlacer::best_place(const Wanted& wanted) const {
  const Vec2 size = wanted.words.size_mm() + 2.0 * Vec2(kClearMm, kClearMm);
  std::optional<Placed> best;
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](const Vec2& middle, double extra) {
    if (extra >= least) return;
    const Box box = around(middle, size);
    const double away = (nearest_in(box, wanted.anchor_mm) - wanted.anchor_mm).norm();
    if (away > wanted.most_away_mm || beyond(away, wanted) + extra >= least) return;
    if (!is_free(box)) return;
    const Placed here = placed_at(middle, box, wanted);
    const double found = cost(here, wanted) + extra;
    if (found >= least) return;
    least = found;
    best = here;
  };
  constexpr double kOutsideRather = 6.0;
  for (const Vec2& place : wanted.rather_at_mm) {
    look(place, 0.0);
    if (best) return best;
  }
  const double extra = wanted.rather_at_mm.empty() ? 0.0 : kOutsideRather;
  constexpr int kDirections = 36;
  constexpr int kRings = 40;
  constexpr double kRingMm = 2.0;
  for (int ring = 0; ring < kRings && least > extra + kRingMm * (ring - 1); ++ring) {
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
  constexpr double kAnywhereMm = 100.0;
  if (wanted.most_away_mm < kAnywhereMm && least >= kOnAPart) return std::nullopt;
  return best;
}

std::vector<Item> LabelPlacer::place(const std::vector<Wanted>& all) {
  words_.assign(all.size(), std::nullopt);
  std::sort(points_.begin(), points_.end(),
            [](const Vec2& one, const Vec2& other) { return one.y() < other.y(); });
  constexpr int kSweeps = 4;
  bool moved = true;
  for (int sweep = 0; moved && sweep < kSweeps; ++sweep) {
    moved = false;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const std::optional<Placed> before = std::exchange(words_[i], std::nullopt);
      words_[i] = best_place(all[i]);
      const bool both = before && words_[i];
      moved = moved || (both ? before->middle_mm != words_[i]->middle_mm
                             : before.has_value() != words_[i].has_value());
    }
  }
  std::vector<Item> items;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!words_[i]) continue;
    const Placed& placed = *words_[i];
    if (placed.leads) {
      items.push_back({Line{placed.from_mm, placed.to_mm, Pen::thin, Arrow::none}});
    }
    for (Item& item : all[i].words.around(placed.middle_mm)) items.push_back(std::move(item));
  }
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
