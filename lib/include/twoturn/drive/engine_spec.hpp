#pragma once

#include <optional>
#include <string>
#include <vector>

namespace twoturn {

/// What a profile says of the engine round the drive, value for value; part of `DriveSpec`.

enum class ValveSide { inlet, exhaust };
enum class LiftLaw { cycloidal, harmonic, polynomial_345, polynomial_4567, modified_sine };
enum class CrownShape { pocket, flat };
enum class LiftAtPart { valve, cam };

/// The engine itself. Lists go by cylinder, from 1; angles in crank deg, in the running direction.
struct EngineSpec {
  std::optional<bool> interference;  ///< whether valves and pistons can meet
  std::optional<int> cylinders;
  std::optional<double> bore_mm;
  std::optional<double> stroke_mm;
  std::optional<double> throw_mm;       ///< crank radius, in place of the stroke
  std::optional<double> rod_mm;         ///< centre to centre
  std::optional<double> pin_offset_mm;  ///< + to the side the throw swings to after top dead centre
  std::optional<double> chamber_cc;     ///< all that is left above the piston at top dead centre
  std::optional<double> compression_ratio;
  std::vector<double> crank_pins_deg;  ///< ahead of the pin of cylinder 1
  std::vector<double> bores_deg;       ///< bank angles: from the bore of cylinder 1
  std::vector<int> firing_order;
  std::optional<double>
      timing_position_deg;  ///< pins in: past firing top dead centre of cylinder 1
};

/// One row of a measured lift table.
struct LiftRow {
  double crank_deg = 0.0;
  double lift_mm = 0.0;
};

/// One valve, or all alike of one cam. Opening, closing and lobe centre as the trade counts them:
/// inlet before top and after bottom dead centre, exhaust before bottom and after top; crank deg.
struct ValveSpec {
  std::string name;
  std::optional<std::string> cam;   ///< a pulley's name
  std::optional<std::string> head;  ///< that carries it, by name
  std::vector<int> cylinders;       ///< empty: all
  std::optional<int> per_cylinder;  ///< such valves in each; empty: one
  std::optional<double> spring_n;   ///< of one valve's springs, fitted, valve shut
  std::optional<double> spring_rate_n_mm;
  std::optional<ValveSide> side;
  std::optional<double> lift_mm;      ///< the valve's greatest, lash taken off
  std::optional<double> cam_lift_mm;  ///< the lobe's greatest, in place of it
  std::optional<double> rocker_ratio;
  std::optional<double> lash_mm;  ///< at the valve
  std::optional<double> opens_deg;
  std::optional<double> closes_deg;
  std::optional<double> lobe_centre_deg;
  std::optional<double> duration_deg;
  std::optional<double> timed_at_lift_mm;
  std::optional<LiftAtPart> timed_at;
  std::optional<LiftLaw> law;
  std::optional<std::string> table;  ///< its file's name
  std::vector<LiftRow> rows;         ///< of that file
  LiftAtPart rows_at = LiftAtPart::valve;
  std::optional<double> valve_deg;  ///< stem from the line of the bore
  std::optional<CrownShape> crown;
  std::optional<double> room_tdc_mm;
  std::optional<double> clay_mm;  ///< least running room, square to the pocket
  std::optional<double> head_mm;
  std::optional<double> across_mm;  ///< middle of the head from the line of the bore
};

}  // namespace twoturn
