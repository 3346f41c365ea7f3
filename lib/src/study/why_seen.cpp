#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/fault/rank.hpp"
#include "why_parts.hpp"

namespace twoturn::study {
namespace {

class SeenJudge {
 public:
  SeenJudge(const FaultBase& base, std::vector<Lineup> lineups, const SolidStops& stops)
      : base_(base),
        lineups_(std::move(lineups)),
        stops_(stops),
        sights_(sights_of(base.spec.seen, base.layout)),
        direction_(base.turns->assembly.fitted.direction) {}

  WhySeen judge() {
    WhySeen seen;
    seen.not_used = sights_.not_used;
    seen.datum = sights_.datum;
    seen.turned = sights_.turned;
    if (sights_.sights.empty() && !sights_.turned) {
      seen.headline =
          "Seen: nothing that this drive's marks, pins or pointer could be held against";
      seen.explained = false;
      return seen;
    }
    add_stops_where_seen();
    const Ranking ranking = rank(base_.layout, lineups_, sights_);
    seen.explained = ranking.explained;
    for (const RankedGroup& group : ranking.groups) {
      if (static_cast<int>(seen.groups.size()) == kMostGroups) break;
      seen.groups.push_back(told(ranking, group));
    }
    seen.serious = serious(ranking);
    seen.not_seen = not_seen();
    seen.turns_said = base_.spec.seen.after_turns.has_value();
    seen.likeliest = alike(seen.groups.front());
    seen.headline = headline(seen);
    seen.steps = steps(seen);
    if (ranking.next) seen.next = told(*ranking.next, ranking);
    return seen;
  }

 private:
  static constexpr int kMostGroups = 5;
  static constexpr std::size_t kMostMembers = 6;

  void add_stops_where_seen() {
    const bool seen = std::any_of(sights_.sights.begin(), sights_.sights.end(),
                                  [](const Sight& s) { return s.look.kind == LookKind::stop; });
    if (!seen) return;
    for (Lineup& lineup : lineups_) {
      for (Bench& bench : lineup.benches) {
        add_stops(stops_, base_.layout, lineup.suspect, bench);
      }
    }
  }

  WhyGroup told(const Ranking& ranking, const RankedGroup& group) const {
    WhyGroup result;
    result.probability = group.probability;
    result.unnamed = group.unnamed;
    for (const int member : group.members) {
      if (result.members.size() == kMostMembers) {
        ++result.unnamed;
        continue;
      }
      result.members.push_back(told(ranking.ranked[at(member)]));
    }
    return result;
  }

  WhyCandidate told(const Ranked& ranked) const {
    const FaultCase& suspect = lineups_[at(ranked.suspect)].suspect;
    FaultyBuild build = simulate(base_, suspect, ranked.size);
    WhyCandidate candidate;
    candidate.probability = ranked.probability;
    candidate.fault = told_fault(base_, suspect, ranked.size, build, stops_);
    const Bench& bench = lineups_[at(ranked.suspect)].benches[at(ranked.at)];
    for (std::size_t k = 0; k < sights_.sights.size(); ++k) {
      candidate.evidence.push_back(evidence(sights_.sights[k], bench, ranked.bits[k]));
    }
    candidate.fitted = build.fitted;
    candidate.reading = build.reading;
    if (build.turns) {
      candidate.turns = std::make_shared<const TurnsAnswer>(std::move(*build.turns));
    }
    return candidate;
  }

  WhyEvidence evidence(const Sight& sight, const Bench& bench, double bits) const {
    WhyEvidence result;
    result.key = sight.key;
    result.what = sentences::look_at(base_.layout, sight.look.kind, sight.look.part);
    result.seen = sentences::sight(base_.layout, sight, direction_);
    Sight would = bench_shows(base_.layout, bench, sight.look, sights_.datum);
    if (sight.look.kind == LookKind::stop && would.yes && sight.sigma > 0.0) {
      would = nearest_stop(bench, sight);
    }
    result.would = sentences::sight(base_.layout, would, direction_);
    result.bits = bits;
    constexpr double kTells = 0.5;  // bits: half as likely again, or less so
    if (bits > kTells) result.weighs = WhyEvidence::Weighs::for_it;
    if (bits < -kTells) result.weighs = WhyEvidence::Weighs::against_it;
    return result;
  }

  static Sight nearest_stop(const Bench& bench, const Sight& sight) {
    Sight nearest = sight;
    nearest.value = bench.stops_deg->front();
    for (const double stop : *bench.stops_deg) {
      if (std::abs(stop - sight.value) < std::abs(nearest.value - sight.value)) {
        nearest.value = stop;
      }
    }
    return nearest;
  }

