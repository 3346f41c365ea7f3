#include "twoturn/study/pistons.hpp"

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"

namespace twoturn {
namespace {

CompressionAnswer under_head(const DriveSpec& spec, const std::string& head, double stroke_mm,
                             Fit fit) {
  const EngineSpec& engine = spec.engine;
  CompressionAnswer answer;
  answer.head = head;
  answer.bore_mm = *engine.bore_mm;
  answer.swept_cc = swept_cc(*engine.bore_mm, stroke_mm);
  answer.nearer_mm = head_nearer_mm(spec, head, fit);
  if (engine.chamber_cc) answer.left_cc = engine.chamber_cc;
  if (engine.compression_ratio) {
    answer.left_cc = left_cc_of_ratio(answer.swept_cc, *engine.compression_ratio);
  }
  if (!answer.left_cc) return answer;
  const CylinderVolumes book{answer.swept_cc, *answer.left_cc};
  answer.ratio = book.ratio();
  if (const auto after = brought_nearer(book, answer.bore_mm, answer.nearer_mm)) {
    answer.left_after_cc = after->left_cc;
    answer.ratio_after = after->ratio();
  }
  return answer;
}

}  // namespace

CylinderLayout layout_of(const EngineSpec& engine) {
  CylinderLayout layout;
  layout.cylinders = engine.cylinders.value_or(0);
  layout.pins_deg = engine.crank_pins_deg;
  layout.bores_deg = engine.bores_deg;
  layout.firing_order = engine.firing_order;
  return layout;
}

std::optional<PistonsAnswer> pistons_answer(const DriveSpec& spec, std::vector<Missing>& missing) {
  const EngineSpec& engine = spec.engine;
  const char* what = "where the pistons stand, and whether valves clear them";
  const auto ask = [&](const char* key, const char* measure) {
    missing.push_back({what, key, measure});
  };
  if (!engine.cylinders) ask("engine.cylinders", "count the cylinders");
  if (!engine.stroke_mm && !engine.throw_mm) {
    ask("engine.stroke_mm",
        "measure from the piston at its top to the piston at its bottom, or take it from the "
        "manual");
  }
  if (!engine.rod_mm) {
    ask("engine.rod_mm",
        "take the length of the connecting rod, centre to centre, from the manual");
  }
  const std::optional<SliderCrank> crank = study::crank_of(engine);
  if (!engine.cylinders || !crank) return std::nullopt;
  PistonsAnswer answer;
  answer.cylinders = *engine.cylinders;
  answer.throw_mm = crank->throw_mm();
  answer.stroke_mm = crank->stroke_mm();
  answer.rod_mm = crank->rod_mm();
  answer.pin_offset_mm = crank->offset_mm();
  answer.half_stroke_deg = crank->going_down(answer.stroke_mm / 2.0).degrees();
  answer.phases = phases_of(layout_of(engine));
  answer.firing_order = engine.firing_order;
  if (engine.timing_position_deg) answer.at_pins = pistons_at(answer, *engine.timing_position_deg);
  return answer;
}

PistonsAt pistons_at(const PistonsAnswer& answer, double crank_deg) {
  const std::optional<SliderCrank> crank =
      SliderCrank::of_throw(answer.throw_mm, answer.rod_mm, answer.pin_offset_mm);
  PistonsAt at;
  at.crank_deg = crank_deg;
  for (std::size_t k = 0; k < answer.phases.top_deg.size(); ++k) {
    PistonPlace place;
    place.cylinder = static_cast<int>(k) + 1;
    place.after_top_deg = in_turn(crank_deg - answer.phases.top_deg[k]);
    place.depth_mm = crank->depth_mm(Angle::degrees(place.after_top_deg));
    place.below_half_mm = place.depth_mm - answer.stroke_mm / 2.0;
    at.places.push_back(place);
  }
  return at;
}

double head_nearer_mm(const DriveSpec& spec, const std::string& head, Fit fit) {
  return fit == Fit::by_the_book ? 0.0 : -head_lift_mm(spec.build, head);
}

std::vector<CompressionAnswer> compression_answer(const DriveSpec& spec, Fit fit) {
  const EngineSpec& engine = spec.engine;
  std::optional<double> stroke = engine.stroke_mm;
  if (const auto crank = study::crank_of(engine)) {
    stroke = crank->stroke_mm();
  } else if (engine.throw_mm && engine.pin_offset_mm.value_or(0.0) == 0.0) {
    stroke = 2.0 * *engine.throw_mm;
  }
  if (!engine.bore_mm || !stroke) return {};
  if (spec.heads.empty()) return {under_head(spec, "", *stroke, fit)};
  std::vector<CompressionAnswer> answers;
  for (const HeadSpec& head : spec.heads) {
    answers.push_back(under_head(spec, head.name, *stroke, fit));
  }
  return answers;
}

}  // namespace twoturn
