// Faults drawn at any size, and what a person would then see of them, drawn with noise.
#pragma once

#include <cmath>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "fault/holdout.hpp"
#include "support/demos.hpp"
#include "twoturn/fault/lineup.hpp"

namespace drawn {

using namespace twoturn;

using Random = std::mt19937_64;

// A drive with the benches of all its suspects.
struct Bed {
  std::string name;
  FaultBase base;
  std::vector<FaultCase> suspects;
  std::vector<Lineup> lineups;
};

// Sanitizers make everything twenty times as slow: there a few draws show that nothing is read that
// should not be, and shares are not held against anything.
#ifdef TWOTURN_SANITIZED
inline constexpr bool kAllDraws = false;
#else
inline constexpr bool kAllDraws = true;
#endif
inline constexpr int so_many(int draws) { return kAllDraws ? draws : draws / 100; }

// With something in a piston's way nobody gets round twice to look at marks: these draws do.
inline std::optional<Bed> drive_of(const std::string& name, DriveSpec spec) {
  spec.seen.prior["tool-in-hole"] = 0.0;
  Bed drive;
  drive.name = name;
  drive.base = fault_base(spec, Fit::as_fitted);
  if (!drive.base.turns) return std::nullopt;
  drive.suspects = suspects_of(drive.base);
  drive.lineups = lineups_of(drive.base, drive.suspects);
  return drive;
}

// Every demo whose belt goes on, and the drive that nothing was tuned on.
inline std::vector<Bed> drives() {
  std::vector<Bed> all;
  for (const std::string& name : demos::names()) {
    if (std::optional<Bed> drive = drive_of(name, demos::spec_of(name))) {
      all.push_back(std::move(*drive));
    }
  }
  all.push_back(drive_of("saw-mill (kept out)", holdout::spec()).value());
  return all;
}

inline bool same(const FaultCase& a, const FaultCase& b) {
  if (a.faults.size() != b.faults.size()) return false;
  for (std::size_t i = 0; i < a.faults.size(); ++i) {
    const Fault& one = a.faults[i];
    const Fault& other = b.faults[i];
    if (one.kind != other.kind || one.about != other.about || one.other != other.other ||
        one.teeth != other.teeth) {
      return false;
    }
  }
  return true;
}

// Of each suspect its lineup; -1: the belt does not go on.
inline std::vector<int> lineup_numbers(const Bed& drive) {
  std::vector<int> numbers;
  for (const FaultCase& suspect : drive.suspects) {
    numbers.push_back(-1);
    for (std::size_t k = 0; k < drive.lineups.size(); ++k) {
      if (same(drive.lineups[k].suspect, suspect)) numbers.back() = static_cast<int>(k);
    }
  }
  return numbers;
}

struct Truth {
  int suspect = 0;  // in Bed::suspects
  double size = 0.0;
  Bench bench;
};

inline std::optional<Truth> truth_of(const Bed& drive, int suspect, Random& random) {
  const FaultCase& faulty = drive.suspects[static_cast<std::size_t>(suspect)];
  double size = 0.0;
  if (const SizeRange* range = faulty.size()) {
    size = std::uniform_real_distribution<double>(range->least, range->greatest)(random);
  }
  FaultyBuild build = simulate(drive.base, faulty, size);
  if (!build.bench) return std::nullopt;
  std::optional<Truth> truth(std::in_place);
  truth->suspect = suspect;
  truth->size = size;
  truth->bench = std::move(*build.bench);
  return truth;
}

// What a person's eye and hand do to what there is to see. Twoturn takes normal noise of the sigmas
// below (USERS.md: a mark by eye +-1 mm, 95 %) and one look in a hundred to be a slip.
struct Noise {
  const char* name = "as assumed";
  double wide = 1.0;
  bool heavy_tailed = false;  // Student's t with 3 degrees
  double slips = 0.0;
};

inline constexpr double kEyeMm = 1.0 / 1.96;
inline constexpr double kEyeDeg = 1.0;  // own deg, of a mark at no known radius
inline constexpr double kHoleMm = 0.05;
inline constexpr double kPointerDeg = 4.0;
inline constexpr double kPointerMm = 0.5;

enum class Extent { pins_and_marks, all };

class Eye {
 public:
  Eye(const BenchLayout& layout, const Noise& noise, Random& random)
      : layout_(layout), noise_(noise), random_(random) {}

