// A fault as a change of the build, and what the bench then shows: everything is read off two turns
// of the changed drive and off its tensioner's curve.
#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/fault/lineup.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/turns.hpp"

namespace twoturn {
namespace {

// What the timing floor does not know of: it is seen on the bench all the same.
struct Beside {
  std::optional<double> at_q;  // the tensioner is not where the belt has its length
  double crank_slipped_deg = 0.0;
  double riding_mm = 0.0;  // the belt stands proud of `riding_on`
  std::string riding_on;
};

class Simulation {
 public:
  explicit Simulation(const FaultBase& base)
      : base_(base), assembly_(base.turns->assembly), pitch_mm_(assembly_.fitted.belt.pitch_mm) {
    build_.spec = base.spec;
  }

  FaultyBuild of(const FaultCase& suspect, double size) {
    bench_.shafts.resize(base_.layout.shafts.size());
    for (std::size_t i = 0; i < bench_.shafts.size(); ++i) {
      bench_.shafts[i].play_mm = base_.layout.shafts[i].pin_play_mm;
    }
    bench_.further_deg.assign(base_.layout.further.size(), 0.0);
    for (const Fault& fault : suspect.faults) apply(fault, size);
    build();
    if (!build_.turns) return std::move(build_);
    read_shafts();
    read_counts();
    read_tensioner();
    build_.bench = std::move(bench_);
    return std::move(build_);
  }

 private:
  void apply(const Fault& fault, double size) {
    apply_to_belt(fault, size);
    apply_to_parts(fault, size);
    apply_to_bench(fault, size);
  }

  void apply_to_belt(const Fault& fault, double size) {
    switch (fault.kind) {
      case FaultKind::tooth_out:
      case FaultKind::crank_tooth:
        build_.mishap.teeth_out[fault.about] += fault.teeth;
        break;
      case FaultKind::half_turn:
        if (fault.teeth != 0) {
          build_.mishap.teeth_out[fault.about] += fault.teeth;
        } else {
          build_.mishap.seat_deg[fault.about] = 180.0;
        }
        break;
      case FaultKind::slack_left:
        late_from(fault.about, fault.teeth < 0 ? size : -size);
        bench_.moved_when_tensioned = true;
        break;
      case FaultKind::belt_count:
        build_.spec.belt.teeth = assembly_.belt_teeth + fault.teeth;
        changed_ = true;
        break;
      case FaultKind::backwards:
        for_all_on_belt([&](const std::string& name, Way way) {
          build_.mishap.late_mm[name] += way == Way::against_travel ? -size : size;
        });
        bench_.right_forwards = true;
        break;
      case FaultKind::not_seated:
        if (fault.about == assembly_.crank().name) {
          late_all(size * pitch_mm_);
        } else {
          build_.mishap.late_mm[fault.about] -= size * pitch_mm_;
        }
        bench_.seated = false;
        ride(fault.about, size);
        break;
      default:
        break;
    }
  }

  void apply_to_parts(const Fault& fault, double size) {
    BuildSpec& build = build_.spec.build;
    switch (fault.kind) {
      case FaultKind::head_change:
        (fault.teeth > 0 ? build.skim_mm : build.gasket_change_mm)[fault.about] += size;
        changed_ = true;
        break;
      case FaultKind::other_size:
      case FaultKind::tooth_count:
        renew(fault, size);
        changed_ = true;
        break;
      case FaultKind::seat:
        build_.mishap.seat_deg[fault.about] = size;
        break;
      case FaultKind::seat_by_pins:
        seat_by_pins(fault.about, size);
        break;
      case FaultKind::swapped:
        swap(fault);
        break;
      case FaultKind::other_mark:
        set_by_other_mark(fault);
        break;
      case FaultKind::slipped:
        bench_.same_each_try = false;
        if (fault.about == assembly_.crank().name) {
          beside_.crank_slipped_deg = size;
          late_all(-Angle::degrees(size).radians() * *assembly_.crank().pitch_radius_mm);
        } else {
          build_.mishap.seat_deg[fault.about] = -size;
        }
        break;
      default:
        break;
    }
  }