  // Half a tooth or more at a shaft or a mark, a wrong count, a belt or tensioner that a verdict
  // stops for. What stands in a piston's way shows itself in the two turns.
  bool is_serious(const Ranked& ranked) const {
    const Lineup& lineup = lineups_[at(ranked.suspect)];
    for (const Fault& fault : lineup.suspect.faults) {
      const bool stops =
          fault.kind == FaultKind::belt_count || fault.kind == FaultKind::over_centre ||
          fault.kind == FaultKind::tooth_count || fault.kind == FaultKind::tool_in_hole;
      if (stops) return true;
    }
    const Bench& bench = lineup.benches[at(ranked.at)];
    for (std::size_t i = 1; i < bench.shafts.size(); ++i) {
      const BenchShaft& shaft = bench.shafts[i];
      const double off_deg = std::max(std::abs(shaft.shaft_deg[2]), std::abs(shaft.mark_deg[2]));
      constexpr double kHalf = 0.5;
      if (off_deg >= kHalf * base_.layout.shafts[i].tooth_deg) return true;
    }
    return false;
  }

  double serious(const Ranking& ranking) const {
    double sum = 0.0;
    for (const Ranked& ranked : ranking.ranked) {
      if (is_serious(ranked)) sum += ranked.probability;
    }
    return sum;
  }

  std::vector<std::string> not_seen() const {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < base_.layout.shafts.size(); ++i) {
      const bool datum = static_cast<int>(i) == sights_.datum;
      const auto of_it = [&](const Sight& sight) {
        const bool mark_or_pin =
            sight.look.kind == LookKind::pin || sight.look.kind == LookKind::mark;
        return mark_or_pin && sight.look.part == static_cast<int>(i) &&
               kBenchTurns[sight.look.stop] >= 2;
      };
      if (!datum && std::none_of(sights_.sights.begin(), sights_.sights.end(), of_it)) {
        names.push_back(base_.layout.shafts[i].name);
      }
    }
    return names;
  }

  // Titles of the leading group that other hands would have to put right.
  static std::string alike(const WhyGroup& group) {
    std::string titles;
    std::vector<std::string> keys;
    for (const WhyCandidate& member : group.members) {
      // One remedy for another part is another thing to look for.
      const std::string key =
          remedy_key(member.fault.suspect) + '\n' + member.fault.suspect.first().about;
      if (std::find(keys.begin(), keys.end(), key) != keys.end()) continue;
      constexpr std::size_t kMost = 3;
      if (keys.size() == kMost) return titles + "; or others";
      titles += (titles.empty() ? "" : "; or ") + member.fault.title;
      keys.push_back(key);
    }
    return titles;
  }

  static std::string headline(const WhySeen& seen) {
    const WhyGroup& first = seen.groups.front();
    if (!seen.explained) {
      return fmt::format(
          "Seen: nothing in the catalogue explains all of this; look again at each mark and pin. "
          "Nearest: {}",
          first.members.front().fault.title);
    }
    return fmt::format("Seen: most likely ({}): {}", sentences::in_hundred(first.probability),
                       seen.likeliest);
  }

  static std::vector<std::string> steps(const WhySeen& seen) {
    std::vector<std::string> list;
    if (!seen.explained) {
      list.emplace_back(
          "Move nothing yet. Turn it two turns forwards by hand, and write down again what every "
          "mark and pin shows.");
      return list;
    }
    const WhyFault& fault = seen.groups.front().members.front().fault;
    const Remedy remedy = remedy_of(fault.suspect.first());
    const bool belt_off = remedy == Remedy::move_belt || remedy == Remedy::take_up_slack ||
                          remedy == Remedy::right_belt || remedy == Remedy::right_part ||
                          remedy == Remedy::reseat_pulley || remedy == Remedy::right_mark;
    if (belt_off) {
      list.emplace_back(
          "Before the belt comes off, park the crank clear of the valves, as the manual says.");
    }
    list.push_back(fault.remedy);
    if (remedy != Remedy::look_square && remedy != Remedy::clear_the_way) {
      list.emplace_back(
          "Two turns by hand at the crank, forwards, all pins out; then look at every mark and pin "
          "again.");
    }
    return list;
  }

  WhyNext told(const NextLook& next, const Ranking& ranking) const {
    const auto title = [&](int suspect) {
      const auto found = std::find_if(ranking.ranked.begin(), ranking.ranked.end(),
                                      [&](const Ranked& one) { return one.suspect == suspect; });
      return sentences::title(ground_of(base_), lineups_[at(suspect)].suspect, found->size);
    };
    WhyNext result;
    result.look = sentences::look_at(base_.layout, next.look.kind, next.look.part);
    result.first = title(next.first);
    result.second = title(next.second);
    result.if_first = sentences::sight(base_.layout, next.if_first, direction_);
    result.if_second = sentences::sight(base_.layout, next.if_second, direction_);
    result.bits = next.bits;
    return result;
  }

  const FaultBase& base_;
  std::vector<Lineup> lineups_;
  const SolidStops& stops_;
  Sights sights_;
  Direction direction_;
};

}  // namespace

WhySeen judge_seen(const FaultBase& base, std::vector<Lineup> lineups, const SolidStops& stops) {
  return SeenJudge(base, std::move(lineups), stops).judge();
}

}  // namespace twoturn::study
