// How far off the rooms of an engine may be, by the give-or-take of every number in them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine_model.hpp"
#include "twoturn/study/parking.hpp"

namespace twoturn::study {

/// At the angle of the least room the room does not change with the angle: what a number moves of
/// the least room is what it moves of the room there, and nothing is solved again. Each number is
/// moved by `kStepSigmas` up and down; the error of that is in lib/DERIVATIONS.md, "Rooms that may
/// be off". Needs `spec` and `model` while it lives.
class EngineUnsure {
 public:
  EngineUnsure(const DriveSpec& spec, const EngineModel& model);

  /// Of the room at a valve at an angle after overlap, heights and cam as the fit has them.
  Unsure room(const ModelValve& valve, Angle at, const CamError& cam, Fit heights) const;
  /// Of the gap between two heads; below 0 their overlap.
  Unsure gap(const ModelValve& inlet, const CamError& inlet_cam, const ModelValve& exhaust,
             const CamError& exhaust_cam, Angle at) const;

  enum class ParkedAt { any_angle, timing_position };
  /// Of what a cylinder's piston has to spare over its need with the crank standing there.
  Unsure spare(const ParkNeed& need, Fit heights, double crank_deg, ParkedAt where) const;

 private:
  // A valve with one number so many steps up and down.
  struct MovedValve {
    std::string key;
    ValveOverPiston up, down;
    std::optional<ValveHead> head_up, head_down;
  };
  struct MovedCrank {
    std::string key;
    SliderCrank up, down;
  };
  struct HeadNumber {
    std::string key;
    std::string head;
    double nearer_mm = 0.0;  ///< a sigma brings head and piston so much nearer
  };

  void move_valve(const ModelValve& valve);
  void move_crank();
  void add_head_numbers();
  const std::vector<MovedValve>& moved(const ModelValve& valve) const;
  ValveOverPiston over(const ModelValve& valve, const SliderCrank& crank) const;
  void add_layout(const ParkNeed& need, double mm_a_deg, std::vector<Effect>& effects) const;
  double sigma(std::string_view key) const;

  const DriveSpec& spec_;
  const EngineModel& model_;
  bool exact_ = true;
  std::vector<std::vector<MovedValve>> valves_;  // as model_.valves
  std::vector<MovedCrank> cranks_;
  std::vector<HeadNumber> heads_;
};

}  // namespace twoturn::study
