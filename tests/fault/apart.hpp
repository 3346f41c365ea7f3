// How far benches are apart, by the million.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "fault/drawn.hpp"

namespace drawn {

// How far benches are apart over some looks, as apart_sigmas has it: readings of each bench are
// taken once, then compared by the million.
class Apart {
 public:
  Apart(const Bed& drive, Extent extent) : layout_(drive.base.layout) {
    for (const Look& look : looks_of(layout_)) {
      const bool pins_and_marks = look.kind <= LookKind::pointer;
      if (pins_and_marks || (extent == Extent::all && look.kind != LookKind::count)) {
        looks_.push_back(look);
      }
    }
    for (const Lineup& lineup : drive.lineups) {
      lineups_.emplace_back();
      for (const Bench& bench : lineup.benches) lineups_.back().push_back(reading(bench));
    }
  }

  // The suspects of which some size looks as this bench does, within so many sigma.
  std::vector<int> alike(const Bench& bench, double sigmas) const {
    const Reading here = reading(bench);
    std::vector<int> found;
    for (std::size_t i = 0; i < lineups_.size(); ++i) {
      for (const Reading& other : lineups_[i]) {
        if (squares(here, other, sigmas * sigmas) >= sigmas * sigmas) continue;
        found.push_back(static_cast<int>(i));
        break;
      }
    }
    return found;
  }

  double between(const Bench& a, const Bench& b) const {
    return std::sqrt(squares(reading(a), reading(b), 1e300));
  }

 private:
  struct One {
    double value = 0.0;             // sigmas
    double cycle = 0.0;             // of it; 0: none
    std::array<double, 3> roots{};  // of the shares of its outcomes
  };
  using Reading = std::vector<One>;

  Reading reading(const Bench& bench) const {
    Reading reading;
    for (const Look& look : looks_) reading.push_back(one(bench, look));
    return reading;
  }

  One one(const Bench& bench, const Look& look) const {
    const Sight shown = bench_shows(layout_, bench, look, 0);
    One one;
    const auto mark = [&](const std::optional<double>& radius) {
      constexpr double kTurn = 2.0 * 3.14159265358979323846;
      one.cycle = (radius ? kTurn * *radius : 360.0) / shown.sigma;
      one.value = shown.value / shown.sigma;
    };
    const std::size_t part = static_cast<std::size_t>(std::max(look.part, 0));
    if (look.kind == LookKind::mark) {
      mark(layout_.shafts[part].mark_radius_mm);
    } else if (look.kind == LookKind::further_mark) {
      mark(layout_.further[part].radius_mm);
    } else if (look.kind == LookKind::pointer) {
      one.value = shown.value / shown.sigma;
      one.cycle = layout_.tensioner == TensionerKind::swing ? 360.0 / shown.sigma : 0.0;
    } else {
      shares(bench, look, one);
    }
    return one;
  }

  void shares(const Bench& bench, const Look& look, One& one) const {
    Sight sight;
    sight.look = look;
    double sum = 0.0;
    for (int k = 0; k < (look.kind == LookKind::pin ? 3 : 2); ++k) {
      sight.pin = static_cast<PinFelt>(k);
      sight.yes = k == 1;
      one.roots[static_cast<std::size_t>(k)] = likelihood(layout_, bench, sight, 0);
      sum += one.roots[static_cast<std::size_t>(k)];
    }
    for (double& root : one.roots) root = std::sqrt(root / sum);
  }

  // Up to where it no longer matters.
  static double squares(const Reading& a, const Reading& b, double enough) {
    double sum = 0.0;
    for (std::size_t k = 0; k < a.size() && sum < enough; ++k) {
      if (a[k].roots[0] + a[k].roots[1] == 0.0) {
        double off = a[k].value - b[k].value;
        if (a[k].cycle > 0.0) off = std::remainder(off, a[k].cycle);
        sum += off * off;
        continue;
      }
      double coefficient = 0.0;
      for (std::size_t i = 0; i < 3; ++i) coefficient += a[k].roots[i] * b[k].roots[i];
      sum += -8.0 * std::log(std::min(1.0, std::max(1e-12, coefficient)));
    }
    return sum;
  }

  const BenchLayout& layout_;
  std::vector<Look> looks_;
  std::vector<std::vector<Reading>> lineups_;
};

}  // namespace drawn
