// How the tests of bounds try a key: at its least, at its most, and the next number beyond each.
#pragma once

#include <cmath>
#include <functional>
#include <variant>
#include <vector>

#include "drive/validate_sound.hpp"

namespace validated {

// How one number gets into a sound drive: what else it needs comes with it.
using Put = std::function<void(DriveSpec&, double)>;

struct Bound {
  const char* key;
  double least;
  double most;
  Put put;
};

inline constexpr double kMm = 10000.0;        // as far as any drive reaches
inline constexpr double kOverNothing = 1e-9;  // nothing that is measured is smaller

inline bool refused(const Bound& bound, double value) {
  DriveSpec spec = sound();
  bound.put(spec, value);
  for (const Problem& problem : validate(spec)) {
    if (problem.key == bound.key) return true;
  }
  return false;
}

inline void check_bounds(const std::vector<Bound>& bounds) {
  for (const Bound& bound : bounds) {
    CAPTURE(bound.key, bound.least, bound.most);
    CHECK_FALSE(refused(bound, bound.least));
    CHECK_FALSE(refused(bound, bound.most));
    CHECK(refused(bound, std::nextafter(bound.least, -kInfinite)));
    CHECK(refused(bound, std::nextafter(bound.most, kInfinite)));
    CHECK(refused(bound, kNan));
  }
}

inline void check_counts(const std::vector<Bound>& bounds) {
  for (const Bound& bound : bounds) {
    CAPTURE(bound.key, bound.least, bound.most);
    CHECK_FALSE(refused(bound, bound.least));
    CHECK_FALSE(refused(bound, bound.most));
    CHECK(refused(bound, bound.least - 1));
    CHECK(refused(bound, bound.most + 1));
  }
}

// The tensioner of a sound drive, on a slide.
inline SlideSpec& slide(DriveSpec& spec) {
  spec.pulleys[3].tensioner = TensionerSpec{SlideSpec{Vec2(1, 2), Vec2(1, 9)}, {}, {}, {}, {}, {}};
  return std::get<SlideSpec>(spec.pulleys[3].tensioner->path);
}

inline int whole(double value) { return static_cast<int>(std::lround(value)); }

}  // namespace validated