  void apply_to_bench(const Fault& fault, double size) {
    switch (fault.kind) {
      case FaultKind::eye:
        bench_.seen_aside_mm = size;
        break;
      case FaultKind::over_centre:
        beside_.at_q = other_place(fault.teeth);
        break;
      case FaultKind::tensioner_off:
        beside_.at_q = moved(fault.teeth * size);
        break;
      case FaultKind::transit_pin:
        beside_.at_q = 0.0;
        bench_.pointer_moves = false;
        break;
      case FaultKind::loose_pin:
        bench_.rocks = true;
        for (std::size_t i = 0; i < bench_.shafts.size(); ++i) {
          constexpr double kLooseMm = 2.0;  // a drill shank or a bolt in place of the pin
          if (base_.layout.shafts[i].name == fault.about) bench_.shafts[i].play_mm += kLooseMm;
        }
        break;
      case FaultKind::outer_mark:
        for (std::size_t i = 0; i < bench_.further_deg.size(); ++i) {
          if (base_.layout.further[i].name == fault.about) bench_.further_deg[i] += size;
        }
        break;
      default:
        break;
    }
  }

  template <class Do>
  void for_all_on_belt(const Do& what) const {
    for (std::size_t i = 1; i < assembly_.shafts.size(); ++i) {
      const Shaft& shaft = assembly_.shafts[i];
      if (shaft.timed() && shaft.pulley >= 0) what(shaft.name, assembly_.fits[i].reference);
    }
  }

  void late_all(double mm) {
    for_all_on_belt([&](const std::string& name, Way) { build_.mishap.late_mm[name] += mm; });
  }

  // That shaft and all beyond it on the same way from the crank.
  void late_from(const std::string& about, double mm) {
    const std::size_t count = assembly_.shafts.size();
    std::size_t from = 1;
    while (from < count && assembly_.shafts[from].name != about) ++from;
    const Way way = assembly_.fits[from].reference;
    for (std::size_t i = 1; i < count; ++i) {
      const Shaft& shaft = assembly_.shafts[i];
      const bool beyond = way == Way::against_travel ? i <= from : i >= from;
      if (!shaft.timed() || shaft.pulley < 0 || assembly_.fits[i].reference != way) continue;
      if (beyond) build_.mishap.late_mm[shaft.name] += mm;
    }
  }

  void renew(const Fault& fault, double size) {
    RenewedSpec& part = build_.spec.build.renewed[fault.about];
    for (const Pulley& pulley : assembly_.fitted.pulleys) {
      if (pulley.name != fault.about) continue;
      if (pulley.toothed()) {
        part.teeth = pulley.teeth + fault.teeth;
      } else {
        part.diameter_mm = pulley.outside_mm + size;
      }
    }
    if (fault.kind != FaultKind::tooth_count) return;
    if (fault.about == assembly_.crank().name) {
      late_all(-size * pitch_mm_);
    } else {
      build_.mishap.late_mm[fault.about] -= size * pitch_mm_;
    }
  }

  double tooth_deg(const std::string& name) const {
    for (const BenchPart& part : base_.layout.shafts) {
      if (part.name == name) return part.tooth_deg;
    }
    return 360.0;
  }

  void seat_by_pins(const std::string& name, double seat_deg) {
    build_.mishap.seat_deg[name] = seat_deg;
    build_.mishap.teeth_out[name] += static_cast<int>(std::lround(seat_deg / tooth_deg(name)));
  }

  const Shaft& shaft_named(const std::string& name) const {
    return *std::find_if(assembly_.shafts.begin(), assembly_.shafts.end(),
                         [&](const Shaft& shaft) { return shaft.name == name; });
  }

  // Where the other mark stands ahead of its own, own deg.
  static double ahead_deg(const Shaft& shaft, double own_at_deg, double other_at_deg) {
    const Angle ahead = Angle::clock(other_at_deg) - Angle::clock(own_at_deg);
    return (shaft.sense * ahead).wrapped_half().degrees();
  }

  // Both keys are taken to point the same way with pins in: then the other pulley's mark stands
  // where it stands on the other shaft.
  void swap(const Fault& fault) {
    const Shaft& a = shaft_named(fault.about);
    const Shaft& b = shaft_named(fault.other);
    const double a_deg = ahead_deg(a, a.marks[0].at_deg, b.marks[0].at_deg);
    const double b_deg = ahead_deg(b, b.marks[0].at_deg, a.marks[0].at_deg);
    if (fault.teeth == 0) {
      build_.mishap.seat_deg = {{a.name, a_deg}, {b.name, b_deg}};
    } else {
      seat_by_pins(a.name, a_deg);
      seat_by_pins(b.name, b_deg);
    }
  }

