#include "twoturn/drive/place.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>

#include "base/at.hpp"
#include "place_rows.hpp"

namespace twoturn {
namespace {

using placing::Ends;
using placing::Points;
using placing::Rows;

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

void describe_row(const Seen& seen, const Misfit& misfit, const std::vector<Vec2>& places,
                  MeasuredRow& row) {
  const Ends ends = placing::ends_of(seen);
  const Vec2 arm = places[at(ends.to)] - places[at(ends.from)];
  row.spare = misfit.spare;
  row.standardized = misfit.standardized;
  row.off = misfit.residual;
  switch (row.kind) {
    case MeasuredKind::distance:
      row.found = arm.norm();
      break;
    case MeasuredKind::bearing:
      row.found = Angle::radians(std::atan2(arm.y(), arm.x())).clock_deg();
      row.off = -misfit.residual / kRadPerDeg;  // a clock turns the other way
      row.standardized = -misfit.standardized;
      break;
    case MeasuredKind::belt:
      row.found = row.measured - misfit.residual;
      break;
    case MeasuredKind::place:
      break;
  }
}

std::vector<int> measured_from(const std::vector<Seen>& seen, int point) {
  std::vector<int> others;
  for (const Seen& one : seen) {
    const Ends ends = placing::ends_of(one);
    if (!std::holds_alternative<DistanceSeen>(one)) continue;
    if (ends.from == point) others.push_back(ends.to);
    if (ends.to == point) others.push_back(ends.from);
  }
  return others;
}

// A hint must lie on the same side of each pair of centres that its own was measured from.
void judge_side(const Points& points, const std::vector<Seen>& seen,
                const std::vector<Vec2>& places, int point, std::vector<PlaceFault>& faults) {
  const std::optional<Vec2>& near = points.near[at(point)];
  if (!near || points.given[at(point)]) return;
  const std::vector<int> others = measured_from(seen, point);
  constexpr double kClearMm = 2.0;
  for (std::size_t i = 0; i < others.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const Vec2& from = places[at(others[j])];
      const Vec2 base = places[at(others[i])] - from;
      if (base.norm() < kClearMm) continue;
      const double hinted = cross(base, *near - from) / base.norm();
      const double found = cross(base, places[at(point)] - from) / base.norm();
      if (hinted * found >= 0.0 || std::min(std::abs(hinted), std::abs(found)) < kClearMm) continue;
      PlaceFault fault{PlaceTrouble::wrong_side,
                       points.list[at(point)].name,
                       {points.list[at(others[j])].name, points.list[at(others[i])].name}};
      fault.at_mm = places[at(point)];
      fault.other_mm = *near;
      faults.push_back(fault);
      return;
    }
  }
}

// The other centre, a distance to which feels the loose way most.
std::string tied_best_to(const Points& points, const SurveyFound& found, const LooseWay& way,
                         std::size_t loose) {
  std::string best;
  double most = 0.0;
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    const Vec2 arm = found.at_mm[loose] - found.at_mm[k];
    if (k == loose || arm.squaredNorm() == 0.0) continue;
    const double felt = std::abs(arm.normalized().dot(way.moves[loose] - way.moves[k]));
    if (felt <= most) continue;
    most = felt;
    best = points.list[k].name;
  }
  return best;
}

// What moves most of all in each way that nothing holds.
void blame_loose(const Points& points, const SurveyFound& found, std::vector<PlaceFault>& faults) {
  for (const LooseWay& way : found.loose) {
    const auto most = std::max_element(
        way.moves.begin(), way.moves.end(),
        [](const Vec2& a, const Vec2& b) { return a.squaredNorm() < b.squaredNorm(); });
    const auto loose = static_cast<std::size_t>(most - way.moves.begin());
    const std::string& name = points.list[loose].name;
    const auto told = [&](const PlaceFault& fault) { return fault.about == name; };
    if (std::any_of(faults.begin(), faults.end(), told)) continue;
    PlaceFault fault{PlaceTrouble::too_few, name};
    fault.best = tied_best_to(points, found, way, loose);
    faults.push_back(fault);
  }
}

