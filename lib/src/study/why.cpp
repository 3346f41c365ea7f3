#include "twoturn/study/why.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "why_parts.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace study {
namespace {

double clock_after(const BenchPart& part, double own_deg) {
  return (Angle::clock(*part.mark_at_deg) + part.sense * Angle::degrees(own_deg)).clock_deg();
}

// A pin is due where its shaft has made whole turns.
bool due(const BenchPart& part, int turns) {
  const double made = turns * part.turns_per_crank;
  return std::abs(made - std::round(made)) < 1e-9;
}

WhyStop stop_of(const BenchLayout& layout, const Bench& bench, int index, std::size_t stop) {
  const BenchPart& part = layout.shafts[at(index)];
  const BenchShaft& shaft = bench.shafts[at(index)];
  WhyStop told;
  told.turns = kBenchTurns[stop];
  told.mark_own_deg = Angle::degrees(shaft.mark_deg[stop]).wrapped_half().degrees();
  told.mark_crank_deg = told.mark_own_deg / part.turns_per_crank;
  told.mark_teeth = told.mark_own_deg / part.tooth_deg;
  told.shaft_crank_deg = shaft.shaft_deg[stop] / part.turns_per_crank;
  if (part.mark_radius_mm) {
    told.mark_mm = Angle::degrees(told.mark_own_deg).radians() * *part.mark_radius_mm;
  }
  const double turned = kTurnDeg * told.turns * part.turns_per_crank;
  if (part.mark_at_deg) {
    told.belongs_deg = clock_after(part, turned);
    told.mark_at_deg = clock_after(part, turned + told.mark_own_deg);
  }
  if (part.pin_radius_mm && due(part, told.turns)) {
    told.pin = bench_shows(layout, bench, {LookKind::pin, index, static_cast<int>(stop)}, 0).pin;
  }
  return told;
}

std::string why_none(const std::optional<NoAssembly>& known) {
  if (!known) return "no belt runs so";
  const NoAssembly& none = *known;
  switch (none.reason) {
    case NoAssembly::Reason::no_setting:
      return fmt::format("{} has no place in its travel for it", the(none.about));
    case NoAssembly::Reason::not_in_mesh:
      return fmt::format("nothing is in mesh on {}", the(none.about));
    case NoAssembly::Reason::no_path:
    case NoAssembly::Reason::belt_teeth_unknown:
      break;
  }
  return "no belt runs so";
}

void tell_counts(const BenchLayout& layout, const Bench& bench, WhyFault& told) {
  for (std::size_t i = 0; i < layout.pairs.size(); ++i) {
    const CountedPair& pair = layout.pairs[i];
    told.counts.push_back({pair.from, pair.to, bench.counts[i], pair.nominal, pair.countable});
  }
}

void tell_further(const BenchLayout& layout, const Bench& bench, WhyFault& told) {
  for (std::size_t i = 0; i < layout.further.size(); ++i) {
    const FurtherMark& mark = layout.further[i];
    const double own_deg = bench.shafts[at(mark.shaft)].mark_deg[2] + bench.further_deg[i];
    WhyFurther further{mark.name, own_deg / layout.shafts[at(mark.shaft)].turns_per_crank, {}};
    if (mark.radius_mm) further.mm = Angle::degrees(own_deg).radians() * *mark.radius_mm;
    told.further.push_back(std::move(further));
  }
}

void tell_tensioner(const FaultBase& base, const FaultyBuild& build, WhyFault& told) {
  const Bench& bench = *build.bench;
  told.pointer = bench.pointer;
  const std::optional<Setting>& right = base.turns->assembly.fitted_setting;
  if (right) {
    told.pointer_should = right->pointer_deg;
    if (right->reading.kind == TensionerKind::slide) told.pointer_should = right->reading.value;
  }
  told.adjustment_left_mm = bench.adjustment_left_mm;
  told.loose_mm = bench.loose_mm;
  if (bench.loose_mm > 0.0) {
    const double radius_mm = *base.turns->assembly.crank().pitch_radius_mm;
    told.rocks_crank_deg = Angle::radians(bench.loose_mm / radius_mm).degrees();
  }
}

void tell_rubs(const FaultBase& base, const FaultyBuild& build, WhyFault& told) {
  if (!build.fitted || !build.reading) return;
  for (const NamedRefusal& refused : route_at_setting(*build.fitted, build.reading).refused) {
    told.rubs.push_back(refused.about);
  }
  const std::optional<Setting>& right = base.turns->assembly.fitted_setting;
  if (!right || !base.fitted.fitted || told.rubs.empty()) return;
  for (const NamedRefusal& refused :
       route_at_setting(*base.fitted.fitted, right->reading.value).refused) {
    std::erase(told.rubs, refused.about);
  }
}

}  // namespace

