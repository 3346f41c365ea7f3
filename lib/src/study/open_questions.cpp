#include <fmt/format.h>
#include <algorithm>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"

namespace twoturn {
namespace {

class Questions {
 public:
  explicit Questions(std::vector<Missing>& missing) : missing_(missing) {}

  void ask(std::string_view answer, std::string key, std::string measure) {
    const auto same_key = [&](const Missing& other) { return other.key == key; };
    if (std::any_of(missing_.begin(), missing_.end(), same_key)) return;
    missing_.push_back({std::string(answer), std::move(key), std::move(measure)});
  }

 private:
  std::vector<Missing>& missing_;
};

void about_counts(const DriveSpec& spec, Questions& questions) {
  if (!spec.belt.teeth) {
    questions.ask("whether the belt fits, and marks and pins after two turns", "belt.teeth",
                  "count the belt's teeth from a paint mark, twice");
  }
  if (!spec.crank_turns) {
    questions.ask("which run is the tight side, and so which way an error goes", "crank_turns",
                  "see which way the crank turns, looking at the belt end");
  }
  for (const PulleySpec& pulley : spec.pulleys) {
    if (turns_per_crank(pulley) && !pulley.teeth) {
      questions.ask(fmt::format("degrees a tooth and paint at {}", the(pulley.name)),
                    fmt::format("pulley.{}.teeth", pulley.name),
                    fmt::format("count the teeth of {}", the(pulley.name)));
    }
  }
}

void about_timed_pulleys(const DriveSpec& spec, Questions& questions) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (!turns_per_crank(pulley)) continue;
    const std::string key = fmt::format("pulley.{}.", pulley.name);
    if (!pulley.mark_deg) {
      questions.ask(
          fmt::format("where the mark of {} should point, and the teeth to count to it",
                      the(pulley.name)),
          key + "mark_deg",
          fmt::format("with its pin in, see where the mark of {} points, as on a clock face",
                      the(pulley.name)));
    }
    if (!pulley.pin) {
      questions.ask(fmt::format("whether the pin of {} goes in", the(pulley.name)), key + "pin",
                    fmt::format("measure the radius of the timing pin of {} and its play each side",
                                the(pulley.name)));
    }
    if (pulley.role != Role::crankshaft && !pulley.fixing) {
      questions.ask(fmt::format("how {} sits on its shaft (keyed assumed)", the(pulley.name)),
                    key + "fixing",
                    fmt::format("see whether {} is keyed, adjustable, or free until its bolt is "
                                "tightened",
                                the(pulley.name)));
    }
  }
}

void about_timing(const DriveSpec& spec, Questions& questions) {
  const auto timed = [](const auto& shaft) {
    return turns_per_crank(shaft) && shaft.role != Role::crankshaft;
  };
  const bool none = std::none_of(spec.pulleys.begin(), spec.pulleys.end(), timed) &&
                    std::none_of(spec.geared.begin(), spec.geared.end(), timed);
  if (none && !spec.pulleys.empty()) {
    questions.ask("cam phasing: no shaft is said to be timed", "pulley.NAME.role",
                  "say which pulley is the camshaft's (role = \"camshaft\")");
  }
  about_timed_pulleys(spec, questions);
  for (const GearedSpec& geared : spec.geared) {
    if (!turns_per_crank(geared)) continue;
    const std::string key = fmt::format("geared.{}.", geared.name);
    if (!geared.mark_deg) {
      questions.ask(
          fmt::format("where the mark of {} should point", the(geared.name)), key + "mark_deg",
          fmt::format("with its pin in, see where the mark of {} points", the(geared.name)));
    }
    if (!geared.pin) {
      questions.ask(fmt::format("whether the pin of {} goes in", the(geared.name)), key + "pin",
                    fmt::format("measure the timing pin of {} and its play", the(geared.name)));
    }
    if (!geared.ratio && !geared.gear_teeth) {
      questions.ask(fmt::format("the phase of {}", the(geared.name)), key + "teeth",
                    "count the teeth of both gears");
    }
  }
}

