#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/base/numbers.hpp"
#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

// Wall thicknesses and an arm say the same length; a calliper cannot tell them apart below this.
constexpr double kSameArmMm = 0.01;
constexpr double kSameAngleDeg = 1e-9;

void judge_arm(Judge& judge, const std::string& path, const SwingSpec& swing,
               const PulleySpec& pulley) {
  judge.length({path, ".arm_mm"}, swing.arm_mm);
  if (swing.arm_mm == 0.0) {
    judge.problems.back().rule += ": the roller would turn about its own centre, with no travel";
  }
  judge.length({path, ".thickest_mm"}, swing.thickest_mm);
  judge.length({path, ".thinnest_mm"}, swing.thinnest_mm);
  if (!swing.thickest_mm || !swing.thinnest_mm) return;
  const double arm = 0.5 * (*swing.thickest_mm - *swing.thinnest_mm);
  if (!(arm > 0.0)) {
    judge.add(path + ".thickest_mm", shown(*swing.thickest_mm, "mm"),
              fmt::format("must be more than thinnest_mm = {}, or the eccentric has no throw",
                          shown(*swing.thinnest_mm)));
  } else if (swing.arm_mm && std::abs(*swing.arm_mm - arm) > kSameArmMm) {
    judge.add(path + ".arm_mm", shown(*swing.arm_mm, "mm"),
              fmt::format("the walls give ({} - {})/2 = {:.3f} mm; leave one of the two out",
                          shown(*swing.thickest_mm), shown(*swing.thinnest_mm), arm));
  }
  if (pulley.diameter_mm && *swing.thickest_mm + *swing.thinnest_mm >= *pulley.diameter_mm) {
    judge.add(path + ".thickest_mm", shown(*swing.thickest_mm, "mm"),
              fmt::format("both walls together are as thick as the whole roller, diameter_mm = {}; "
                          "is that its radius?",
                          shown(*pulley.diameter_mm)));
  }
}

void judge_swing(Judge& judge, const std::string& path, const SwingSpec& swing,
                 const PulleySpec& pulley) {
  judge.position({path, ".pivot_mm"}, swing.pivot_mm);
  judge_arm(judge, path, swing, pulley);
  judge.clock({path, ".slack_deg"}, swing.slack_deg);
  judge.clock({path, ".tight_deg"}, swing.tight_deg);
  if (swing.slack_deg && swing.tight_deg) {
    const double between = std::remainder(*swing.tight_deg - *swing.slack_deg, 360.0);
    if (std::abs(between) <= kSameAngleDeg) {
      judge.add(path + ".tight_deg", shown(*swing.tight_deg, "deg"),
                fmt::format("slack_deg = {} is the same place: the tensioner has no travel",
                            shown(*swing.slack_deg)));
    }
  }
  const TensionerSpec& tensioner = *pulley.tensioner;
  if (tensioner.set_mm) {
    judge.add(path + ".set_mm", shown(*tensioner.set_mm, "mm"),
              "belongs to a slide; a tensioner that swings has set_deg");
  }
  if (tensioner.set_give_mm) {
    judge.add(path + ".set_give_mm", shown(*tensioner.set_give_mm, "mm"),
              "belongs to a slide; a tensioner that swings has set_give_deg");
  }
  if (tensioner.pointer_deg && !tensioner.set_deg) {
    judge.add(path + ".pointer_deg", shown(*tensioner.pointer_deg, "deg"),
              "says where the pointer stands when the roller is at set_deg, so it needs set_deg");
  }
}

void judge_slide(Judge& judge, const std::string& path, const SlideSpec& slide,
                 const TensionerSpec& tensioner) {
  judge.position({path, ".slack_at_mm"}, slide.slack_at_mm);
  judge.position({path, ".tight_at_mm"}, slide.tight_at_mm);
  if (slide.slack_at_mm && slide.tight_at_mm &&
      (*slide.slack_at_mm - *slide.tight_at_mm).norm() <= kSamePlaceMm) {
    judge.add(path + ".tight_at_mm", shown(*slide.tight_at_mm),
              "slack_at_mm is the same place: the tensioner has no travel");
  }
  const auto swing_only = [&](const char* key, std::optional<double> value, const char* instead) {
    if (!value) return;
    judge.add(fmt::format("{}.{}", path, key), shown(*value, "deg"),
              fmt::format("belongs to a tensioner that swings; a slide has {}", instead));
  };
  swing_only("set_deg", tensioner.set_deg, "set_mm, from the slack end");
  swing_only("set_give_deg", tensioner.set_give_deg, "set_give_mm");
  swing_only("pointer_deg", tensioner.pointer_deg, "set_mm, from the slack end");
}

bool has_path(const TensionerSpec& tensioner) {
  if (const auto* slide = std::get_if<SlideSpec>(&tensioner.path)) {
    return slide->slack_at_mm || slide->tight_at_mm;
  }
  const SwingSpec& swing = std::get<SwingSpec>(tensioner.path);
  return swing.pivot_mm || swing.arm_mm || swing.slack_deg || swing.tight_deg;
}

