#include "twoturn/load/elastic_belt.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

// Shares of the greatest pull: what a solve aims at, and what it is content with where the rounding
// of the path's length, times a run's stiffness, leaves no better.
constexpr double kWanted = 1e-10;
constexpr double kEnough = 1e-8;
// A shaft turns no further in one step, so that the fall of energy is followed and no lobe is
// stepped over; a tensioner goes no further than this share of its travel.
constexpr double kMostTurn = 0.02;
constexpr double kMostOfTravel = 0.05;
// A move of less belt is not looked at for a jump.
constexpr double kLeastSnapMm = 0.05;
constexpr int kMostSteps = 2000;
constexpr int kMostHalvings = 40;
// A curvature is negative below this share of the greatest, and none above it.
constexpr double kFlat = 1e-9;
// A way with less than this share of the greatest curvature is taken to have it: steps stay finite.
constexpr double kLeastCurvature = 1e-3;
// dL/dq is told apart over this share of the travel: half of double's digits are left either way.
constexpr double kApart = 1e-6;

// Everything at one place. A place holds, in mm of belt, how far each driven shaft is ahead at its
// pitch radius, then how far a sprung tensioner has moved from q0 times the rate there. So all
// derivatives of the energy (N mm) are pulls (N) and stiffnesses (N/mm).
struct Look {
  Vector place;
  Vector tension;
  Vector pull;         // the energy's gradient: what is not balanced
  Vector torque;       // of each shaft's load, the crank's own too
  Vector torque_rate;  // N mm/rad
  LengthAt length = {};
  double scale_n = 0.0;
  Settled fault = Settled::yes;
};

Eigen::Map<const Vector> mapped(const std::vector<double>& values) {
  return {values.data(), static_cast<Eigen::Index>(values.size())};
}

class Model {
 public:
  Model(const ElasticBelt& belt, std::span<const ShaftLoad> loads,
        std::span<const double> rigid_rad)
      : belt_(belt),
        loads_(loads),
        rigid_rad_(rigid_rad),
        radius_(mapped(belt.radius_mm)),
        run_stiffness_(mapped(belt.run_stiffness_n_mm)),
        shafts_(radius_.size() - 1) {
    TWOTURN_ASSERT(shafts_ >= 1, static_cast<double>(shafts_));
    TWOTURN_ASSERT(run_stiffness_.size() == radius_.size(), static_cast<double>(shafts_));
    TWOTURN_ASSERT(loads.size() == belt.radius_mm.size(), static_cast<double>(loads.size()));
    TWOTURN_ASSERT(rigid_rad.size() == loads.size(), static_cast<double>(rigid_rad.size()));
    TWOTURN_ASSERT(radius_.minCoeff() > 0.0, radius_.minCoeff());
    TWOTURN_ASSERT(run_stiffness_.minCoeff() > 0.0, run_stiffness_.minCoeff());
    if (!belt.sprung) return;
    const SprungTensioner& arm = *belt.sprung;
    TWOTURN_ASSERT(arm.slack_stop <= arm.q0 && arm.q0 <= arm.tight_stop, arm.q0);
    reference_ = arm.length(arm.q0).value_or(LengthAt{});
    travel_ = arm.tight_stop - arm.slack_stop;
    slack_end_ = (arm.slack_stop - arm.q0) * reference_.rate;
    tight_end_ = (arm.tight_stop - arm.q0) * reference_.rate;
  }

  bool has_reference() const { return !belt_.sprung || reference_.rate > 0.0; }
  Eigen::Index shafts() const { return shafts_; }  // driven ones
  Eigen::Index size() const { return shafts_ + (belt_.sprung ? 1 : 0); }
  double ahead_rad(const Vector& place, Eigen::Index shaft) const {
    return place[shaft - 1] / radius_[shaft];
  }

