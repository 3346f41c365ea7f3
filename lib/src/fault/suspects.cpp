// Everything that may go wrong on one drive. A kind that the drive cannot have (no tensioner, no
// head, no pin) makes no suspect.
#include <algorithm>
#include <cmath>
#include <map>

#include "base/at.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/fault/lineup.hpp"

namespace twoturn {
namespace {

constexpr double kTogether = 0.1;  // two faults at once, of what one of them weighs

class Suspects {
 public:
  explicit Suspects(const FaultBase& base)
      : base_(base), assembly_(base.turns->assembly), pitch_mm_(assembly_.fitted.belt.pitch_mm) {}

  std::vector<FaultCase> all() {
    add({FaultKind::none, "", "", 0});
    add({FaultKind::eye, "", "", 0, SizeRange{-2.0, 2.0, 1.0, "mm"}});
    add_teeth();
    add_slack();
    add_belt();
    add_tensioner();
    add_heads();
    add_sizes();
    add_pulleys_on_shafts();
    add_pins_and_marks();
    add_in_the_way();
    add_pairs();
    weigh();
    return std::move(suspects_);
  }

 private:
  void add(Fault fault) { suspects_.push_back({{std::move(fault)}, 0.0}); }

  static bool free(const Shaft& shaft) { return shaft.fixing == Fixing::free_until_tightened; }

  // Timed shafts on the belt but for the crank.
  std::vector<const Shaft*> on_belt() const {
    std::vector<const Shaft*> list;
    for (std::size_t i = 1; i < assembly_.shafts.size(); ++i) {
      const Shaft& shaft = assembly_.shafts[i];
      if (shaft.timed() && shaft.pulley >= 0) list.push_back(&shaft);
    }
    return list;
  }

  void add_teeth() {
    for (const Shaft* shaft : on_belt()) {
      if (free(*shaft)) continue;
      for (const int teeth : {-1, 1, -2, 2}) add({FaultKind::tooth_out, shaft->name, "", teeth});
    }
    for (const int teeth : {-1, 1, -2, 2}) {
      add({FaultKind::crank_tooth, assembly_.crank().name, "", teeth});
    }
    for (const Shaft& shaft : assembly_.shafts) {
      if (!shaft.timed() || &shaft == &assembly_.crank() || free(shaft)) continue;
      const bool half_is_whole = shaft.pulley < 0 || shaft.teeth % 2 == 0;
      if (half_is_whole) {
        add({FaultKind::half_turn, shaft.name, "", shaft.pulley < 0 ? 0 : shaft.teeth / 2});
      }
    }
  }

  // Toothed pulleys met from the crank on along a way.
  std::vector<const Shaft*> along(Way way) const {
    std::vector<const Shaft*> list;
    for (std::size_t i = 1; i < assembly_.shafts.size(); ++i) {
      if (assembly_.shafts[i].pulley < 0) continue;
      if (assembly_.fits[i].reference == way) list.push_back(&assembly_.shafts[i]);
    }
    if (way == Way::against_travel) std::reverse(list.begin(), list.end());
    return list;
  }

  // One a run; where nothing timed lies between two runs, slack in either is the same.
  void add_slack() {
    for (const Way way : {Way::against_travel, Way::with_travel}) {
      std::string before = assembly_.crank().name;
      bool told = false;  // nothing timed since the last one
      for (const Shaft* shaft : along(way)) {
        if (!told && timed_from(way, shaft->name)) {
          add({FaultKind::slack_left, shaft->name, before, way == Way::against_travel ? -1 : 1,
               SizeRange{0.5, 0.9 * pitch_mm_, 1.0, "mm"}});
        }
        told = !shaft->timed();
        before = shaft->name;
      }
    }
  }

  bool timed_from(Way way, const std::string& name) const {
    bool reached = false;
    for (const Shaft* shaft : along(way)) {
      reached = reached || shaft->name == name;
      if (reached && shaft->timed()) return true;
    }
    return false;
  }

  void add_belt() {
    for (const int more : {-1, 1}) add({FaultKind::belt_count, "belt", "", more});
  }

