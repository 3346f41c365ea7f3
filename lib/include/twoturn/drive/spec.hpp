#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "twoturn/base/shared_list.hpp"
#include "twoturn/drive/bolts_spec.hpp"
#include "twoturn/drive/build_spec.hpp"
#include "twoturn/drive/engine_spec.hpp"
#include "twoturn/drive/load_spec.hpp"
#include "twoturn/drive/seen_spec.hpp"
#include "twoturn/geometry/path.hpp"
#include "twoturn/geometry/segment.hpp"

namespace twoturn {

/// What a drive profile says, value for value. Any combination is legal here; `validate` judges it.
/// Angles are clock angles in degrees (clockwise from 12 o'clock), lengths mm, as in the file.

enum class Turn { clockwise, anticlockwise };
enum class Face { tooth, back };
enum class Role {
  crankshaft,
  camshaft,
  injection_pump,
  balance_shaft,
  auxiliary_shaft,
  water_pump,
  oil_pump,
  idler
};
enum class Fixing { keyed, adjustable, free_until_tightened };
enum class MarkOn { as_made, tooth, groove };
/// What a calliper or tape was held against: the centres themselves, or the far or near sides of
/// two round parts.
enum class Between { centres, outside, inside };
enum class Origin { not_said, example, assumed, manual, measured };

/// One number of the file, where it stands and where it came from.
struct GivenValue {
  std::string key;   ///< dotted path, lengths under their _mm name
  std::string text;  ///< as written, with its unit where the key names one
  double number = 0.0;
  Origin origin = Origin::not_said;
  std::optional<double> give_or_take;  ///< 95 %, in the key's unit
  int line = 0;
};

struct BeltSpec {
  std::optional<std::string> section;
  std::optional<int> teeth;
  std::optional<double> pitch_mm;
  std::optional<double> over_10_teeth_mm;  ///< calliper over ten pitches
  std::optional<double> tooth_height_mm;
  std::optional<double> thickness_mm;
  std::optional<double> land_to_pitch_line_mm;  ///< a: from the land between teeth
  std::optional<int> least_teeth;               ///< on a pulley
  std::optional<double> least_roller_mm;        ///< diameter on the back
  bool double_sided = false;
  std::optional<double> length_tolerance_mm;  ///< plus or minus
  std::optional<double> reference_tension_n;  ///< at which the pitch length is N p
  std::optional<double> width_mm;
  std::optional<double> mass_g_per_m;
  std::optional<double> weighed_g;    ///< the whole belt, or one alike
  std::optional<double> stiffness_n;  ///< EA: pull over the share by which it makes it longer
};

struct HeadSpec {
  std::string name;
  std::optional<double> deck_deg;  ///< the way it lifts off
  std::optional<double> deck_from_crank_mm;
};

struct MarkSpec {
  std::string name;
  std::optional<double> at_deg;
  std::optional<double> radius_mm;
};

/// A round pin at a radius, or a bar in a slot across the shaft's end.
struct PinSpec {
  std::optional<double> radius_mm;
  std::optional<double> play_mm;  ///< each side of centre
  std::optional<double> bar_mm;
  std::optional<double> slot_mm;
  std::optional<double> length_mm;           ///< of the bar in the slot
  std::optional<std::string> access_hole{};  ///< what it goes through; kNoAccessHole: nothing
};

struct SwingSpec {
  std::optional<Vec2> pivot_mm;
  std::optional<double> arm_mm;
  std::optional<double>
      thickest_mm;  ///< wall of an eccentric, with thinnest_mm in place of the arm
  std::optional<double> thinnest_mm;
  std::optional<double> slack_deg;
  std::optional<double> tight_deg;
  std::optional<Turn> tightens;
};

struct SlideSpec {
  std::optional<Vec2> slack_at_mm;
  std::optional<Vec2> tight_at_mm;
};

struct TensionerSpec {
  std::variant<SwingSpec, SlideSpec> path;
  std::optional<double> set_deg;  ///< swing: where the maker's marks put the roller centre
  std::optional<double> set_mm;   ///< slide: distance from the slack end
  std::optional<double> set_give_deg;
  std::optional<double> set_give_mm;
  std::optional<double> pointer_deg;  ///< where the pointer stands when the roller is at set_deg
  std::optional<Holds> holds{};
  std::optional<double> spring_nm_per_deg{};  ///< sprung swing: by which its spring eases
  std::optional<double> spring_n_per_mm{};    ///< sprung slide
};

struct PulleySpec {
  std::string name;
  std::optional<Role> role;
  std::optional<int> teeth;
  std::optional<double> diameter_mm;  ///< plain
  std::optional<Face> face;
  std::optional<Vec2> at_mm;
  std::optional<Vec2> near_mm;      ///< about where what [[measured]] speaks of stands
  std::optional<double> flange_mm;  ///< diameter
  std::optional<std::string> mount;
  std::optional<Fixing> fixing;
  std::optional<double> range_deg;        ///< adjustable: each way, own deg
  std::optional<double> key_radius_mm;    ///< where an offset key would sit
  std::optional<double> turns_per_crank;  ///< auxiliary shafts that are timed
  std::optional<double> mark_deg;
  std::optional<double> mark_radius_mm;
  std::optional<MarkOn> mark_on;
  std::vector<MarkSpec> marks;  ///< further marks of the same shaft: damper, flywheel
  std::optional<PinSpec> pin;
  std::optional<TensionerSpec> tensioner;
  std::optional<double> drag_nm;  ///< of its shaft turned by hand, valve springs apart
};

/// Teeth of two gears in mesh.
struct GearTeeth {
  int driving = 0;
  int own = 0;
};

/// A shaft driven off another by gears, not by the belt.
struct GearedSpec {
  std::string name;
  std::string from;
  std::optional<double> ratio;  ///< own turns a turn of `from`; negative: the other way round
  std::optional<GearTeeth> gear_teeth;  ///< in place of it: two gears, each turning the other back
  std::optional<Role> role;
  std::optional<double> turns_per_crank;
  std::optional<double> mark_deg;
  std::optional<double> mark_radius_mm;
  std::optional<PinSpec> pin;
};

/// One measurement between two pulleys' centres, of a swinging tensioner its pivot; or a belt that
/// is known to fit.
struct MeasuredSpec {
  std::string from;
  std::string to;
  std::optional<double> distance_mm;
  std::optional<Between> across;
  std::optional<double> from_diameter_mm;  ///< of what was touched, unless from centre to centre
  std::optional<double> to_diameter_mm;
  std::optional<double> bearing_deg;       ///< the way `to` lies from `from`
  std::optional<double> give_or_take_mm;   ///< of the distance or of `roller_mm`, 95 %
  std::optional<double> give_or_take_deg;  ///< of the bearing or of the roller's angle, 95 %
  /// In place of all but the give-or-take: a belt that is known to fit, and where the tensioner
  /// then stands: the roller's centre seen from its pivot, its pointer, or mm from the slack end.
  std::optional<int> belt_teeth;
  std::optional<double> roller_deg;
  std::optional<double> pointer_deg;
  std::optional<double> roller_mm;
};

struct CoverSpec {
  std::string name;
  std::vector<Vec2> points_mm;
  Outline kind = Outline::open;
  std::optional<std::string> mount;
};

/// Limits that findings are judged by; absent ones keep their defaults (drive/limits.hpp).
struct LimitSpec {
  std::optional<double> phase_crank_deg;
  std::optional<double> stop_teeth;
  std::optional<double> pin_tight_mm;
  std::optional<double> travel_end;
  std::optional<double> adjustment_left_percent;
  std::optional<double> near_mm;
  std::optional<double> teeth_in_mesh;
  std::optional<double> inlet_room_mm;      ///< valve to piston
  std::optional<double> exhaust_room_mm;    ///< the same
  std::optional<double> valve_to_valve_mm;  ///< heads across the chamber
  std::optional<double> park_room_mm;       ///< to spare with the crank parked and cams loose
};

struct MeasuredPlaces;

struct DriveSpec {
  std::string title;
  std::optional<Turn> crank_turns;
  double lean_deg = 0.0;
  std::optional<double> rough_centre_mm;  ///< crank to cam, by tape, where coordinates are missing
  BeltSpec belt;
  std::vector<HeadSpec> heads;
  std::vector<PulleySpec> pulleys;
  std::vector<GearedSpec> geared;
  std::vector<MeasuredSpec> measured;
  std::vector<CoverSpec> covers;
  BuildSpec build;
  LimitSpec limits;
  EngineSpec engine;
  std::vector<ValveSpec> valves;
  TensionSpec tension;
  std::vector<BoltsSpec> bolts;
  std::vector<AccessHoleSpec> access_holes;
  std::vector<TraySpec> trays;
  SeenSpec seen;
  SharedList<GivenValue> given;  ///< every number of the file, in its order
  /// The same for every text of the same meaning; empty where no text was read.
  std::string fingerprint;
  /// What `with_places` made of `measured`; nullptr before, and where nothing is measured.
  std::shared_ptr<const MeasuredPlaces> places;
};

}  // namespace twoturn
