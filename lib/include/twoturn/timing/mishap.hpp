#pragma once

#include <map>
#include <string>

namespace twoturn {

/// What went wrong as the belt was put on, beside what [build] says. By shaft name; the crank is no
/// shaft of these maps but the first.
struct Mishap {
  std::map<std::string, int> teeth_out;  ///< + early; on top of those that [build] says
  /// How far a pulley stands behind where its teeth would put it, mm along the pitch line: slack on
  /// its way that tensioning took up, a belt that is not down in its grooves. Below 0: ahead.
  std::map<std::string, double> late_mm;
  /// A pulley, or gear, ahead (+) of where it belongs on its shaft, own deg.
  std::map<std::string, double> seat_deg;

  bool none() const { return teeth_out.empty() && late_mm.empty() && seat_deg.empty(); }
};

}  // namespace twoturn
