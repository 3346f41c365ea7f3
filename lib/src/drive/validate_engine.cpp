#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/drive/choice_words.hpp"
#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

constexpr double kMostTurnDeg = 720.0;

void judge_sizes(Judge& judge) {
  const EngineSpec& engine = judge.spec.engine;
  constexpr double kLargestMm = 1500.0;
  judge.count("engine.cylinders", engine.cylinders, 1, 16);
  judge.positive("engine.bore_mm", engine.bore_mm, kLargestMm, "mm");
  judge.positive("engine.stroke_mm", engine.stroke_mm, 2.0 * kLargestMm, "mm");
  judge.positive("engine.throw_mm", engine.throw_mm, kLargestMm, "mm");
  judge.positive("engine.rod_mm", engine.rod_mm, 3.0 * kLargestMm, "mm");
  judge.range("engine.pin_offset_mm", engine.pin_offset_mm, {-100.0, 100.0, "mm"});
  judge.positive("engine.chamber_cc", engine.chamber_cc, 1e5, "cc");
  judge.range("engine.compression_ratio", engine.compression_ratio, {1.5, 50.0});
  judge.range("engine.timing_position_deg", engine.timing_position_deg,
              {-kMostTurnDeg, kMostTurnDeg, "deg"});
  if (engine.stroke_mm && engine.throw_mm) {
    judge.add("engine.throw_mm", shown(*engine.throw_mm, "mm"),
              "the stroke says it already; keep one of the two");
  }
  if (engine.chamber_cc && engine.compression_ratio) {
    judge.add("engine.compression_ratio", shown(*engine.compression_ratio),
              "chamber_cc says it already; keep one of the two");
  }
  const std::optional<double> half = engine.throw_mm    ? engine.throw_mm
                                     : engine.stroke_mm ? std::optional(*engine.stroke_mm / 2.0)
                                                        : std::nullopt;
  const double reach = half.value_or(0.0) + std::abs(engine.pin_offset_mm.value_or(0.0));
  if (half && engine.rod_mm && *half > 0.0 && *engine.rod_mm <= reach) {
    judge.add("engine.rod_mm", shown(*engine.rod_mm, "mm"),
              fmt::format("must be longer than half the stroke and the pin offset, {}; measure it "
                          "from centre to centre",
                          shown(reach, "mm")));
  } else if (half && engine.rod_mm && *engine.rod_mm <= 2.0 * *half) {
    judge.add(
        "engine.rod_mm", shown(*engine.rod_mm, "mm"),
        fmt::format("must be longer than the stroke, {}: rods are 1.3 times as long and more; "
                    "measure it from centre to centre",
                    shown(2.0 * *half, "mm")));
  }
}

void judge_list(Judge& judge, const std::string& key, std::size_t size) {
  const EngineSpec& engine = judge.spec.engine;
  if (size == 0) return;
  if (!engine.cylinders) {
    judge.add(key, "", "says nothing without the number of cylinders; give engine.cylinders");
  } else if (size != static_cast<std::size_t>(std::max(*engine.cylinders, 0))) {
    judge.add(key, "",
              fmt::format("must have one number for each cylinder, {} and not {}",
                          *engine.cylinders, size));
  }
}

void judge_layout(Judge& judge) {
  const EngineSpec& engine = judge.spec.engine;
  judge_list(judge, "engine.crank_pins_deg", engine.crank_pins_deg.size());
  judge_list(judge, "engine.bores_deg", engine.bores_deg.size());
  judge_list(judge, "engine.firing_order", engine.firing_order.size());
  for (const double deg : engine.crank_pins_deg) {
    judge.range("engine.crank_pins_deg", deg, {-kMostTurnDeg, kMostTurnDeg, "deg"});
  }
  for (const double deg : engine.bores_deg) {
    judge.range("engine.bores_deg", deg, {-kMostTurnDeg, kMostTurnDeg, "deg"});
  }
  std::vector<int> sorted = engine.firing_order;
  std::sort(sorted.begin(), sorted.end());
  for (std::size_t k = 0; k < sorted.size(); ++k) {
    if (sorted[k] == static_cast<int>(k) + 1) continue;
    judge.add("engine.firing_order", "",
              fmt::format("must name each cylinder from 1 to {} once", sorted.size()));
    return;
  }
  if (!sorted.empty() && engine.firing_order.front() != 1) {
    judge.add("engine.firing_order", "", "must begin with cylinder 1: turn it round");
  }
}

