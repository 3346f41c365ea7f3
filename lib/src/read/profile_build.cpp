#include <fmt/format.h>

#include "profile_parts.hpp"

namespace twoturn::reading {
namespace {

std::optional<int> signed_count(Reading& reading, const Entry& entry) {
  if (!entry.node->is_string()) return reading.count(entry);
  const std::optional<double> value = read_early_or_late(reading, entry);
  return value ? reading.whole(entry, *value) : std::nullopt;
}

// Lengths by head; where there is one head, the number alone will do.
std::map<std::string, double> by_head(Section& build, std::string_view stem,
                                      const std::vector<HeadSpec>& heads) {
  std::map<std::string, double> lengths;
  for (const auto& [name, entry] : build.lengths_by_name(stem)) {
    if (build.reading().surveying) break;
    if (name.empty() && heads.size() != 1) {
      build.reading().blame(
          entry, fmt::format("with {} the number alone does not say which: write {}_mm = {{ NAME "
                             "= ... }}, and a [[head]] of that name",
                             heads.empty() ? "no [[head]]" : "more than one [[head]]", stem));
      continue;
    }
    const std::string& head = name.empty() ? heads.front().name : name;
    const std::optional<double> value = build.reading().number(entry);
    if (value && !lengths.emplace(head, *value).second) {
      build.reading().blame(entry, "the same length stands twice, in another unit; keep one");
    }
  }
  return lengths;
}

WarmSpec read_warm(Section warm) {
  WarmSpec spec;
  spec.cold_c = warm.number("cold_c");
  spec.block_c = warm.number("block_c");
  spec.head_c = warm.number("head_c");
  spec.belt_c = warm.number("belt_c");
  spec.block_ppm_per_c = warm.number("block_ppm_per_c");
  spec.head_ppm_per_c = warm.number("head_ppm_per_c");
  spec.belt_ppm_per_c = warm.number("belt_ppm_per_c");
  warm.finish();
  return spec;
}

}  // namespace

BuildSpec read_build(Section build, const std::vector<HeadSpec>& heads) {
  BuildSpec spec;
  Reading& reading = build.reading();
  spec.skim_mm = by_head(build, "skim", heads);
  spec.block_skim_mm = by_head(build, "block_skim", heads);
  spec.gasket_change_mm = by_head(build, "gasket_change", heads);
  for (const auto& named : build.by_name("renewed")) {
    Section renewed = build.named_table(named, "renewed");
    RenewedSpec& part = spec.renewed[named.first];
    part.teeth = renewed.count("teeth");
    part.diameter_mm = renewed.length("diameter");
    part.at_mm = renewed.position("at");
    renewed.finish();
  }
  for (const auto& [name, entry] : build.by_name("teeth_out")) {
    if (reading.surveying) break;
    if (const auto teeth = signed_count(reading, entry)) spec.teeth_out[name] = *teeth;
  }
  for (const auto& [name, entry] : build.by_name("adjusted_deg")) {
    if (reading.surveying) break;
    if (const auto degrees = read_early_or_late(reading, entry)) spec.adjusted_deg[name] = *degrees;
  }
  spec.stretch_percent = build.number("stretch_percent");
  spec.length_by_standard = build.yes_no("length_by_standard").value_or(false);
  if (auto warm = build.table("warm")) spec.warm = read_warm(std::move(*warm));
  build.finish();
  return spec;
}

}  // namespace twoturn::reading
