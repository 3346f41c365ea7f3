#include "twoturn/drive/uncertainty.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/at.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/place.hpp"

namespace twoturn {
namespace {

// What is left of a key behind a start; empty where it does not begin so.
std::string_view behind(std::string_view key, std::string_view start) {
  return key.substr(0, start.size()) == start ? key.substr(start.size()) : std::string_view();
}

// "at_mm" of "at_mm[1]", and which of the two it is.
struct Field {
  std::string_view name;
  bool up = false;
};
Field field_of(std::string_view key) {
  const std::size_t bracket = key.rfind('[');
  if (bracket == std::string_view::npos || key.back() != ']') return {key, false};
  return {key.substr(0, bracket), key.substr(bracket) == "[1]"};
}

// Which number of a measurement, behind its key.
std::string number_in(MeasuredKind kind, int column) {
  switch (kind) {
    case MeasuredKind::place:
      return fmt::format("[{}]", column);
    case MeasuredKind::distance:
      return ".distance_mm";
    case MeasuredKind::bearing:
      return ".bearing_deg";
    case MeasuredKind::belt:
      return "";
  }
  return "";
}

// Which unknown of a profile moves what.
class Unknowns {
 public:
  Unknowns(const DriveSpec& spec, const Drive& drive) : spec_(spec), drive_(drive) {}

  std::vector<Unknown> all() {
    for (const GivenValue& given : spec_.given) {
      const double sigma = sigma_of(give_or_take(given).value);
      if (sigma > 0.0) add(given.key, sigma);
    }
    if (spec_.places && spec_.places->placed()) add_survey(*spec_.places);
    if (spec_.build.length_by_standard) add_length_tolerance();
    return std::move(unknowns_);
  }

 private:
  static constexpr double kOfDiameter = 0.5;

  void add(const std::string& key, double sigma) {
    Unknown unknown;
    unknown.key = key.substr(0, key.find('['));
    unknown.number = key;
    bool moves = false;
    if (const std::string_view belt = behind(key, "belt."); !belt.empty()) {
      moves = belt_moves(belt, sigma, unknown);
    } else if (const std::string_view build = behind(key, "build."); !build.empty()) {
      moves = build_moves(build, sigma, unknown);
    } else if (const std::string_view head = behind(key, "head."); !head.empty()) {
      moves = head_moves(head, sigma, unknown);
    } else if (const std::string_view rest = behind(key, "pulley."); !rest.empty()) {
      moves = pulley_moves(rest, sigma, unknown);
    }
    if (moves) unknowns_.push_back(std::move(unknown));
  }

  // On fixed centres the tolerance is what a mismatch is judged by; here it moves the tensioner.
  void add_length_tolerance() {
    const Belt& belt = drive_.belt;
    if (!drive_.tensioner || !belt.teeth || !belt.length_tolerance_mm) return;
    Unknown unknown;
    unknown.key = unknown.number = "build.length_by_standard";
    unknown.pitch_mm = sigma_of(*belt.length_tolerance_mm) / *belt.teeth;
    if (unknown.pitch_mm > 0.0) unknowns_.push_back(std::move(unknown));
  }

  const PulleySpec& listed(const Pulley& pulley) const { return spec_.pulleys[at(pulley.listed)]; }
  int index(const Pulley& pulley) const {
    return static_cast<int>(&pulley - drive_.pulleys.data());
  }
  const RenewedSpec* renewed(const Pulley& pulley) const {
    const auto found = spec_.build.renewed.find(pulley.name);
    return found == spec_.build.renewed.end() ? nullptr : &found->second;
  }

  // Every radius that a pitch or a thickness is in.
  bool belt_moves(std::string_view field, double sigma, Unknown& unknown) const {
    constexpr double kPitches = 10.0;
    const bool over_ten = field == "over_10_teeth_mm";
    if (field == "pitch_mm" || over_ten) {
      unknown.pitch_mm = over_ten ? sigma / kPitches : sigma;
      for (const Pulley& pulley : drive_.pulleys) {
        const double radius = unknown.pitch_mm * pulley.teeth / kFullTurn;
        if (pulley.toothed()) unknown.moves.push_back({index(pulley), Vec2::Zero(), radius});
      }
      return true;
    }
    const double back = field == "thickness_mm"                                          ? 1.0
                        : field == "tooth_height_mm" || field == "land_to_pitch_line_mm" ? -1.0
                                                                                         : 0.0;
    if (back == 0.0) return false;
    for (const Pulley& pulley : drive_.pulleys) {
      const double share = pulley.face == Face::back ? back : back < 0.0 ? 1.0 : 0.0;
      if (!pulley.toothed() && share != 0.0) {
        unknown.moves.push_back({index(pulley), Vec2::Zero(), share * sigma});
      }
    }
    return !unknown.moves.empty();
  }