  Vector place_of(const ElasticState& state) const {
    TWOTURN_ASSERT(static_cast<Eigen::Index>(state.ahead_rad.size()) == radius_.size(),
                   static_cast<double>(state.ahead_rad.size()));
    Vector place(size());
    for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
      place[shaft - 1] = state.ahead_rad[static_cast<std::size_t>(shaft)] * radius_[shaft];
    }
    if (belt_.sprung) {
      const double way = (state.q - belt_.sprung->q0) * reference_.rate;
      place[shafts_] = std::clamp(way, slack_end_, tight_end_);
    }
    return place;
  }

  double q_of(const Vector& place) const {
    if (!belt_.sprung) return 0.0;
    const double way = place[shafts_];
    if (way <= slack_end_) return belt_.sprung->slack_stop;
    if (way >= tight_end_) return belt_.sprung->tight_stop;
    return belt_.sprung->q0 + way / reference_.rate;
  }

  Look look(const Vector& place) const {
    const Vector none = Vector::Zero(radius_.size());
    Look look{place, none, Vector::Zero(size()), none, none};
    if (belt_.sprung) {
      const auto length = belt_.sprung->length(q_of(place));
      if (!length) {
        look.fault = Settled::no_path;
        return look;
      }
      look.length = *length;
    }
    stretch(look, look.length.length_mm - reference_.length_mm);
    load(look);
    const Vector driven = look.torque.tail(shafts_).cwiseQuotient(radius_.tail(shafts_));
    look.pull.head(shafts_) = look.tension.head(shafts_) - look.tension.tail(shafts_) + driven;
    if (belt_.sprung) {
      const double tension = look.tension[belt_.sprung->run];
      look.pull[shafts_] = (tension * look.length.rate - spring(q_of(place))) / reference_.rate;
    }
    look.scale_n = belt_.static_tension_n + look.tension.maxCoeff() + driven.cwiseAbs().maxCoeff();
    const bool finite = look.pull.allFinite() && look.torque_rate.allFinite() &&
                        look.tension.allFinite() && std::isfinite(look.torque[0]);
    if (!finite) look.fault = Settled::load_not_finite;
    return look;
  }

  Matrix stiffness(const Look& look) const {
    Matrix whole = Matrix::Zero(size(), size());
    Vector stretched(size());  // by how much a run is longer for each unknown
    for (Eigen::Index run = 0; run <= shafts_; ++run) {
      if (!(look.tension[run] > 0.0)) continue;
      stretched.setZero();
      if (run < shafts_) stretched[run] = 1.0;
      if (run > 0) stretched[run - 1] = -1.0;
      if (belt_.sprung && belt_.sprung->run == run) {
        stretched[shafts_] = look.length.rate / reference_.rate;
      }
      whole += run_stiffness_[run] * stretched * stretched.transpose();
    }
    for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
      whole(shaft - 1, shaft - 1) += look.torque_rate[shaft] / (radius_[shaft] * radius_[shaft]);
    }
    if (belt_.sprung && travel_ > 0.0) {
      const double tension = look.tension[belt_.sprung->run];
      const double bent = tension > 0.0 ? tension * bend(q_of(look.place)) : 0.0;
      whole(shafts_, shafts_) +=
          (bent + belt_.sprung->stiffness) / (reference_.rate * reference_.rate);
    }
    return whole;
  }

  Arm arm_of(const Look& look) const {
    if (!belt_.sprung) return Arm::locked;
    const double place = look.place[shafts_];
    const double pull = look.pull[shafts_];
    if (place >= tight_end_ && pull <= 0.0) return Arm::on_tight_stop;
    if (place <= slack_end_ && pull >= 0.0) return Arm::on_slack_stop;
    return Arm::balanced;
  }

  // How many unknowns are free: a tensioner that its stop holds is not.
  Eigen::Index free(const Look& look) const {
    return arm_of(look) == Arm::balanced ? size() : shafts_;
  }

  bool leaves_travel(const Vector& place, double arm_step) const {
    return (place[shafts_] >= tight_end_ && arm_step > 0.0) ||
           (place[shafts_] <= slack_end_ && arm_step < 0.0);
  }

  // Where a step leads, cut to what may be gone at once, and to the tensioner's stops.
  Vector end_of(const Vector& place, const Vector& step) const {
    double share = 1.0;
    for (Eigen::Index k = 0; k < size(); ++k) {
      const double most =
          k < shafts_ ? kMostTurn * radius_[k + 1] : kMostOfTravel * (tight_end_ - slack_end_);
      if (std::abs(step[k]) * share > most) share = most / std::abs(step[k]);
    }
    Vector to = place + share * step;
    if (!belt_.sprung) return to;
    const double stop = std::clamp(to[shafts_], slack_end_, tight_end_);
    if (stop != to[shafts_]) to = place + (stop - place[shafts_]) / step[shafts_] * step;
    to[shafts_] = stop;
    return to;
  }

  double belt_energy(const Look& look) const {
    return 0.5 * look.tension.cwiseAbs2().cwiseQuotient(run_stiffness_).sum();
  }

  double arm_energy(const Look& look) const {
    return belt_.sprung ? spring_energy_change(belt_.sprung->q0, q_of(look.place)) : 0.0;
  }

  double energy_change(const Look& from, const Look& to, int pieces) const {
    // Differences of squares as products: they keep their digits where little changes.
    const Vector twice_mean = from.tension + to.tension;
    const Vector stretched = (to.tension - from.tension).cwiseQuotient(run_stiffness_);
    double change = 0.5 * twice_mean.dot(stretched);
    if (belt_.sprung) change += spring_energy_change(q_of(from.place), q_of(to.place));
    for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
      change += load_energy_change(shaft, ahead_rad(from.place, shaft), ahead_rad(to.place, shaft),
                                   pieces);
    }
    return change;
  }

  // By hand: what the belt takes, and the crank's own load.
  double crank_torque(const Look& look) const {
    return radius_[0] * (look.tension[shafts_] - look.tension[0]) + look.torque[0];
  }

  bool slack(const Look& look, Eigen::Index run) const {
    return look.tension[run] <= kWanted * look.scale_n;
  }

  // Nothing holds a shaft between two slack runs whose load neither pushes nor resists a turn.
  bool undetermined(const Look& look, Eigen::Index shaft) const {
    const double radius = radius_[shaft];
    const double least_rate = kFlat * run_stiffness_.maxCoeff() * radius * radius;
    return slack(look, shaft - 1) && slack(look, shaft) &&
           std::abs(look.torque[shaft]) <= kWanted * look.scale_n * radius &&
           std::abs(look.torque_rate[shaft]) <= least_rate;
  }

 private:
  double spring(double q) const {
    return belt_.static_tension_n * reference_.rate -
           belt_.sprung->stiffness * (q - belt_.sprung->q0);
  }

  void load(Look& look) const {
    for (Eigen::Index shaft = 0; shaft <= shafts_; ++shaft) {
      const auto index = static_cast<std::size_t>(shaft);
      if (!loads_[index]) continue;
      const double ahead = shaft > 0 ? ahead_rad(look.place, shaft) : 0.0;
      const ShaftTorque torque = loads_[index](rigid_rad_[index] + ahead);
      look.torque[shaft] = torque.nmm;
      look.torque_rate[shaft] = torque.rate_nmm_per_rad;
    }
  }

  void stretch(Look& look, double longer_mm) const {
    for (Eigen::Index run = 0; run <= shafts_; ++run) {
      const double ahead = run < shafts_ ? look.place[run] : 0.0;
      const double behind = run > 0 ? look.place[run - 1] : 0.0;
      const double roller = belt_.sprung && belt_.sprung->run == run ? longer_mm : 0.0;
      const double pulled = run_stiffness_[run] * (ahead - behind + roller);
      look.tension[run] = std::max(0.0, belt_.static_tension_n + pulled);
    }
  }

  // d2L/dq2 from the rates on both sides; 0 at the path's end, where steps are then no longer
  // Newton's.
  double bend(double q) const {
    const double apart = kApart * travel_;
    const auto low = belt_.sprung->length(q - apart);
    const auto high = belt_.sprung->length(q + apart);
    return low && high ? (high->rate - low->rate) / (2.0 * apart) : 0.0;
  }

  double spring_energy_change(double from_q, double to_q) const {
    return -0.5 * (spring(from_q) + spring(to_q)) * (to_q - from_q);
  }

  // By Gauss's three points a piece.
  double load_energy_change(Eigen::Index shaft, double from_rad, double to_rad, int pieces) const {
    const auto index = static_cast<std::size_t>(shaft);
    if (!loads_[index]) return 0.0;
    const double half = 0.5 * (to_rad - from_rad) / pieces;
    const double aside = std::sqrt(0.6);
    double sum = 0.0;
    for (int piece = 0; piece < pieces; ++piece) {
      const double middle = rigid_rad_[index] + from_rad + (2 * piece + 1) * half;
      sum += 5.0 * loads_[index](middle - aside * half).nmm + 8.0 * loads_[index](middle).nmm +
             5.0 * loads_[index](middle + aside * half).nmm;
    }
    return half * sum / 9.0;
  }

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

