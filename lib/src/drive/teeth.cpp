#include "twoturn/drive/teeth.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "base/at.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "twoturn/geometry/moved_wheel.hpp"

namespace twoturn {
namespace {

void add_neighbours(const TensionerCurve& curve, const Drive& drive, TeethAnswer& answer) {
  const double pitch = drive.belt.tooth_mm();
  const auto gap = [&](int teeth) {
    const double length = teeth * pitch;
    if (length < curve.least_mm()) return length - curve.least_mm();
    return length > curve.greatest_mm() ? length - curve.greatest_mm() : 0.0;
  };
  std::vector<int> near;
  const int below = static_cast<int>(std::floor((curve.least_mm() - kOnLengthMm) / pitch));
  const int above = static_cast<int>(std::ceil((curve.greatest_mm() + kOnLengthMm) / pitch));
  for (int teeth = below; teeth <= above; ++teeth) near.push_back(teeth);
  if (answer.belt_teeth) near.push_back(*answer.belt_teeth);
  std::sort(near.begin(), near.end());
  near.erase(std::unique(near.begin(), near.end()), near.end());
  for (const int teeth : near) {
    if (!answer.goes_on(teeth)) answer.nearby.push_back({teeth, gap(teeth), {}, {}, 0.0});
  }
}

void add_fixed(const Drive& drive, const MoveQuestion& move, double length_mm,
               TeethAnswer& answer) {
  const int count = static_cast<int>(drive.pulleys.size());
  const int asked = move.pulley.empty() ? count - 1 : drive.index_of(move.pulley);
  const int moved = asked < 0 ? count - 1 : asked;
  const Pulley& pulley = drive.pulleys[at(moved)];
  const Vec2 from_crank = pulley.wheel.centre_mm - drive.pulleys.front().wheel.centre_mm;
  const Angle along = move.along_deg ? Angle::clock(*move.along_deg)
                                     : Angle::radians(std::atan2(from_crank.y(), from_crank.x()));
  const Vec2 direction(std::cos(along.radians()), std::sin(along.radians()));
  answer.moved = pulley.name;
  answer.move_along_deg = along.clock_deg();
  const int middle = static_cast<int>(std::lround(answer.teeth_exact));
  std::vector<int> near{middle - 1, middle, middle + 1};
  if (answer.belt_teeth) near.push_back(*answer.belt_teeth);
  std::sort(near.begin(), near.end());
  near.erase(std::unique(near.begin(), near.end()), near.end());
  for (const int teeth : near) {
    const double wanted = drive.belt.length_mm(teeth);
    answer.nearby.push_back(
        {teeth, wanted - length_mm, move_for_length(drive, moved, direction, wanted), {}, 0.0});
    const bool fits = answer.tolerance_mm && std::abs(wanted - length_mm) <= *answer.tolerance_mm;
    if (fits) answer.fits.push_back({teeth, {}, 1.0});
  }
}

// Of several counts that go on, the one that meets the marks of the drive by the book.
std::optional<int> right_count(const Drive& drive, const std::vector<FittingCount>& fits,
                               const Fitted& book) {
  if (fits.size() == 1) return fits.front().teeth;
  const std::optional<Tensioner>& tensioner = book.drive().tensioner;
  if (!tensioner || !tensioner->set_q) return std::nullopt;
  std::optional<int> right;
  for (const FittingCount& count : fits) {
    const std::vector<Setting> settings =
        book.curve()->settings_for(drive.belt.length_mm(count.teeth));
    const Setting* meant = meant_setting(settings, *tensioner);
    if (!meant || tensioner->path.apart(meant->q, *tensioner->set_q) > tensioner->set_give)
      continue;
    if (right) return std::nullopt;
    right = count.teeth;
  }
  return right;
}

// The chance that a belt so much longer than the shortest that goes on, and so much shorter than
// the longest, goes on. Exact: all or nothing.
double normal_chance(double over_least_mm, double least_sigma, double under_greatest_mm,
                     double greatest_sigma) {
  const auto share = [](double mm, double sigma) {
    if (sigma > 0.0) return normal_share(mm / sigma);
    return mm >= -kOnLengthMm ? 1.0 : 0.0;
  };
  return std::max(
      0.0, share(over_least_mm, least_sigma) + share(under_greatest_mm, greatest_sigma) - 1.0);
}

void add_chances(const Fitted& fitted, TeethAnswer& answer) {
  if (fitted.uncertainty().exact()) return;
  for (FittingCount& count : answer.fits) {
    count.probability = chance_of(fitted, answer, count.teeth).probability;
  }
  for (NearbyCount& count : answer.nearby) {
    const CountChance chance = chance_of(fitted, answer, count.teeth);
    count.probability = chance.probability;
    count.unsure = chance.unsure;
  }
}

TravelRow travel_row(const Drive& drive, const TensionerCurve& curve, double q,
                     MovedWheel& roller) {
  const PathResult result = roller.put(drive.tensioner->path.centre_mm(q));
  TravelRow row;
  row.place = drive.tensioner->at(q);
  if (!result.solved()) {
    row.refused = describe_refusal(drive, {Refused::no_tangent, result.none.from, result.none.to,
                                           result.none.distance_mm, result.none.needed_mm});
    return row;
  }
  row.wrap_deg = roller.path().wraps[at(drive.tensioner->pulley)].degrees();
  if (!curve.runs_at(q)) {
    const std::vector<Refusal> refused = roller.reasons_against();
    if (!refused.empty()) row.refused = describe_refusal(drive, refused.front());
  }
  row.setting = curve.describe(q, roller);
  row.teeth_exact = row.setting->length_mm / drive.belt.tooth_mm();
  return row;
}

TravelEnd travel_end(const Drive& drive, const TensionerCurve& curve, double q,
                     const std::optional<Refusal>& cause) {
  TravelEnd end{curve.describe(q), {}};
  if (cause) end.cause = describe_refusal(drive, *cause);
  return end;
}

void describe_tensioner(const Drive& drive, TensionerAnswer& answer) {
  const Tensioner& tensioner = *drive.tensioner;
  answer.pulley = drive.pulleys[at(tensioner.pulley)].name;
  answer.kind = tensioner.path.kind();
  answer.belt_teeth = drive.belt.teeth;
  answer.set_give = tensioner.set_give;
  const double travel = tensioner.path.travel_length();
  answer.travel_length = tensioner.path.swing() ? travel / kRadPerDeg : travel;
  if (const Swing* swing = tensioner.path.swing()) {
    answer.tightens = swing->sense > 0 ? Turn::anticlockwise : Turn::clockwise;
    answer.arm_mm = swing->arm_mm;
  } else {
    const Vec2 way = tensioner.path.centre_rate(0.0);
    answer.tightens_towards_deg = Angle::radians(std::atan2(way.y(), way.x())).clock_deg();
  }
}

// Which way it tightens is told by the geometry; what the profile says is held against it. An end
// some degrees past the slackest or the tightest place lets a little off either way.
void judge_way(const TensionerCurve& curve, TensionerAnswer& answer) {
  constexpr double kLittle = 0.02;
  answer.lets_off = curve.lets_off();
  const std::optional<double> other = curve.lets_off_the_other_way();
  if (!other || *other > kLittle) return;
  answer.either_way = answer.lets_off <= kLittle;
  // Marks on the way as it is said, where it tightens, bear it out.
  const bool confirmed =
      answer.maker && answer.maker->in_travel && answer.maker->over_centre == OverCentre::before;
  if (answer.either_way || confirmed) return;
  const bool clockwise = answer.tightens == Turn::clockwise;
  answer.only_tightens = clockwise ? Turn::anticlockwise : Turn::clockwise;
  answer.meant.reset();
  answer.apart.reset();
}

// What a belt of a length is off by, as one pulley moves along a line.
class LengthAlong {
 public:
  LengthAlong(const Drive& drive, int pulley, const Vec2& direction, double length_mm)
      : around_(drive.around),
        direction_(direction),
        length_mm_(length_mm),
        wheels_(placed_wheels(drive, 0.0)),
        moved_(wheels_[at(pulley)]),
        home_(moved_.centre_mm) {}