// A pulley's or a geared shaft's.
void judge_cam(Judge& judge, const std::string& path, const ValveSpec& valve) {
  if (!valve.cam) return;
  const std::string value = fmt::format("\"{}\"", *valve.cam);
  const auto named = [&](const auto& shaft) { return shaft.name == *valve.cam; };
  const auto other_role = [&](const auto& shaft) {
    return named(shaft) && shaft.role && shaft.role != Role::camshaft;
  };
  const auto& pulleys = judge.spec.pulleys;
  const auto& geared = judge.spec.geared;
  if (std::none_of(pulleys.begin(), pulleys.end(), named) &&
      std::none_of(geared.begin(), geared.end(), named)) {
    std::vector<std::string> names = pulley_names(judge.spec);
    for (const GearedSpec& shaft : geared) names.push_back(shaft.name);
    judge.add(path + ".cam", value, fmt::format("no [[pulley]] or [[geared]] is named {}", value),
              nearest_word(*valve.cam, names));
  } else if (std::any_of(pulleys.begin(), pulleys.end(), other_role) ||
             std::any_of(geared.begin(), geared.end(), other_role)) {
    judge.add(path + ".cam", value, "must be a shaft with role = \"camshaft\"");
  }
}

void judge_head(Judge& judge, const std::string& path, const ValveSpec& valve) {
  if (!valve.head) return;
  const std::vector<std::string> known = head_names(judge.spec);
  if (std::find(known.begin(), known.end(), *valve.head) != known.end()) return;
  judge.add(path + ".head", fmt::format("\"{}\"", *valve.head),
            "no [[head]] has this name (the diameter of its own head is head_mm)",
            nearest_word(*valve.head, known));
}

void judge_cylinders(Judge& judge, const std::string& path, const ValveSpec& valve) {
  const int most = judge.spec.engine.cylinders.value_or(16);
  for (const int cylinder : valve.cylinders) {
    if (cylinder >= 1 && cylinder <= most) continue;
    judge.add(path + ".cylinders", std::to_string(cylinder),
              fmt::format("must be cylinders from 1 to {}", most));
  }
  std::vector<int> sorted = valve.cylinders;
  std::sort(sorted.begin(), sorted.end());
  if (std::adjacent_find(sorted.begin(), sorted.end()) != sorted.end()) {
    judge.add(path + ".cylinders", "", "must name each cylinder once");
  }
}

void judge_lift(Judge& judge, const std::string& path, const ValveSpec& valve) {
  constexpr double kMostLiftMm = 60.0;
  judge.positive({path, ".lift_mm"}, valve.lift_mm, kMostLiftMm, "mm");
  judge.positive({path, ".cam_lift_mm"}, valve.cam_lift_mm, kMostLiftMm, "mm");
  judge.range({path, ".rocker_ratio"}, valve.rocker_ratio, {0.3, 5.0});
  judge.range({path, ".lash_mm"}, valve.lash_mm, {0.0, 5.0, "mm"});
  const auto twice = [&](const char* key, std::optional<double> value, const char* rule) {
    if (value) judge.add(path + key, shown(*value, "mm"), rule);
  };
  if (valve.lift_mm) {
    twice(".cam_lift_mm", valve.cam_lift_mm, "lift_mm says it already; keep one of the two");
  }
  if (valve.table) {
    twice(".lift_mm", valve.lift_mm, "the table holds its own lift; leave this out");
    twice(".cam_lift_mm", valve.cam_lift_mm, "the table holds its own lift; leave this out");
  }
  if (valve.table && valve.law) {
    judge.add(path + ".law", fmt::format("\"{}\"", word(*valve.law)),
              "the table shows the lift already; keep one of the two");
  }
  const double opened = valve.cam_lift_mm
                            ? *valve.cam_lift_mm * valve.rocker_ratio.value_or(1.0)
                            : valve.lift_mm.value_or(0.0) + valve.lash_mm.value_or(0.0);
  if (valve.cam_lift_mm && valve.lash_mm && opened <= *valve.lash_mm) {
    judge.add(path + ".lash_mm", shown(*valve.lash_mm, "mm"),
              fmt::format("must be less than the cam gives, {}: the valve would stay shut",
                          shown(opened, "mm")));
  }
}

