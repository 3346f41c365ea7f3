#include <cmath>

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/limits.hpp"
#include "twoturn/fault/lineup.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/turns.hpp"

namespace twoturn {
namespace {

BenchPart part_of(const Shaft& shaft, double tooth_deg) {
  BenchPart part;
  part.name = shaft.name;
  part.role = shaft.role;
  part.turns_per_crank = *shaft.turns_per_crank;
  part.tooth_deg = tooth_deg;
  part.sense = shaft.sense;
  part.has_mark = !shaft.marks.empty();
  if (part.has_mark) {
    part.mark_radius_mm = shaft.marks.front().radius_mm;
    part.mark_at_deg = shaft.marks.front().at_deg;
  }
  if (shaft.pin) {
    part.pin_radius_mm = shaft.pin->radius_mm;
    part.pin_play_mm = shaft.pin->play_mm;
    part.bar = shaft.pin->bar;
  }
  return part;
}

BenchLayout layout_of(const TurnsAnswer& turns) {
  BenchLayout layout;
  const std::vector<Shaft>& shafts = turns.assembly.shafts;
  for (std::size_t i = 0; i < shafts.size(); ++i) {
    if (!shafts[i].timed()) continue;
    const int here = static_cast<int>(layout.shafts.size());
    layout.shafts.push_back(part_of(shafts[i], tooth_own_deg(shafts, static_cast<int>(i))));
    for (std::size_t k = 1; k < shafts[i].marks.size(); ++k) {
      const Mark& mark = shafts[i].marks[k];
      layout.further.push_back({mark.name, here, mark.radius_mm});
    }
  }
  for (const BetweenMarks& between : turns.between_marks) {
    layout.pairs.push_back(
        {between.from, between.to, between.count.teeth, between.count.countable()});
  }
  if (const std::optional<Tensioner>& tensioner = turns.assembly.fitted.tensioner) {
    layout.tensioner = tensioner->path.kind();
    layout.tensioner_name =
        turns.assembly.fitted.pulleys[static_cast<std::size_t>(tensioner->pulley)].name;
  }
  return layout;
}

}  // namespace

FaultBase fault_base(const DriveSpec& spec, Fit fit) {
  FaultBase base;
  base.spec = spec;
  base.spec.build.teeth_out.clear();
  if (fit == Fit::by_the_book) base.spec.build = {};
  BothFits both = both_fits(base.spec, Fit::as_fitted);
  base.book = std::move(both.book);
  base.fitted = std::move(both.asked);
  if (!base.book.fitted || !base.fitted.fitted) return base;
  base.turns = two_turns_of(*base.book.fitted, *base.fitted.fitted);
  if (!base.turns) return base;
  base.layout = layout_of(*base.turns);
  base.layout.pin_tight_mm = limits_of(spec.limits).pin_tight_mm;
  return base;
}

}  // namespace twoturn
