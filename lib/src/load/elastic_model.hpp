// An elastic belt under its loads, as the search for its balance sees it.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "twoturn/base/assert.hpp"
#include "twoturn/load/elastic_belt.hpp"

namespace twoturn::elastic {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;
using Place = Eigen::Ref<const Vector>;

// Shares of the greatest pull: what a solve aims at, and what it is content with where the rounding
// of the path's length, times a run's stiffness, leaves no better.
inline constexpr double kWanted = 1e-10;
inline constexpr double kEnough = 1e-8;
// A shaft turns no further in one step, so that the fall of energy is followed and no lobe is
// stepped over; a tensioner goes no further than this share of its travel.
inline constexpr double kMostTurn = 0.02;
inline constexpr double kMostOfTravel = 0.05;
// A move of less belt is not looked at for a jump.
inline constexpr double kLeastSnapMm = 0.05;
inline constexpr int kMostSteps = 2000;
inline constexpr int kMostHalvings = 40;
// A curvature is negative below this share of the greatest, and none above it.
inline constexpr double kFlat = 1e-9;
// A way with less than this share of the greatest curvature is taken to have it: steps stay finite.
inline constexpr double kLeastCurvature = 1e-3;
// dL/dq is told apart over this share of the travel: half of double's digits are left either way.
inline constexpr double kApart = 1e-6;

// Everything at one place. A place holds, in mm of belt, how far each driven shaft is ahead at its
// pitch radius, then how far a sprung tensioner has moved from q0 times the rate there. So all
// derivatives of the energy (N mm) are pulls (N) and stiffnesses (N/mm).
// One block of numbers: a turn of the belt makes hundreds of looks.
class Look {
 public:
  Look(Eigen::Index unknowns, Eigen::Index shafts)
      : unknowns_(unknowns), columns_(Columns::Zero(shafts, kColumns)) {}

  auto place() { return columns_.col(0).head(unknowns_); }
  auto place() const { return columns_.col(0).head(unknowns_); }
  // The energy's gradient: what is not balanced.
  auto pull() { return columns_.col(1).head(unknowns_); }
  auto pull() const { return columns_.col(1).head(unknowns_); }
  auto tension() { return columns_.col(2); }
  auto tension() const { return columns_.col(2); }
  // Of each shaft's load, the crank's own too, and its rate, N mm/rad.
  auto torque() { return columns_.col(3); }
  auto torque() const { return columns_.col(3); }
  auto torque_rate() { return columns_.col(4); }
  auto torque_rate() const { return columns_.col(4); }
  bool finite() const { return columns_.allFinite(); }

  LengthAt length = {};
  double scale_n = 0.0;
  Settled fault = Settled::yes;

 private:
  static constexpr int kColumns = 5;
  using Columns = Eigen::Matrix<double, Eigen::Dynamic, kColumns>;

  Eigen::Index unknowns_;
  Columns columns_;
};

inline Eigen::Map<const Vector> mapped(const std::vector<double>& values) {
  return {values.data(), static_cast<Eigen::Index>(values.size())};
}

class Model {
 public:
  Model(const ElasticBelt& belt, std::span<const ShaftLoad> loads,
        std::span<const double> rigid_rad);

  bool has_reference() const { return !belt_.sprung || reference_.rate > 0.0; }
  Eigen::Index shafts() const { return shafts_; }  // driven ones
  Eigen::Index size() const { return shafts_ + (belt_.sprung ? 1 : 0); }
  double ahead_rad(const Place& place, Eigen::Index shaft) const {
    return place[shaft - 1] / radius_[shaft];
  }

  Vector place_of(const ElasticState& state) const;

  double q_of(const Place& place) const;

  Look look(const Place& place) const;

  Matrix stiffness(const Look& look) const;

  Arm arm_of(const Look& look) const {
    if (!belt_.sprung) return Arm::locked;
    const double place = look.place()[shafts_];
    const double pull = look.pull()[shafts_];
    if (place >= tight_end_ && pull <= 0.0) return Arm::on_tight_stop;
    if (place <= slack_end_ && pull >= 0.0) return Arm::on_slack_stop;
    return Arm::balanced;
  }

  // How many unknowns are free: a tensioner that its stop holds is not.
  Eigen::Index free(const Look& look) const {
    return arm_of(look) == Arm::balanced ? size() : shafts_;
  }

  bool leaves_travel(const Place& place, double arm_step) const {
    return (place[shafts_] >= tight_end_ && arm_step > 0.0) ||
           (place[shafts_] <= slack_end_ && arm_step < 0.0);
  }

  // Where a step leads, cut to what may be gone at once, and to the tensioner's stops.
  Vector end_of(const Place& place, const Place& step) const;

  double belt_energy(const Look& look) const {
    return 0.5 * look.tension().cwiseAbs2().cwiseQuotient(run_stiffness_).sum();
  }

  double arm_energy(const Look& look) const {
    return belt_.sprung ? spring_energy_change(belt_.sprung->q0, q_of(look.place())) : 0.0;
  }

  double energy_change(const Look& from, const Look& to, int pieces) const;

  // By hand: what the belt takes, and the crank's own load.
  double crank_torque(const Look& look) const {
    return radius_[0] * (look.tension()[shafts_] - look.tension()[0]) + look.torque()[0];
  }

  bool slack(const Look& look, Eigen::Index run) const {
    return look.tension()[run] <= kWanted * look.scale_n;
  }

  // Nothing holds a shaft between two slack runs whose load neither pushes nor resists a turn.
  bool undetermined(const Look& look, Eigen::Index shaft) const;

 private:
  // K e e^T, e being by how much the run is longer for each unknown: its two shafts and the roller.
  void add_run(const Look& look, Eigen::Index run, Matrix& whole) const;

  double spring(double q) const {
    return belt_.static_tension_n * reference_.rate -
           belt_.sprung->stiffness * (q - belt_.sprung->q0);
  }

  void load(Look& look) const;

  void stretch(Look& look, double longer_mm) const;

  // d2L/dq2 from the rates on both sides; 0 at the path's end, where steps are then no longer
  // Newton's.
  double bend(double q) const;

  double spring_energy_change(double from_q, double to_q) const {
    return -0.5 * (spring(from_q) + spring(to_q)) * (to_q - from_q);
  }

  // By Gauss's three points a piece.
  double load_energy_change(Eigen::Index shaft, double from_rad, double to_rad, int pieces) const;

  const ElasticBelt& belt_;
  std::span<const ShaftLoad> loads_;
  std::span<const double> rigid_rad_;
  Eigen::Map<const Vector> radius_;
  Eigen::Map<const Vector> run_stiffness_;
  Eigen::Index shafts_;
  LengthAt reference_;
  double travel_ = 0.0;
  double slack_end_ = 0.0;
  double tight_end_ = 0.0;
};

}  // namespace twoturn::elastic
