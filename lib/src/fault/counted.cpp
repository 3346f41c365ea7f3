#include "twoturn/fault/counted.hpp"

#include <cmath>

#include "base/at.hpp"
#include "twoturn/base/angle.hpp"

namespace twoturn {
namespace {

class Counter {
 public:
  Counter(const CountedShaft& crank, const std::vector<CountedShaft>& others)
      : crank_(crank), others_(others) {
    add(crank);
    for (const CountedShaft& shaft : others) add(shaft);
  }

  CountedFaults all() {
    add({FaultKind::none, "", "", 0}, {});
    add({FaultKind::eye, "", "", 0}, {});
    for (std::size_t i = 0; i < others_.size(); ++i) {
      for (const int teeth : {-1, 1, -2, 2}) {
        add({FaultKind::tooth_out, others_[i].name, "", teeth}, still(i, teeth * tooth_deg(i)));
      }
      if (others_[i].teeth % 2 == 0) {
        add({FaultKind::half_turn, others_[i].name, "", others_[i].teeth / 2}, still(i, 180.0));
      }
      for (const int more : {-1, 1}) {
        add({FaultKind::tooth_count, others_[i].name, "", more}, wandering(i, more));
      }
    }
    return std::move(result_);
  }

 private:
  void add(const CountedShaft& shaft) {
    BenchPart part;
    part.name = shaft.name;
    part.role = shaft.role;
    part.turns_per_crank = shaft.turns_per_crank;
    part.tooth_deg = kTurnDeg / shaft.teeth;
    part.mark_radius_mm = shaft.mark_radius_mm;
    part.has_mark = true;
    result_.layout.shafts.push_back(std::move(part));
  }

  void add(Fault fault, Bench bench) {
    bench.shafts.resize(result_.layout.shafts.size());
    result_.faults.push_back({{{std::move(fault)}, 0.0}, std::move(bench)});
  }

  double tooth_deg(std::size_t other) const { return result_.layout.shafts[other + 1].tooth_deg; }

  Bench still(std::size_t other, double own_deg) const {
    Bench bench;
    bench.shafts.resize(result_.layout.shafts.size());
    for (std::size_t k = 0; k < kBenchStops; ++k) {
      bench.shafts[other + 1].shaft_deg[k] = own_deg;
      bench.shafts[other + 1].mark_deg[k] = own_deg;
    }
    return bench;
  }

  // A pulley with more teeth goes round less for the belt that the crank sends.
  Bench wandering(std::size_t other, int more) const {
    Bench bench = still(other, 0.0);
    const CountedShaft& shaft = others_[other];
    const double makes = static_cast<double>(crank_.teeth) / (shaft.teeth + more);
    for (std::size_t k = 0; k < kBenchStops; ++k) {
      const double own_deg = kTurnDeg * kBenchTurns[k] * (makes - shaft.turns_per_crank);
      bench.shafts[other + 1].shaft_deg[k] = own_deg;
      bench.shafts[other + 1].mark_deg[k] = own_deg;
    }
    return bench;
  }

  const CountedShaft& crank_;
  const std::vector<CountedShaft>& others_;
  CountedFaults result_;
};

}  // namespace

CountedFaults counted_faults(const CountedShaft& crank, const std::vector<CountedShaft>& others) {
  return Counter(crank, others).all();
}

}  // namespace twoturn
