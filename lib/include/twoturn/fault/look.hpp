#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/seen_spec.hpp"
#include "twoturn/fault/bench.hpp"

namespace twoturn {

/// What can be looked at, easiest first.
enum class LookKind {
  pin,
  mark,
  further_mark,
  again,
  pointer,
  count,
  seated,
  rocks,
  same_each_try,
  right_forwards,
  moved_when_tensioned,
  pointer_moves,
  stop
};

/// Whether what it shows is a number, not one of a few answers.
constexpr bool is_measured(LookKind kind) {
  return kind == LookKind::mark || kind == LookKind::further_mark || kind == LookKind::pointer ||
         kind == LookKind::count;
}

/// One look: at what, and after how many turns of the crank.
struct Look {
  LookKind kind = LookKind::pin;
  int part = -1;  ///< shaft, further mark or pair of the layout
  int stop = 2;   ///< index in kBenchTurns

  bool operator==(const Look&) const = default;
};

/// What a look showed. One of these, by the look's kind.
struct Sight {
  Look look;
  double value = 0.0;  ///< mark: mm (own deg without a radius), + early; pointer; count;
                       ///< stop: crank deg
  double sigma = 0.0;  ///< of that
  PinFelt pin = PinFelt::in;
  bool yes = false;  ///< again: it wanders; stop: there is one; the others as named
  std::string key;   ///< of the profile: "seen.pin.cam"
};

/// A mark read by eye against its pointer, 95 % (USERS.md: common practice).
inline constexpr double kEyeGiveMm = 1.0;

/// What was seen, as looks at this drive. What the drive has nothing to hold against (a pin that is
/// not given) is listed by its key. The datum is the crank at its pin, unless its own pin or mark
/// is among what was seen: then every error counts from `datum`.
struct Sights {
  std::vector<Sight> sights;
  std::vector<std::string> not_used;
  int datum = 0;  ///< shaft of the layout
  std::optional<LastTurned> turned;
  /// Something was looked at after two turns, and no solid stop is told of: nothing was in the way.
  bool went_round = false;
};
Sights sights_of(const SeenSpec& seen, const BenchLayout& layout);

/// Every look that a drive has, easiest first.
std::vector<Look> looks_of(const BenchLayout& layout);

/// How likely a sight is on a bench: a density for what is measured, a share for what is told
/// apart. Never 0: people slip.
double likelihood(const BenchLayout& layout, const Bench& bench, const Sight& sight, int datum);

/// What a look would show on a bench without any noise; for pins and yes or no the likeliest.
Sight bench_shows(const BenchLayout& layout, const Bench& bench, const Look& look, int datum);

}  // namespace twoturn
