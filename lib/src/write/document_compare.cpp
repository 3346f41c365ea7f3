#include "document_parts.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {

std::string compare_document(const Heading& heading, const CompareAnswer& answer) {
  using documents::Json;
  using documents::number;
  const TensionerKind kind = answer.kind.value_or(TensionerKind::slide);
  Json counts = Json::array();
  for (const ComparedCount& count : answer.counts) {
    counts.push_back({{"teeth", count.teeth},
                      {"length_mm", number(count.length_mm)},
                      {"goes_on", count.goes_on},
                      {"probability", number(count.probability)},
                      {"mismatch_mm", number(count.mismatch_mm)},
                      {"meant", documents::setting(count.meant)},
                      {"meant_unsure", documents::unsure(count.unsure, kind)},
                      {in_unit("apart", kind), number(count.apart)},
                      {"meets_marks", count.meets_marks}});
  }
  Json document = documents::head(heading);
  document["compare"] = std::move(counts);
  document["meant_teeth"] = number(answer.meant_teeth);
  document[in_unit("set_give", kind)] = number(answer.set_give);
  document["tolerance_mm"] = number(answer.tolerance_mm);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