  SeenSpec at(const Bench& bench, Extent extent) {
    SeenSpec seen;
    for (const Look& look : looks_of(layout_)) see(bench, look, extent, seen);
    return seen;
  }

 private:
  double off() {
    const double z = noise_.heavy_tailed ? std::student_t_distribution<double>(3.0)(random_)
                                         : std::normal_distribution<double>()(random_);
    return noise_.wide * z;
  }
  bool slips() { return noise_.slips > 0.0 && share() < noise_.slips; }
  double share() { return std::uniform_real_distribution<double>()(random_); }

  double measured(double value, double sigma, double slip_range) {
    if (slips()) return (share() - 0.5) * slip_range;
    return value + sigma * off();
  }

  PinFelt pin(double beyond_mm) {
    if (slips()) return static_cast<PinFelt>(static_cast<int>(3.0 * share()));
    const double felt = beyond_mm + kHoleMm * off();
    return felt < 0.0 ? PinFelt::in : felt < layout_.pin_tight_mm ? PinFelt::tight : PinFelt::out;
  }

  // Of a bench that shows yes so often.
  bool told(const Bench& bench, const Look& look) {
    Sight yes;
    yes.look = look;
    yes.yes = true;
    return share() < likelihood(layout_, bench, yes, 0);
  }

  void see(const Bench& bench, const Look& look, Extent extent, SeenSpec& seen) {
    const Sight shown = bench_shows(layout_, bench, look, 0);
    const std::size_t part = static_cast<std::size_t>(std::max(look.part, 0));
    const auto mark = [&](const std::string& name, const std::optional<double>& radius,
                          double turns) {
      if (radius) {
        seen.mark_mm[name] = measured(shown.value, kEyeMm, 200.0);
      } else {
        seen.mark_crank_deg[name] = measured(shown.value, kEyeDeg, 200.0) / turns;
      }
    };
    switch (look.kind) {
      case LookKind::pin:
        seen.pin[layout_.shafts[part].name] = pin(shown.value);
        return;
      case LookKind::mark:
        mark(layout_.shafts[part].name, layout_.shafts[part].mark_radius_mm,
             layout_.shafts[part].turns_per_crank);
        return;
      case LookKind::further_mark: {
        const FurtherMark& further = layout_.further[part];
        mark(further.name, further.radius_mm,
             layout_.shafts[static_cast<std::size_t>(further.shaft)].turns_per_crank);
        return;
      }
      case LookKind::again:
        seen.again = told(bench, look) ? SeenAgain::wanders : SeenAgain::repeats;
        return;
      case LookKind::pointer:
        if (!bench.pointer) return;
        if (layout_.tensioner == TensionerKind::slide) {
          seen.pointer_mm = measured(*bench.pointer, kPointerMm, 360.0);
        } else {
          seen.pointer_deg = measured(*bench.pointer, kPointerDeg, 360.0);
        }
        return;
      default:
        if (extent == Extent::all) yes_or_no(bench, look, seen);
    }
  }

  void yes_or_no(const Bench& bench, const Look& look, SeenSpec& seen) {
    const auto say = [&](std::optional<bool>& said) { said = told(bench, look); };
    if (look.kind == LookKind::seated) say(seen.seated);
    if (look.kind == LookKind::rocks) say(seen.rocks);
    if (look.kind == LookKind::same_each_try) say(seen.same_each_try);
    if (look.kind == LookKind::right_forwards) say(seen.right_forwards);
    if (look.kind == LookKind::moved_when_tensioned) say(seen.moved_when_tensioned);
    if (look.kind == LookKind::pointer_moves) say(seen.pointer_moves);
  }

  const BenchLayout& layout_;
  Noise noise_;
  Random& random_;
};

}  // namespace drawn
