// How bolts, their stages and holes are said.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace twoturn::sentences {

/// "40 Nm (29.5 lbf ft)"
std::string torque(double nm);
double lbf_ft(double nm);

/// An angle stage of a bolt: where the dot of paint on its head stands before and after.
struct AngleMove {
  double angle_deg = 0.0;
  double total_deg = 0.0;  ///< since the last torque, this one counted
};
/// "90 more: dot from 3 to 6 o'clock (180 in all)"
std::string angle_move(const AngleMove& move);
/// Clock degrees of the dot, whole turns taken off.
double dot_from_deg(const AngleMove& move);
double dot_to_deg(const AngleMove& move);

/// "bolt 3", "bolts 1, 2 and 5"
std::string bolts_numbered(const std::vector<int>& bolts);

/// "2 pins out of 2", "1 plug closed of 2"
struct CountOut {
  int done = 0;
  int of = 0;
};
std::string pins_out(const CountOut& pins);
std::string holes_closed(const CountOut& holes);

/// "plug, M12; seal: new copper washer"; what is not given is left out, empty where nothing is.
std::string closed_with(const std::optional<std::string>& closed_by,
                        const std::optional<std::string>& seal);

}  // namespace twoturn::sentences
