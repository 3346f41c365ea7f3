#include <cmath>

#include "base/at.hpp"
#include "check_parts.hpp"
#include "twoturn/drive/place_answer.hpp"
#include "words/sentences_places.hpp"

namespace twoturn {

void find_in_places(const DriveSpec& spec, std::vector<Finding>& findings) {
  if (!spec.places || spec.places->suspect.seen < 0) return;
  const MeasuredRow& row = spec.places->rows[at(spec.places->suspect.seen)];
  Finding finding{Level::look, "measured-contradict", row.from,
                  sentences::contradiction(*spec.places)};
  finding.value = std::abs(row.off);
  finding.limit = row.give_or_take.value;
  finding.unit = row.kind == MeasuredKind::bearing ? "deg" : "mm";
  finding.brief = "the measurements of the centres contradict each other";
  finding.action = spec.places->suspect.told ? "measure again: " + sentences::measurement(row)
                                             : "measure those centres again";
  findings.push_back(finding);
}

}  // namespace twoturn
