#include <fmt/format.h>
#include <algorithm>

#include <cmath>

#include "check_parts.hpp"
#include "engine_model.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

// What is assumed because a line is absent, and could turn the verdict round: each is "look again",
// and names the one line that settles it.
namespace twoturn {
namespace {

// "a water pump", "an idler"
std::string one_such(std::string_view word) {
  const bool vowel = std::string_view("aeiou").find(word.front()) != std::string_view::npos;
  return fmt::format("{} {}", vowel ? "an" : "a", word);
}

constexpr std::string_view kDirection = "direction";
constexpr std::string_view kRole = "role";
constexpr std::string_view kHead = "head";

void look(std::vector<Finding>& findings, std::string_view code, const std::string& about,
          std::string brief, const std::string& text, std::string action) {
  Finding finding{Level::look, std::string(code), about, text};
  finding.brief = std::move(brief);
  finding.action = std::move(action);
  findings.push_back(std::move(finding));
}

// What shows that a shaft is timed, whatever its role: "pin", "mark", "slots", "valves"; empty:
// nothing does.
template <class Part>
std::string sign_of_timing(const DriveSpec& spec, const Part& shaft) {
  if (shaft.pin) return "a pin";
  if (shaft.mark_deg) return "a mark";
  if constexpr (requires { shaft.marks; }) {
    if (!shaft.marks.empty()) return "a mark";
    if (shaft.fixing == Fixing::adjustable) return "slots";
  }
  const auto opened = [&](const ValveSpec& valve) { return valve.cam == shaft.name; };
  return std::any_of(spec.valves.begin(), spec.valves.end(), opened) ? "valves" : "";
}

void rate_open(const std::string& key, const std::string& name, const std::string& sign,
               std::vector<Finding>& findings) {
  look(findings, kRole, name, fmt::format("it is not said how fast {} turns", the(name)),
       fmt::format("{} has {}, so it is timed, but it is not said how many turns it makes to one "
                   "of the crank: it was not judged. Give {}.turns_per_crank.",
                   capital(the(name)), sign, key),
       fmt::format("give {}.turns_per_crank", key));
}

void role_open(const std::string& key, const std::string& name, const std::string& what,
               std::vector<Finding>& findings) {
  look(findings, kRole, name, fmt::format("it is not said what {} is", the(name)),
       fmt::format("It is not said what {} is. {} may be timed; this one was not judged. Say what "
                   "it is: {}.role.",
                   the(name), what, key),
       fmt::format("say what it is ({}.role)", key));
}

// A toothed pulley whose shaft may be timed, and was not judged as one.
void may_be_timed(const DriveSpec& spec, const PulleySpec& pulley, std::vector<Finding>& findings) {
  if (turns_per_crank(pulley)) return;
  const std::string key = "pulley." + pulley.name;
  const std::string sign = sign_of_timing(spec, pulley);
  if (!pulley.role && pulley.teeth) {
    role_open(key, pulley.name, "A shaft with a toothed pulley", findings);
  } else if (pulley.role == Role::auxiliary_shaft && !sign.empty()) {
    rate_open(key, pulley.name, sign, findings);
  } else if (!sign.empty() && sign != "a mark") {
    look(findings, kRole, pulley.name,
         fmt::format("{} has {}, and is not timed", the(pulley.name), sign),
         fmt::format("{} has {}, but {}, so it was not judged. Give it the role it has, or take "
                     "that out: {}.role.",
                     capital(the(pulley.name)), sign,
                     pulley.role ? fmt::format("{} is not timed", one_such(word(*pulley.role)))
                                 : std::string("it is not said what it is"),
                     key),
         fmt::format("give it the role it has ({}.role)", key));
  }
}

void may_be_timed(const DriveSpec& spec, const GearedSpec& geared, std::vector<Finding>& findings) {
  const std::string key = "geared." + geared.name;
  const std::string sign = sign_of_timing(spec, geared);
  if (!geared.role) {
    role_open(key, geared.name, "A shaft geared off another", findings);
  } else if (!turns_per_crank(geared) && !sign.empty()) {
    rate_open(key, geared.name, sign, findings);
  } else if (turns_per_crank(geared) && !geared.ratio && !geared.gear_teeth) {
    look(findings, kRole, geared.name,
         fmt::format("it is not said how {} is geared", the(geared.name)),
         fmt::format("{} is timed, but it is not said how it is geared off {}: it was not judged. "
                     "Count the teeth of both gears: {}.teeth = [driving gear, its own].",
                     capital(the(geared.name)), the(geared.from), key),
         fmt::format("count the teeth of both gears ({}.teeth)", key));
  }
}

bool changed(const DriveSpec& spec, const HeadSpec& head) {
  const auto by = [&](const auto& changes) {
    const auto found = changes.find(head.name);
    return found != changes.end() && found->second != 0.0;
  };
  return by(spec.build.skim_mm) || by(spec.build.block_skim_mm) || by(spec.build.gasket_change_mm);
}

// How far a pulley's centre lies from the crank's along the way a head lifts off.
std::optional<double> above_crank_mm(const HeadSpec& head, const PulleySpec& pulley) {
  if (!head.deck_deg || !pulley.at_mm) return std::nullopt;
  const Angle deck = Angle::clock(*head.deck_deg);
  return pulley.at_mm->dot(Vec2(std::cos(deck.radians()), std::sin(deck.radians())));
}

// A cam that a changed head carries by its place, and by the profile does not; and a head that
// lifts off away from a cam it is said to carry.
void cams_left_out(const DriveSpec& spec, const HeadSpec& head, std::vector<Finding>& findings) {
  for (const PulleySpec& pulley : spec.pulleys) {
    const std::optional<double> above = above_crank_mm(head, pulley);
    if (pulley.role != Role::camshaft || !above) continue;
    const std::string cam = the(pulley.name);
    if (pulley.mount == head.name && *above <= 0.0) {
      look(findings, kHead, head.name,
           fmt::format("{} lifts off away from {}", the(head.name), cam),
           fmt::format("{} is said to be on {}, but lies the other way from the crank than that "
                       "head lifts off: a skim would move it outwards. Check head.{}.deck_deg, a "
                       "clock angle at the belt end.",
                       capital(cam), the(head.name), head.name),
           fmt::format("check head.{}.deck_deg", head.name));
    }
    if (pulley.mount != "block" || *above <= 0.0) continue;
    if (!head.deck_from_crank_mm) {
      look(findings, kHead, pulley.name,
           fmt::format("it is not known whether {} is in the block", cam),
           fmt::format("{} has come nearer or gone further off, and {} is said to be in the block: "
                       "whether it can be, the distance of the gasket face from the crank's "
                       "centre tells. Give head.{}.deck_from_crank_mm.",
                       capital(the(head.name)), cam, head.name),
           fmt::format("give head.{}.deck_from_crank_mm", head.name));
    } else if (*above > *head.deck_from_crank_mm) {
      look(findings, kHead, pulley.name, fmt::format("{} lies above the gasket face", cam),
           fmt::format("{} is said to be in the block, but its centre lies {} mm beyond the gasket "
                       "face of {}, whose height has changed: it was judged as if it had stayed. "
                       "Name what carries it: pulley.{}.mount.",
                       capital(cam), fixed(*above - *head.deck_from_crank_mm, 1), the(head.name),
                       pulley.name),
           fmt::format("say what carries it (pulley.{}.mount)", pulley.name));
    }
  }
}

// A valve whose head is not known feels no skim.
void valves_without_head(const DriveSpec& spec, std::vector<Finding>& findings) {
  for (const ValveSpec& valve : spec.valves) {
    if (!study::head_of(spec, valve).empty()) continue;
    look(findings, kHead, valve.name,
         fmt::format("it is not said which head carries {}", the(sentences::valve(valve.name))),
         fmt::format("A head's height has changed, and it is not said which head carries {}: its "
                     "room was judged as if that head had not. Give valve.{}.head.",
                     the(sentences::valve(valve.name)), valve.name),
         fmt::format("say which head carries it (valve.{}.head)", valve.name));
  }
}

// A skim, or another gasket, that moves no cam for want of a line.
void head_moves_nothing(const DriveSpec& spec, std::vector<Finding>& findings) {
  const auto is_cam = [](const PulleySpec& pulley) { return pulley.role == Role::camshaft; };
  const auto not_said = [&](const PulleySpec& pulley) { return is_cam(pulley) && !pulley.mount; };
  const auto& pulleys = spec.pulleys;
  const auto open = std::find_if(pulleys.begin(), pulleys.end(), not_said);
  bool any = false;
  for (const HeadSpec& head : spec.heads) {
    if (!changed(spec, head)) continue;
    any = true;
    cams_left_out(spec, head, findings);
    const auto on_it = [&](const PulleySpec& pulley) { return pulley.mount == head.name; };
    const bool carries = std::any_of(pulleys.begin(), pulleys.end(), on_it);
    if (head.deck_deg || !(carries || open != pulleys.end())) continue;
    look(findings, kHead, head.name,
         fmt::format("it is not said which way {} lifts off", the(head.name)),
         fmt::format("What was taken off or put under {} moves the cams on it, but it is not said "
                     "which way it lifts off: their timing was judged without it. Give "
                     "head.{}.deck_deg.",
                     the(head.name), head.name),
         fmt::format("give head.{}.deck_deg", head.name));
  }
  if (any) valves_without_head(spec, findings);
  if (!any || open == pulleys.end()) return;
  look(
      findings, kHead, open->name,
      fmt::format("it is not said whether {} is on a head", the(open->name)),
      fmt::format("A head has come nearer or gone further off, and it is not said what carries {}: "
                  "its timing was judged as if the block did. Name the head, or \"block\": "
                  "pulley.{}.mount.",
                  the(open->name), open->name),
      fmt::format("say what carries it (pulley.{}.mount)", open->name));
}

}  // namespace

void find_unsettled(const DriveSpec& spec, Fit fit, std::vector<Finding>& findings) {
  if (!spec.crank_turns) {
    look(findings, kDirection, "crank", "it is not said which way the crank turns",
         "Which way the crank turns is not given: clockwise is taken. Where marks point hangs on "
         "it, and so does what is early and what is late: no cure is told. Give crank_turns.",
         "see which way it turns, looking at the belt end (crank_turns)");
  }
  for (const PulleySpec& pulley : spec.pulleys) may_be_timed(spec, pulley, findings);
  for (const GearedSpec& geared : spec.geared) may_be_timed(spec, geared, findings);
  if (fit == Fit::as_fitted) head_moves_nothing(spec, findings);
}

bool is_unsettled(const Finding& finding) {
  return finding.code == kDirection || finding.code == kRole || finding.code == kHead;
}

}  // namespace twoturn