  void add_tensioner() {
    const std::optional<Setting>& at = assembly_.fitted_setting;
    if (!at) return;
    const Tensioner& tensioner = *assembly_.fitted.tensioner;
    const std::string& name =
        assembly_.fitted.pulleys[static_cast<std::size_t>(tensioner.pulley)].name;
    const TensionerCurve& curve = *base_.fitted.fitted->curve();
    const double length_mm = assembly_.fitted.belt.length_mm(assembly_.belt_teeth);
    int other = 0;
    for (const Setting& setting : curve.settings_for(length_mm)) {
      if (tensioner.path.apart(setting.q, at->q) < 1e-6) continue;
      add({FaultKind::over_centre, name, "", ++other});
    }
    const std::string_view unit = twoturn::unit(tensioner.path.kind());
    const double back = tensioner.path.apart(0.0, at->q);
    const double ahead = tensioner.path.apart(curve.longest_ahead(at->q), at->q);
    const auto off = [&](int side, double room) {
      if (room < 2.0) return;
      add({FaultKind::tensioner_off, name, "", side,
           SizeRange{0.1 * room, room, 0.5 * room, unit}});
    };
    if (at->in_travel) off(-1, std::min(back, 180.0));
    off(1, ahead);
    if (holds(name) != Holds::sprung) return;
    const double gives_mm = length_mm - curve.least_mm();
    if (gives_mm > 0.3) {
      const double most = std::min(3.0, gives_mm);
      add({FaultKind::backwards, name, "", 0, SizeRange{0.3, most, std::min(1.0, most), "mm"}});
    }
    add({FaultKind::transit_pin, name, "", 0});
  }

  std::optional<Holds> holds(const std::string& name) const {
    for (const PulleySpec& pulley : base_.spec.pulleys) {
      if (pulley.name == name && pulley.tensioner) return pulley.tensioner->holds;
    }
    return std::nullopt;
  }

  void add_heads() {
    for (const HeadSpec& head : base_.spec.heads) {
      const bool carries =
          std::any_of(base_.spec.pulleys.begin(), base_.spec.pulleys.end(),
                      [&](const PulleySpec& pulley) { return pulley.mount == head.name; });
      if (!head.deck_deg || !carries) continue;
      for (const int side : {1, -1}) {
        add({FaultKind::head_change, head.name, "", side, SizeRange{0.05, 0.6, 0.3, "mm"}});
      }
    }
  }

  void add_sizes() {
    for (const Pulley& pulley : assembly_.fitted.pulleys) {
      if (!pulley.toothed()) {
        add({FaultKind::other_size, pulley.name, "", 0, SizeRange{-6.0, 6.0, 3.0, "mm"}});
        continue;
      }
      const bool timed = std::any_of(
          assembly_.shafts.begin(), assembly_.shafts.end(),
          [&](const Shaft& shaft) { return shaft.name == pulley.name && shaft.timed(); });
      for (const int more : {-1, 1}) {
        const FaultKind kind = timed ? FaultKind::tooth_count : FaultKind::other_size;
        std::optional<SizeRange> stands;  // where its grooves lie to its mark, nobody knows
        if (timed) stands = SizeRange{-0.5, 0.5, 0.0, "teeth"};
        add({kind, pulley.name, "", more, stands});
      }
    }
  }

  void add_pulleys_on_shafts() {
    const std::vector<const Shaft*> shafts = on_belt();
    for (const Shaft* shaft : shafts) {
      if (free(*shaft)) {
        add({FaultKind::slipped, shaft->name, "", 0, SizeRange{-20.0, 20.0, 3.0, "deg"}});
        continue;
      }
      add({FaultKind::seat, shaft->name, "", 0, SizeRange{-40.0, 40.0, 5.0, "deg"}});
      add({FaultKind::seat_by_pins, shaft->name, "", 0, SizeRange{-40.0, 40.0, 5.0, "deg"}});
    }
    add({FaultKind::slipped, assembly_.crank().name, "", 0, SizeRange{-20.0, 20.0, 3.0, "deg"}});
    for (std::size_t i = 0; i < shafts.size(); ++i) {
      for (std::size_t k = i + 1; k < shafts.size(); ++k) {
        if (!could_swap(*shafts[i], *shafts[k])) continue;
        for (const int by_pins : {0, 1}) {
          add({FaultKind::swapped, shafts[i]->name, shafts[k]->name, by_pins});
        }
      }
    }
  }

