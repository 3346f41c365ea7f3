#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "twoturn/base/angle.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/sections.hpp"
#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

constexpr std::size_t kLongestName = 60;

template <class Part>
void judge_name_list(Judge& judge, std::string_view list, const std::vector<Part>& parts,
                     std::map<std::string, std::string>& taken) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string& name = parts[i].name;
    // By number, since the name may be the trouble.
    const std::string key = fmt::format("{}.{}.name", list, i + 1);
    const std::string path = fmt::format("{}.{}", list, i + 1);
    if (name.find_first_not_of(" \t") == std::string::npos) {
      judge.add(key, name.empty() ? "" : "\"" + name + "\"",
                fmt::format("each {} needs a name to be spoken of", list));
      continue;
    }
    const bool control = std::any_of(name.begin(), name.end(), [](char c) {
      return static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
    });
    if (name.size() > kLongestName || control) {
      judge.add(key, fmt::format("\"{}\"", name.substr(0, kLongestName)),
                fmt::format("must be one line of {} letters at most", kLongestName));
      continue;
    }
    const auto [first, is_new] = taken.emplace(name, path);
    if (!is_new) {
      judge.add(key, fmt::format("\"{}\"", name),
                fmt::format("the name is taken by {}; give each its own", first->second));
    }
  }
}

bool timed(Role role) {
  return role == Role::crankshaft || role == Role::camshaft || role == Role::injection_pump ||
         role == Role::balance_shaft;
}

bool has_coordinates(const DriveSpec& spec) {
  return std::any_of(spec.pulleys.begin(), spec.pulleys.end(),
                     [](const PulleySpec& pulley) {
                       return pulley.at_mm.has_value() || pulley.tensioner.has_value();
                     }) ||
         !spec.measured.empty();
}

void judge_cranks(Judge& judge) {
  const DriveSpec& spec = judge.spec;
  std::string first;
  for (std::size_t i = 0; i < spec.pulleys.size(); ++i) {
    if (spec.pulleys[i].role != Role::crankshaft) continue;
    const std::string path = path_of("pulley", spec.pulleys[i].name, i);
    if (!first.empty()) {
      judge.add(path + ".role", "\"crankshaft\"",
                fmt::format("{} is the crankshaft already; a drive has one", first));
    } else {
      first = path;
    }
  }
  if (first.empty() && has_coordinates(spec)) {
    judge.add("pulley.*.role", "",
              "no pulley is the crankshaft; write role = \"crankshaft\" on the one that is");
  }
}

void judge_size(Judge& judge, const std::string& path, const PulleySpec& pulley) {
  judge.count({path, ".teeth"}, pulley.teeth, 3, 1000);
  judge.length({path, ".diameter_mm"}, pulley.diameter_mm);
  judge.length({path, ".flange_mm"}, pulley.flange_mm);
  if (pulley.teeth && pulley.diameter_mm) {
    judge.add(path + ".diameter_mm", shown(*pulley.diameter_mm, "mm"),
              fmt::format("{} teeth and the belt's pitch already make its size; leave one of the "
                          "two out (a smooth pulley has no teeth; flange_mm is the rim)",
                          *pulley.teeth));
  }
  const auto pitch = pitch_of(judge.spec.belt);
  if (!pulley.flange_mm || !(*pulley.flange_mm > 0.0)) return;
  std::optional<double> body = pulley.diameter_mm;
  if (!body && pulley.teeth && pitch) {
    const BeltSpec& belt = judge.spec.belt;
    const BeltSection* section = belt.section ? find_section(*belt.section) : nullptr;
    const double land = belt.land_to_pitch_line_mm.value_or(
        section != nullptr ? section->land_to_pitch_line_mm : 0.1 * *pitch);
    body = *pitch * *pulley.teeth / kPi - 2.0 * land;
  }
  if (body && *pulley.flange_mm < *body) {
    judge.add(path + ".flange_mm", shown(*pulley.flange_mm, "mm"),
              fmt::format("a flange cannot be smaller than its pulley, {:.1f} mm across; is it the "
                          "radius? Give the diameter",
                          *body));
  }
}

