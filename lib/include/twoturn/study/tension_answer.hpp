#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/setting.hpp"

namespace twoturn {

/// One straight of belt between neighbouring pulleys, and what it shows at the target.
struct TensionRun {
  std::string from;
  std::string to;  ///< in the belt's travel
  double length_mm = 0.0;
  double length_give_mm = 0.0;      ///< give or take, by how well the places are known
  bool target = false;              ///< the one that [tension] names
  bool best = false;                ///< the one to measure on
  std::optional<double> tension_n;  ///< with the target where it is read; springs counted
  std::optional<double> note_hz;
  std::optional<double> give_mm;  ///< at its middle, to `push_n`
};

/// What the trade tries with bare hands, as bounds for one run. Both are common practice; how hard
/// hands press and twist is from memory.
struct HandTests {
  std::string from;
  std::string to;
  double push_give_mm = 0.0;            ///< a thumb's push gives about so far
  double push_least_n = 0.0;            ///< then the belt has from so many N
  double push_greatest_n = 0.0;         ///< to so many
  std::optional<double> twist_least_n;  ///< a quarter turn and no more; needs the belt's width
  std::optional<double> twist_greatest_n;
};

/// The pointer for a tension: the tensioner where the belt, stretched by it, has its length.
struct TensionPointer {
  Setting untensioned;            ///< at the tension at which the belt has its own length
  std::optional<Setting> target;  ///< empty: no place in its travel gives so much
  double n_per_unit = 0.0;        ///< tension for each degree or mm on towards tight
};

enum class TensionBy { newton, note, give };

/// How a reading stands to the target.
/// Open: off by more than is allowed, but by less than the reading may be.
enum class TensionStands { fits, open, low, high, another_note_up, another_note_down };

/// How a reading stands, in words: "too slack", and "move the tensioner on towards tight", which is
/// empty where it fits.
struct TensionWords {
  std::string judged;
  std::string to_do;
};
[[nodiscard]] TensionWords words_of(TensionStands stands);

struct TensionReading {
  TensionBy by = TensionBy::newton;
  double value = 0.0;         ///< N, Hz or mm
  double give_or_take = 0.0;  ///< in its unit, 95 %
  double push_n = 0.0;        ///< of a give
  std::string from;
  std::string to;
  double tension_n = 0.0;
  double tension_give_n = 0.0;
  std::optional<double> share;  ///< of what this run should have
  std::optional<TensionStands> stands;
};

struct TensionAnswer {
  Fit fit = Fit::as_fitted;
  std::optional<double> target_n;  ///< in the run that is meant, where it is read
  bool target_given = false;       ///< as a note it says nothing without the belt's mass
  std::string from;                ///< that run; empty: any
  std::string to;
  double at_crank_deg = 0.0;
  double push_n = 0.0;
  std::optional<double> mass_kg_per_m;
  bool weighed = false;
  std::optional<double> stiffness_n;
  bool springs_counted = false;    ///< else every run is taken to have the same
  std::optional<double> static_n;  ///< in every run without a load
  double reference_n = 0.0;        ///< at which the belt has its own length
  std::vector<TensionRun> runs;
  std::optional<HandTests> hands;
  std::optional<TensionerKind> kind;
  std::optional<TensionPointer> pointer;
  std::optional<TensionReading> reading;
};

/// A reading within so much of the target is right (common practice).
inline constexpr double kTensionShare = 0.10;

}  // namespace twoturn
