#pragma once

#include <optional>
#include <string>

#include "twoturn/study/engine_curves.hpp"
#include "twoturn/study/motion.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/study/view.hpp"

namespace twoturn {

/// All that a report shows: the check with its answers, the belt end and how it moves, and how the
/// belt's length hangs on the tensioner.
struct ReportAnswer {
  Heading heading;
  CheckAnswer check;
  std::optional<BeltView> view;
  std::optional<Motion> motion;
  std::optional<TensionerAnswer> curve;  ///< in finer rows than the check's own
  EngineCurves first;                    ///< cylinder 1; lists empty where too little is known
  EngineCurves nearest;                  ///< the cylinder in which a valve comes nearest
  std::optional<Turn> crank_turns;
};

/// The report for a spec that has passed `validate`.
[[nodiscard]] ReportAnswer report_of(const DriveSpec& spec, const Heading& heading);

/// One HTML file that opens with no connection, on a phone and a desk: verdict, findings, the belt
/// end with a handle that turns the crank through two turns, plots, tables, cautions. Its script
/// only goes between the motion's steps; without scripts everything but the motion is there.
std::string report_html(const ReportAnswer& report);

std::string report_document(const ReportAnswer& report, const std::string& path, std::size_t bytes);

}  // namespace twoturn
