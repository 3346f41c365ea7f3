#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/study/tension_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// What was measured on a belt; of `give` with the push it took.
struct TensionQuestion {
  std::optional<TensionBy> by;
  double value = 0.0;
  std::optional<double> give_or_take;  ///< else the usual
  std::optional<double> push_n;
  std::string from;  ///< the run; empty: the one of [tension], else the one to measure on
  std::string to;
};

/// The run that a question is about; nullptr where it names none of the belt.
const TensionRun* run_asked(const TensionQuestion& question, const TensionAnswer& answer);

/// Why a reading says nothing; empty where it does.
std::string why_not(const TensionQuestion& question, const TensionAnswer& answer);

/// One target as newtons, notes, gives and pointer, and a reading back. `turns` is of the same fit.
/// What is missing for more is added to `missing`.
[[nodiscard]] TensionAnswer tension_answer(const DriveSpec& spec, const Fitted& fitted,
                                           const TurnsAnswer& turns,
                                           const TensionQuestion& question,
                                           std::vector<Missing>& missing);

}  // namespace twoturn