std::vector<WhyShaft> told_shafts(const BenchLayout& layout, const Bench& bench) {
  std::vector<WhyShaft> shafts;
  for (std::size_t i = 0; i < layout.shafts.size(); ++i) {
    WhyShaft told;
    told.name = layout.shafts[i].name;
    told.role = layout.shafts[i].role;
    told.has_mark = layout.shafts[i].has_mark;
    for (std::size_t k = 0; k < kBenchStops; ++k) {
      told.stops.push_back(stop_of(layout, bench, static_cast<int>(i), k));
      const double since = told.stops[k].mark_own_deg - told.stops[0].mark_own_deg;
      constexpr double kSameDeg = 1e-6;
      if (std::abs(Angle::degrees(since).wrapped_half().degrees()) > kSameDeg) {
        told.same_each_time = false;
      }
    }
    shafts.push_back(std::move(told));
  }
  return shafts;
}

sentences::FaultGround ground_of(const FaultBase& base) {
  return {base.layout, *base.turns, base.turns->assembly.fitted.direction};
}

WhyFault told_fault(const FaultBase& base, const FaultCase& suspect, double size,
                    const FaultyBuild& build, const SolidStops& stops) {
  WhyFault told;
  told.suspect = suspect;
  const sentences::FaultGround ground = ground_of(base);
  told.title = sentences::title(ground, suspect, size);
  if (const SizeRange* range = suspect.size()) {
    told.size = size;
    told.unit = range->unit;
  }
  const TurnsAnswer* turns = build.turns ? &*build.turns : nullptr;
  told.remedy = sentences::remedy(ground, suspect, turns);
  if (!build.bench) {
    told.goes_on = false;
    told.none = why_none(build.none);
    return told;
  }
  Bench bench = *build.bench;
  add_stops(stops, base.layout, suspect, bench);
  told.shafts = told_shafts(base.layout, bench);
  tell_further(base.layout, bench, told);
  tell_counts(base.layout, bench, told);
  tell_tensioner(base, build, told);
  tell_rubs(base, build, told);
  told.wanders = std::any_of(told.shafts.begin(), told.shafts.end(),
                             [](const WhyShaft& shaft) { return !shaft.same_each_time; });
  told.same_each_try = bench.same_each_try;
  told.signs = sentences::signs(suspect, bench);
  told.stops_deg = bench.stops_deg;
  return told;
}

}  // namespace study

