#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/missing.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// A timed pulley of which little more than the tooth count is known.
struct CountedPulley {
  std::string name;
  std::optional<Role> role = Role::camshaft;
  int teeth = 0;
  double turns_per_crank = 0.5;     ///< what its shaft must make
  std::optional<double> centre_mm;  ///< from the crank's centre, roughly
  std::optional<double> skim_mm;    ///< how much nearer to the crank it has come; negative: further
};

/// What is known without coordinates; anything may be absent.
struct MarksQuestion {
  std::optional<int> belt_teeth;
  std::optional<int> crank_teeth;
  std::optional<double> pitch_mm;
  std::vector<CountedPulley> timed;  ///< without the crank
};

/// What one belt tooth is worth at a pulley.
struct ToothWorth {
  std::string name;
  std::optional<Role> role;
  int teeth = 0;
  double own_deg = 0.0;    ///< a tooth, in degrees of the pulley itself
  double crank_deg = 0.0;  ///< the same, in degrees of the crank
  std::optional<double> pitch_radius_mm;
  std::optional<double> own_deg_per_mm;  ///< what a mm at the pitch radius is worth
  std::optional<double> crank_deg_per_mm;
  double wanders_crank_deg = 0.0;  ///< how far it gains each two crank turns; 0 with a right ratio
};

/// How a shaft sits after its centre came nearer to the crank's, over a straight taut run.
struct SkimShift {
  std::string name;
  std::optional<Role> role;
  double centre_mm = 0.0;
  double skim_mm = 0.0;
  double own_deg = 0.0;  ///< + early, - late
  double crank_deg = 0.0;
  double edge_mm = 0.0;  ///< at the pitch radius
};

struct MarksAnswer {
  MarksQuestion question;
  std::vector<ToothWorth> worth;  ///< the crank first, where its count is known
  std::optional<Paint> paint;
  std::vector<SkimShift> skims;
  std::vector<Missing> missing;

  bool empty() const { return worth.empty(); }
};

}  // namespace twoturn
