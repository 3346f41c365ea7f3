#pragma once

#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "twoturn/drive/tensioner_curve.hpp"

namespace twoturn {

/// What a shaft asks for at one of its own angles: the torque that turns it on, above 0 where it
/// resists and below 0 where it pushes, and how that changes as it turns.
struct ShaftTorque {
  double nmm = 0.0;
  double rate_nmm_per_rad = 0.0;
};

/// Torque of a shaft by its own travelled angle, rad, never wrapped. Empty: it turns freely.
using ShaftLoad = std::function<ShaftTorque(double turned_rad)>;

/// A tensioner whose spring stays at work. Its place q is an angle in rad or a way in mm and grows
/// towards tight. The spring pushes towards tight with S(q) = S0 - stiffness (q - q0), N mm (angle)
/// or N (way); S0 is what holds `static_tension_n` at q0.
struct SprungTensioner {
  int run = 0;              ///< which run its roller works on
  double q0 = 0.0;          ///< reference: no torque anywhere, `static_tension_n` in every run
  double stiffness = 0.0;   ///< N mm/rad or N/mm, 0 or more
  double slack_stop = 0.0;  ///< least q, finite, at most q0
  double tight_stop = 0.0;  ///< greatest q, finite, at least q0
  /// Length of the whole path at q, mm, and its rate dL/dq, as TensionerCurve::at.
  std::function<std::optional<LengthAt>(double q)> length;
};

/// A closed belt on n toothed pulleys in order of its travel, the crank first. Run k leaves pulley
/// k and arrives at pulley k + 1, the last one at the crank. A run is a spring, EA by its length
/// less the arcs on its two toothed pulleys; on those arcs the belt does not give.
struct ElasticBelt {
  std::vector<double> radius_mm;           ///< n pitch radii, above 0; n is 2 or more
  std::vector<double> run_stiffness_n_mm;  ///< n, N for a mm, above 0
  double static_tension_n = 0.0;           ///< in every run at the reference, 0 or more
  std::optional<SprungTensioner> sprung;   ///< empty: the tensioner is locked, or there is none
};

/// Whether a solve came to rest, and if not, why.
enum class Settled {
  yes,
  not_converged,    ///< no balance within the steps allowed: what is left over is `residual_n`
  load_not_finite,  ///< a load, or an angle handed in, is not a finite number
  no_path,          ///< the tensioner has no path where it was, or on the way it had to go
  no_reference      ///< the tensioner has no path at q0, or is at or past over centre there
};

/// Where a sprung tensioner rests.
enum class Arm { locked, balanced, on_slack_stop, on_tight_stop };

/// A jump: the balance that was followed came to an end, and the drive went downhill to another.
/// Told by the stiffness between state before and state after, so steps should be small beside a
/// lobe; a move of under 0.05 mm of belt is none. The amounts are between those two states, the
/// step itself included.
struct Snap {
  int shaft = -1;             ///< the one that turned most against the rigid drive
  double ahead_rad = 0.0;     ///< by how much, forwards positive
  double arm_q = 0.0;         ///< what the tensioner moved, towards tight positive
  double released_nmm = 0.0;  ///< energy lost at this crank angle
};

/// A drive at rest under its loads. All n values of a list in the belt's order.
struct ElasticState {
  std::vector<double> ahead_rad;  ///< of each shaft, ahead of the rigid drive; the crank 0
  std::vector<double> tension_n;  ///< of each run, 0 where slack
  double q = 0.0;                 ///< of a sprung tensioner, else 0
  double crank_torque_nmm = 0.0;  ///< by hand at the crank, the crank's own load included
  double belt_energy_nmm = 0.0;   ///< in the runs, T^2 / 2 K each
  double arm_energy_nmm = 0.0;    ///< in the tensioner's spring, 0 at the reference
  std::vector<int> slack_runs;    ///< without tension
  std::vector<int> undetermined;  ///< shafts that nothing holds, left where they were
  Arm arm = Arm::locked;
  bool over_centre = false;  ///< the sprung tensioner is at or past over centre
  std::optional<Snap> snap;  ///< on the way from the state before
  Settled settled = Settled::yes;
  double residual_n = 0.0;  ///< greatest pull that is not balanced, at a pitch radius or the roller
  int solves = 0;           ///< linear systems solved
};

/// Whether a jump on the way is looked for; that takes most of a solve after a long step.
enum class Snaps { told, untold };

/// The belt without torques: the reference from which a first solve starts.
[[nodiscard]] ElasticState reference_state(const ElasticBelt& belt);

/// Balance of the belt where the rigid drive has its shafts at `rigid_rad`, that is near `from`. On
/// every driven shaft r (T leaving - T arriving) = load, on a sprung tensioner T dL/dq = S(q), in
/// every run T = max(0, T0 + K x). Of several balances the stable one (a least energy) that `from`
/// leads to; where it has ceased to be, the next one downhill, as `snap`. `loads` and `rigid_rad`
/// hold n values; the crank's own load is only added to its torque. Balanced within 1e-10 of the
/// greatest pull, or 1e-8 where rounding in the path's length allows no more. Unless settled, the
/// state is the last one looked at (`from` itself where that has no forces). Source: statics;
/// lib/DERIVATIONS.md, "Elastic belt".
[[nodiscard]] ElasticState solve_elastic(const ElasticBelt& belt, std::span<const ShaftLoad> loads,
                                         std::span<const double> rigid_rad,
                                         const ElasticState& from, Snaps snaps = Snaps::told);

}  // namespace twoturn