  bool head_shift(std::string_view head, const Vec2& by, Unknown& unknown) const {
    for (const Pulley& pulley : drive_.pulleys) {
      if (listed(pulley).mount != head) continue;
      unknown.moves.push_back({index(pulley), by, 0.0});
      if (listed(pulley).tensioner) unknown.slack_mm = unknown.tight_mm = by;
    }
    return !unknown.moves.empty();
  }

  const HeadSpec* head(std::string_view name) const {
    const auto found = std::find_if(spec_.heads.begin(), spec_.heads.end(),
                                    [name](const HeadSpec& head) { return head.name == name; });
    return found == spec_.heads.end() || !found->deck_deg ? nullptr : &*found;
  }

  // A spec by the book has nothing under [build], whatever is given.
  bool build_moves(std::string_view field, double sigma, Unknown& unknown) const {
    if (field == "stretch_percent") {
      constexpr double kPercent = 0.01;
      unknown.pitch_mm =
          spec_.build.stretch_percent ? kPercent * sigma * drive_.belt.pitch_mm : 0.0;
      return unknown.pitch_mm > 0.0;
    }
    if (const std::string_view part = behind(field, "renewed."); !part.empty()) {
      return renewed_moves(part, sigma, unknown);
    }
    for (const auto& [list, name, way] :
         {std::tuple(&spec_.build.skim_mm, "skim_mm.", -1.0),
          std::tuple(&spec_.build.block_skim_mm, "block_skim_mm.", -1.0),
          std::tuple(&spec_.build.gasket_change_mm, "gasket_change_mm.", 1.0)}) {
      const std::string_view on = behind(field, name);
      if (on.empty() || list->count(std::string(on)) == 0 || !head(on)) continue;
      const double deck = Angle::clock(*head(on)->deck_deg).radians();
      return head_shift(on, way * sigma * Vec2(std::cos(deck), std::sin(deck)), unknown);
    }
    return false;
  }

  bool head_moves(std::string_view field, double sigma, Unknown& unknown) const {
    constexpr std::string_view kDeck = ".deck_deg";
    if (field.size() <= kDeck.size() || field.substr(field.size() - kDeck.size()) != kDeck) {
      return false;
    }
    const std::string on(field.substr(0, field.size() - kDeck.size()));
    const double lift = head_lift_mm(spec_.build, on);
    if (lift == 0.0 || !head(on)) return false;
    const double deck = Angle::clock(*head(on)->deck_deg).radians();
    // A clock angle falls as the direction turns on.
    return head_shift(on, lift * sigma * kRadPerDeg * Vec2(std::sin(deck), -std::cos(deck)),
                      unknown);
  }

  bool place_moves(const Pulley& pulley, const Field& field, double sigma, Unknown& unknown) const {
    unknown.moves.push_back({index(pulley), field.up ? Vec2(0, sigma) : Vec2(sigma, 0), 0.0});
    return true;
  }

  bool renewed_moves(std::string_view part, double sigma, Unknown& unknown) const {
    for (const Pulley& pulley : drive_.pulleys) {
      const RenewedSpec* with = renewed(pulley);
      const Field field = field_of(behind(part, pulley.name + "."));
      if (!with || field.name.empty()) continue;
      if (field.name == "at_mm" && with->at_mm) return place_moves(pulley, field, sigma, unknown);
      if (field.name != "diameter_mm" || !with->diameter_mm) return false;
      unknown.moves.push_back({index(pulley), Vec2::Zero(), kOfDiameter * sigma});
      return true;
    }
    return false;
  }

  // Whether the survey has the pulley's place, and so how well it is known.
  bool surveyed(const Pulley& pulley) const {
    if (!spec_.places || !spec_.places->placed()) return false;
    const std::vector<MeasuredPoint>& points = spec_.places->points;
    return std::any_of(points.begin(), points.end(),
                       [&](const MeasuredPoint& point) { return point.listed == pulley.listed; });
  }

  bool pulley_moves(std::string_view rest, double sigma, Unknown& unknown) const {
    for (const Pulley& pulley : drive_.pulleys) {
      const std::string_view key = behind(rest, pulley.name + ".");
      if (key.empty()) continue;
      const RenewedSpec* with = renewed(pulley);
      const Field field = field_of(key);
      if (field.name == "diameter_mm") {
        if (with && with->diameter_mm) return false;
        unknown.moves.push_back({index(pulley), Vec2::Zero(), kOfDiameter * sigma});
        return true;
      }
      if (field.name == "at_mm") {
        const bool fixed = pulley.role == Role::crankshaft || surveyed(pulley);
        if (fixed || (with && with->at_mm)) return false;
        return place_moves(pulley, field, sigma, unknown);
      }
      const std::string_view tensioner = behind(key, "tensioner.");
      if (!tensioner.empty()) return tensioner_moves(pulley, tensioner, sigma, unknown);
    }
    return false;
  }