void about_tensioner(const DriveSpec& spec, Questions& questions) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (!pulley.tensioner) continue;
    const TensionerSpec& tensioner = *pulley.tensioner;
    const std::string key = fmt::format("pulley.{}.tensioner.", pulley.name);
    const bool swings = std::holds_alternative<SwingSpec>(tensioner.path);
    if (swings ? !tensioner.set_deg : !tensioner.set_mm) {
      questions.ask(
          "whether the tensioner stands where its maker's marks want it",
          key + (swings ? "set_deg" : "set_mm"),
          "with the tensioner at its marks, see where the roller's centre stands from the "
          "pivot");
    }
    if (swings && tensioner.set_deg && !tensioner.pointer_deg) {
      questions.ask("where the tensioner's pointer should stand", key + "pointer_deg",
                    "with the tensioner at its marks, see where its pointer points");
    }
  }
}

void about_heads(const DriveSpec& spec, Questions& questions) {
  for (const HeadSpec& head : spec.heads) {
    const auto said = [&](const auto& map) { return map.count(head.name) > 0; };
    const bool changed = said(spec.build.skim_mm) || said(spec.build.block_skim_mm) ||
                         said(spec.build.gasket_change_mm);
    if (changed && !head.deck_deg) {
      questions.ask(fmt::format("what the skim or gasket of {} does to the timing", the(head.name)),
                    fmt::format("head.{}.deck_deg", head.name),
                    "see which way the head lifts off, as on a clock face at the belt end");
    }
    const auto on_it = [&](const PulleySpec& pulley) { return pulley.mount == head.name; };
    if (changed && std::none_of(spec.pulleys.begin(), spec.pulleys.end(), on_it)) {
      questions.ask(fmt::format("what the skim or gasket of {} does to the timing", the(head.name)),
                    "pulley.NAME.mount",
                    fmt::format("say which pulleys are mounted on {}", the(head.name)));
    }
  }
}

bool any_number_without_origin(const DriveSpec& spec) {
  return std::any_of(spec.given.begin(), spec.given.end(),
                     [](const GivenValue& given) { return given.origin == Origin::not_said; });
}

}  // namespace

void add_open_questions(const DriveSpec& spec, const CheckAnswer& answer,
                        std::vector<Missing>& missing) {
  Questions questions(missing);
  about_counts(spec, questions);
  about_timing(spec, questions);
  about_tensioner(spec, questions);
  about_heads(spec, questions);
  const bool on_fixed_centres = answer.judged.route && !answer.judged.tensioner;
  if (on_fixed_centres && spec.belt.teeth && !answer.judged.teeth->tolerance_mm) {
    questions.ask(
        "whether the belt's length suits these fixed centres", "belt.length_tolerance_mm",
        "ask the belt's maker how much its length may vary (the usual table ends at 1778 mm)");
  }
  if (answer.judged.route && !spec.belt.thickness_mm && !spec.belt.section) {
    questions.ask("whether the belt's body touches anything", "belt.thickness_mm",
                  "measure the belt's thickness with a calliper");
  }
  if (answer.judged.route && spec.covers.empty()) {
    questions.ask(
        "whether the belt clears its covers and brackets", "cover",
        "measure the edge of the nearest cover or bracket as a few points from the crank");
  }
  const bool by_numbers = answer.engine.valves && answer.engine.valves->complete;
  if (!spec.engine.interference.has_value() && !by_numbers) {
    questions.ask("whether valves can hit pistons", "engine.interference",
                  "look it up in the engine maker's manual; until then treat it as if they do");
  }
  if (any_number_without_origin(spec)) {
    questions.ask("how far the numbers given can be trusted", "origin.default",
                  "say under [origin] whether they were measured or come from the manual");
  }
}

}  // namespace twoturn