void judge_face(Judge& judge, const std::string& path, const PulleySpec& pulley) {
  if (pulley.face == Face::back && pulley.teeth && !judge.spec.belt.double_sided) {
    judge.add(path + ".face", "\"back\"",
              fmt::format("{} teeth on the belt's back need a belt with teeth on both sides: "
                          "double_sided = true under [belt], or is this a smooth roller "
                          "(diameter_mm)?",
                          *pulley.teeth));
  }
  if (pulley.teeth || !pulley.diameter_mm) return;
  if (pulley.role && timed(*pulley.role)) {
    judge.add(path + ".role", fmt::format("\"{}\"", word(*pulley.role)),
              "keeps time, so its pulley needs teeth, not diameter_mm");
  }
  if (pulley.mark_deg) {
    judge.add(path + ".mark_deg", shown(*pulley.mark_deg, "deg"),
              "a smooth pulley keeps no time, so a mark on it says nothing");
  }
  if (pulley.pin) {
    judge.add(path + ".pin", "", "a smooth pulley keeps no time, so no pin belongs to it");
  }
}

void judge_fixing(Judge& judge, const std::string& path, const PulleySpec& pulley) {
  judge.positive({path, ".range_deg"}, pulley.range_deg, 180.0, "deg");
  judge.length({path, ".key_radius_mm"}, pulley.key_radius_mm);
  if (pulley.range_deg && pulley.fixing != Fixing::adjustable) {
    judge.add(path + ".range_deg", shown(*pulley.range_deg, "deg"),
              "only a pulley with fixing = \"adjustable\" has a range");
  }
  if (pulley.role == Role::crankshaft && pulley.fixing && *pulley.fixing != Fixing::keyed) {
    judge.add(path + ".fixing", fmt::format("\"{}\"", word(*pulley.fixing)),
              "the crank pulley is always \"keyed\": every other shaft is timed from it");
  }
}

void judge_ratio(Judge& judge, const std::string& path, const std::optional<Role>& role,
                 std::optional<double> turns) {
  if (!turns) return;
  judge.range({path, ".turns_per_crank"}, turns, {-100.0, 100.0});
  if (*turns == 0.0) {
    judge.add(path + ".turns_per_crank", "0", "must not be 0: a shaft that stands has no time");
  }
  if (role != Role::auxiliary_shaft) {
    PulleySpec of_that_role;
    of_that_role.role = role;
    judge.add(path + ".turns_per_crank", shown(*turns),
              role && turns_per_crank(of_that_role)
                  ? fmt::format("the role \"{}\" says that already; it is for role = \"auxiliary "
                                "shaft\" alone",
                                word(*role))
                  : "is for role = \"auxiliary shaft\" alone");
  }
}

void judge_marks(Judge& judge, const std::string& path, const PulleySpec& pulley) {
  judge.clock({path, ".mark_deg"}, pulley.mark_deg);
  judge.length({path, ".mark_radius_mm"}, pulley.mark_radius_mm);
  std::map<std::string, std::string> taken;
  for (std::size_t i = 0; i < pulley.marks.size(); ++i) {
    const MarkSpec& mark = pulley.marks[i];
    const std::string mark_path = path_of(path + ".mark", mark.name, i);
    if (mark.name.empty()) judge.add(mark_path + ".name", "", "each mark needs a name");
    const auto [first, is_new] = taken.emplace(mark.name, mark_path);
    if (!is_new && !mark.name.empty()) {
      judge.add(fmt::format("{}.mark.{}.name", path, i + 1), fmt::format("\"{}\"", mark.name),
                "the name is taken by another mark of this pulley");
    }
    judge.clock({mark_path, ".at_deg"}, mark.at_deg);
    judge.length({mark_path, ".radius_mm"}, mark.radius_mm);
  }
}

void judge_gears(Judge& judge, const std::string& path, const GearedSpec& geared) {
  judge.range({path, ".ratio"}, geared.ratio, {-100.0, 100.0});
  if (geared.ratio == 0.0) judge.add(path + ".ratio", "0", "must not be 0");
  if (geared.gear_teeth) {
    judge.count({path, ".teeth"}, geared.gear_teeth->driving, 3, 1000);
    judge.count({path, ".teeth"}, geared.gear_teeth->own, 3, 1000);
    if (geared.ratio) {
      judge.add(path + ".ratio", shown(*geared.ratio),
                "the teeth of both gears say that already; leave one of the two out");
    }
  }
  for (const PulleySpec& pulley : judge.spec.pulleys) {
    if (pulley.name != geared.from || pulley.teeth || !pulley.diameter_mm) continue;
    judge.add(path + ".from", fmt::format("\"{}\"", geared.from),
              fmt::format("{} is a smooth pulley, which keeps no time: nothing timed can be geared "
                          "off it",
                          geared.from));
  }
}

// Where a pulley stands if that is fixed: the crank is at the origin unless said.
std::optional<Vec2> fixed_place(const PulleySpec& pulley) {
  if (pulley.tensioner) return std::nullopt;
  if (pulley.at_mm) return pulley.at_mm;
  return pulley.role == Role::crankshaft ? std::optional<Vec2>(Vec2::Zero()) : std::nullopt;
}