  bool tensioner_moves(const Pulley& pulley, std::string_view key, double sigma,
                       Unknown& unknown) const {
    const Field field = field_of(key);
    if (field.name == "pivot_mm") {
      return !surveyed(pulley) && place_moves(pulley, field, sigma, unknown);
    }
    const Vec2 along = field.up ? Vec2(0, sigma) : Vec2(sigma, 0);
    if (field.name == "slack_at_mm") unknown.slack_mm = along;
    if (field.name == "tight_at_mm") unknown.tight_mm = along;
    if (field.name == "arm_mm") unknown.arm_mm = sigma;
    if (field.name == "thickest_mm") unknown.arm_mm = sigma / 2.0;
    if (field.name == "thinnest_mm") unknown.arm_mm = -sigma / 2.0;
    return unknown.arm_mm != 0.0 || unknown.slack_mm != Vec2::Zero() ||
           unknown.tight_mm != Vec2::Zero();
  }

  // Each measurement is an unknown of its own, and moves every centre that hangs on it.
  void add_survey(const MeasuredPlaces& places) {
    Eigen::Index column = 0;
    for (const MeasuredRow& row : places.rows) {
      const int columns = row.kind == MeasuredKind::place ? 2 : 1;
      // A belt that is doubted had no part in placing them.
      if (column >= places.found.influence.cols()) return;
      for (int k = 0; k < columns; ++k, ++column) {
        Unknown unknown;
        unknown.key = row.number > 0 ? fmt::format("measured.{}", row.number)
                                     : fmt::format("pulley.{}.at_mm", row.from);
        unknown.number = unknown.key + number_in(row.kind, k);
        for (std::size_t p = 0; p < places.points.size(); ++p) {
          const Vec2 move =
              places.found.influence.block<2, 1>(2 * static_cast<Eigen::Index>(p), column);
          if (move == Vec2::Zero()) continue;
          for (const Pulley& pulley : drive_.pulleys) {
            if (pulley.listed != places.points[p].listed) continue;
            const RenewedSpec* with = renewed(pulley);
            if (with && with->at_mm) continue;
            unknown.moves.push_back({index(pulley), move, 0.0});
          }
        }
        unknown.turn_rad = places.turns_rad[static_cast<std::size_t>(column)];
        unknown.about_mm = places.turned_about_mm;
        if (!unknown.moves.empty() || unknown.turn_rad != 0.0) {
          unknowns_.push_back(std::move(unknown));
        }
      }
    }
  }