double left_over(const Model& model, const Look& look) {
  return look.pull.head(model.free(look)).cwiseAbs().maxCoeff();
}

enum class Curvature { minimum, saddle };

// A step towards balance: Newton's where the energy curves upwards every way, else downhill.
struct Step {
  Vector way;
  Curvature curvature = Curvature::minimum;
};

Step newton_step(const Matrix& stiffness, const Vector& pull) {
  const Eigen::LLT<Matrix> factors(stiffness);
  if (factors.info() == Eigen::Success && factors.matrixLLT().diagonal().cwiseAbs2().minCoeff() >
                                              kFlat * stiffness.diagonal().maxCoeff()) {
    return {factors.solve(-pull), Curvature::minimum};
  }
  const Eigen::SelfAdjointEigenSolver<Matrix> ways(stiffness);
  const Vector& curvature = ways.eigenvalues();
  // Where no run is taut and no load has a rate, a step is as long as its pull.
  const double greatest = curvature.cwiseAbs().maxCoeff();
  const double least = greatest > 0.0 ? kLeastCurvature * greatest : 1.0;
  const Vector held = curvature.cwiseAbs().cwiseMax(least);
  const Vector along = (ways.eigenvectors().transpose() * pull).cwiseQuotient(held);
  return {-ways.eigenvectors() * along,
          curvature[0] < -kFlat * greatest ? Curvature::saddle : Curvature::minimum};
}

