#include <fmt/format.h>

#include <array>

#include "profile_parts.hpp"
#include "twoturn/base/parse_number.hpp"

namespace twoturn::reading {
namespace {

// "1 late", "2 teeth early", "1.5 advanced": the number, late negative; or why not.
struct EarlyOrLate {
  double value = 0.0;
  std::string fault;
};
EarlyOrLate early_or_late(std::string_view said) {
  const EarlyOrLate neither{0.0,
                            "must be a number, early above 0 and late below it, or words like \"1 "
                            "late\" and \"2 early\""};
  said = toml_text::trimmed(said);
  const std::size_t end = std::min(said.find(' '), said.size());
  const std::string_view number = said.substr(0, end);
  if (!toml_text::is_number(number) || number[0] == '+' || number[0] == '-') return neither;
  const std::optional<double> value = parsed_number(number);
  std::string_view words = toml_text::trimmed(said.substr(end));
  for (const std::string_view unit : {"tooth ", "teeth ", "deg "}) {
    if (words.substr(0, unit.size()) == unit) words = toml_text::trimmed(words.substr(unit.size()));
  }
  const bool early = words == "early" || words == "advanced";
  if (!early && words != "late" && words != "retarded") return neither;
  if (!value) return {0.0, "must be smaller: no such number"};
  return {early ? *value : -*value, ""};
}

// A number, + advanced, or words; those are turned into the number and noted as given.
std::optional<double> signed_number(Reading& reading, const Entry& entry) {
  const auto* text = entry.node->as_string();
  if (text == nullptr || toml_text::is_number(text->get())) return reading.number(entry);
  EarlyOrLate read = early_or_late(text->get());
  if (!read.fault.empty()) {
    reading.blame(entry, std::move(read.fault));
    return std::nullopt;
  }
  reading.note(entry, read.value);
  return read.value;
}

std::optional<int> signed_count(Reading& reading, const Entry& entry) {
  if (!entry.node->is_string()) return reading.count(entry);
  const std::optional<double> value = signed_number(reading, entry);
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
    if (const auto degrees = signed_number(reading, entry)) spec.adjusted_deg[name] = *degrees;
  }
  spec.stretch_percent = build.number("stretch_percent");
  spec.length_by_standard = build.yes_no("length_by_standard").value_or(false);
  if (auto warm = build.table("warm")) spec.warm = read_warm(std::move(*warm));
  build.finish();
  return spec;
}

}  // namespace twoturn::reading
