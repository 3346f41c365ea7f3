#include "twoturn/load/elastic_belt.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "elastic_model.hpp"

namespace twoturn {
namespace {

using namespace elastic;

double left_over(const Model& model, const Look& look) {
  return look.pull().head(model.free(look)).cwiseAbs().maxCoeff();
}

enum class Curvature { minimum, saddle };

// A step towards balance: Newton's where the energy curves upwards every way, else downhill.
struct Step {
  Vector way;
  Curvature curvature = Curvature::minimum;
};

bool curves_up(const Eigen::LLT<Matrix>& factors, const Matrix& stiffness) {
  return factors.info() == Eigen::Success && factors.matrixLLT().diagonal().cwiseAbs2().minCoeff() >
                                                 kFlat * stiffness.diagonal().maxCoeff();
}

// Of curvatures in rising order.
Curvature least_of(const Vector& curvature) {
  const bool falls = curvature[0] < -kFlat * curvature.cwiseAbs().maxCoeff();
  return falls ? Curvature::saddle : Curvature::minimum;
}

Step newton_step(const Matrix& stiffness, const Place& pull) {
  const Eigen::LLT<Matrix> factors(stiffness);
  if (curves_up(factors, stiffness)) return {factors.solve(-pull), Curvature::minimum};
  const Eigen::SelfAdjointEigenSolver<Matrix> ways(stiffness);
  const Vector& curvature = ways.eigenvalues();
  // Where no run is taut and no load has a rate, a step is as long as its pull.
  const double greatest = curvature.cwiseAbs().maxCoeff();
  const double least = greatest > 0.0 ? kLeastCurvature * greatest : 1.0;
  const Vector held = curvature.cwiseAbs().cwiseMax(least);
  const Vector along = (ways.eigenvectors().transpose() * pull).cwiseQuotient(held);
  return {-ways.eigenvectors() * along, least_of(curvature)};
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

Curvature curvature_at(const Model& model, const Look& look, const Matrix& whole) {
  const Eigen::Index free = model.free(look);
  const Matrix stiffness = whole.topLeftCorner(free, free);
  if (curves_up(Eigen::LLT<Matrix>(stiffness), stiffness)) return Curvature::minimum;
  return least_of(
      Eigen::SelfAdjointEigenSolver<Matrix>(stiffness, Eigen::EigenvaluesOnly).eigenvalues());
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
    Step step = newton_step(whole.topLeftCorner(free, free), look.pull().head(free));
    step.way.conservativeResizeLike(Vector::Zero(model.size()));
    return step;
  };
  const Eigen::Index free = model.free(look);
  Step step = over(free);
  const bool arm_moves = free > model.shafts();
  if (arm_moves && model.leaves_travel(look.place(), step.way[model.shafts()])) {
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
    Look next = model.look(model.end_of(look.place(), way));
    if (next.fault != Settled::yes) {
      fault = next.fault;
      continue;
    }
    const bool nearer = next.pull().norm() <= 0.5 * look.pull().norm();
    if (nearer && step.curvature == Curvature::minimum) return next;
    const double promised = std::min(0.0, look.pull().dot(next.place() - look.place()));
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
      if (curvature_at(model, look, whole) == Curvature::minimum) {
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
  const Vector way = to.place() - from.place();
  if (way.cwiseAbs().maxCoeff() <= kLeastSnapMm) return std::nullopt;
  bool lost = (from.length.rate > 0.0) != (to.length.rate > 0.0);
  for (int piece = 1; piece < kPieces && !lost; ++piece) {
    const Look look = model.look(from.place() + way * piece / kPieces);
    lost = look.fault == Settled::yes &&
           curvature_at(model, look, model.stiffness(look)) == Curvature::saddle;
  }
  if (!lost) return std::nullopt;
  Snap snap;
  for (Eigen::Index shaft = 1; shaft <= model.shafts(); ++shaft) {
    const double ahead = model.ahead_rad(to.place(), shaft) - model.ahead_rad(from.place(), shaft);
    if (std::abs(ahead) <= std::abs(snap.ahead_rad)) continue;
    snap.shaft = static_cast<int>(shaft);
    snap.ahead_rad = ahead;
  }
  snap.arm_q = model.q_of(to.place()) - model.q_of(from.place());
  snap.released_nmm = -model.energy_change(from, to, 4 * kPieces);
  return snap;
}

ElasticState state_of(const Model& model, const Search& search) {
  const Look& look = search.look;
  ElasticState state;
  state.ahead_rad.assign(1, 0.0);
  for (Eigen::Index shaft = 1; shaft <= model.shafts(); ++shaft) {
    state.ahead_rad.push_back(model.ahead_rad(look.place(), shaft));
    if (model.undetermined(look, shaft)) state.undetermined.push_back(static_cast<int>(shaft));
  }
  for (Eigen::Index run = 0; run <= model.shafts(); ++run) {
    state.tension_n.push_back(look.tension()[run]);
    if (model.slack(look, run)) state.slack_runs.push_back(static_cast<int>(run));
  }
  state.q = model.q_of(look.place());
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
  return solve_elastic(belt, loads, rigid_rad, from, Snaps::untold);
}

ElasticState solve_elastic(const ElasticBelt& belt, std::span<const ShaftLoad> loads,
                           std::span<const double> rigid_rad, const ElasticState& from,
                           Snaps snaps) {
  const Model model(belt, loads, rigid_rad);
  if (!model.has_reference()) return not_begun(from, Settled::no_reference);
  const Look start = model.look(model.place_of(from));
  if (start.fault != Settled::yes) return not_begun(from, start.fault);
  Search search{start};
  settle(model, search);
  ElasticState state = state_of(model, search);
  if (snaps == Snaps::told) state.snap = snap_between(model, start, search.look);
  return state;
}

}  // namespace twoturn