  // How far the farthest rim is from where the pulley stands.
  double size_mm() const {
    double size = 0.0;
    for (const Wheel& wheel : wheels_) {
      size = std::max(size, (wheel.centre_mm - home_).norm() + wheel.radius_mm);
    }
    return size;
  }

  std::optional<double> off(double move) {
    moved_.centre_mm = home_ + move * direction_;
    const PathResult result = path_length(wheels_);
    if (!result.solved()) return std::nullopt;
    return result.length_mm - length_mm_;
  }

  // The move between two of another sign, unless their change of sign is a jump: a wrap that
  // goes from nothing to a whole turn.
  std::optional<double> root(double from, double from_off, double to, double to_off) {
    if (from > to) return root(to, to_off, from, from_off);
    std::uintmax_t most = 80;
    const auto plain = [this](double x) { return off(x).value_or(0.0); };
    const auto found = boost::math::tools::toms748_solve(
        plain, from, to, from_off, to_off, boost::math::tools::eps_tolerance<double>(50), most);
    const double move = (found.first + found.second) / 2.0;
    if (meets(move)) return move;
    return std::nullopt;
  }

 private:
  bool meets(double move) {
    constexpr double kMetMm = 1e-6;
    const std::optional<double> left = off(move);
    TangentPath path;
    return left && std::abs(*left) <= kMetMm && solve_path(wheels_, path).solved() &&
           can_run(wheels_, path, around_);
  }

