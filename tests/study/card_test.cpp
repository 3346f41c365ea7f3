// The bench card, followed by a script that reads simulated benches by eye.
#include "twoturn/study/card.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <optional>
#include <random>
#include <set>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/fault/lineup.hpp"

namespace twoturn {
namespace {

// Common practice (USERS.md): a mark by eye to 1 mm, 95 times in 100; holes and pins 0.05 mm, a
// pointer 4 deg or 0.5 mm, one sigma each; a person counts whole teeth.
constexpr double kMarkSigmaMm = 1.0 / 1.959963984540054;
constexpr double kPinSigma = 0.05;

// Made once: a card takes a second or two.
const std::optional<CardAnswer>& card_for(const std::string& demo) {
  static std::map<std::string, std::optional<CardAnswer>> made;
  const auto [at, fresh] = made.try_emplace(demo);
  if (fresh) {
    Heading heading;
    heading.profile = demo;
    std::vector<Missing> missing;
    at->second = card_of(demos::spec_of(demo), heading, missing);
  }
  return at->second;
}

// Follows the card as printed, reading one bench with an eye of its own.
class Mechanic {
 public:
  Mechanic(const CardAnswer& card, const Bench& bench, std::mt19937& random)
      : card_(card), random_(random) {
    for (const Look& look : looks_of(card.layout)) {
      Sight seen = bench_shows(card.layout, bench, look, 0);
      if (look.kind == LookKind::mark || look.kind == LookKind::further_mark) {
        seen.value += normal(seen.sigma == 1.0 ? 1.0 : kMarkSigmaMm);
      }
      if (look.kind == LookKind::pin) seen.value += normal(kPinSigma);
      if (look.kind == LookKind::pointer) seen.value += normal(seen.sigma);
      if (look.kind == LookKind::count) seen.value = std::round(seen.value + normal(0.25));
      seen_.push_back(seen);
    }
  }

  // Where it ends; below 0: use why. At most three looks.
  int end() {
    int at = 0;
    for (int looks = 0; at >= 0; ++looks) {
      REQUIRE(looks < 3);
      const CardLook& look = card_.looks[static_cast<std::size_t>(at)];
      const CardBranch* branch = taken(look);
      if (branch == nullptr) return -1;
      if (branch->next < 0) return branch->end;
      at = branch->next;
    }
    return -1;
  }

 private:
  double normal(double sigma) { return std::normal_distribution<double>(0.0, sigma)(random_); }

  const Sight& sight(LookKind kind, int part) const {
    return *std::find_if(seen_.begin(), seen_.end(), [&](const Sight& one) {
      return one.look.kind == kind && (part < 0 || one.look.part == part);
    });
  }

  double value(const CardLook& look) const {
    switch (look.ask) {
      case CardAsk::mark:
        return sight(LookKind::mark, look.part).value;
      case CardAsk::further_mark:
        return sight(LookKind::further_mark, look.part).value;
      case CardAsk::count:
        return sight(LookKind::count, look.part).value;
      default: {
        const double off = sight(LookKind::pointer, -1).value - look.belongs;
        if (card_.layout.tensioner != TensionerKind::swing) return off;
        return std::remainder(off, 360.0);
      }
    }
  }

  // Which shafts' pins do not go in, or which marks are off.
  std::vector<int> out(const CardLook& look, std::size_t& of) const {
    const bool pins = look.ask == CardAsk::pins;
    std::vector<int> list;
    for (const Sight& one : seen_) {
      if (one.look.kind != (pins ? LookKind::pin : LookKind::mark)) continue;
      ++of;
      const bool off = pins ? one.value > 0.0 : std::abs(one.value) > look.more_than_mm;
      if (off) list.push_back(one.look.part);
    }
    return list;
  }

  bool shows(LookKind kind) const {
    const bool usual = kind == LookKind::seated || kind == LookKind::pointer_moves ||
                       kind == LookKind::same_each_try;
    return sight(kind, -1).yes != usual;
  }

  bool is(const CardLook& look, const CardBranch& branch) const {
    using When = CardBranch::When;
    if (branch.when == When::within) {
      const double seen = value(look);
      return (!branch.above || seen > *branch.above) && (!branch.up_to || seen <= *branch.up_to);
    }
    if (look.ask == CardAsk::again) {
      return sight(LookKind::again, -1).yes == (branch.when == When::yes);
    }
    if (look.ask == CardAsk::signs) {
      if (branch.when == When::sign) return shows(*branch.sign);
      return std::none_of(seen_.begin(), seen_.end(), [&](const Sight& one) {
        return one.look.kind >= LookKind::seated && shows(one.look.kind);
      });
    }
    std::size_t of = 0;
    const std::vector<int> off = out(look, of);
    const bool all = of > 1 && off.size() == of;
    switch (branch.when) {
      case When::none:
        return off.empty();
      case When::all:
        return all;
      case When::only:
        return !all && off.size() == 1 && off.front() == branch.part;
      default:
        return !all && off.size() > 1;
    }
  }

