#include "twoturn/study/build_shares.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/timing/turns.hpp"
#include "words/head_changes.hpp"

namespace twoturn {
namespace {

struct Part {
  std::string key;
  std::string said;
  double size = 0.0;  ///< of a number that its effect goes with; 0: none
  BuildSpec alone;
};

void add_heads(const DriveSpec& spec, std::vector<Part>& parts) {
  for (const HeadSpec& head : spec.heads) {
    for (const sentences::HeadChange& change : sentences::head_changes(spec.build, head.name)) {
      Part part{fmt::format("build.{}.{}", change.key, head.name),
                fmt::format("{} {}", head.name, sentences::told(change)),
                change.mm,
                {}};
      if (change.key == "skim_mm") part.alone.skim_mm[head.name] = change.mm;
      if (change.key == "block_skim_mm") part.alone.block_skim_mm[head.name] = change.mm;
      if (change.key == "gasket_change_mm") part.alone.gasket_change_mm[head.name] = change.mm;
      parts.push_back(std::move(part));
    }
  }
}

std::string way(double value) { return value > 0.0 ? "early" : "late"; }

std::vector<Part> parts_of(const DriveSpec& spec) {
  std::vector<Part> parts;
  add_heads(spec, parts);
  for (const auto& [name, with] : spec.build.renewed) {
    Part part{fmt::format("build.renewed.{}", name), fmt::format("{} renewed", name), 0.0, {}};
    part.alone.renewed[name] = with;
    parts.push_back(std::move(part));
  }
  for (const auto& [name, teeth] : spec.build.teeth_out) {
    if (teeth == 0) continue;
    Part part{fmt::format("build.teeth_out.{}", name),
              fmt::format("{} {} {}", name, counted(std::abs(teeth), "tooth", "teeth"), way(teeth)),
              0.0,
              {}};
    part.alone.teeth_out[name] = teeth;
    parts.push_back(std::move(part));
  }
  for (const auto& [name, deg] : spec.build.adjusted_deg) {
    if (prints_as_nothing(deg, 2)) continue;
    Part part{fmt::format("build.adjusted_deg.{}", name),
              fmt::format("{} adjusted {} deg {}", name, shortest(std::abs(deg), 2), way(deg)),
              deg,
              {}};
    part.alone.adjusted_deg[name] = deg;
    parts.push_back(std::move(part));
  }
  if (spec.build.stretch_percent && !prints_as_nothing(*spec.build.stretch_percent, 3)) {
    const double percent = *spec.build.stretch_percent;
    Part part{"build.stretch_percent",
              fmt::format("belt {} % {}", shortest(std::abs(percent), 3),
                          percent > 0.0 ? "stretched" : "short"),
              percent,
              {}};
    part.alone.stretch_percent = percent;
    parts.push_back(std::move(part));
  }
  return parts;
}

std::optional<TurnsAnswer> turned(const DriveSpec& spec, const FittedResult& book) {
  const BothFits both = both_fits(book, spec, Fit::as_fitted);
  if (!both.asked.fitted) return std::nullopt;
  return two_turns_of(*both.book.fitted, *both.asked.fitted);
}

bool shown(const TurnsAnswer& turns, int shaft) {
  return shaft > 0 && turns.assembly.shafts[static_cast<std::size_t>(shaft)].timed();
}

BuildShare share_of(const DriveSpec& spec, const Part& part,
                    const std::optional<TurnsAnswer>& turns) {
  BuildShare share{part.key, part.said};
  if (!turns) return share;
  share.told = true;
  share.setting_moved = turns->assembly.setting_moved;
  const GivenValue* given = find_given(spec, part.key);
  const double give = given && part.size != 0.0 ? give_or_take(*given).value : 0.0;
  for (const ShaftAfter& seen : after_two(*turns)->shafts) {
    if (!shown(*turns, seen.shaft)) continue;
    share.error_crank_deg.push_back(seen.error_crank_deg);
    // What a head's height or a slot does goes with its size, all but exactly.
    share.give_or_take_crank_deg.push_back(
        give == 0.0 ? 0.0 : std::abs(seen.error_crank_deg / part.size) * give);
  }
  return share;
}

}  // namespace

BuildShares build_shares(const DriveSpec& spec, const FittedResult& book) {
  BuildShares shares;
  const std::vector<Part> parts = parts_of(spec);
  if (!book.fitted || parts.empty()) return shares;
  const auto built = [&](const BuildSpec& build) {
    DriveSpec with = spec;
    with.build = build;
    return turned(with, book);
  };
  const std::optional<TurnsAnswer> plain = built({});
  if (!plain) return shares;
  // Shafts are the same in every build.
  for (const ShaftAfter& seen : after_two(*plain)->shafts) {
    if (!shown(*plain, seen.shaft)) continue;
    shares.shafts.push_back(plain->assembly.shafts[static_cast<std::size_t>(seen.shaft)].name);
  }
  for (const Part& part : parts) {
    shares.parts.push_back(share_of(spec, part, built(part.alone)));
  }
  if (book.fitted->drive().tensioner) shares.kind = book.fitted->drive().tensioner->path.kind();
  BuildShare together = share_of(spec, {"", "all of it", 0.0, {}}, built(spec.build));
  // Apart from each other: variances add.
  for (std::size_t k = 0; k < together.give_or_take_crank_deg.size(); ++k) {
    double square = 0.0;
    for (const BuildShare& share : shares.parts) {
      if (!share.told) continue;
      square += share.give_or_take_crank_deg[k] * share.give_or_take_crank_deg[k];
    }
    together.give_or_take_crank_deg[k] = std::sqrt(square);
  }
  if (parts.size() > 1) shares.together = together;
  return shares;
}

}  // namespace twoturn
