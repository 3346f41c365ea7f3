#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"
#include "twoturn/drive/tensioner_path.hpp"
#include "twoturn/geometry/belt_run.hpp"

namespace twoturn {

/// By the book: the drive as drawn. As fitted: with everything under [build] applied.
enum class Fit { by_the_book, as_fitted };

/// How far a head and all that is mounted on it stand further from the crank than by the book, mm:
/// gasket change less head skim less block skim.
double head_lift_mm(const BuildSpec& build, const std::string& head);

struct Belt {
  double pitch_mm = 0.0;
  std::optional<int> teeth;
  std::optional<double> tooth_height_mm;
  std::optional<double> thickness_mm;
  std::optional<double> land_to_pitch_line_mm;
  std::optional<double> back_to_pitch_line_mm;
  std::optional<int> least_teeth;
  std::optional<double> least_roller_mm;
  std::optional<double> length_tolerance_mm;
  double reference_tension_n = 0.0;
  double stretch = 0.0;  ///< each tooth takes so much more than a pitch, a share of it
  bool double_sided = false;
  std::string section;  ///< empty where the profile gives its own numbers

  /// What one tooth takes of the pitch line on its way; in the grooves it lies at their pitch.
  double tooth_mm() const { return pitch_mm * (1.0 + stretch); }
  double length_mm(int count) const { return tooth_mm() * count; }
};

struct Pulley {
  std::string name;
  std::optional<Role> role;
  int listed = 0;  ///< place in the profile's list
  int teeth = 0;   ///< 0: plain
  Face face = Face::tooth;
  Wheel wheel;              ///< of a tensioner: at the drawn setting
  double outside_mm = 0.0;  ///< diameter of the running face
  double rim_mm = 0.0;      ///< largest solid radius: outside or flange
  int head = -1;            ///< index in the profile's heads; -1 on the block

  bool toothed() const { return teeth > 0; }
};

/// The tensioner, which pulley it carries, and what the maker's marks say.
struct Tensioner {
  int pulley = 0;
  TensionerPath path;
  std::optional<double> set_q;        ///< of `set_deg` or `set_mm`
  double set_give = 3.0;              ///< deg (swing) or mm (slide)
  std::optional<double> pointer_deg;  ///< where the pointer stands at set_q

  /// The pointer's clock angle at a setting; it turns with the eccentric.
  std::optional<double> pointer_at(double q) const;
  TensionerPlace at(double q) const;
};

/// Which way the crank turns is given, or clockwise is taken: that changes no length, but what is
/// early and what is late hangs on it.
enum class Direction { given, assumed };

/// Which of the two directions round the list the belt takes.
enum class Order { as_listed, reversed };

/// A validated drive with its geometry. Pulleys stand in the order of the belt's travel, the crank
/// first: the slack side leaves it, the tight side arrives at it from the last pulley.
struct Drive {
  Belt belt;
  std::vector<Pulley> pulleys;
  std::optional<Tensioner> tensioner;
  Surroundings around;
  std::vector<std::string> obstacle_names;
  Turn crank_turns = Turn::clockwise;
  Direction direction = Direction::given;
  Order order = Order::as_listed;
  bool both_orders_run = false;  ///< two different paths can be a belt's: refused

  int index_of(std::string_view name) const;  ///< -1 when there is none
};

/// The wheels with the tensioner at setting q (ignored without a tensioner). `wheels` is reused.
void place_wheels(const Drive& drive, double q, std::vector<Wheel>& wheels);
std::vector<Wheel> placed_wheels(const Drive& drive, double q);

/// Turns of a role's shaft for one of the crank, unsigned; empty for an untimed role. Two for a
/// balance shaft, which may turn either way.
std::optional<double> turns_per_crank(const PulleySpec& pulley);
std::optional<double> turns_per_crank(const GearedSpec& geared);

}  // namespace twoturn