  // The other mark stands where its own belongs: the pulley is that far behind.
  void set_by_other_mark(const Fault& fault) {
    const Shaft& shaft = shaft_named(fault.about);
    const Mark& other = shaft.marks[at(fault.teeth)];
    const double ahead = ahead_deg(shaft, shaft.marks[0].at_deg, other.at_deg);
    build_.mishap.teeth_out[shaft.name] -=
        static_cast<int>(std::lround(ahead / tooth_deg(shaft.name)));
  }

  std::optional<double> other_place(int number) const {
    const Setting& own = *assembly_.fitted_setting;
    const Tensioner& tensioner = *assembly_.fitted.tensioner;
    int seen = 0;
    for (const Setting& setting : base_.fitted.fitted->curve()->settings_for(
             assembly_.fitted.belt.length_mm(assembly_.belt_teeth))) {
      if (tensioner.path.apart(setting.q, own.q) < 1e-6) continue;
      if (++seen == number) return setting.q;
    }
    return std::nullopt;
  }

  double moved(double reading) const {
    const Tensioner& tensioner = *assembly_.fitted.tensioner;
    const bool swing = tensioner.path.kind() == TensionerKind::swing;
    return assembly_.fitted_setting->q + (swing ? Angle::degrees(reading).radians() : reading);
  }

  // Half a tooth off the belt lies on the lands, a tooth's height proud of where it belongs, for
  // the two teeth or so before it falls in again.
  void ride(const std::string& name, double teeth) {
    constexpr double kOnTheLands = 0.5;
    beside_.riding_on = name;
    beside_.riding_mm =
        assembly_.fitted.belt.tooth_height_mm.value_or(0.0) * std::abs(teeth) / kOnTheLands;
  }

  void build() {
    std::optional<BothFits> again;
    if (changed_) {
      const bool same_book = build_.spec.belt.teeth == base_.spec.belt.teeth;
      again = same_book ? both_fits(base_.book, build_.spec, Fit::as_fitted)
                        : both_fits(build_.spec, Fit::as_fitted);
    }
    const FittedResult& book = again ? again->book : base_.book;
    const FittedResult& fitted = again ? again->asked : base_.fitted;
    if (!book.fitted || !fitted.fitted) return;
    AssemblyResult result = assemble(*book.fitted, *fitted.fitted, build_.mishap);
    build_.none = result.none;
    build_.fitted = fitted.fitted;
    if (!result.assembly || does_not_go_on()) return;
    build_.turns = two_turns(std::move(*result.assembly), {});
  }

  // On fixed centres nothing takes up a tooth: a belt that is short does not go on at all.
  bool does_not_go_on() {
    if (assembly_.fitted.tensioner || build_.spec.belt.teeth >= base_.spec.belt.teeth) return false;
    build_.none = NoAssembly{NoAssembly::Reason::no_path, "belt", pitch_mm_, 0.0, {}, {}};
    return true;
  }

  // Half a turn is called early, however it rounds.
  static double half_turn_at_most(double deg) {
    constexpr double kRoundingDeg = 1e-9;
    const double within = Angle::degrees(deg).wrapped_half().degrees();
    return within < kRoundingDeg - 180.0 ? within + kTurnDeg : within;
  }

  void read_shafts() {
    const TurnsAnswer& turns = *build_.turns;
    const std::vector<ShaftAfter>& first = turns.after.front().shafts;
    for (std::size_t i = 0; i < first.size() && i < bench_.shafts.size(); ++i) {
      const ShaftFit& fit = turns.assembly.fits[at(first[i].shaft)];
      const bool geared = turns.assembly.shafts[at(first[i].shaft)].pulley < 0;
      for (std::size_t k = 0; k < kBenchStops; ++k) {
        const double shaft_deg = turns.after[k].shafts[i].error_own_deg;
        bench_.shafts[i].shaft_deg[k] = half_turn_at_most(shaft_deg);
        bench_.shafts[i].mark_deg[k] =
            half_turn_at_most(shaft_deg + (geared ? 0.0 : fit.turned_on_shaft_deg));
      }
    }
    for (double& mark_deg : bench_.shafts[0].mark_deg) mark_deg += beside_.crank_slipped_deg;
  }

