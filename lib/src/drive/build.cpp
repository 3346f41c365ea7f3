#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "twoturn/base/names.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/place_answer.hpp"
#include "twoturn/drive/sections.hpp"

namespace twoturn {
namespace {

std::string pulley_key(const PulleySpec& pulley, std::string_view field) {
  return fmt::format("pulley.{}.{}", pulley.name, field);
}

template <class T>
std::optional<T> first_of(const std::optional<T>& own, const std::optional<T>& table) {
  return own ? own : table;
}

// Own numbers come before the section's, so that a measured belt can correct the table.
std::optional<Belt> build_belt(const BeltSpec& spec, std::vector<Missing>& missing) {
  const BeltSection* row = spec.section ? find_section(*spec.section) : nullptr;
  Belt belt;
  std::optional<double> pitch = spec.pitch_mm;
  // A calliper over ten teeth tells sections apart, but is no match for the section's own pitch.
  if (!pitch && row) pitch = row->pitch_mm;
  if (!pitch && spec.over_10_teeth_mm) pitch = *spec.over_10_teeth_mm / 10.0;
  if (!pitch) {
    missing.push_back({"the belt's route, its length and every distance along it", "belt.section",
                       "read the belt's section off its back, or measure over 10 teeth with a "
                       "calliper (belt.over_10_teeth_mm)"});
    return std::nullopt;
  }
  belt.pitch_mm = *pitch;
  belt.teeth = spec.teeth;
  belt.double_sided = spec.double_sided;
  belt.tooth_height_mm = spec.tooth_height_mm;
  belt.thickness_mm = spec.thickness_mm;
  belt.land_to_pitch_line_mm = spec.land_to_pitch_line_mm;
  belt.least_teeth = spec.least_teeth;
  belt.least_roller_mm = spec.least_roller_mm;
  belt.reference_tension_n = spec.reference_tension_n.value_or(0.0);
  if (row) {
    belt.section = row->name;
    if (!belt.tooth_height_mm) belt.tooth_height_mm = row->tooth_height_mm;
    if (!belt.thickness_mm) belt.thickness_mm = row->thickness_mm;
    if (!belt.land_to_pitch_line_mm) belt.land_to_pitch_line_mm = row->land_to_pitch_line_mm;
    belt.least_teeth = first_of(belt.least_teeth, row->least_teeth);
    belt.least_roller_mm = first_of(belt.least_roller_mm, row->least_roller_mm);
  }
  if (belt.thickness_mm && belt.tooth_height_mm && belt.land_to_pitch_line_mm) {
    belt.back_to_pitch_line_mm =
        *belt.thickness_mm - *belt.tooth_height_mm - *belt.land_to_pitch_line_mm;
  }
  belt.length_tolerance_mm = spec.length_tolerance_mm;
  if (!belt.length_tolerance_mm && belt.teeth) {
    belt.length_tolerance_mm = usual_length_tolerance_mm(belt.length_mm(*belt.teeth));
  }
  return belt;
}

const char* const kRoute = "the belt's route, its length and which tooth counts fit";

std::optional<double> pitch_radius(const PulleySpec& spec, Face face, const Belt& belt,
                                   std::vector<Missing>& missing) {
  if (spec.teeth) return belt.pitch_mm * *spec.teeth / kFullTurn;
  if (!spec.diameter_mm) {
    missing.push_back({kRoute, pulley_key(spec, "diameter_mm"),
                       fmt::format("measure the diameter of {} with a calliper, or count its "
                                   "teeth",
                                   the(spec.name))});
    return std::nullopt;
  }
  if (face == Face::back) {
    if (belt.back_to_pitch_line_mm) return *spec.diameter_mm / 2.0 + *belt.back_to_pitch_line_mm;
    missing.push_back({kRoute, "belt.thickness_mm",
                       "measure the belt's thickness and tooth height with a calliper"});
    return std::nullopt;
  }
  if (belt.tooth_height_mm && belt.land_to_pitch_line_mm) {
    return *spec.diameter_mm / 2.0 + *belt.tooth_height_mm + *belt.land_to_pitch_line_mm;
  }
  missing.push_back(
      {kRoute, "belt.tooth_height_mm", "measure the height of the belt's teeth with a calliper"});
  return std::nullopt;
}

double outside_diameter(const PulleySpec& spec, double pitch_radius_mm, const Belt& belt) {
  if (!spec.teeth) return *spec.diameter_mm;
  return 2.0 * (pitch_radius_mm - belt.land_to_pitch_line_mm.value_or(0.0));
}

std::optional<Face> face_of(const PulleySpec& spec, std::vector<Missing>& missing) {
  if (spec.face) return spec.face;
  if (spec.teeth) return Face::tooth;
  missing.push_back({kRoute, pulley_key(spec, "face"),
                     fmt::format("see which side of the belt runs on {}: its back or its teeth",
                                 the(spec.name))});
  return std::nullopt;
}

int head_index(const DriveSpec& spec, const std::optional<std::string>& mount) {
  for (std::size_t i = 0; i < spec.heads.size(); ++i) {
    if (mount == spec.heads[i].name) return static_cast<int>(i);
  }
  return -1;
}

std::optional<Pulley> build_pulley(const DriveSpec& spec, int listed, const Belt& belt,
                                   std::vector<Missing>& missing) {
  const PulleySpec& from = spec.pulleys[static_cast<std::size_t>(listed)];
  const std::optional<Face> face = face_of(from, missing);
  if (!face) return std::nullopt;
  const std::optional<double> radius = pitch_radius(from, *face, belt, missing);
  const bool at_origin = from.role == Role::crankshaft;  // unless said otherwise
  if (!from.tensioner && !from.at_mm && !at_origin) {
    if (spec.places && !spec.places->placed()) return std::nullopt;  // told for all of them
    missing.push_back(
        {kRoute, pulley_key(from, "at_mm"),
         fmt::format("measure how far the centre of {} lies to the right of and above the "
                     "crank's centre",
                     the(from.name))});
    return std::nullopt;
  }
  if (!radius) return std::nullopt;
  Pulley pulley;
  pulley.name = from.name;
  pulley.role = from.role;
  pulley.listed = listed;
  pulley.teeth = from.teeth.value_or(0);
  pulley.face = *face;
  pulley.wheel.radius_mm = *radius;
  pulley.wheel.centre_mm = from.at_mm.value_or(Vec2::Zero());
  pulley.outside_mm = outside_diameter(from, *radius, belt);
  pulley.rim_mm = std::max(pulley.outside_mm, from.flange_mm.value_or(0.0)) / 2.0;
  pulley.head = head_index(spec, from.mount);
  return pulley;
}

struct Need {
  bool given;
  std::string_view field;
  std::string_view measure;
};

bool all_given(const PulleySpec& pulley, std::initializer_list<Need> needs,
               std::vector<Missing>& missing) {
  bool all = true;
  for (const Need& need : needs) {
    if (need.given) continue;
    all = false;
    missing.push_back({kRoute, pulley_key(pulley, fmt::format("tensioner.{}", need.field)),
                       std::string(need.measure)});
  }
  return all;
}

std::optional<double> arm_of(const SwingSpec& swing) {
  if (swing.arm_mm) return swing.arm_mm;
  if (swing.thickest_mm && swing.thinnest_mm) {
    return (*swing.thickest_mm - *swing.thinnest_mm) / 2.0;
  }
  return std::nullopt;
}

std::optional<TensionerPath> build_swing(const PulleySpec& pulley, const SwingSpec& spec,
                                         std::vector<Missing>& missing) {
  const std::optional<double> arm = arm_of(spec);
  const bool whole = all_given(
      pulley,
      {{spec.pivot_mm.has_value(), "pivot_mm", "measure where the tensioner's pivot bolt stands"},
       {arm.has_value(), "arm_mm",
        "measure from the pivot to the roller's centre, or the eccentric's thickest and thinnest "
        "wall"},
       {spec.slack_deg.has_value(), "slack_deg",
        "see where the roller's centre stands from the pivot, as on a clock face, backed right "
        "off"},
       {spec.tight_deg.has_value(), "tight_deg", "see where it stands at its tight stop"},
       {spec.tightens.has_value(), "tightens",
        "see which way the tensioner turns to tighten, looking at the belt end"}},
      missing);
  if (!whole) return std::nullopt;
  Swing swing;
  swing.pivot_mm = *spec.pivot_mm;
  swing.arm_mm = *arm;
  swing.slack = Angle::clock(*spec.slack_deg);
  swing.sense = *spec.tightens == Turn::anticlockwise ? 1 : -1;
  swing.travel = (swing.sense * (Angle::clock(*spec.tight_deg) - swing.slack)).wrapped_turn();
  return TensionerPath(swing);
}

std::optional<TensionerPath> build_slide(const PulleySpec& pulley, const SlideSpec& spec,
                                         std::vector<Missing>& missing) {
  const bool whole =
      all_given(pulley,
                {{spec.slack_at_mm.has_value(), "slack_at_mm",
                  "measure where the roller's centre stands at the slack end of its slot"},
                 {spec.tight_at_mm.has_value(), "tight_at_mm",
                  "measure where the roller's centre stands at the tight end of its slot"}},
                missing);
  if (!whole) return std::nullopt;
  return TensionerPath(Slide{*spec.slack_at_mm, *spec.tight_at_mm});
}

std::optional<Tensioner> build_tensioner(const PulleySpec& pulley, int index,
                                         std::vector<Missing>& missing) {
  const TensionerSpec& spec = *pulley.tensioner;
  const SwingSpec* swing = std::get_if<SwingSpec>(&spec.path);
  const std::optional<TensionerPath> path =
      swing ? build_swing(pulley, *swing, missing)
            : build_slide(pulley, std::get<SlideSpec>(spec.path), missing);
  if (!path) return std::nullopt;
  Tensioner tensioner{index, *path, {}, 3.0, spec.pointer_deg};
  const std::optional<double>& set = swing ? spec.set_deg : spec.set_mm;
  if (set) tensioner.set_q = path->from_reading(*set);
  const std::optional<double>& give = swing ? spec.set_give_deg : spec.set_give_mm;
  constexpr double kUsualGiveDeg = 3.0;
  constexpr double kUsualGiveMm = 0.5;
  tensioner.set_give = give.value_or(swing ? kUsualGiveDeg : kUsualGiveMm);
  return tensioner;
}

// Turns the list so that it starts at the crank and runs as the belt travels, and gives every wheel
// its sense: the crank's own for pulleys on the crank's face, the other for the rest.
Drive in_order(const Drive& listed, Order order) {
  Drive drive = listed;
  if (order == Order::reversed) std::reverse(drive.pulleys.begin(), drive.pulleys.end());
  const auto is_crank = [](const Pulley& pulley) { return pulley.role == Role::crankshaft; };
  std::rotate(drive.pulleys.begin(),
              std::find_if(drive.pulleys.begin(), drive.pulleys.end(), is_crank),
              drive.pulleys.end());
  const Face crank_face = drive.pulleys.front().face;
  const int crank_sense = drive.crank_turns == Turn::anticlockwise ? 1 : -1;
  drive.around.rims_mm.clear();
  for (std::size_t i = 0; i < drive.pulleys.size(); ++i) {
    Pulley& pulley = drive.pulleys[i];
    pulley.wheel.sense = pulley.face == crank_face ? crank_sense : -crank_sense;
    drive.around.rims_mm.push_back(pulley.rim_mm);
    const int was = listed.tensioner ? listed.tensioner->pulley : -1;
    if (pulley.listed == was) drive.tensioner->pulley = static_cast<int>(i);
  }
  const double tooth_reach =
      drive.belt.tooth_height_mm.value_or(0.0) + drive.belt.land_to_pitch_line_mm.value_or(0.0);
  const double back_reach = drive.belt.back_to_pitch_line_mm.value_or(0.0);
  const bool teeth_on_left = (crank_face == Face::tooth) == (crank_sense > 0);
  drive.around.body =
      teeth_on_left ? BeltBody{tooth_reach, back_reach} : BeltBody{back_reach, tooth_reach};
  // A double-sided belt is alike on both faces: either may be the inner one.
  drive.around.loop = drive.belt.double_sided ? Loop::either
                      : teeth_on_left         ? Loop::anticlockwise
                                              : Loop::clockwise;
  drive.order = order;
  return drive;
}

// A few settings across the travel, where a drive's order is judged.
std::vector<double> settings_to_judge(const Drive& drive) {
  std::vector<double> settings{0.0};
  if (drive.tensioner) {
    constexpr int kSettings = 9;
    for (int k = 1; k < kSettings; ++k) {
      settings.push_back(drive.tensioner->path.travel_length() * k / (kSettings - 1));
    }
    if (drive.tensioner->set_q) settings.push_back(*drive.tensioner->set_q);
  }
  return settings;
}

// Looks at the path at each of those settings until a look says that it is enough.
template <class Look>
bool any_setting(const Drive& drive, const Look& enough) {
  // A cover in the wrong place says nothing about the order of the pulleys.
  Surroundings around = drive.around;
  around.obstacles.clear();
  std::vector<Wheel> wheels;
  TangentPath path;
  for (const double q : settings_to_judge(drive)) {
    place_wheels(drive, q, wheels);
    if (solve_path(wheels, path).solved() && enough(wheels, path, around)) return true;
  }
  return false;
}

bool can_run_somewhere(const Drive& drive) { return any_setting(drive, can_run); }

// The fewest reasons against the path at any setting; 0: it can run.
std::size_t least_refusals(const Drive& drive) {
  constexpr std::size_t kNoPath = 1000;
  std::size_t least = kNoPath;
  any_setting(drive, [&least](const auto& wheels, const auto& path, const auto& around) {
    least = std::min(least, reasons_against(wheels, path, around).size());
    return least == 0;
  });
  return least;
}

Drive choose_order(const Drive& listed) {
  Drive forwards = in_order(listed, Order::as_listed);
  if (forwards.pulleys.size() == 2) return forwards;
  Drive backwards = in_order(listed, Order::reversed);
  const std::size_t against_forwards = least_refusals(forwards);
  if (against_forwards == 0) {
    forwards.both_orders_run = can_run_somewhere(backwards);
    return forwards;
  }
  return least_refusals(backwards) < against_forwards ? backwards : forwards;
}

void add_obstacles(const DriveSpec& spec, Drive& drive) {
  for (const CoverSpec& cover : spec.covers) {
    drive.around.obstacles.push_back({cover.points_mm, cover.kind});
    drive.obstacle_names.push_back(cover.name);
  }
}

std::optional<double> turns_per_crank_of(const std::optional<Role>& role,
                                         const std::optional<double>& own) {
  if (!role) return std::nullopt;
  switch (*role) {
    case Role::crankshaft:
      return 1.0;
    case Role::camshaft:
    case Role::injection_pump:
      return 0.5;
    case Role::balance_shaft:
      return 2.0;
    case Role::auxiliary_shaft:
      // Which way round is the belt's and the gears' to say.
      return own ? std::optional(std::abs(*own)) : std::nullopt;
    case Role::water_pump:
    case Role::oil_pump:
    case Role::idler:
      return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace

int Drive::index_of(std::string_view name) const {
  for (std::size_t i = 0; i < pulleys.size(); ++i) {
    if (pulleys[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

std::optional<double> Tensioner::pointer_at(double q) const {
  if (!pointer_deg || !set_q || !path.swing()) return std::nullopt;
  const double turned_deg = path.reading(q).value - path.reading(*set_q).value;
  return Angle::clock(*pointer_deg + turned_deg).clock_deg();
}

TensionerPlace Tensioner::at(double q) const {
  return {q, path.reading(q), path.travel(q), path.in_travel(q), pointer_at(q), path.centre_mm(q)};
}

void place_wheels(const Drive& drive, double q, std::vector<Wheel>& wheels) {
  wheels.clear();
  for (const Pulley& pulley : drive.pulleys) wheels.push_back(pulley.wheel);
  if (!drive.tensioner) return;
  wheels[static_cast<std::size_t>(drive.tensioner->pulley)].centre_mm =
      drive.tensioner->path.centre_mm(q);
}

std::vector<Wheel> placed_wheels(const Drive& drive, double q) {
  std::vector<Wheel> wheels;
  place_wheels(drive, q, wheels);
  return wheels;
}

DriveResult build_drive(const FittedSpec& fitted) {
  const DriveSpec& spec = fitted.spec();
  DriveResult result;
  const std::optional<Belt> known = build_belt(spec.belt, result.missing);
  // Without a pitch nothing can be built, but what else is missing can still be told.
  const Belt belt =
      known.value_or(Belt{1.0, {}, 1.0, 1.0, 1.0, 1.0, {}, {}, {}, 0.0, 0.0, false, ""});
  if (spec.places) {
    for (const PlaceFault& fault : spec.places->faults) result.missing.push_back(told(fault));
  }
  Drive drive;
  drive.belt = belt;
  constexpr double kPercent = 0.01;
  drive.belt.stretch = kPercent * spec.build.stretch_percent.value_or(0.0);
  bool whole = known.has_value();
  for (std::size_t i = 0; i < spec.pulleys.size(); ++i) {
    const PulleySpec& from = spec.pulleys[i];
    const int index = static_cast<int>(i);
    if (from.tensioner) {
      drive.tensioner = build_tensioner(from, index, result.missing);
      whole = whole && drive.tensioner.has_value();
    }
    const std::optional<Pulley> pulley = build_pulley(spec, index, belt, result.missing);
    whole = whole && pulley.has_value();
    if (pulley) drive.pulleys.push_back(*pulley);
  }
  if (!whole || drive.pulleys.size() < 2) return result;
  drive.direction = spec.crank_turns ? Direction::given : Direction::assumed;
  drive.crank_turns = spec.crank_turns.value_or(Turn::clockwise);
  add_obstacles(spec, drive);
  result.drive = choose_order(drive);
  return result;
}

std::optional<double> turns_per_crank(const PulleySpec& pulley) {
  return turns_per_crank_of(pulley.role, pulley.turns_per_crank);
}

std::optional<double> turns_per_crank(const GearedSpec& geared) {
  return turns_per_crank_of(geared.role, geared.turns_per_crank);
}

}  // namespace twoturn