int worst_of(const Points& points, const SurveyFound& found, double& longer_mm) {
  int worst = -1;
  longer_mm = 0.0;
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    const double longer = ellipse_of(found, static_cast<int>(k)).longer_mm;
    if (longer <= longer_mm) continue;
    longer_mm = longer;
    worst = static_cast<int>(k);
  }
  return worst;
}

// How each coordinate would be known with one more distance: the linear model's own update.
SurveyFound with_distance(const SurveyFound& found, int from, int to, double sigma) {
  const Vec2 arm = (found.at_mm[at(to)] - found.at_mm[at(from)]).normalized();
  Eigen::VectorXd rate = Eigen::VectorXd::Zero(found.covariance.rows());
  rate.segment<2>(2 * Eigen::Index{to}) = arm;
  rate.segment<2>(2 * Eigen::Index{from}) = -arm;
  const Eigen::VectorXd gain = found.covariance * rate;
  SurveyFound then;
  then.covariance = found.covariance - gain * gain.transpose() / (sigma * sigma + rate.dot(gain));
  return then;
}

std::optional<NextMeasurement> next_of(const Points& points, const std::vector<Seen>& seen,
                                       const SurveyFound& found) {
  constexpr double kWorthIt = 0.8;
  NextMeasurement next;
  const int worst = worst_of(points, found, next.now_mm);
  if (worst < 0) return std::nullopt;
  const double sigma = sigma_of(usual_give_or_take("measured.1.distance_mm").value);
  next.then_mm = kWorthIt * next.now_mm;
  const int count = static_cast<int>(points.list.size());
  for (int from = 0; from < count; ++from) {
    for (int to = from + 1; to < count; ++to) {
      const bool measured = std::any_of(seen.begin(), seen.end(), [&](const Seen& one) {
        const Ends ends = placing::ends_of(one);
        return std::holds_alternative<DistanceSeen>(one) && std::min(ends.from, ends.to) == from &&
               std::max(ends.from, ends.to) == to;
      });
      if (measured) continue;
      double then_mm = 0.0;
      worst_of(points, with_distance(found, from, to, sigma), then_mm);
      if (then_mm >= next.then_mm) continue;
      next.then_mm = then_mm;
      next.from = points.list[at(from)].name;
      next.to = points.list[at(to)].name;
    }
  }
  next.about = points.list[at(worst)].name;
  return next.from.empty() ? std::nullopt : std::optional(next);
}

// The way in which all centres turn together round the crank.
Eigen::VectorXd turning(const std::vector<Vec2>& places, const Vec2& about) {
  Eigen::VectorXd round(2 * static_cast<Eigen::Index>(places.size()));
  for (std::size_t k = 0; k < places.size(); ++k) {
    const Vec2 arm = places[k] - about;
    round.segment<2>(2 * static_cast<Eigen::Index>(k)) = Vec2(-arm.y(), arm.x());
  }
  return round;
}

// Takes the turn of the whole out of every measurement that does little else.
void take_out_turns(const Points& points, MeasuredPlaces& places) {
  SurveyFound& found = places.found;
  places.turns_rad.assign(static_cast<std::size_t>(found.influence.cols()), 0.0);
  const auto exact = [](const MeasuredPoint& point) { return point.exact; };
  // With two that stand fast nothing turns.
  if (std::count_if(points.list.begin(), points.list.end(), exact) != 1) return;
  const auto crank = std::find_if(points.list.begin(), points.list.end(), exact);
  places.turned_about_mm = found.at_mm[static_cast<std::size_t>(crank - points.list.begin())];
  const Eigen::VectorXd round = turning(found.at_mm, places.turned_about_mm);
  double variance = 0.0;
  for (Eigen::Index column = 0; column < found.influence.cols(); ++column) {
    const Eigen::VectorXd moves = found.influence.col(column);
    if (moves.squaredNorm() == 0.0 || round.squaredNorm() == 0.0) continue;
    const double turn = moves.dot(round) / round.squaredNorm();
    constexpr double kLittleElse = 0.1;
    if ((moves - turn * round).norm() > kLittleElse * moves.norm()) continue;
    found.influence.col(column) -= turn * round;
    places.turns_rad[static_cast<std::size_t>(column)] = turn;
    variance += turn * turn;
  }
  places.turn_deg = kSigmas95 * std::sqrt(variance) / kRadPerDeg;
  found.covariance = found.influence * found.influence.transpose();
}