void judge_events(Judge& judge, const std::string& path, const ValveSpec& valve) {
  judge.range({path, ".opens_deg"}, valve.opens_deg, {-120.0, 150.0, "deg"});
  judge.range({path, ".closes_deg"}, valve.closes_deg, {-120.0, 150.0, "deg"});
  judge.range({path, ".lobe_centre_deg"}, valve.lobe_centre_deg, {60.0, 180.0, "deg"});
  judge.range({path, ".duration_deg"}, valve.duration_deg, {60.0, 480.0, "deg"});
  judge.range({path, ".timed_at_lift_mm"}, valve.timed_at_lift_mm, {0.0, 30.0, "mm"});
  if (valve.duration_deg && valve.opens_deg && valve.closes_deg) {
    judge.add(path + ".duration_deg", shown(*valve.duration_deg, "deg"),
              "opens_deg and closes_deg say it already; leave it out");
  }
  if (valve.opens_deg && valve.closes_deg && *valve.opens_deg + *valve.closes_deg <= -150.0) {
    judge.add(path + ".closes_deg", shown(*valve.closes_deg, "deg"),
              "must lie well after the opening: inlet after bottom, exhaust after top dead centre");
  }
  if (valve.opens_deg && valve.closes_deg && valve.lobe_centre_deg) {
    const bool inlet = valve.side != ValveSide::exhaust;
    const double before = inlet ? *valve.opens_deg : *valve.closes_deg;
    const double after = inlet ? *valve.closes_deg : *valve.opens_deg;
    if (!(*valve.lobe_centre_deg > -before) || !(*valve.lobe_centre_deg < 180.0 + after)) {
      judge.add(path + ".lobe_centre_deg", shown(*valve.lobe_centre_deg, "deg"),
                "must lie between opening and closing");
    }
  }
  double greatest = valve.lift_mm.value_or(1e9);
  const bool at_cam = valve.timed_at == LiftAtPart::cam;
  if (valve.cam_lift_mm) greatest = *valve.cam_lift_mm;
  for (const LiftRow& row : valve.rows) {
    greatest = greatest == 1e9 ? row.lift_mm : std::max(greatest, row.lift_mm);
  }
  if (valve.timed_at_lift_mm && *valve.timed_at_lift_mm >= greatest) {
    judge.add(path + ".timed_at_lift_mm", shown(*valve.timed_at_lift_mm, "mm"),
              fmt::format("must be less than the greatest lift {}, {}", at_cam ? "there" : "of it",
                          shown(greatest, "mm")));
  }
}

void judge_chamber(Judge& judge, const std::string& path, const ValveSpec& valve) {
  judge.range({path, ".valve_deg"}, valve.valve_deg, {0.0, 70.0, "deg"});
  judge.range({path, ".room_tdc_mm"}, valve.room_tdc_mm, {0.0, 200.0, "mm"});
  judge.range({path, ".clay_mm"}, valve.clay_mm, {0.0, 50.0, "mm"});
  judge.positive({path, ".head_mm"}, valve.head_mm, 500.0, "mm");
  judge.range({path, ".across_mm"}, valve.across_mm, {-500.0, 500.0, "mm"});
  if (valve.room_tdc_mm && valve.clay_mm) {
    judge.add(path + ".clay_mm", shown(*valve.clay_mm, "mm"),
              "room_tdc_mm says it already; keep one of the two");
  }
}

}  // namespace

void judge_engine(Judge& judge) {
  judge_sizes(judge);
  judge_layout(judge);
  std::vector<std::string> names;
  for (std::size_t i = 0; i < judge.spec.valves.size(); ++i) {
    const ValveSpec& valve = judge.spec.valves[i];
    const std::string path = path_of("valve", valve.name, i);
    if (valve.name.empty()) {
      judge.add(path + ".name", "", "give it a name: it is spoken of by it");
    } else if (std::find(names.begin(), names.end(), valve.name) != names.end()) {
      judge.add(path + ".name", fmt::format("\"{}\"", valve.name),
                "two valves have this name; each needs its own");
    }
    names.push_back(valve.name);
    judge_cam(judge, path, valve);
    judge_head(judge, path, valve);
    judge_cylinders(judge, path, valve);
    judge_lift(judge, path, valve);
    judge_events(judge, path, valve);
    judge_chamber(judge, path, valve);
    judge.count({path, ".per_cylinder"}, valve.per_cylinder, 1, 4);
    judge.range({path, ".spring_n"}, valve.spring_n, {0.0, 5000.0, "N"});
    judge.range({path, ".spring_rate_n_mm"}, valve.spring_rate_n_mm, {0.0, 1000.0, "N/mm"});
  }
}

}  // namespace twoturn::validation
