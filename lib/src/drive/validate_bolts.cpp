#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

// Each has a name, and no two the same.
template <class Part>
void judge_names_of(Judge& judge, std::string_view list, const std::vector<Part>& parts) {
  std::set<std::string> seen;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string& name = parts[i].name;
    const std::string key = path_of(list, name, i) + ".name";
    if (name.empty()) {
      judge.add(key, "", "needs a name, so that the sheet and the record can speak of it");
    } else if (!seen.insert(name).second) {
      judge.add(key, fmt::format("\"{}\"", name), "stands twice: give each its own name");
    }
  }
}

void judge_holds(Judge& judge, const std::string& path, const BoltsSpec& bolts) {
  if (!bolts.holds) return;
  std::vector<std::string> known = head_names(judge.spec);
  for (const std::string& name : pulley_names(judge.spec)) known.push_back(name);
  for (const GearedSpec& geared : judge.spec.geared) known.push_back(geared.name);
  if (std::find(known.begin(), known.end(), *bolts.holds) != known.end()) return;
  judge.add(path + ".holds", fmt::format("\"{}\"", *bolts.holds),
            "must name a [[head]], a [[pulley]] or a [[geared]] shaft of this profile",
            nearest_word(*bolts.holds, known));
}

void judge_positions(Judge& judge, const std::string& path, const BoltsSpec& bolts) {
  const std::vector<Vec2>& places = bolts.positions_mm;
  for (std::size_t k = 0; k < places.size(); ++k) {
    judge.position(fmt::format("{}.positions_mm[{}]", path, k), places[k]);
    const auto same = [&](const Vec2& other) { return (other - places[k]).norm() < kSamePlaceMm; };
    const auto end = places.begin() + static_cast<std::ptrdiff_t>(k);
    if (std::any_of(places.begin(), end, same)) {
      judge.add(fmt::format("{}.positions_mm[{}]", path, k), shown(places[k]),
                "two bolts in one place");
    }
  }
  const bool differ =
      bolts.count && !places.empty() && static_cast<std::size_t>(*bolts.count) != places.size();
  if (differ) {
    judge.add(path + ".count", std::to_string(*bolts.count),
              fmt::format("but positions_mm has {} places", places.size()));
  }
}

void judge_order(Judge& judge, const std::string& path, const BoltsSpec& bolts) {
  if (bolts.order.empty()) return;
  const std::size_t count = !bolts.positions_mm.empty()
                                ? bolts.positions_mm.size()
                                : static_cast<std::size_t>(std::max(0, bolts.count.value_or(0)));
  std::vector<int> sorted = bolts.order;
  std::sort(sorted.begin(), sorted.end());
  bool each_once = count == sorted.size();
  for (std::size_t k = 0; k < sorted.size(); ++k) {
    each_once = each_once && sorted[k] == static_cast<int>(k) + 1;
  }
  if (each_once) return;
  judge.add(path + ".order", fmt::format("{} numbers", bolts.order.size()),
            count == 0
                ? "say how many bolts there are: count, or positions_mm"
                : fmt::format("must name each bolt from 1 to {} once, first to last", count));
}

void judge_stages(Judge& judge, const std::string& path, const BoltsSpec& bolts) {
  constexpr double kMostNm = 2000.0;
  constexpr double kMostDeg = 720.0;
  for (std::size_t k = 0; k < bolts.stages.size(); ++k) {
    const BoltStageSpec& stage = bolts.stages[k];
    const std::string here = fmt::format("{}.stage.{}", path, k + 1);
    judge.positive({here, ".torque_nm"}, stage.torque_nm, kMostNm, "Nm");
    judge.positive({here, ".angle_deg"}, stage.angle_deg, kMostDeg, "deg");
    if (stage.torque_nm.has_value() != stage.angle_deg.has_value()) continue;
    judge.add(here, "",
              stage.torque_nm ? "a stage is a torque or an angle; make two stages of it"
                              : "a stage needs torque_nm (or torque_lbf_ft) or angle_deg");
  }
}

}  // namespace

void judge_bolts(Judge& judge) {
  constexpr int kMostBolts = 100;
  constexpr double kMostPitchMm = 10.0;
  constexpr double kMostModulus = 1e6;
  constexpr double kMostStiffness = 1e9;
  const std::vector<BoltsSpec>& all = judge.spec.bolts;
  judge_names_of(judge, "bolts", all);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const BoltsSpec& bolts = all[i];
    const std::string path = path_of("bolts", bolts.name, i);
    judge.count({path, ".count"}, bolts.count, 1, kMostBolts);
    judge_holds(judge, path, bolts);
    judge_positions(judge, path, bolts);
    judge_order(judge, path, bolts);
    judge_stages(judge, path, bolts);
    judge.positive({path, ".pitch_mm"}, bolts.pitch_mm, kMostPitchMm, "mm");
    judge.length({path, ".length_mm"}, bolts.length_mm);
    judge.length({path, ".shank_mm"}, bolts.shank_mm);
    judge.positive({path, ".modulus_n_mm2"}, bolts.modulus_n_mm2, kMostModulus, "N/mm2");
    judge.positive({path, ".joint_stiffness_n_mm"}, bolts.joint_stiffness_n_mm, kMostStiffness,
                   "N/mm");
  }
}

void judge_access_holes(Judge& judge) {
  judge_names_of(judge, "access_hole", judge.spec.access_holes);
  for (std::size_t i = 0; i < judge.spec.access_holes.size(); ++i) {
    const std::string& name = judge.spec.access_holes[i].name;
    if (name != kNoAccessHole) continue;
    judge.add(path_of("access_hole", name, i) + ".name", fmt::format("\"{}\"", name),
              "that is what a pin says that goes through no hole; give the hole another name");
  }
}

void judge_hole_of(Judge& judge, const std::string& path, const PinSpec& pin) {
  if (!pin.access_hole || *pin.access_hole == kNoAccessHole) return;
  std::vector<std::string> known;
  for (const AccessHoleSpec& hole : judge.spec.access_holes) known.push_back(hole.name);
  if (std::find(known.begin(), known.end(), *pin.access_hole) != known.end()) return;
  judge.add(
      path + ".access_hole", fmt::format("\"{}\"", *pin.access_hole),
      "must name an [[access_hole]] of this profile, or \"none\" where it goes through no hole",
      nearest_word(*pin.access_hole, known));
}

void judge_trays(Judge& judge) {
  constexpr int kMostRows = 12;
  constexpr int kMostColumns = 40;
  const std::vector<TraySpec>& trays = judge.spec.trays;
  judge_names_of(judge, "tray", trays);
  for (std::size_t i = 0; i < trays.size(); ++i) {
    const std::string path = path_of("tray", trays[i].name, i);
    judge.count({path, ".rows"}, trays[i].rows, 1, kMostRows);
    judge.count({path, ".columns"}, trays[i].columns, 1, kMostColumns);
    if (!trays[i].columns) {
      judge.add(path + ".columns", "", "say how many parts stand in a row: columns = 8");
    }
  }
}

}  // namespace twoturn::validation