  const DriveSpec& spec_;
  const Drive& drive_;
  std::vector<Unknown> unknowns_;
};

}  // namespace

Uncertainty::Uncertainty(const DriveSpec& fitted, const Drive& drive)
    : unknowns_(Unknowns(fitted, drive).all()) {}

// What a rad of turning every centre about the crank's adds to the length: nothing but what the
// tensioner's arm, which stays as it is read, lags behind.
static double turn_effect(const Drive& drive, const std::vector<Wheel>& wheels,
                          const std::vector<Vec2>& gradient) {
  if (!drive.tensioner || !drive.tensioner->path.swing()) return 0.0;
  const std::size_t moved = at(drive.tensioner->pulley);
  const Vec2 arm = wheels[moved].centre_mm - drive.tensioner->path.swing()->pivot_mm;
  return -gradient[moved].dot(Vec2(-arm.y(), arm.x()));
}

std::vector<double> Uncertainty::length_effects(const Drive& drive, double q, int teeth) const {
  if (exact()) return {};
  const std::vector<Wheel> wheels = placed_wheels(drive, q);
  TangentPath path;
  if (!solve_path(wheels, path).solved()) return {};
  std::vector<Vec2> gradient(wheels.size());
  centre_gradient(path, gradient);
  Vec2 roller = Vec2::Zero();
  Vec2 arm = Vec2::Zero();
  double slide = 0.0;
  if (drive.tensioner) {
    roller = gradient[at(drive.tensioner->pulley)];
    const TensionerPath& way = drive.tensioner->path;
    if (const Swing* swing = way.swing())
      arm = (way.centre_mm(q) - swing->pivot_mm) / swing->arm_mm;
    slide = way.travel(q);
  }
  const bool slides = drive.tensioner && drive.tensioner->path.slide();
  const double turned = turn_effect(drive, wheels, gradient);
  std::vector<double> effects;
  effects.reserve(unknowns_.size());
  for (const Unknown& unknown : unknowns_) {
    double effect = unknown.arm_mm * roller.dot(arm) - teeth * unknown.pitch_mm;
    if (unknown.turn_rad != 0.0) effect += unknown.turn_rad * turned;
    for (const Unknown::Move& move : unknown.moves) {
      const bool end = slides && move.pulley == drive.tensioner->pulley;
      if (!end) effect += gradient[at(move.pulley)].dot(move.centre_mm);
      effect += path.wraps[at(move.pulley)].radians() * move.radius_mm;
    }
    if (slides) {
      effect += roller.dot((1.0 - slide) * unknown.slack_mm + slide * unknown.tight_mm);
    }
    effects.push_back(effect);
  }
  return effects;
}

// Every centre about a place, of a swinging tensioner its pivot.
static void turn_all(const Drive& drive, double by_rad, const Vec2& about,
                     std::vector<Wheel>& wheels) {
  const Eigen::Rotation2Dd turn(by_rad);
  const Swing* swing = drive.tensioner ? drive.tensioner->path.swing() : nullptr;
  for (std::size_t k = 0; k < wheels.size(); ++k) {
    const bool moved = swing && static_cast<int>(k) == drive.tensioner->pulley;
    const Vec2 arm = moved ? Vec2(wheels[k].centre_mm - swing->pivot_mm) : Vec2(Vec2::Zero());
    wheels[k].centre_mm = about + arm + turn * (wheels[k].centre_mm - arm - about);
  }
}

void Uncertainty::place_wheels_off(const Drive& drive, double q, const Unknown& unknown,
                                   double sigmas, std::vector<Wheel>& wheels) const {
  place_wheels(drive, q, wheels);
  const bool slides = drive.tensioner && drive.tensioner->path.slide();
  if (unknown.turn_rad != 0.0) {
    turn_all(drive, sigmas * unknown.turn_rad, unknown.about_mm, wheels);
  }
  for (const Unknown::Move& move : unknown.moves) {
    Wheel& wheel = wheels[at(move.pulley)];
    wheel.radius_mm += sigmas * move.radius_mm;
    const bool end = slides && move.pulley == drive.tensioner->pulley;
    if (!end) wheel.centre_mm += sigmas * move.centre_mm;
  }
  if (!drive.tensioner) return;
  const TensionerPath& way = drive.tensioner->path;
  Vec2& roller = wheels[at(drive.tensioner->pulley)].centre_mm;
  if (const Swing* swing = way.swing()) {
    roller += sigmas * unknown.arm_mm / swing->arm_mm * (way.centre_mm(q) - swing->pivot_mm);
  } else {
    const double share = way.travel(q);
    roller += sigmas * ((1.0 - share) * unknown.slack_mm + share * unknown.tight_mm);
  }
}

Unsure unsure_of(const std::vector<Effect>& effects) {
  Unsure unsure;
  double variance = 0.0;
  std::vector<std::pair<std::string_view, double>> by_key;
  for (const Effect& effect : effects) {
    const double square = effect.by * effect.by;
    variance += square;
    const auto same = [&](const auto& other) { return other.first == effect.key; };
    const auto found = std::find_if(by_key.begin(), by_key.end(), same);
    if (found == by_key.end()) {
      by_key.emplace_back(effect.key, square);
    } else {
      found->second += square;
    }
  }
  if (variance == 0.0) return unsure;
  const auto most =
      std::max_element(by_key.begin(), by_key.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  unsure.give_or_take = kSigmas95 * std::sqrt(variance);
  unsure.most = std::string(most->first);
  unsure.most_share = most->second / variance;
  return unsure;
}

Unsure Uncertainty::sum(const std::vector<double>& effects) const {
  std::vector<Effect> by_key;
  by_key.reserve(effects.size());
  for (std::size_t k = 0; k < effects.size(); ++k) {
    by_key.push_back({unknowns_[k].key, effects[k]});
  }
  return unsure_of(by_key);
}

Unsure Uncertainty::length(const Drive& drive, double q, int teeth) const {
  return sum(length_effects(drive, q, teeth));
}

Unsure Uncertainty::reading(const Drive& drive, double q, int teeth, double rate) const {
  Unsure unsure = length(drive, q, teeth);
  if (unsure.give_or_take > 0.0) unsure.give_or_take /= std::abs(rate);
  return unsure;
}

bool certainly_beyond(double by, const Unsure& unsure) {
  constexpr double kSigmasOneSide95 = 1.6448536269514722;
  return by > 0.0 && by >= kSigmasOneSide95 * unsure.sigma();
}

double normal_share(double sigmas) { return 0.5 * std::erfc(-sigmas / std::sqrt(2.0)); }

}  // namespace twoturn