  static bool could_swap(const Shaft& a, const Shaft& b) {
    if (free(a) || free(b) || a.teeth != b.teeth || a.marks.empty() || b.marks.empty())
      return false;
    const Angle apart = Angle::degrees(a.marks[0].at_deg - b.marks[0].at_deg).wrapped_half();
    return std::abs(apart.degrees()) > 1.0;
  }

  void add_pins_and_marks() {
    for (const Shaft& shaft : assembly_.shafts) {
      if (!shaft.timed()) continue;
      if (shaft.pin) add({FaultKind::loose_pin, shaft.name, "", 0});
      const bool crank = &shaft == &assembly_.crank();
      for (std::size_t k = 1; k < shaft.marks.size(); ++k) {
        if (crank) {
          add({FaultKind::outer_mark, shaft.marks[k].name, shaft.name, 0,
               SizeRange{-30.0, 30.0, 5.0, "deg"}});
        } else if (!free(shaft) && shaft.pulley >= 0) {
          add({FaultKind::other_mark, shaft.name, shaft.marks[k].name, static_cast<int>(k)});
        }
      }
      if (shaft.pulley < 0 || free(shaft)) continue;
      add({FaultKind::not_seated, shaft.name, "", 0, SizeRange{-0.45, 0.45, 0.3, "teeth"}});
    }
  }

  void add_in_the_way() {
    const int cylinders = base_.spec.engine.cylinders.value_or(0);
    for (int cylinder = 1; cylinder <= cylinders; ++cylinder) {
      add({FaultKind::tool_in_hole, std::to_string(cylinder), "", 0});
    }
  }

  // A tooth out beside what is common with it: a skim, slack, another cam's tooth.
  void add_pairs() {
    std::vector<Fault> teeth;
    std::vector<Fault> beside;
    bool slack = false;
    for (const FaultCase& suspect : suspects_) {
      const Fault& fault = suspect.first();
      const bool one = std::abs(fault.teeth) == 1;
      const bool tooth = fault.kind == FaultKind::tooth_out || fault.kind == FaultKind::crank_tooth;
      if (tooth && one) teeth.push_back(fault);
      if (fault.kind == FaultKind::head_change && fault.teeth > 0) beside.push_back(fault);
      if (fault.kind == FaultKind::slack_left && !slack) {
        beside.push_back(fault);
        slack = true;
      }
    }
    for (std::size_t i = 0; i < teeth.size(); ++i) {
      for (const Fault& other : beside) suspects_.push_back({{teeth[i], other}, 0.0});
      for (std::size_t k = i + 1; k < teeth.size(); ++k) {
        const bool both_shafts = teeth[k].kind == FaultKind::tooth_out;
        if (!both_shafts || teeth[k].about == teeth[i].about) continue;
        suspects_.push_back({{teeth[i], teeth[k]}, 0.0});
      }
    }
  }

  double prior(FaultKind kind) const {
    const auto found = base_.spec.seen.prior.find(std::string(word(kind)));
    return found == base_.spec.seen.prior.end() ? 1.0 : found->second;
  }

  // A kind's weight is shared by its suspects.
  void weigh() {
    std::map<std::string, double> many;
    const auto kind = [](const FaultCase& suspect) {
      std::string kinds;
      for (const Fault& fault : suspect.faults) kinds += word(fault.kind);
      return kinds;
    };
    for (const FaultCase& suspect : suspects_) many[kind(suspect)] += 1.0;
    double sum = 0.0;
    for (FaultCase& suspect : suspects_) {
      double weight = 1.0 / many[kind(suspect)];
      for (const Fault& fault : suspect.faults) weight *= prior(fault.kind);
      if (suspect.faults.size() > 1) weight *= kTogether;
      suspect.weight = weight;
      sum += weight;
    }
    for (FaultCase& suspect : suspects_) suspect.weight /= sum;
  }

  const FaultBase& base_;
  const Assembly& assembly_;
  double pitch_mm_;
  std::vector<FaultCase> suspects_;
};

}  // namespace

std::vector<FaultCase> suspects_of(const FaultBase& base) {
  if (!base.turns) return {};
  return Suspects(base).all();
}

}  // namespace twoturn
