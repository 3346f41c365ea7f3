#include "twoturn/write/csv.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "answer_tables.hpp"
#include "csv_row.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
std::string route_csv(const RouteAnswer& answer) {
  return pulleys_table(answer).csv({"name", "teeth", "face", "centre_right_mm", "centre_up_mm",
                                    "pitch_radius_mm", "wrap_deg", "mesh_exact_teeth",
                                    "teeth_in_mesh", "run_to", "run_length_mm"});
}

std::string teeth_csv(const Drive& drive, const TeethAnswer& answer) {
  return counts_table(drive, answer).csv();
}

std::string compare_csv(const CompareAnswer& answer) { return compare_table(answer).csv(); }

std::string tensioner_csv(const TensionerAnswer& answer) {
  const std::string at = in_unit("at", answer.kind);
  const std::string rate = in_unit("rate_mm_per", answer.kind);
  return travel_table(answer).csv({at, "pointer_deg", "travel", "centre_right_mm", "centre_up_mm",
                                   "length_mm", "teeth_exact", "wrap_deg", rate, "over_centre",
                                   "adjustment_left_mm", "refused"});
}

std::string turns_csv(const TurnsAnswer& answer) { return steps_table(answer).csv(); }

std::string sections_csv() { return sections_table().csv(); }

std::string valves_csv(const ValvesReport& report) {
  return rooms_table(*report.engine.valves).csv();
}

}  // namespace twoturn