// From a place of rest the way in which the energy falls off most to both sides: forwards.
Vector off_the_saddle(const Model& model, const Look& look, const Matrix& whole) {
  const Eigen::Index free = model.free(look);
  const Eigen::SelfAdjointEigenSolver<Matrix> ways(whole.topLeftCorner(free, free));
  Vector way = Vector::Zero(model.size());
  way.head(free) = ways.eigenvectors().col(0);
  Eigen::Index greatest = 0;
  way.cwiseAbs().maxCoeff(&greatest);
  return way[greatest] > 0.0 ? way : Vector(-way);
}

Curvature curvature_at(const Model& model, const Look& look) {
  const Matrix whole = model.stiffness(look);
  const Eigen::Index free = model.free(look);
  return newton_step(whole.topLeftCorner(free, free), Vector::Zero(free)).curvature;
}

// A solve under way.
struct Search {
  Look look;
  int solves = 0;
  Settled settled = Settled::not_converged;
};

Step step_from(const Model& model, const Look& look, const Matrix& whole, Search& search) {
  const auto over = [&](Eigen::Index free) {
    ++search.solves;
    Step step = newton_step(whole.topLeftCorner(free, free), look.pull.head(free));
    step.way.conservativeResizeLike(Vector::Zero(model.size()));
    return step;
  };
  const Eigen::Index free = model.free(look);
  Step step = over(free);
  const bool arm_moves = free > model.shafts();
  if (arm_moves && model.leaves_travel(look.place, step.way[model.shafts()])) {
    return over(model.shafts());
  }
  return step;
}

// The first place along the step, halved as often as needed, that is nearer to balance on a slope
// that leads to it, or clearly lower in energy. A look with a fault where there is none.
Look along(const Model& model, const Look& look, const Step& step) {
  constexpr double kArmijo = 1e-4;
  Settled fault = Settled::not_converged;
  Vector way = step.way;
  for (int halving = 0; halving < kMostHalvings; ++halving, way *= 0.5) {
    Look next = model.look(model.end_of(look.place, way));
    if (next.fault != Settled::yes) {
      fault = next.fault;
      continue;
    }
    const bool nearer = next.pull.norm() <= 0.5 * look.pull.norm();
    if (nearer && step.curvature == Curvature::minimum) return next;
    const double promised = std::min(0.0, look.pull.dot(next.place - look.place));
    if (model.energy_change(look, next, 1) < kArmijo * promised) return next;
    fault = Settled::not_converged;
  }
  Look none = look;
  none.fault = fault;
  return none;
}

