// What a profile says was seen, as looks at its own drive.
#include <algorithm>
#include <cmath>
#include <map>

#include "base/at.hpp"
#include "look_sigmas.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/fault/look.hpp"

namespace twoturn {
namespace {

class SightReader {
 public:
  SightReader(const SeenSpec& seen, const BenchLayout& layout) : seen_(seen), layout_(layout) {
    stop_ = 2;
    for (std::size_t k = 0; k < kBenchStops; ++k) {
      if (kBenchTurns[k] == seen.after_turns.value_or(2)) stop_ = static_cast<int>(k);
    }
  }

  Sights all() {
    sights_.turned = seen_.turned;
    sights_.datum = datum();
    for (const auto& [name, pin] : seen_.pin) add_pin(name, pin);
    for (const auto& [name, mm] : seen_.mark_mm) add_mark(name, "seen.mark_mm.", mm, In::mm);
    for (const auto& [name, teeth] : seen_.mark_teeth) {
      add_mark(name, "seen.mark_teeth.", teeth, In::teeth);
    }
    for (const auto& [name, deg] : seen_.mark_crank_deg) {
      add_mark(name, "seen.mark_crank_deg.", deg, In::crank_deg);
    }
    add_pointer();
    add_counts();
    constexpr int kTwoTurns = 2;  // of kBenchTurns
    sights_.went_round = seen_.after_turns && stop_ >= kTwoTurns && !sights_.sights.empty() &&
                         !seen_.stops.value_or(false);
    add_yes_or_no();
    add_stop();
    return std::move(sights_);
  }

 private:
  enum class In { mm, teeth, crank_deg };

  int part(const std::string& name) const {
    for (std::size_t i = 0; i < layout_.shafts.size(); ++i) {
      if (layout_.shafts[i].name == name) return static_cast<int>(i);
    }
    return -1;
  }
  int further(const std::string& name) const {
    for (std::size_t i = 0; i < layout_.further.size(); ++i) {
      if (layout_.further[i].name == name) return static_cast<int>(i);
    }
    return -1;
  }

  // The crank, unless it is what is said to be off: then the first shaft whose pin is in.
  int datum() const {
    const auto own = seen_.pin.find(layout_.shafts.front().name);
    if (own == seen_.pin.end() || own->second == PinFelt::in) return 0;
    for (const auto& [name, pin] : seen_.pin) {
      if (part(name) > 0 && pin == PinFelt::in) return part(name);
    }
    return 0;
  }

  Sight& add(LookKind kind, int of, std::string key) {
    Sight sight;
    sight.look = {kind, of, stop_};
    sight.key = std::move(key);
    sights_.sights.push_back(std::move(sight));
    return sights_.sights.back();
  }

  void add_pin(const std::string& name, PinFelt pin) {
    const int of = part(name);
    const std::string key = "seen.pin." + name;
    if (of == sights_.datum && (of != 0 || pin == PinFelt::in))
      return;  // what all others count from
    if (of < 0 || of == sights_.datum || !layout_.shafts[at(of)].pin_radius_mm) {
      sights_.not_used.push_back(key);
      return;
    }
    add(LookKind::pin, of, key).pin = pin;
  }

  void add_mark(const std::string& name, const std::string& table, double value, In in) {
    const int of = part(name);
    const int more = further(name);
    const std::string key = table + name;
    const int shaft = of >= 0 ? of : more >= 0 ? layout_.further[at(more)].shaft : -1;
    const bool own_datum = of >= 0 && of == sights_.datum && !layout_.shafts[at(of)].pin_radius_mm;
    if (shaft < 0 || own_datum) {
      sights_.not_used.push_back(key);
      return;
    }
    const BenchPart& on = layout_.shafts[at(shaft)];
    const std::optional<double>& radius =
        of >= 0 ? on.mark_radius_mm : layout_.further[at(more)].radius_mm;
    if (in == In::mm && !radius) {
      sights_.not_used.push_back(key);
      return;
    }
    const double own_deg = in == In::teeth ? value * on.tooth_deg : value * on.turns_per_crank;
    Sight& sight = add(of >= 0 ? LookKind::mark : LookKind::further_mark, of >= 0 ? of : more, key);
    sight.value = in == In::mm ? value
                  : radius     ? Angle::degrees(own_deg).radians() * *radius
                               : own_deg;
    sight.sigma = radius ? sigma_of(seen_.give_mm.value_or(kEyeGiveMm)) : kMarkSigmaDeg;
  }

  void add_pointer() {
    const bool slide = layout_.tensioner == TensionerKind::slide;
    const std::optional<double>& value = slide ? seen_.pointer_mm : seen_.pointer_deg;
    if (!value) return;
    Sight& sight = add(LookKind::pointer, -1, slide ? "seen.pointer_mm" : "seen.pointer_deg");
    sight.value = *value;
    sight.sigma = slide ? kPointerSigmaMm : kPointerSigmaDeg;
  }

  void add_counts() {
    for (const TeethCounted& seen : seen_.count) {
      const auto same = [&](const CountedPair& pair) {
        return (pair.from == seen.from && pair.to == seen.to) ||
               (pair.from == seen.to && pair.to == seen.from);
      };
      const auto found = std::find_if(layout_.pairs.begin(), layout_.pairs.end(), same);
      const std::string key = "seen.count." + seen.from + "." + seen.to;
      if (found == layout_.pairs.end() || !found->countable || !seen.teeth) {
        sights_.not_used.push_back(key);
        continue;
      }
      Sight& sight = add(LookKind::count, static_cast<int>(found - layout_.pairs.begin()), key);
      sight.value = *seen.teeth;
      sight.sigma = kCountSigma;
    }
  }

  void add_yes_or_no() {
    if (seen_.again) {
      add(LookKind::again, -1, "seen.again").yes = *seen_.again == SeenAgain::wanders;
    }
    const auto said = [&](const std::optional<bool>& yes, LookKind kind, const char* key) {
      if (yes) add(kind, -1, key).yes = *yes;
    };
    said(seen_.seated, LookKind::seated, "seen.seated");
    said(seen_.rocks, LookKind::rocks, "seen.rocks");
    said(seen_.same_each_try, LookKind::same_each_try, "seen.same_each_try");
    said(seen_.right_forwards, LookKind::right_forwards, "seen.right_forwards");
    said(seen_.moved_when_tensioned, LookKind::moved_when_tensioned, "seen.moved_when_tensioned");
    said(seen_.pointer_moves, LookKind::pointer_moves, "seen.pointer_moves");
  }

  void add_stop() {
    if (!seen_.stops && !seen_.stop_deg) return;
    Sight& sight = add(LookKind::stop, -1, seen_.stop_deg ? "seen.stop_deg" : "seen.stops");
    sight.yes = seen_.stop_deg || *seen_.stops;
    if (!seen_.stop_deg) return;
    sight.value = *seen_.stop_deg;
    sight.sigma = kStopSigmaDeg;
  }

  const SeenSpec& seen_;
  const BenchLayout& layout_;
  int stop_;
  Sights sights_;
};

}  // namespace

Sights sights_of(const SeenSpec& seen, const BenchLayout& layout) {
  if (layout.shafts.empty()) return {};
  return SightReader(seen, layout).all();
}

}  // namespace twoturn
