#include "twoturn/study/starter_example.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "starter_parts.hpp"
#include "twoturn/base/assert.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

namespace twoturn {
namespace {

constexpr double kRollerMm = 60.0;
constexpr double kArmMm = 6.0;
constexpr double kMiddleMm = 70.0;
constexpr double kPlayMm = 0.15;

Vec2 whole(const Vec2& mm) { return {std::round(mm.x()), std::round(mm.y())}; }
Vec2 towards(double clock_deg) {
  const Angle angle = Angle::clock(clock_deg);
  return {std::cos(angle.radians()), std::sin(angle.radians())};
}

PulleySpec timed(std::string name, Role role, int teeth, const Vec2& at_mm, double mark_deg,
                 double pin_radius_mm) {
  PulleySpec pulley;
  pulley.name = std::move(name);
  pulley.role = role;
  pulley.teeth = teeth;
  pulley.at_mm = at_mm;
  if (role != Role::crankshaft) pulley.fixing = Fixing::keyed;
  pulley.mark_deg = mark_deg;
  pulley.pin = PinSpec{pin_radius_mm, kPlayMm, {}, {}, {}};
  return pulley;
}

PulleySpec cam(std::string name, const std::string& head, const Vec2& at_mm, double mark_deg) {
  constexpr int kTeeth = 40;
  constexpr double kPinRadiusMm = 35.0;
  PulleySpec pulley = timed(std::move(name), Role::camshaft, kTeeth, at_mm, mark_deg, kPinRadiusMm);
  pulley.mount = head;
  return pulley;
}

PulleySpec roller(std::string name, double diameter_mm, const Vec2& at_mm) {
  PulleySpec pulley;
  pulley.name = std::move(name);
  pulley.role = Role::idler;
  pulley.diameter_mm = diameter_mm;
  pulley.face = Face::back;
  pulley.at_mm = at_mm;
  return pulley;
}

// In the order of the belt's travel, crank clockwise: up on the left, over the cams, down again.
void add_cams(const StarterDrive& drive, DriveSpec& spec) {
  std::vector<PulleySpec>& all = spec.pulleys;
  if (drive.heads == 1) {
    if (drive.cams == 1) {
      all.push_back(cam("cam", "head", {6, 372}, 350));
    } else {
      all.push_back(cam("exhaust cam", "head", {-70, 386}, 345));
      all.push_back(cam("inlet cam", "head", {68, 391}, 15));
    }
    return;
  }
  if (drive.cams == 2) {
    all.push_back(cam("left cam", "left head", {-140, 291}, 330));
    all.push_back(cam("right cam", "right head", {143, 288}, 30));
    return;
  }
  all.push_back(cam("left exhaust cam", "left head", {-227, 381}, 320));
  all.push_back(cam("left inlet cam", "left head", {-115, 447}, 340));
  // Else the belt would go round the inlet cams for no more than three teeth.
  all.push_back(roller("middle idler", kMiddleMm, {4, 424}));
  all.push_back(cam("right inlet cam", "right head", {117, 445}, 20));
  all.push_back(cam("right exhaust cam", "right head", {229, 378}, 40));
}

void add_heads(const StarterDrive& drive, DriveSpec& spec) {
  struct Row {
    const char* name;
    double deck_deg;
    double skim_mm;
  };
  const std::vector<Row> rows =
      drive.heads == 1 ? std::vector<Row>{{"head", 4, 0.1}}
                       : std::vector<Row>{{"left head", 330, 0.05}, {"right head", 30, 0.05}};
  for (const Row& row : rows) {
    HeadSpec head;
    head.name = row.name;
    head.deck_deg = row.deck_deg;
    spec.heads.push_back(head);
    spec.build.skim_mm[row.name] = row.skim_mm;
  }
}

struct Solved {
  Drive drive;
  TangentPath path;
};

Solved solve(const DriveSpec& spec, double q = 0.0) {
  Solved solved{build_drive(spec_for(spec, Fit::by_the_book)).drive.value(), {}};
  [[maybe_unused]] const PathResult result =
      solve_path(placed_wheels(solved.drive, q), solved.path);
  TWOTURN_ASSERT(result.solved(), result.none.needed_mm);
  return solved;
}

// Puts a pulley into the run of belt that leaves pulley `after`, so that it presses the run out of
// line: teeth from the inside outwards, a roller on the back from the outside inwards.
void put_into_run(DriveSpec& spec, std::size_t after, double share, double press_mm,
                  PulleySpec pulley) {
  const Solved solved = solve(spec);
  const Span& run = solved.path.spans[after];
  const Vec2 outwards(-run.direction.y(), run.direction.x());  // clockwise: inside is on the right
  const Vec2 on_run = run.start_mm + share * run.length_mm * run.direction;
  const double pitch_mm = solved.drive.belt.pitch_mm;
  const double radius_mm = pulley.teeth
                               ? pitch_mm * *pulley.teeth / kFullTurn
                               : *pulley.diameter_mm / 2 + *solved.drive.belt.back_to_pitch_line_mm;
  const double side = pulley.teeth ? press_mm - radius_mm : radius_mm - press_mm;
  pulley.at_mm = whole(on_run + side * outwards);
  spec.pulleys.insert(spec.pulleys.begin() + static_cast<std::ptrdiff_t>(after) + 1,
                      std::move(pulley));
}

std::size_t longest_run(const DriveSpec& spec, std::size_t from, std::size_t to) {
  const Solved solved = solve(spec);
  std::size_t longest = from;
  for (std::size_t i = from; i <= to; ++i) {
    if (solved.path.spans[i].length_mm > solved.path.spans[longest].length_mm) longest = i;
  }
  return longest;
}

std::size_t first_camshaft(const DriveSpec& spec) {
  std::size_t i = 0;
  while (spec.pulleys[i].role != Role::camshaft) ++i;
  return i;
}

std::size_t last_camshaft(const DriveSpec& spec) {
  std::size_t i = spec.pulleys.size() - 1;
  while (spec.pulleys[i].role != Role::camshaft) --i;
  return i;
}

// Low on the slack side, or on the belt's back in the valley between two heads.
void add_water_pump(const StarterDrive& drive, DriveSpec& spec) {
  PulleySpec pump = roller("water pump", kMiddleMm, {0, 0});
  pump.role = Role::water_pump;
  if (drive.heads == 1) {
    pump.diameter_mm.reset();
    pump.face.reset();
    pump.teeth = 20;
    put_into_run(spec, 0, 0.3, 35.0, std::move(pump));
  } else if (drive.cams == 2) {
    put_into_run(spec, 1, 0.5, 20.0, std::move(pump));
  } else {
    PulleySpec& middle = spec.pulleys[3];
    pump.at_mm = middle.at_mm;
    middle = std::move(pump);
  }
}

void add_driven(const StarterDrive& drive, DriveSpec& spec) {
  if (drive.injection_pump) {
    PulleySpec pump = timed("injection pump", Role::injection_pump, 40, {0, 0}, 60, 30);
    pump.fixing = Fixing::free_until_tightened;
    put_into_run(spec, spec.pulleys.size() - 1, 0.4, 100.0, std::move(pump));
  }
  if (drive.water_pump) add_water_pump(drive, spec);
  if (drive.balance_shaft) {
    GearedSpec geared;
    geared.name = "balance shaft";
    geared.from = "crank";
    geared.ratio = -2.0;
    geared.role = Role::balance_shaft;
    geared.mark_deg = 175.0;
    geared.pin = PinSpec{20.0, 0.3, {}, {}, {}};
    spec.geared.push_back(geared);
  }
}

void add_idlers(const StarterDrive& drive, DriveSpec& spec) {
  constexpr double kIdlerMm = 56.0;
  if (drive.idlers > 0) {
    put_into_run(spec, spec.pulleys.size() - 1, 0.65, 12.0, roller("idler", kIdlerMm, {0, 0}));
  }
  if (drive.idlers > 1) {
    const std::size_t last_cam = last_camshaft(spec);
    const std::size_t run = longest_run(spec, last_cam, spec.pulleys.size() - 2);
    put_into_run(spec, run, 0.45, 9.0, roller("second idler", kIdlerMm, {0, 0}));
  }
}

// The clock angle of a direction, in fives of a degree.
double clock_fives(const Vec2& direction, double turned_deg) {
  const double clock = Angle::radians(std::atan2(direction.y(), direction.x())).clock_deg();
  constexpr double kFive = 5.0;
  return std::fmod(kFive * std::round((clock + turned_deg) / kFive) + 360.0, 360.0);
}

// On the slack side, which leaves the crank. An eccentric goes from pointing away from the belt
// through square, where it is set, to nearly into it; there it would be over centre.
void add_tensioner(const StarterDrive& drive, DriveSpec& spec) {
  if (drive.tensioner == StarterDrive::Tensioner::none) return;
  const std::size_t run = longest_run(spec, 0, first_camshaft(spec) - 1);
  const Vec2 along = solve(spec).path.spans[run].direction;
  const Vec2 inwards(along.y(), -along.x());
  put_into_run(spec, run, 0.5, 20.0, roller("tensioner", kRollerMm, {0, 0}));
  PulleySpec& pulley = spec.pulleys[run + 1];
  const Vec2 centre = *pulley.at_mm;
  pulley.at_mm.reset();
  TensionerSpec tensioner;
  if (drive.tensioner == StarterDrive::Tensioner::slide) {
    tensioner.path = SlideSpec{whole(centre - 6.0 * inwards), whole(centre + 8.0 * inwards)};
    tensioner.set_mm = 6.0;
  } else {
    SwingSpec swing;
    constexpr double kThinnestMm = 3.0;
    tensioner.set_deg = clock_fives(inwards, -80.0);
    swing.pivot_mm = whole(centre - kArmMm * towards(*tensioner.set_deg));
    swing.thickest_mm = kThinnestMm + 2.0 * kArmMm;
    swing.thinnest_mm = kThinnestMm;
    swing.slack_deg = clock_fives(inwards, -140.0);
    swing.tight_deg = clock_fives(inwards, -25.0);
    swing.tightens = Turn::clockwise;
    tensioner.path = swing;
    tensioner.pointer_deg = clock_fives(inwards, 10.0);
  }
  pulley.tensioner = tensioner;
}

double length_at_set(const DriveSpec& spec) {
  const Drive drive = build_drive(spec_for(spec, Fit::by_the_book)).drive.value();
  const double q = drive.tensioner ? *drive.tensioner->set_q : 0.0;
  return path_length(placed_wheels(drive, q)).length_mm;
}

DriveSpec raised(const DriveSpec& spec, double by_mm) {
  DriveSpec higher = spec;
  for (PulleySpec& pulley : higher.pulleys) {
    if (pulley.mount) pulley.at_mm->y() += by_mm;
  }
  return higher;
}

// Lifts the cams until a whole number of teeth makes the belt, then says where the marks stand.
void fit_belt(DriveSpec& spec) {
  const double pitch_mm = build_drive(spec_for(spec, Fit::by_the_book)).drive->belt.pitch_mm;
  spec.belt.teeth = static_cast<int>(std::round(length_at_set(spec) / pitch_mm));
  const double wanted_mm = pitch_mm * *spec.belt.teeth;
  double lift_mm = 0.0;
  constexpr int kSteps = 6;  // Newton on a curve that is all but straight
  for (int step = 0; step < kSteps; ++step) {
    constexpr double kProbeMm = 0.01;
    const double length = length_at_set(raised(spec, lift_mm));
    const double rate = (length_at_set(raised(spec, lift_mm + kProbeMm)) - length) / kProbeMm;
    lift_mm += (wanted_mm - length) / rate;
  }
  spec = raised(spec, lift_mm);
  for (PulleySpec& pulley : spec.pulleys) {
    if (pulley.mount) pulley.at_mm->y() = tenth(pulley.at_mm->y());
  }
  const Drive drive = build_drive(spec_for(spec, Fit::by_the_book)).drive.value();
  if (!drive.tensioner) {
    constexpr double kToleranceMm = 0.9;
    if (!drive.belt.length_tolerance_mm) spec.belt.length_tolerance_mm = kToleranceMm;
    return;
  }
  const std::vector<Setting> settings = TensionerCurve(drive).settings_for(wanted_mm);
  const Setting* meant = meant_setting(settings, *drive.tensioner);
  TWOTURN_ASSERT(meant != nullptr, lift_mm);
  for (PulleySpec& pulley : spec.pulleys) {
    if (!pulley.tensioner) continue;
    if (pulley.tensioner->set_deg) pulley.tensioner->set_deg = std::round(meant->reading.value);
    if (pulley.tensioner->set_mm) pulley.tensioner->set_mm = tenth(meant->reading.value);
  }
}

// Each gasket face well below what its head carries.
void place_gasket_faces(DriveSpec& spec) {
  for (HeadSpec& head : spec.heads) {
    const Angle deck = Angle::clock(*head.deck_deg);
    const Vec2 up(std::cos(deck.radians()), std::sin(deck.radians()));
    double lowest_mm = std::numeric_limits<double>::infinity();
    for (const PulleySpec& pulley : spec.pulleys) {
      if (pulley.mount == head.name && pulley.at_mm) {
        lowest_mm = std::min(lowest_mm, pulley.at_mm->dot(up));
      }
    }
    constexpr double kBelowMm = 70.0;
    constexpr double kStepMm = 5.0;
    head.deck_from_crank_mm = std::floor((lowest_mm - kBelowMm) / kStepMm) * kStepMm;
  }
}

}  // namespace

StarterAnswer starter_for(const StarterDrive& drive) {
  DriveSpec spec;
  spec.title = "Starter";
  spec.crank_turns = Turn::clockwise;
  spec.belt.over_10_teeth_mm = 95.25;
  spec.belt.tooth_height_mm = 1.9;
  spec.belt.thickness_mm = 4.1;
  spec.belt.land_to_pitch_line_mm = 0.686;
  spec.pulleys.push_back(timed("crank", Role::crankshaft, 20, {0, 0}, 185, 60));
  add_heads(drive, spec);
  add_cams(drive, spec);
  add_driven(drive, spec);
  add_idlers(drive, spec);
  add_tensioner(drive, spec);
  fit_belt(spec);
  place_gasket_faces(spec);
  if (drive.calliper) measure_with_calliper(spec);
  return {drive, std::move(spec)};
}

std::string no_starter_for(const StarterDrive& drive) {
  constexpr int kMostIdlers = 2;
  if (drive.heads != 1 && drive.heads != 2) return "one or two heads";
  const bool cams_fit =
      drive.heads == 1 ? drive.cams == 1 || drive.cams == 2 : drive.cams == 2 || drive.cams == 4;
  if (!cams_fit) {
    return "one head takes 1 or 2 cams on the belt, two heads 2 or 4; for another number ask for "
           "the next larger and take a [[pulley]] out";
  }
  if (drive.heads == 2 && drive.injection_pump) {
    return "an injection pump with one head only; with two ask without it and copy a [[pulley]]";
  }
  if (drive.idlers < 0 || drive.idlers > kMostIdlers) {
    return fmt::format("0 to {} idlers; for more copy a [[pulley]]", kMostIdlers);
  }
  return "";
}

}  // namespace twoturn