// How far the hint that is met worst lies from its place; nothing where there are none.
std::optional<double> off_hints(const Points& points, const SurveyFound& found) {
  std::optional<double> most;
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    if (!points.near[k] || points.given[k]) continue;
    most = std::max(most.value_or(0.0), (found.at_mm[k] - *points.near[k]).norm());
  }
  return most;
}

double most_apart(const SurveyFound& a, const SurveyFound& b, std::size_t& point) {
  double most = 0.0;
  for (std::size_t k = 0; k < a.at_mm.size(); ++k) {
    const double apart = (a.at_mm[k] - b.at_mm[k]).norm();
    if (apart <= most) continue;
    most = apart;
    point = k;
  }
  return most;
}

// What was found, with one centre that has no hint on the other side of two that it was measured
// from.
std::vector<std::vector<SurveyPoint>> mirrored_starts(const Points& points,
                                                      const std::vector<Seen>& seen,
                                                      const std::vector<SurveyPoint>& start,
                                                      const SurveyFound& found) {
  std::vector<SurveyPoint> there = start;
  for (std::size_t k = 0; k < there.size(); ++k) there[k].start_mm = found.at_mm[k];
  std::vector<std::vector<SurveyPoint>> tries;
  for (std::size_t k = 0; k < there.size(); ++k) {
    if (there[k].fixed || points.near[k]) continue;
    const std::vector<int> others = measured_from(seen, static_cast<int>(k));
    for (std::size_t j = 1; j < others.size(); ++j) {
      const Vec2& from = found.at_mm[at(others[j - 1])];
      const Vec2 base = (found.at_mm[at(others[j])] - from).normalized();
      const Vec2 arm = found.at_mm[k] - from;
      tries.push_back(there);
      tries.back()[k].start_mm = from + 2.0 * arm.dot(base) * base - arm;
    }
  }
  return tries;
}

// Places found together may have a mirror image together: looked for from starts thrown about the
// hints. The one nearest to the hints is taken, where they tell.
SurveyFound best_of_several(const Points& points, const Rows& rows,
                            const std::vector<SurveyPoint>& start,
                            std::vector<PlaceFault>& faults) {
  constexpr int kThrows = 24;
  constexpr double kSamePlaceMm = 0.01;
  constexpr double kAlike = 9.0;  // three standard deviations, squared
  constexpr double kHintMm = 10.0;
  std::minstd_rand random(1);
  std::uniform_real_distribution<double> off(-3.0 * kHintMm, 3.0 * kHintMm);
  SurveyFound best = survey(start, rows.seen);
  std::vector<std::vector<SurveyPoint>> tries = mirrored_starts(points, rows.seen, start, best);
  for (int k = 0; k < kThrows; ++k) {
    std::vector<SurveyPoint>& thrown = tries.emplace_back(start);
    for (SurveyPoint& point : thrown) {
      if (point.fixed) continue;
      point.start_mm.x() += off(random);
      point.start_mm.y() += off(random);
    }
  }
  for (const std::vector<SurveyPoint>& thrown : tries) {
    SurveyFound other = survey(thrown, rows.seen);
    std::size_t where = 0;
    if (most_apart(best, other, where) < kSamePlaceMm) continue;
    if (other.chi_square > best.chi_square + kAlike || !other.loose.empty()) continue;
    const double best_off = off_hints(points, best).value_or(0.0);
    const double other_off = off_hints(points, other).value_or(0.0);
    const double nearer = std::min(best_off, other_off);
    const bool told = std::max(best_off, other_off) >= std::max(kHintMm, 2.0 * nearer);
    const bool better_fit = best.chi_square > other.chi_square + kAlike;
    if (!told && !better_fit) {
      PlaceFault fault{PlaceTrouble::mirrored, points.list[where].name};
      fault.at_mm = best.at_mm[where];
      fault.other_mm = other.at_mm[where];
      faults.push_back(fault);
      return best;
    }
    if (better_fit || other_off < best_off) best = std::move(other);
  }
  return best;
}

// Where measurements contradict each other none is as good as it was said to be: what they miss
// each other by says how good they are.
void doubt_all(MeasuredPlaces& places) {
  SurveyFound& found = places.found;
  if (places.suspect.seen < 0 || found.spare <= 0) return;
  const double factor = std::sqrt(std::max(1.0, found.chi_square / found.spare));
  found.influence *= factor;
  found.covariance *= factor * factor;
}