  int layout_of(const std::string& name) const {
    for (std::size_t i = 0; i < base_.layout.shafts.size(); ++i) {
      if (base_.layout.shafts[i].name == name) return static_cast<int>(i);
    }
    return -1;
  }

  // A tooth on at one pulley is a tooth more on the way that leads there along travel.
  void read_counts() {
    const std::vector<BetweenMarks>& between = base_.turns->between_marks;
    for (std::size_t i = 0; i < base_.layout.pairs.size(); ++i) {
      const int from = layout_of(base_.layout.pairs[i].from);
      const int to = layout_of(base_.layout.pairs[i].to);
      double count = base_.layout.pairs[i].nominal;
      if (from >= 0 && to >= 0) {
        const double on = mark_teeth(to) - mark_teeth(from);
        count += between[i].count.way == Way::with_travel ? on : -on;
      }
      bench_.counts.push_back(count);
    }
  }

  // Against the drive without a fault, whose count is the nominal one.
  double mark_teeth(int part) const {
    const ShaftAfter& was = base_.turns->after.front().shafts[at(part)];
    const ShaftFit& fit = base_.turns->assembly.fits[at(was.shaft)];
    const bool geared = base_.turns->assembly.shafts[at(was.shaft)].pulley < 0;
    const double before = was.error_own_deg + (geared ? 0.0 : fit.turned_on_shaft_deg);
    return (bench_.shafts[at(part)].mark_deg[0] - before) / base_.layout.shafts[at(part)].tooth_deg;
  }

  void read_tensioner() {
    const Assembly& assembly = build_.turns->assembly;
    const double own_mm = assembly.fitted.belt.length_mm(assembly.belt_teeth);
    if (!assembly.fitted_setting) {
      bench_.loose_mm = pitch_mm_ * (assembly.belt_teeth - assembly_.belt_teeth);
      return;
    }
    double q = assembly.fitted_setting->q;
    const TensionerCurve& curve = *build_.fitted->curve();
    if (beside_.riding_mm != 0.0) q += riding_turns(assembly, curve);
    if (beside_.at_q) q = *beside_.at_q;
    const Tensioner& tensioner = *assembly.fitted.tensioner;
    const std::optional<double> pointer = tensioner.pointer_at(q);
    const TensionerReading reading = tensioner.path.reading(q);
    build_.reading = reading.value;
    if (pointer) bench_.pointer = *pointer;
    if (reading.kind == TensionerKind::slide) bench_.pointer = reading.value;
    const std::optional<LengthAt> length = curve.at(q);
    if (length && beside_.at_q) bench_.loose_mm = own_mm - length->length_mm;
    if (std::abs(bench_.loose_mm) < kOnLengthMm) bench_.loose_mm = 0.0;
    bench_.adjustment_left_mm = std::max(0.0, curve.at(curve.longest_ahead(q))->length_mm - own_mm);
  }

  // How far the roller gives way, to first order, to a belt that stands proud of so many teeth.
  double riding_turns(const Assembly& assembly, const TensionerCurve& curve) const {
    const double rate = curve.at(assembly.fitted_setting->q)->rate;
    const int pulley = assembly.fitted.index_of(beside_.riding_on);
    if (pulley < 0 || std::abs(rate) < 1e-6) return 0.0;
    constexpr double kTeethRiding = 2.0;
    const double over =
        kTeethRiding * pitch_mm_ / assembly.fitted.pulleys[at(pulley)].wheel.radius_mm;
    return -beside_.riding_mm * over / rate;
  }

  const FaultBase& base_;
  const Assembly& assembly_;
  double pitch_mm_;
  FaultyBuild build_;
  Bench bench_;
  Beside beside_;
  bool changed_ = false;  // of the drive's geometry
};

}  // namespace

FaultyBuild simulate(const FaultBase& base, const FaultCase& suspect, double size) {
  return Simulation(base).of(suspect, size);
}

}  // namespace twoturn