void settle(const Model& model, Search& search) {
  for (int count = 0; count < kMostSteps; ++count) {
    const Look& look = search.look;
    const Matrix whole = model.stiffness(look);
    const double residual = left_over(model, look);
    Step step;
    if (residual <= kWanted * look.scale_n) {
      if (curvature_at(model, look) == Curvature::minimum) {
        search.settled = Settled::yes;
        return;
      }
      step = {off_the_saddle(model, look, whole), Curvature::saddle};
    } else {
      step = step_from(model, look, whole, search);
    }
    Look next = along(model, look, step);
    if (next.fault != Settled::yes) {
      const bool enough = residual <= kEnough * look.scale_n;
      search.settled = enough && step.curvature == Curvature::minimum ? Settled::yes : next.fault;
      return;
    }
    search.look = std::move(next);
  }
}

// Whether the balance was lost between two places: the stiffness fails on the straight way, or the
// tensioner passed over centre, where no tension balances its spring.
std::optional<Snap> snap_between(const Model& model, const Look& from, const Look& to) {
  constexpr int kPieces = 16;
  const Vector way = to.place - from.place;
  if (way.cwiseAbs().maxCoeff() <= kLeastSnapMm) return std::nullopt;
  bool lost = (from.length.rate > 0.0) != (to.length.rate > 0.0);
  for (int piece = 1; piece < kPieces && !lost; ++piece) {
    const Look look = model.look(from.place + way * piece / kPieces);
    lost = look.fault == Settled::yes && curvature_at(model, look) == Curvature::saddle;
  }
  if (!lost) return std::nullopt;
  Snap snap;
  for (Eigen::Index shaft = 1; shaft <= model.shafts(); ++shaft) {
    const double ahead = model.ahead_rad(to.place, shaft) - model.ahead_rad(from.place, shaft);
    if (std::abs(ahead) <= std::abs(snap.ahead_rad)) continue;
    snap.shaft = static_cast<int>(shaft);
    snap.ahead_rad = ahead;
  }
  snap.arm_q = model.q_of(to.place) - model.q_of(from.place);
  snap.released_nmm = -model.energy_change(from, to, 4 * kPieces);
  return snap;
}

ElasticState state_of(const Model& model, const Search& search) {
  const Look& look = search.look;
  ElasticState state;
  state.ahead_rad.assign(1, 0.0);
  for (Eigen::Index shaft = 1; shaft <= model.shafts(); ++shaft) {
    state.ahead_rad.push_back(model.ahead_rad(look.place, shaft));
    if (model.undetermined(look, shaft)) state.undetermined.push_back(static_cast<int>(shaft));
  }
  for (Eigen::Index run = 0; run <= model.shafts(); ++run) {
    state.tension_n.push_back(look.tension[run]);
    if (model.slack(look, run)) state.slack_runs.push_back(static_cast<int>(run));
  }
  state.q = model.q_of(look.place);
  state.crank_torque_nmm = model.crank_torque(look);
  state.belt_energy_nmm = model.belt_energy(look);
  state.arm_energy_nmm = model.arm_energy(look);
  state.arm = model.arm_of(look);
  state.over_centre = state.arm != Arm::locked && look.length.rate <= 0.0;
  state.settled = search.settled;
  state.residual_n = left_over(model, look);
  state.solves = search.solves;
  return state;
}

ElasticState not_begun(const ElasticState& from, Settled why) {
  ElasticState state = from;
  state.settled = why;
  state.solves = 0;
  state.snap.reset();
  return state;
}

}  // namespace

ElasticState reference_state(const ElasticBelt& belt) {
  const std::size_t count = belt.radius_mm.size();
  ElasticState from;
  from.ahead_rad.assign(count, 0.0);
  from.tension_n.assign(count, belt.static_tension_n);
  from.q = belt.sprung ? belt.sprung->q0 : 0.0;
  const std::vector<ShaftLoad> loads(count);
  const std::vector<double> rigid_rad(count, 0.0);
  return solve_elastic(belt, loads, rigid_rad, from);
}

ElasticState solve_elastic(const ElasticBelt& belt, std::span<const ShaftLoad> loads,
                           std::span<const double> rigid_rad, const ElasticState& from) {
  const Model model(belt, loads, rigid_rad);
  if (!model.has_reference()) return not_begun(from, Settled::no_reference);
  const Look start = model.look(model.place_of(from));
  if (start.fault != Settled::yes) return not_begun(from, start.fault);
  Search search{start};
  settle(model, search);
  ElasticState state = state_of(model, search);
  state.snap = snap_between(model, start, search.look);
  return state;
}

}  // namespace twoturn
