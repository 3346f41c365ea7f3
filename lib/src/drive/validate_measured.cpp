#include <fmt/format.h>

#include <algorithm>

#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

bool slides(const PulleySpec& pulley) {
  return pulley.tensioner && std::holds_alternative<SlideSpec>(pulley.tensioner->path);
}

void judge_end(Judge& judge, const std::string& key, const std::string& name) {
  const auto& pulleys = judge.spec.pulleys;
  const auto found = std::find_if(pulleys.begin(), pulleys.end(),
                                  [&](const PulleySpec& pulley) { return pulley.name == name; });
  if (found == pulleys.end()) {
    judge.add(
        key, name.empty() ? "" : fmt::format("\"{}\"", name),
        name.empty() ? "must name the pulley whose centre was measured" : "no pulley has this name",
        nearest_word(name, pulley_names(judge.spec)));
  } else if (slides(*found)) {
    judge.add(key, fmt::format("\"{}\"", name),
              "has no centre that stays where it is, for it slides in a slot: give slack_at_mm and "
              "tight_at_mm");
  }
}

void judge_diameter(Judge& judge, const std::string& path, const char* field,
                    const std::optional<double>& diameter, Between across) {
  judge.length({path, field}, diameter);
  const std::string key = path + field;
  if (across == Between::centres && diameter) {
    judge.add(key, shown(*diameter, "mm"),
              "says nothing of a distance between centres; for one over two round parts write "
              "across = \"outside\" or \"inside\"");
  } else if (across != Between::centres && !diameter) {
    judge.add(key, "",
              "is needed: the diameter of what the calliper touched there (shaft, teeth or "
              "flange)");
  }
}

void judge_distance(Judge& judge, const std::string& path, const MeasuredSpec& measured) {
  judge.length({path, ".distance_mm"}, measured.distance_mm);
  judge.length({path, ".give_or_take_mm"}, measured.give_or_take_mm);
  if (!measured.distance_mm) {
    if (measured.give_or_take_mm) {
      judge.add(path + ".give_or_take_mm", shown(*measured.give_or_take_mm, "mm"),
                "belongs to a distance_mm, and none is given");
    }
    if (!measured.across) return;
    judge.add(path + ".across", "", "belongs to a distance_mm, and none is given");
    return;
  }
  const Between across = measured.across.value_or(Between::centres);
  judge_diameter(judge, path, ".from_diameter_mm", measured.from_diameter_mm, across);
  judge_diameter(judge, path, ".to_diameter_mm", measured.to_diameter_mm, across);
  if (across != Between::outside || !measured.from_diameter_mm || !measured.to_diameter_mm) return;
  const double both = (*measured.from_diameter_mm + *measured.to_diameter_mm) / 2.0;
  if (*measured.distance_mm > both) return;
  judge.add(
      path + ".distance_mm", shown(*measured.distance_mm, "mm"),
      fmt::format("over the outside of two parts it must be more than half of both diameters, "
                  "{}",
                  shown(both, "mm")));
}

// Where the tensioner stood with it must be said once, in a way that this tensioner has.
void judge_reading(Judge& judge, const std::string& path, const MeasuredSpec& measured) {
  const TensionerSpec* tensioner = tensioner_of(judge.spec);
  if (tensioner == nullptr) {
    judge.add(path + ".belt_teeth", std::to_string(*measured.belt_teeth),
              "a belt that fits measures something only where a tensioner shows it: this drive has "
              "none");
    return;
  }
  const bool slide = std::holds_alternative<SlideSpec>(tensioner->path);
  const int said =
      (measured.roller_deg ? 1 : 0) + (measured.pointer_deg ? 1 : 0) + (measured.roller_mm ? 1 : 0);
  const bool right = said == 1 && measured.roller_mm.has_value() == slide;
  if (!right) {
    judge.add(path + (slide ? ".roller_mm" : ".roller_deg"), "",
              slide
                  ? "say where the roller stood with this belt: mm from the slack end, and nothing "
                    "else"
                  : "say where the tensioner stood with this belt: roller_deg or pointer_deg, one "
                    "of the two");
  } else if (measured.pointer_deg && !(tensioner->pointer_deg && tensioner->set_deg)) {
    judge.add(path + ".pointer_deg", shown(*measured.pointer_deg, "deg"),
              "says nothing while the tensioner's own pointer_deg and set_deg are not both given; "
              "give roller_deg");
  }
}

// A belt that is known to fit, and nothing between two centres.
void judge_belt_row(Judge& judge, const std::string& path, const MeasuredSpec& measured) {
  judge.count({path, ".belt_teeth"}, measured.belt_teeth, 3, 10000);
  judge.clock({path, ".roller_deg"}, measured.roller_deg);
  judge.clock({path, ".pointer_deg"}, measured.pointer_deg);
  judge.range({path, ".roller_mm"}, measured.roller_mm, {0.0, kFarthestMm, "mm"});
  judge.length({path, ".give_or_take_mm"}, measured.give_or_take_mm);
  judge.positive({path, ".give_or_take_deg"}, measured.give_or_take_deg, 180.0, "deg");
  judge_reading(judge, path, measured);
  const bool between = !measured.from.empty() || !measured.to.empty() || measured.distance_mm ||
                       measured.bearing_deg || measured.across || measured.from_diameter_mm ||
                       measured.to_diameter_mm;
  if (between) {
    judge.add(path + ".belt_teeth", std::to_string(*measured.belt_teeth),
              "a belt that fits goes round all centres: leave out what is measured between two, or "
              "give it a [[measured]] of its own");
  }
}

// A place of the tensioner belongs to a belt.
bool without_belt(Judge& judge, const std::string& path, const MeasuredSpec& measured) {
  if (!measured.roller_deg && !measured.pointer_deg && !measured.roller_mm) return false;
  judge.add(path + ".belt_teeth", "",
            "is missing: where the tensioner stands measures something only with the belt that it "
            "stands so for");
  return true;
}

}  // namespace

void judge_measured(Judge& judge) {
  for (std::size_t i = 0; i < judge.spec.measured.size(); ++i) {
    const MeasuredSpec& measured = judge.spec.measured[i];
    const std::string path = fmt::format("measured.{}", i + 1);
    if (measured.belt_teeth) {
      judge_belt_row(judge, path, measured);
      continue;
    }
    if (without_belt(judge, path, measured)) continue;
    judge_end(judge, path + ".from", measured.from);
    judge_end(judge, path + ".to", measured.to);
    if (!measured.from.empty() && measured.from == measured.to) {
      judge.add(path + ".to", fmt::format("\"{}\"", measured.to),
                "is where it was measured from; name two pulleys");
    }
    if (!measured.distance_mm && !measured.bearing_deg) {
      judge.add(path + ".distance_mm", "",
                "is missing, and so is bearing_deg: give how far apart the two are, the way the "
                "one lies from the other, or both");
    }
    judge_distance(judge, path, measured);
    judge.clock({path, ".bearing_deg"}, measured.bearing_deg);
    judge.positive({path, ".give_or_take_deg"}, measured.give_or_take_deg, 180.0, "deg");
    if (measured.give_or_take_deg && !measured.bearing_deg) {
      judge.add(path + ".give_or_take_deg", shown(*measured.give_or_take_deg, "deg"),
                "belongs to a bearing_deg, and none is given");
    }
  }
}

}  // namespace twoturn::validation
