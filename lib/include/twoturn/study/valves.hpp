#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/missing.hpp"
#include "twoturn/drive/unsure.hpp"
#include "twoturn/engine/valve_room.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// Where in two turns, for a person at the crank.
struct CrankPlace {
  int cylinder = 0;
  double crank_deg = 0.0;  ///< past the top dead centre at which cylinder 1 fires, [0, 720)
};

/// The least room between one valve and its piston over two turns, with its cam so much out.
struct ValveRoom {
  double error_crank_deg = 0.0;  ///< + early
  double least_mm = 0.0;         ///< along the bore; below 0: they would overlap by that much
  double at_deg = 0.0;  ///< crank deg after the cylinder's top dead centre between exhaust and
                        ///< inlet stroke; before it below 0
  RoomStands stands = RoomStands::clears;
  Unsure unsure{};                         ///< of the least room; teeth are known exactly
  std::optional<double> touches_from_deg;  ///< as `at_deg`: where the first touch begins, forwards
  std::optional<double> touches_to_deg;
  std::optional<CrankPlace> where;  ///< of the least room or, where they touch, of the first touch
                                    ///< that comes turning on from the timing position; empty
                                    ///< where the firing order is not known
};

struct ValveRoomAtTeeth {
  int teeth_out = 0;  ///< + early
  ValveRoom room;
};

/// How well it is known how far a cam is out.
enum class PhaseFrom { book, two_turns, counts };

struct ValveAnswer {
  std::string name;
  std::string cam;
  ValveSide side = ValveSide::inlet;
  std::vector<int> cylinders;
  std::string head;  ///< that carries it; empty: none
  double limit_mm = 0.0;
  bool limit_given = false;  ///< by the profile; else common practice
  double lash_mm = 0.0;
  std::optional<LiftLaw> law;  ///< empty: a measured table
  bool law_given = false;
  CrownShape crown = CrownShape::pocket;
  bool crown_given = false;
  double valve_deg = 0.0;
  double drop_a_lift = 1.0;
  double greatest_lift_mm = 0.0;
  double greatest_drop_mm = 0.0;
  double opens_deg = 0.0;  ///< leaves its seat, by the book; as `ValveRoom::at_deg`
  double centre_deg = 0.0;
  double closes_deg = 0.0;
  double room_tdc_mm = 0.0;  ///< by the book, valve shut
  bool room_from_clay = false;
  double nearer_mm = 0.0;         ///< as fitted, by skims less gasket change
  double least_any_cam_mm = 0.0;  ///< as fitted, piston at top dead centre and valve fully open
  std::optional<double> tooth_crank_deg;  ///< a tooth of the cam's pulley
  PhaseFrom phase_from = PhaseFrom::book;
  Direction direction = Direction::given;  ///< assumed: early may be late
  ValveRoom book;                          ///< heights and timing by the book
  ValveRoom nearer;                        ///< heights as fitted, timing by the book
  ValveRoom fitted;
  int fitted_teeth_out = 0;     ///< whole teeth nearest the cam's error
  double rest_crank_deg = 0.0;  ///< what is left of it
  std::vector<ValveRoomAtTeeth>
      teeth;  ///< -4 to 4 whole teeth and the rest; empty: tooth not known

  bool can_meet() const { return least_any_cam_mm <= 0.0; }
};

/// Two valve heads of one chamber.
struct ValvePairAnswer {
  std::string inlet;
  std::string exhaust;
  double limit_mm = 0.0;
  bool limit_given = false;
  double book_mm = 0.0;
  double fitted_mm = 0.0;   ///< 0: they touch
  double overlap_mm = 0.0;  ///< how deep, where they do
  Unsure book_unsure{};
  Unsure fitted_unsure{};  ///< of the gap, or of the overlap
  RoomStands stands = RoomStands::clears;
  double at_deg = 0.0;  ///< of the fitted one, as `ValveRoom::at_deg`

  double room_mm() const { return fitted_mm - overlap_mm; }
};

struct ValvesAnswer {
  Fit fit = Fit::as_fitted;
  std::vector<ValveAnswer> valves;
  std::vector<ValvePairAnswer> pairs;
  bool complete = false;  ///< every cylinder has an inlet and an exhaust valve among them
  bool can_meet = false;  ///< some valve can reach its piston with its cam anywhere
};

/// Room at every valve that enough is known of; what is missing for the others is added to
/// `missing`. `turns` is the drive's own answer for the same fit, where there is one: it says how
/// far each cam is out. Without it teeth out are counted, and the rest of [build] is not seen.
[[nodiscard]] std::optional<ValvesAnswer> valves_answer(const DriveSpec& spec, Fit fit,
                                                        const TurnsAnswer* turns,
                                                        std::vector<Missing>& missing);

/// The valve with least room to its piston as fitted. An answer has one valve at least.
const ValveAnswer& tightest_valve(const ValvesAnswer& answer);

inline constexpr double kHardlyAnyShare = 0.25;  // of the limit

/// Touching, or less than a quarter of the room there should be: chain, bearings and floating
/// valves take that up (common practice).
bool as_good_as_touching(const ValveAnswer& valve);
bool as_good_as_touching(const ValvePairAnswer& pair);

/// What a room as fitted is 95 times in 100 at the least: touching, or as good as that; below its
/// limit; or neither.
RoomStands surely_stands(const ValveAnswer& valve);
RoomStands surely_stands(const ValvePairAnswer& pair);

/// Whether some room as fitted may touch, of what is so 95 times in 100.
bool may_touch(const ValvesAnswer& answer);

/// How the worst of all valves and pairs stands as fitted. Touching, or as good as that, counts
/// where it is sure, else as below the limit.
RoomStands worst_stand(const ValvesAnswer& answer);

/// Whole teeth out that the answer goes through, either way.
inline constexpr int kMostTeethOut = 4;

}  // namespace twoturn
