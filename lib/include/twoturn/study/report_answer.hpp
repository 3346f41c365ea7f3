#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/spread_answer.hpp"
#include "twoturn/study/belt_view.hpp"
#include "twoturn/study/engine_curves_answer.hpp"
#include "twoturn/study/motion.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/timing/marks_answer.hpp"

namespace twoturn {

/// What may be wrong, as a picture: the belt end of a faulty build.
struct ReportCandidate {
  std::string title;
  double probability = 0.0;
  BeltView view;
};

/// All that a report shows: the check with its answers, the belt end and how it moves, and how the
/// belt's length hangs on the tensioner.
struct ReportAnswer {
  Heading heading;
  CheckAnswer check;
  std::optional<BeltView> view;
  std::vector<ReportCandidate> candidates;  ///< the two likeliest by what was seen
  std::optional<Motion> motion;
  std::optional<TensionerAnswer> curve;  ///< in finer rows than the check's own
  EngineCurves nearest;  ///< the cylinder in which a valve comes nearest; may be empty
  MarksAnswer counts;    ///< what tooth counts alone tell
  /// The same drive built a few thousand times within what its numbers may be off by; empty where
  /// they are all exact, or the belt's count is not known.
  std::optional<SpreadAnswer> spread;
  std::optional<FeelAnswer> feel;  ///< every half crank deg; where springs are known
};

}  // namespace twoturn