namespace {

// Taut is where the teeth have it; a mm more on the way is that far round the pulley.
std::vector<WhySlack> slack_of(const FaultBase& base) {
  std::vector<WhySlack> list;
  const Assembly& assembly = base.turns->assembly;
  const double crank_mm = *assembly.crank().pitch_radius_mm;
  for (std::size_t i = 1; i < assembly.shafts.size(); ++i) {
    const Shaft& shaft = assembly.shafts[i];
    const bool turns_in_pulley = shaft.fixing == Fixing::free_until_tightened;
    if (!shaft.timed() || shaft.pulley < 0 || turns_in_pulley) continue;
    WhySlack slack;
    slack.shaft = shaft.name;
    slack.own_deg_a_mm = Angle::radians(1.0 / *shaft.pitch_radius_mm).degrees();
    slack.crank_deg_a_mm = slack.own_deg_a_mm / *shaft.turns_per_crank;
    slack.goes_late = assembly.fits[i].reference == Way::against_travel;
    slack.set_back_deg_a_mm = Angle::radians(1.0 / crank_mm).degrees();
    list.push_back(slack);
  }
  return list;
}

std::optional<WhyBackwards> backwards_of(const FaultBase& base,
                                         const std::vector<FaultCase>& suspects) {
  const auto found = std::find_if(suspects.begin(), suspects.end(), [](const FaultCase& suspect) {
    return suspect.first().kind == FaultKind::backwards;
  });
  if (found == suspects.end()) return std::nullopt;
  WhyBackwards told;
  told.gives_mm = found->size()->greatest;
  const FaultyBuild build = simulate(base, *found, told.gives_mm);
  if (!build.bench) return std::nullopt;
  for (std::size_t i = 1; i < base.layout.shafts.size(); ++i) {
    told.shafts.push_back(base.layout.shafts[i].name);
    told.early_crank_deg.push_back(build.bench->shafts[i].shaft_deg[0] /
                                   base.layout.shafts[i].turns_per_crank);
  }
  return told;
}

void tell_priors(const FaultBase& base, const std::vector<FaultCase>& suspects, WhyAnswer& answer) {
  for (const FaultKind kind : kAllFaultKinds) {
    WhyPrior prior;
    prior.kind = kind;
    bool any = false;
    for (const FaultCase& suspect : suspects) {
      if (suspect.faults.size() > 1 || suspect.first().kind != kind) continue;
      prior.share += suspect.weight;
      any = true;
    }
    const auto given = base.spec.seen.prior.find(std::string(word(kind)));
    if (given != base.spec.seen.prior.end()) {
      prior.weight = given->second;
      prior.given = true;
    }
    if (any) answer.priors.push_back(prior);
  }
  for (const FaultCase& suspect : suspects) {
    if (suspect.faults.size() > 1) answer.two_together_share += suspect.weight;
  }
}

}  // namespace

std::optional<WhySeen> why_seen(const DriveSpec& spec, Fit fit) {
  if (!spec.seen.any()) return std::nullopt;
  FaultBase base = fault_base(spec, fit);
  if (!base.turns) return std::nullopt;
  const study::SolidStops stops(base.spec);
  base.layout.has_engine = stops.known();
  return study::judge_seen(base, lineups_of(base, suspects_of(base)), stops);
}

std::optional<WhyAnswer> why_answer(const DriveSpec& spec, Fit fit, std::vector<Missing>& missing) {
  FaultBase base = fault_base(spec, fit);
  if (!base.turns) {
    missing.insert(missing.end(), base.book.missing.begin(), base.book.missing.end());
    return std::nullopt;
  }
  const study::SolidStops stops(base.spec);
  base.layout.has_engine = stops.known();
  WhyAnswer answer;
  answer.fit = fit;
  answer.direction = base.turns->assembly.fitted.direction;
  answer.layout = base.layout;
  const std::vector<FaultCase> suspects = suspects_of(base);
  for (const FaultCase& suspect : suspects) {
    const SizeRange* range = suspect.size();
    const double size = range ? range->typical : 0.0;
    answer.catalogue.push_back(
        study::told_fault(base, suspect, size, simulate(base, suspect, size), stops));
  }
  answer.without = answer.catalogue.front().shafts;  // of "nothing is wrong", the first suspect
  answer.without_further = answer.catalogue.front().further;
  answer.slack = slack_of(base);
  answer.backwards = backwards_of(base, suspects);
  tell_priors(base, suspects, answer);
  if (spec.seen.any()) answer.seen = study::judge_seen(base, lineups_of(base, suspects), stops);
  return answer;
}

}  // namespace twoturn
