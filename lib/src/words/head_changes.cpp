#include "head_changes.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {
namespace {

double value_of(const std::map<std::string, double>& by_head, const std::string& head) {
  const auto found = by_head.find(head);
  return found == by_head.end() ? 0.0 : found->second;
}

}  // namespace

std::vector<HeadChange> head_changes(const BuildSpec& build, const std::string& head) {
  const double gasket = value_of(build.gasket_change_mm, head);
  std::vector<HeadChange> changes;
  const auto add = [&changes](std::string_view key, std::string_view what, double mm) {
    if (!prints_as_nothing(mm, 3)) changes.push_back({key, what, mm});
  };
  add("skim_mm", "skimmed", value_of(build.skim_mm, head));
  add("block_skim_mm", "block skimmed", value_of(build.block_skim_mm, head));
  add("gasket_change_mm", gasket > 0.0 ? "gasket thicker by" : "gasket thinner by", gasket);
  return changes;
}

std::string told(const HeadChange& change) {
  return fmt::format("{} {} mm", change.what, shortest(std::abs(change.mm), 3));
}

}  // namespace twoturn::sentences