void judge_tensioner(Judge& judge, const std::string& pulley_path, const PulleySpec& pulley) {
  const TensionerSpec& tensioner = *pulley.tensioner;
  const std::string path = pulley_path + ".tensioner";
  if (const auto* swing = std::get_if<SwingSpec>(&tensioner.path)) {
    judge_swing(judge, path, *swing, pulley);
  } else {
    judge_slide(judge, path, std::get<SlideSpec>(tensioner.path), tensioner);
  }
  judge.clock({path, ".set_deg"}, tensioner.set_deg);
  judge.clock({path, ".pointer_deg"}, tensioner.pointer_deg);
  judge.range({path, ".set_mm"}, tensioner.set_mm, {0.0, kFarthestMm, "mm"});
  judge.positive({path, ".set_give_deg"}, tensioner.set_give_deg, 180.0, "deg");
  judge.length({path, ".set_give_mm"}, tensioner.set_give_mm);
  if (pulley.at_mm && has_path(tensioner)) {
    judge.add(pulley_path + ".at_mm", shown(*pulley.at_mm),
              "a tensioner has no one place: its path, under [pulley.tensioner], says where it "
              "can be; take at_mm out");
  }
  if (pulley.role == Role::crankshaft) {
    judge.add(path, "", "the crankshaft cannot be the tensioner");
  }
}

}  // namespace

void judge_tensioners(Judge& judge) {
  const auto& pulleys = judge.spec.pulleys;
  std::string first;
  for (std::size_t i = 0; i < pulleys.size(); ++i) {
    if (!pulleys[i].tensioner) continue;
    const std::string path = path_of("pulley", pulleys[i].name, i);
    judge_tensioner(judge, path, pulleys[i]);
    if (!first.empty()) {
      judge.add(path + ".tensioner", "",
                fmt::format("{} is a tensioner already and a profile has one; give this pulley the "
                            "place where it is fixed (at_mm), or make a second belt a second "
                            "profile",
                            first));
    } else {
      first = path;
    }
  }
}

void judge_pin(Judge& judge, const std::string& path, const PinSpec& pin) {
  judge.length({path, ".radius_mm"}, pin.radius_mm);
  judge.range({path, ".play_mm"}, pin.play_mm, {0.0, 10.0, "mm"});
  judge.length({path, ".bar_mm"}, pin.bar_mm);
  judge.length({path, ".slot_mm"}, pin.slot_mm);
  judge.length({path, ".length_mm"}, pin.length_mm);
  judge_hole_of(judge, path, pin);
  const bool round = pin.radius_mm || pin.play_mm;
  const bool bar = pin.bar_mm || pin.slot_mm || pin.length_mm;
  if (round && bar) {
    judge.add(path, "",
              "a pin has radius_mm and play_mm, a bar has bar_mm, slot_mm and length_mm; keep the "
              "keys of one of the two");
  }
  if (pin.bar_mm && pin.slot_mm && !(*pin.bar_mm < *pin.slot_mm)) {
    judge.add(
        path + ".bar_mm", shown(*pin.bar_mm, "mm"),
        fmt::format("must be less than slot_mm = {}, or it does not go in", shown(*pin.slot_mm)));
  }
  if (pin.bar_mm && pin.slot_mm && pin.length_mm) {
    const double diagonal = std::hypot(*pin.bar_mm, *pin.length_mm);
    if (*pin.slot_mm >= diagonal) {
      judge.add(path + ".slot_mm", shown(*pin.slot_mm, "mm"),
                fmt::format("must be less than {}, the bar from corner to corner: it would turn in "
                            "the slot and hold nothing",
                            shown(diagonal, "mm")));
    }
  }
  if (pin.radius_mm && pin.play_mm && *pin.radius_mm > 0.0 && *pin.play_mm >= *pin.radius_mm) {
    judge.add(path + ".play_mm", shown(*pin.play_mm, "mm"),
              fmt::format("must be less than radius_mm = {}: the play is at the pin, each side of "
                          "centre",
                          shown(*pin.radius_mm)));
  }
}

void judge_mount(Judge& judge, const std::string& path, const std::optional<std::string>& mount) {
  if (!mount || *mount == "block") return;
  std::vector<std::string> known = head_names(judge.spec);
  if (std::find(known.begin(), known.end(), *mount) != known.end()) return;
  known.push_back("block");
  judge.add(path + ".mount", fmt::format("\"{}\"", *mount),
            "must be \"block\" or the name of a [[head]]", nearest_word(*mount, known));
}

void judge_covers(Judge& judge) {
  const auto& covers = judge.spec.covers;
  for (std::size_t i = 0; i < covers.size(); ++i) {
    const CoverSpec& cover = covers[i];
    const std::string path = path_of("cover", cover.name, i);
    judge_mount(judge, path, cover.mount);
    const std::size_t before = judge.problems.size();
    for (std::size_t k = 0; k < cover.points_mm.size(); ++k) {
      judge.position(fmt::format("{}.points_mm[{}]", path, k), cover.points_mm[k]);
    }
    const bool closed = cover.kind == Outline::closed;
    const std::size_t least = closed ? 3 : 2;
    const std::string key = path + ".points_mm";
    if (cover.points_mm.size() < least) {
      judge.add(
          key,
          cover.points_mm.empty() ? "" : counted(std::ssize(cover.points_mm), "point", "points"),
          fmt::format("{} needs {} points or more", closed ? "a closed outline" : "a line", least));
    } else if (judge.problems.size() == before && !is_simple(cover.points_mm, cover.kind)) {
      judge.add(key, fmt::format("{} points", cover.points_mm.size()),
                "its line crosses or retraces itself; list the points in order along it");
    }
  }
}

}  // namespace twoturn::validation
