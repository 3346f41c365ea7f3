#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/geometry/survey.hpp"
#include "twoturn/study/check_answer.hpp"

namespace twoturn {

/// The belt end as it stands at one moment: every place that a picture of it shows, in the drive's
/// own coordinates (mm, x right, y up, the crank's centre at the origin unless the profile says
/// otherwise). Pictures take their places and numbers from here and compute none.

/// The tight side is the belt that arrives at the crank from the nearest timed shaft, the slack
/// side the belt that leaves it.
enum class Side { tight, slack, between };

struct SeenPulley {
  std::string name;
  std::optional<Role> role;
  int teeth = 0;  ///< 0: plain
  Face face = Face::tooth;
  Vec2 centre_mm = Vec2::Zero();
  double pitch_radius_mm = 0.0;
  double outside_radius_mm = 0.0;
  double rim_radius_mm = 0.0;  ///< the flange, or the outside again
  int sense = 1;               ///< +1: turns anticlockwise in the running direction
  Angle entry;                 ///< where the belt meets it
  Angle wrap;
  std::optional<Angle> groove;  ///< middle of one groove, as it stands; empty: not toothed
  Angle turned;                 ///< from where it stands with pins in, anticlockwise
  int fitting_order = 0;        ///< the belt goes on the crank (1) first, then against its travel
};

struct SeenMark {
  int pulley = 0;
  std::string name;  ///< of a further mark; empty for the pulley's own
  Angle at;
  std::optional<Angle> belongs;  ///< where it has to stand at this moment; timed shafts
  double radius_mm = 0.0;
  double error_crank_deg = 0.0;  ///< + early, where the view's direction is given
};

/// A pin's hole. Where it lies round the shaft no profile says: it is shown under the mark.
struct SeenPin {
  int pulley = 0;
  Angle at;
  double radius_mm = 0.0;
  bool bar = false;
  PinState state = PinState::not_given;
};

struct SeenRun {
  int from = 0;  ///< pulleys
  int to = 0;
  Vec2 start_mm = Vec2::Zero();
  Vec2 end_mm = Vec2::Zero();
  Side side = Side::between;
};

struct SeenTooth {
  long number = 0;            ///< 0 lies in the crank's groove 0; along travel
  Vec2 at_mm = Vec2::Zero();  ///< on the pitch line
  Angle towards;              ///< from the pitch line to the tooth side
  std::optional<int> paint;   ///< painted where it lay over this pulley's mark
};

/// Where a measured centre lies 95 times in 100; of a tensioner its pivot.
struct SeenRing {
  std::string name;
  Vec2 centre_mm = Vec2::Zero();
  Ellipse95 ellipse;
};

struct SeenTensioner {
  int pulley = 0;
  TensionerPath path;
  Setting setting;
  SettingChoice choice = SettingChoice::mid_travel;
  std::vector<Setting> others;  ///< where the belt has the same length
  std::optional<TensionerPlace> slack_end;
  std::optional<TensionerPlace> tight_end;
  std::optional<Turn> tightens;  ///< a swing's spanner
};

/// Belt teeth from one mark to the next along the belt's travel.
struct SeenCount {
  int from = 0;
  int to = 0;
  double teeth = 0.0;
  std::optional<double> other_way;  ///< from mark to mark the other way round
  bool countable = false;           ///< both are whole enough for a person to count
  Vec2 at_mm = Vec2::Zero();        ///< on the belt, half way
};

/// What a shaft that is a part of a tooth out shows at its pulley.
struct ToothOut {
  double teeth = 0.0;  ///< + early
  double own_deg = 0.0;
  double crank_deg = 0.0;
  double edge_mm = 0.0;  ///< at `radius_mm`
};

/// The pulley that the examples of a tooth out are worked for: the timed one that is furthest out.
struct ToothOutExample {
  int pulley = 0;
  double radius_mm = 0.0;
  std::vector<ToothOut> cases;     ///< from a tooth late over right to a tooth early
  double this_crank_deg = 0.0;     ///< how far out it is in this drive; + early
  std::optional<int> this_case{};  ///< the case nearest to that; empty: further out than any
};

/// Where a head meets the block, as far as the pulleys on that head reach.
struct SeenGasket {
  std::string name;  ///< of the head
  Vec2 from_mm = Vec2::Zero();
  Vec2 to_mm = Vec2::Zero();
};

/// How the drive moved from the book: the same pulleys and runs, drawn.
struct SeenMove {
  std::vector<Vec2> book_centres_mm;
  std::vector<SeenRun> book_runs;
  double greatest_move_mm = 0.0;  ///< of pulleys other than the tensioner's
  std::vector<std::string> said;  ///< "head skimmed 0.30 mm"
};

struct BeltView {
  std::string title;
  Fit fit = Fit::as_fitted;
  Angle lean;              ///< turns the picture, anticlockwise
  double crank_deg = 0.0;  ///< turned in the running direction from pins in
  bool is_belt = false;
  bool phase_known = false;  ///< false: teeth stand at no particular place
  Direction direction = Direction::given;
  Turn crank_turns = Turn::clockwise;
  double pitch_mm = 0.0;
  std::optional<int> belt_teeth;
  std::optional<double> tooth_height_mm;
  std::optional<double> land_to_pitch_line_mm;
  std::optional<double> back_to_pitch_line_mm;
  bool teeth_on_left = true;  ///< seen along the belt's travel
  bool double_sided = false;
  double length_mm = 0.0;
  std::vector<SeenPulley> pulleys;  ///< in travel order, the crank first
  std::vector<SeenRun> runs;
  std::vector<SeenMark> marks;
  std::vector<SeenPin> pins;
  std::vector<SeenTooth> teeth;
  double crank_mark_teeth = 0.0;  ///< the crank's mark, in teeth from tooth 0, with pins in
  std::optional<SeenTensioner> tensioner;
  std::vector<SeenRing> rings;
  std::vector<SeenCount> counts;
  std::vector<CoverSpec> covers;
  std::vector<SeenGasket> gaskets;
  std::optional<ToothOutExample> tooth_out;
  std::optional<SeenMove> moved;
  /// Where a direction of the engine points on the face of a clock, leaning as it stands.
  double clock_deg(Angle on_engine) const { return (on_engine + lean).clock_deg(); }

  std::vector<std::string> not_drawn;  ///< shafts off the belt, driven by gears
  std::vector<std::string> refused;    ///< why no belt can run so
};

}  // namespace twoturn