  const Surroundings& around_;
  Vec2 direction_;
  double length_mm_;
  std::vector<Wheel> wheels_;
  Wheel& moved_;
  Vec2 home_;
};

}  // namespace

std::optional<double> move_for_length(const Drive& drive, int pulley, const Vec2& direction,
                                      double length_mm) {
  LengthAlong along(drive, pulley, direction, length_mm);
  const std::optional<double> here = along.off(0.0);
  if (!here) return std::nullopt;
  if (std::abs(*here) <= kOnLengthMm) return 0.0;
  // Walks outwards both ways at once; the first change of sign is the smallest move.
  constexpr int kSteps = 400;
  const double step = along.size_mm() / 2.0 / kSteps;
  double last[2] = {*here, *here};
  bool open[2] = {true, true};
  for (int k = 1; k <= kSteps; ++k) {
    for (const int side : {0, 1}) {
      if (!open[side]) continue;
      const double way = side == 0 ? step : -step;
      const std::optional<double> value = along.off(way * k);
      open[side] = value.has_value();
      if (!value) continue;
      if (*value * last[side] <= 0.0) {
        const auto found = along.root(way * (k - 1), last[side], way * k, *value);
        if (found) return found;
      }
      last[side] = *value;
    }
  }
  return std::nullopt;
}

// The slack end is where the shortest belt goes on, the tight end where the longest does.
CountChance chance_of(const Fitted& fitted, const TeethAnswer& answer, int teeth) {
  const Uncertainty& known = fitted.uncertainty();
  const Drive& drive = fitted.drive();
  const TensionerCurve* curve = fitted.curve();
  CountChance chance;
  const double length = drive.belt.length_mm(teeth);
  const double path = answer.teeth_exact * drive.belt.tooth_mm();
  if (curve && curve->usable().empty()) return chance;
  const double spare = curve ? 0.0 : answer.tolerance_mm.value_or(0.0);
  const double least = curve ? curve->least_mm() : path - spare;
  const double greatest = curve ? curve->greatest_mm() : path + spare;
  const Unsure slack = known.length(drive, curve ? curve->usable().front().from_q : 0.0, teeth);
  const Unsure tight = curve ? known.length(drive, curve->usable().back().to_q, teeth) : slack;
  chance.unsure = length < least ? slack : tight;
  chance.mismatch_mm = !curve              ? length - path
                       : length < least    ? length - least
                       : length > greatest ? length - greatest
                                           : 0.0;
  chance.probability =
      normal_chance(length - least, slack.sigma(), greatest - length, tight.sigma());
  return chance;
}

bool TeethAnswer::goes_on(int teeth) const {
  return std::any_of(fits.begin(), fits.end(),
                     [teeth](const FittingCount& count) { return count.teeth == teeth; });
}

bool TensionerAnswer::holds_its_belt() const {
  if (usable.empty() || !belt_teeth) return !usable.empty();
  return meant && meant->over_centre != OverCentre::past;
}

TeethAnswer fitting_teeth(const Fitted& fitted, const MoveQuestion& move, const Fitted* book) {
  const Drive& drive = fitted.drive();
  const TensionerCurve* curve = fitted.curve();
  TeethAnswer answer;
  answer.fit = fitted.fit();
  answer.belt_teeth = drive.belt.teeth;
  // Counts are judged at the maker's marks or mid-travel, whatever belt is on.
  ChosenSetting chosen = choose_setting(drive, nullptr);
  answer.choice = chosen.choice;
  const PathResult result = path_length(placed_wheels(drive, chosen.q));
  if (result.solved()) answer.teeth_exact = result.length_mm / drive.belt.tooth_mm();
  if (curve) {
    answer.fits = fitting_counts(*curve, drive.belt);
    if (!curve->usable().empty()) add_neighbours(*curve, drive, answer);
  } else if (result.solved()) {
    const std::vector<Wheel> wheels = placed_wheels(drive, 0.0);
    TangentPath path;
    const bool runs = solve_path(wheels, path).solved() && can_run(wheels, path, drive.around);
    answer.tolerance_mm = drive.belt.length_tolerance_mm;
    if (!answer.tolerance_mm) answer.tolerance_mm = usual_length_tolerance_mm(result.length_mm);
    if (runs) add_fixed(drive, move, result.length_mm, answer);
  }
  add_chances(fitted, answer);
  answer.right_teeth =
      right_count(drive, answer.fits, curve && book && book->curve() ? *book : fitted);
  return answer;
}

std::optional<TensionerAnswer> preview_tensioner(const Fitted& fitted, int rows) {
  const Drive& drive = fitted.drive();
  if (!drive.tensioner) return std::nullopt;
  const Tensioner& tensioner = *drive.tensioner;
  const TensionerCurve& curve = *fitted.curve();
  TensionerAnswer answer;
  answer.fit = fitted.fit();
  describe_tensioner(drive, answer);
  answer.least_mm = curve.least_mm();
  answer.greatest_mm = curve.greatest_mm();
  MovedWheel roller = curve.scratch();
  for (int k = 0; k < rows; ++k) {
    const double q = tensioner.path.travel_length() * k / std::max(1, rows - 1);
    answer.rows.push_back(travel_row(drive, curve, q, roller));
  }
  if (drive.belt.teeth) {
    answer.settings = curve.settings_for(drive.belt.length_mm(*drive.belt.teeth));
    if (const Setting* meant = meant_setting(answer.settings, tensioner)) {
      answer.meant = *meant;
      answer.unsure = fitted.uncertainty().reading(drive, meant->q, *drive.belt.teeth, meant->rate);
      answer.adjustment_unsure =
          fitted.uncertainty().length(drive, curve.longest_ahead(meant->q), *drive.belt.teeth);
    }
  }
  if (tensioner.set_q && curve.at(*tensioner.set_q)) {
    answer.maker = curve.describe(*tensioner.set_q, roller);
    if (answer.meant) answer.apart = tensioner.path.apart(answer.meant->q, answer.maker->q);
  }
  const double tight_q = tensioner.path.travel_length();
  if (curve.at(0.0)) answer.slack_end = curve.describe(0.0, roller);
  if (curve.at(tight_q)) answer.tight_end = curve.describe(tight_q, roller);
  judge_way(curve, answer);
  for (const double q : curve.over_centres()) {
    answer.over_centres.push_back(curve.describe(q, roller));
  }
  for (const UsableTravel& range : curve.usable()) {
    answer.usable.emplace_back(travel_end(drive, curve, range.from_q, range.slack_cause),
                               travel_end(drive, curve, range.to_q, range.tight_cause));
  }
  return answer;
}

}  // namespace twoturn