void take(const Points& points, const Rows& rows, const placing::Starts& starts,
          MeasuredPlaces& places) {
  std::vector<SurveyPoint> start;
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    start.push_back({*starts.at_mm[k], points.list[k].exact});
  }
  places.found = starts.by_hint ? best_of_several(points, rows, start, places.faults)
                                : survey(start, rows.seen);
  const std::vector<Vec2>& found = places.found.at_mm;
  for (std::size_t k = 0; k < rows.rows.size(); ++k) {
    describe_row(rows.seen[k], places.found.misfits[k], found, places.rows[k]);
  }
  places.suspect = suspect_of(places.found);
  blame_loose(points, places.found, places.faults);
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    judge_side(points, rows.seen, found, static_cast<int>(k), places.faults);
  }
  if (!places.placed()) return;
  take_out_turns(points, places);
  doubt_all(places);
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    places.points[k].at_mm = found[k];
    if (!points.list[k].exact) {
      places.points[k].ellipse = ellipse_of(places.found, static_cast<int>(k));
    }
  }
  double longer_mm = 0.0;
  places.worst = worst_of(points, places.found, longer_mm);
  places.next = next_of(points, rows.seen, places.found);
}

DriveSpec with_coordinates(DriveSpec spec, const MeasuredPlaces& places) {
  for (const MeasuredPoint& point : places.points) {
    if (!point.at_mm) continue;
    PulleySpec& pulley = spec.pulleys[at(point.listed)];
    if (point.pivot) {
      std::get<SwingSpec>(pulley.tensioner->path).pivot_mm = point.at_mm;
    } else {
      pulley.at_mm = point.at_mm;
    }
  }
  return spec;
}

}  // namespace

MeasuredPlaces places_of(const DriveSpec& spec) {
  MeasuredPlaces places;
  Points points = placing::points_of(spec);
  Rows rows = placing::rows_of(spec, points);
  places.points = points.list;
  places.rows = rows.rows;
  const placing::Starts starts = placing::starts_of(points, rows.seen, places.faults);
  for (std::size_t k = 0; k < points.list.size(); ++k) {
    if (points.given[k]) places.points[k].at_mm = points.given[k];
  }
  if (!places.placed()) return places;
  take(points, rows, starts, places);
  const bool belts =
      std::any_of(spec.measured.begin(), spec.measured.end(),
                  [](const MeasuredSpec& measured) { return measured.belt_teeth.has_value(); });
  if (!belts || !places.placed()) return places;
  // A belt's way round is known only once the centres are: then it measures them once more.
  placing::add_belts(with_coordinates(spec, places), points, rows, places.faults);
  if (!places.placed()) return places;
  placing::Starts there;
  for (const Vec2& at_mm : places.found.at_mm) there.at_mm.emplace_back(at_mm);
  MeasuredPlaces with_belts = places;
  with_belts.rows = rows.rows;
  take(points, rows, there, with_belts);
  if (with_belts.placed()) return with_belts;
  // So far off that the centres would have to go elsewhere altogether: they stay, it is doubted.
  for (std::size_t k = places.rows.size(); k < rows.rows.size(); ++k) {
    std::vector<Vec2> rates(places.found.at_mm.size(), Vec2::Zero());
    MeasuredRow row = rows.rows[k];
    row.found = std::get<LengthSeen>(rows.seen[k]).length(places.found.at_mm, rates);
    row.off = row.measured - row.found;
    row.standardized = row.off / sigma_of(row.give_or_take.value);
    places.suspect = {static_cast<int>(k), false, {}};
    places.rows.push_back(row);
    const double factor = std::max(1.0, std::abs(row.standardized));
    places.found.influence *= factor;
    places.found.covariance *= factor * factor;
  }
  return places;
}

DriveSpec with_places(DriveSpec spec) {
  if (spec.measured.empty()) return spec;
  auto places = std::make_shared<MeasuredPlaces>(places_of(spec));
  spec = with_coordinates(std::move(spec), *places);
  spec.places = std::move(places);
  return spec;
}

}  // namespace twoturn
