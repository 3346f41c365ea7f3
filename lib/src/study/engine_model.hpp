// The engine as its answers need it: what the profile says, solved.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/unsure.hpp"
#include "twoturn/engine/valve_gap.hpp"
#include "twoturn/engine/valve_room.hpp"
#include "twoturn/study/pistons.hpp"
#include "twoturn/study/valves.hpp"

namespace twoturn::study {

/// One valve of the profile that enough is known of, heights by the book.
struct ModelValve {
  const ValveSpec* spec = nullptr;
  ValveOverPiston over;
  std::vector<int> cylinders;
  std::string head;
  double nearer_mm = 0.0;          ///< as the fit has it
  std::optional<Angle> clay_at{};  ///< where the clay was pressed least
  double limit_mm = 0.0;
  bool limit_given = false;

  bool serves(int cylinder) const {
    return std::find(cylinders.begin(), cylinders.end(), cylinder) != cylinders.end();
  }
  ValveOverPiston fitted() const {
    ValveOverPiston nearer = over;
    nearer.room_tdc_mm -= nearer_mm;
    return nearer;
  }
};

struct EngineModel {
  PistonsAnswer pistons;
  SliderCrank crank;
  std::vector<ModelValve> valves;
};

/// A valve's lobe from its timing and lift; empty where too little is said, or no lobe does it.
std::optional<Lobe> lobe_if_said(const ValveSpec& valve);

/// Empty without cylinders, stroke and rod.
std::optional<EngineModel> engine_model(const DriveSpec& spec, Fit fit,
                                        std::vector<Missing>& missing);

/// The head that carries a valve: its own word, the only one there is, the one its cam is mounted
/// on, else what the angles of bores and decks tell of its cylinders' bank. Empty: not known.
std::string head_of(const DriveSpec& spec, const ValveSpec& valve);

/// The lobe that a valve's numbers make; enough of them given. Empty: none does all of them.
std::optional<Lobe> lobe_of(const ValveSpec& valve);

Crown crown_of(const ValveSpec& valve);  ///< not known: a pocket, the nearer one
/// What clay square to the pocket shows along the bore.
double clay_along_bore_mm(const ValveSpec& valve);
/// Its head across the chamber, where that is given.
std::optional<ValveHead> head_across(const ValveSpec& valve);

std::optional<SliderCrank> crank_of(const EngineSpec& engine);

/// Every cylinder has an inlet and an exhaust valve.
bool covers_every_cylinder(const EngineModel& model);

/// How far a cam is out, crank deg, + early.
struct CamError {
  double crank_deg = 0.0;
  PhaseFrom from = PhaseFrom::book;
  Direction direction = Direction::given;
  std::vector<Effect> effects{};  ///< crank deg; keys are the turns' own
};
CamError cam_error(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                   const std::string& cam);

/// Crank deg that a belt tooth at a cam's pulley is worth; of a geared cam: at the pulley that
/// drives it. Empty where the count is not known.
std::optional<double> tooth_crank_deg(const DriveSpec& spec, Fit fit, const std::string& cam);

}  // namespace twoturn::study