  // A dead stop counts only where nothing else shows: it comes last on the card.
  const CardBranch* taken(const CardLook& look) const {
    const CardBranch* found = nullptr;
    for (const CardBranch& branch : look.branches) {
      if (!is(look, branch)) continue;
      if (found == nullptr || found->sign == LookKind::stop) found = &branch;
    }
    return found;
  }

  const CardAnswer& card_;
  std::mt19937& random_;
  std::vector<Sight> seen_;
};

bool alike(const CardAnswer& card, const Bench& bench, const std::vector<Lineup>& lineups,
           const std::string& key) {
  Sights sights;
  for (const Look& look : looks_of(card.layout)) {
    const bool asked = std::any_of(card.looks.begin(), card.looks.end(),
                                   [&](const CardLook& own) { return card_asks(own, look); });
    if (asked) sights.sights.push_back(bench_shows(card.layout, bench, look, 0));
  }
  return std::any_of(lineups.begin(), lineups.end(), [&](const Lineup& lineup) {
    if (card_key(lineup.suspect) != key) return false;
    return std::any_of(lineup.benches.begin(), lineup.benches.end(), [&](const Bench& other) {
      return apart_sigmas(card.layout, bench, other, sights) < 2.0;
    });
  });
}

// Single faults, each as likely, at sizes even over its range.
double share_reached(const std::string& demo, const CardAnswer& card) {
  const FaultBase base = fault_base(demos::spec_of(demo), Fit::as_fitted);
  std::vector<FaultCase> single;
  for (FaultCase& suspect : suspects_of(base)) {
    if (suspect.faults.size() == 1) single.push_back(std::move(suspect));
  }
  const std::vector<Lineup> lineups = lineups_of(base, single);
  std::mt19937 random(20240229);
  constexpr int kOfEach = 25;
  int reached = 0;
  for (const Lineup& lineup : lineups) {
    for (int k = 0; k < kOfEach; ++k) {
      std::uniform_int_distribution<std::size_t> any(0, lineup.benches.size() - 1);
      Bench bench = lineup.benches[any(random)];
      if (lineup.suspect.first().kind == FaultKind::tool_in_hole) bench.stops_deg.emplace(1, 90.0);
      const int end = Mechanic(card, bench, random).end();
      if (end < 0) continue;
      const std::string& key = card.ends[static_cast<std::size_t>(end)].key;
      const bool right = key == card_key(lineup.suspect) || alike(card, bench, lineups, key);
      reached += right ? 1 : 0;
    }
  }
  return reached / (static_cast<double>(kOfEach) * static_cast<double>(lineups.size()));
}

TEST_CASE("Following the card by script reaches the right class in at least 95 %") {
  int drives = 0;
  for (const std::string& demo : demos::names()) {
    const std::optional<CardAnswer>& card = card_for(demo);
    if (!card) continue;
    ++drives;
    const double reached = share_reached(demo, *card);
    std::printf("card of %s: %.3f reached, %zu looks\n", demo.c_str(), reached, card->looks.size());
    INFO(demo);
    CHECK(reached >= 0.95);
  }
  CHECK(drives >= 5);
}

TEST_CASE(
    "No way through a card takes more than three looks; its answers differ and lead somewhere") {
  for (const std::string& demo : demos::names()) {
    const std::optional<CardAnswer>& card = card_for(demo);
    if (!card) continue;
    std::vector<int> depth(card->looks.size(), 0);
    REQUIRE_FALSE(depth.empty());
    depth.front() = 1;
    for (std::size_t i = 0; i < card->looks.size(); ++i) {
      INFO(demo << ", look " << i + 1);
      CHECK(depth[i] >= 1);
      CHECK(depth[i] <= 3);
      std::set<std::string> answers;
      for (const CardBranch& branch : card->looks[i].branches) {
        INFO(branch.seen.text);
        CHECK(answers.insert(branch.seen.text).second);
        CHECK(branch.seen.text.find(" 0.0 ") == std::string::npos);
        CHECK(branch.next < static_cast<int>(card->looks.size()));
        CHECK(branch.end < static_cast<int>(card->ends.size()));
        if (branch.next >= 0) depth[static_cast<std::size_t>(branch.next)] = depth[i] + 1;
      }
    }
  }
}

}  // namespace
}  // namespace twoturn