void judge_places(Judge& judge) {
  const auto& pulleys = judge.spec.pulleys;
  for (std::size_t j = 0; j < pulleys.size(); ++j) {
    for (std::size_t i = 0; i < j; ++i) {
      const auto first = fixed_place(pulleys[i]);
      const auto second = fixed_place(pulleys[j]);
      if (!first || !second || !((*first - *second).norm() <= kSamePlaceMm)) continue;
      // The crank may be the later one, without a place of its own.
      const bool later = pulleys[j].at_mm.has_value();
      const std::size_t at = later ? j : i;
      const std::size_t other = later ? i : j;
      judge.add(path_of("pulley", pulleys[at].name, at) + ".at_mm", shown(*second),
                fmt::format("{} has its centre there too",
                            path_of("pulley", pulleys[other].name, other)));
      break;
    }
  }
}

}  // namespace

void judge_names(Judge& judge) {
  const DriveSpec& spec = judge.spec;
  std::map<std::string, std::string> shafts;
  judge_name_list(judge, "pulley", spec.pulleys, shafts);
  judge_name_list(judge, "geared", spec.geared, shafts);
  std::map<std::string, std::string> heads;
  judge_name_list(judge, "head", spec.heads, heads);
  std::map<std::string, std::string> covers;
  judge_name_list(judge, "cover", spec.covers, covers);
}

void judge_pulleys(Judge& judge) {
  const auto& pulleys = judge.spec.pulleys;
  if (pulleys.empty() && !judge.spec.bolts.empty()) return;  // bolts alone make a job card
  if (pulleys.size() < 2) {
    judge.add("pulley", "",
              fmt::format("a belt runs on two pulleys or more, not {}; write [[pulley]] for each",
                          pulleys.size()));
  }
  judge_cranks(judge);
  for (std::size_t i = 0; i < pulleys.size(); ++i) {
    const PulleySpec& pulley = pulleys[i];
    const std::string path = path_of("pulley", pulley.name, i);
    judge_size(judge, path, pulley);
    judge_face(judge, path, pulley);
    judge.position({path, ".at_mm"}, pulley.at_mm);
    judge.position({path, ".near_mm"}, pulley.near_mm);
    judge_mount(judge, path, pulley.mount);
    judge_fixing(judge, path, pulley);
    judge_ratio(judge, path, pulley.role, pulley.turns_per_crank);
    judge_marks(judge, path, pulley);
    if (pulley.pin) judge_pin(judge, path + ".pin", *pulley.pin);
    judge.range({path, ".drag_nm"}, pulley.drag_nm, {0.0, 1000.0, "Nm"});
    if (pulley.drag_nm && pulley.diameter_mm && !pulley.teeth) {
      judge.add(path + ".drag_nm", shown(*pulley.drag_nm, "Nm"),
                "a smooth pulley is taken to turn freely: it carries no timing");
    }
  }
  judge_places(judge);
}

void judge_geared(Judge& judge) {
  const DriveSpec& spec = judge.spec;
  std::vector<std::string> drivers = pulley_names(spec);
  for (std::size_t i = 0; i < spec.geared.size(); ++i) {
    const GearedSpec& geared = spec.geared[i];
    const std::string path = path_of("geared", geared.name, i);
    if (std::find(drivers.begin(), drivers.end(), geared.from) == drivers.end()) {
      const bool later = std::any_of(spec.geared.begin(), spec.geared.end(),
                                     [&](const auto& other) { return other.name == geared.from; });
      judge.add(path + ".from", geared.from.empty() ? "" : fmt::format("\"{}\"", geared.from),
                geared.from.empty() ? "must name the pulley or shaft that drives it"
                : later             ? "must name a shaft that stands above it in the file"
                                    : "no pulley and no shaft above has this name",
                nearest_word(geared.from, drivers));
    }
    drivers.push_back(geared.name);
    judge_gears(judge, path, geared);
    if (geared.role == Role::crankshaft) {
      judge.add(path + ".role", "\"crankshaft\"",
                "the crankshaft is the pulley that drives the belt, no geared shaft");
    }
    judge_ratio(judge, path, geared.role, geared.turns_per_crank);
    judge.clock({path, ".mark_deg"}, geared.mark_deg);
    judge.length({path, ".mark_radius_mm"}, geared.mark_radius_mm);
    if (geared.pin) judge_pin(judge, path + ".pin", *geared.pin);
  }
}

}  // namespace twoturn::validation
