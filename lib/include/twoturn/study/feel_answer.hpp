#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/missing.hpp"

namespace twoturn {

/// Crank places of feel: degrees turned on by hand from pins in.

/// Valves of one line of the profile that open in one cylinder, in a hump.
struct FeelPart {
  std::string valve;
  int cylinder = 0;
  double share = 0.0;  ///< of what pulls there, 0 to 1
};

/// A torque at the crank as a hand has it.
struct HandPull {
  double nm = 0.0;
  double lbf_ft = 0.0;
  double at_spanner_n = 0.0;  ///< at the end of `kSpannerMm`
};
inline constexpr double kSpannerMm = 300.0;
HandPull hand_pull(double nm);

/// One hump: where springs resist most. `pull` is empty where they are not known; then only
/// order and place are told.
struct FeelHump {
  double crank_deg = 0.0;
  std::optional<double> past_firing_deg{};  ///< past cylinder 1's firing dead centre, [0, 720)
  std::optional<HandPull> pull{};
  std::vector<FeelPart> parts{};  ///< those that matter, the greatest first
};

/// Crank angles over which something holds.
struct FeelSpan {
  double from_deg = 0.0;
  double to_deg = 0.0;
};

/// One run of belt between neighbouring toothed pulleys, over two turns.
struct FeelRun {
  std::string from;
  std::string to;          ///< in the belt's travel
  double length_mm = 0.0;  ///< that can give: without the arcs on its two toothed pulleys
  double least_n = 0.0;
  double least_at_deg = 0.0;
  double greatest_n = 0.0;
  double greatest_at_deg = 0.0;
  std::vector<FeelSpan> slack;
};

/// What a shaft does against the rigid drive for the belt's stretch, crank deg, + early.
struct FeelShaft {
  std::string name;
  double most_early_deg = 0.0;
  double early_at_deg = 0.0;
  double most_late_deg = 0.0;
  double late_at_deg = 0.0;
};

/// Where a shaft runs on by itself: the springs of its valves push, and the belt does not hold it.
struct FeelSnap {
  double crank_deg = 0.0;
  std::string shaft;
  double own_deg = 0.0;  ///< how far it jumps, + forwards
};

/// The belt with its give, over two turns.
struct FeelBelt {
  double static_n = 0.0;  ///< in every run without any torque
  double stiffness_n = 0.0;
  std::vector<FeelRun> runs;
  std::vector<FeelShaft> shafts;
  std::vector<FeelSnap> snaps;
  std::vector<std::string> undetermined;  ///< shafts without load between two slack runs, somewhere
  std::optional<TensionerKind> kind;      ///< of a sprung tensioner
  double least_reading = 0.0;             ///< of its place, in its own unit
  double greatest_reading = 0.0;
  bool over_centre = false;
  bool on_stop = false;
  double solves = 0.0;  ///< linear systems a step, on average
  bool settled = true;  ///< every step found its balance
};

/// Where a valve that meets its piston stops the crank.
struct FeelStop {
  std::string valve;
  int cylinder = 0;
  int teeth_out = 0;  ///< of its cam, + early; as fitted where `as_fitted`
  bool as_fitted = false;
  double forwards_deg = 0.0;   ///< turning on from pins in, within two turns
  double backwards_deg = 0.0;  ///< coming from the other side of it
};

/// With all plugs in: no more than this, valves tight and the air kept.
struct FeelCompression {
  double ratio = 0.0;
  HandPull greatest;
  double before_top_deg = 0.0;  ///< where in each compression stroke that is
};

struct FeelStep {
  double crank_deg = 0.0;
  double crank_nm = 0.0;                  ///< by hand: springs and drag
  std::vector<double> tension_n{};        ///< a run each; empty without the belt's give
  std::vector<double> ahead_crank_deg{};  ///< a shaft each, + early
  std::optional<double> reading{};        ///< of a sprung tensioner
};

struct FeelAnswer {
  Fit fit = Fit::as_fitted;
  std::vector<std::string> valves_seen;  ///< whose lobes are known
  bool springs_known = false;            ///< of all of them
  bool at_engine_place = false;          ///< the timing position is known
  double drag_nm = 0.0;                  ///< of all shafts at the crank
  bool drag_known = false;               ///< of any
  HandPull greatest;
  double greatest_at_deg = 0.0;
  double least_nm = 0.0;  ///< below 0: the springs turn the crank on
  double least_at_deg = 0.0;
  std::vector<FeelHump> humps;    ///< as they come, turning on from pins in
  std::vector<FeelSpan> runs_on;  ///< where the springs turn the crank on
  std::optional<FeelBelt> belt;
  std::vector<FeelStop> stops;
  bool stops_known = false;  ///< some valve's room is known
  std::optional<FeelCompression> compression;
  std::vector<FeelStep> steps;  ///< every half crank deg over two turns; springs known
};

}  // namespace twoturn
