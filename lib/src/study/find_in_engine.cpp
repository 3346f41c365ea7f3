#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/study/pistons.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

// "12.3 crank deg after top dead centre on overlap, first in cylinder 3 at 192.3 crank deg"
std::string place_words(const ValveRoom& room, double at_deg) {
  std::string text = sentences::overlap_place(at_deg);
  if (room.where) {
    text += fmt::format(", first in cylinder {} at {} crank deg", room.where->cylinder,
                        fixed(room.where->crank_deg, 1));
  }
  return text;
}

constexpr std::string_view kCanMeet =
    "Valves and pistons can meet in this engine: a slipped belt bends valves. Whenever it turns, "
    "by hand only, and stop at any solid resistance.";

std::string timing_words(const ValveAnswer& valve) {
  const double error = valve.fitted.error_crank_deg;
  std::string text;
  if (!prints_as_nothing(valve.nearer_mm, 2)) {
    text = fmt::format("the valve {} mm {} the piston than by the book",
                       fixed(std::abs(valve.nearer_mm), 2),
                       valve.nearer_mm > 0.0 ? "nearer to" : "farther from");
  }
  if (!prints_as_nothing(error, 2)) {
    text += fmt::format("{}its cam {}", text.empty() ? "" : " and ",
                        sentences::error(error, valve.direction));
  }
  return text.empty() ? "" : fmt::format(" ({})", text);
}

Finding finding_of(Level level, const char* code, const std::string& about, double value,
                   double limit, const char* limit_key) {
  Finding finding{level, code, about, ""};
  finding.value = value;
  finding.limit = limit;
  finding.unit = "mm";
  finding.limit_key = limit_key;
  return finding;
}

const char* room_key(ValveSide side) {
  return side == ValveSide::inlet ? "limits.inlet_room_mm" : "limits.exhaust_room_mm";
}

// What a room is held against, and what is so 95 times in 100.
struct Held {
  double room_mm;
  double limit_mm;
  const Unsure& unsure;
  RoomStands stands;
  RoomStands surely;
  bool hardly;  ///< as good as touching, by the numbers as they are

  bool touches() const { return stands == RoomStands::touches; }
  Level level() const { return surely == RoomStands::touches ? Level::stop : Level::look; }
  /// What the finding says may be wrong, for all that is known.
  bool sure() const {
    if (touches()) return certainly_beyond(-room_mm, unsure);
    return hardly ? surely == RoomStands::touches : surely != RoomStands::clears;
  }
  std::string not_sure() const {
    if (sure()) return "";
    std::string by = fmt::format("It is too little by {} mm", fixed(-room_mm, 2));
    if (!touches()) by = fmt::format("It is less by {} mm", fixed(limit_mm - room_mm, 2));
    if (!touches() && hardly) {
      by = fmt::format("It is less than a quarter of the limit by {} mm",
                       fixed(kHardlyAnyShare * limit_mm - room_mm, 2));
    }
    return sentences::not_sure(by, unsure, "mm");
  }
  /// The room, with its give-or-take where no sentence behind names that.
  std::string told() const {
    return sure() ? sentences::mm_amid(room_mm, unsure)
                  : sentences::value_left(room_mm, unsure) + " mm";
  }
  std::string action(const std::string& otherwise) const {
    return sure() || level() == Level::stop
               ? otherwise
               : fmt::format("measure {} better", sentences::number_of(unsure.most));
  }
  /// What it is by, where that is as good as touching.
  std::string hardly_words() const {
    if (!hardly || touches()) return "";
    return level() == Level::stop ? " That is as good as touching: do not turn it by this."
                                  : " That may be as good as touching: do not turn it by this.";
  }
  const char* less() const {
    if (hardly && level() == Level::stop) return "less than a quarter of";
    return surely == RoomStands::clears ? "which may be less than" : "less than";
  }
};

Held held(const ValveAnswer& valve) {
  return {valve.fitted.least_mm, valve.limit_mm,       valve.fitted.unsure,
          valve.fitted.stands,   surely_stands(valve), as_good_as_touching(valve)};
}

Held held(const ValvePairAnswer& pair) {
  return {pair.room_mm(), pair.limit_mm,       pair.fitted_unsure,
          pair.stands,    surely_stands(pair), as_good_as_touching(pair)};
}

// Clear by the numbers as they are, and yet it may touch by what they leave open: told, no more.
void may_touch_note(const Held& room, const std::string& about, const std::string& what,
                    std::vector<Finding>& findings) {
  if (room.room_mm >= room.unsure.give_or_take) return;
  Finding finding = finding_of(Level::note, "room-open", about, room.room_mm, 0.0, "");
  finding.text = fmt::format(
      "{} {} at least: by what these numbers leave open they may touch. "
      "Measure {} better, it settles most.",
      capital(what), sentences::mm_amid(room.room_mm, room.unsure),
      sentences::number_of(room.unsure.most));
  findings.push_back(finding);
}

void touching(const ValveAnswer& valve, const Held& held, Finding& finding) {
  finding.text = fmt::format(
      "{} and piston {} touch: {} mm too little room{}. Turned forwards they meet {}.{} {}",
      capital(sentences::valve(valve.name)), held.sure() ? "would" : "may",
      sentences::value_left(-held.room_mm, held.unsure), timing_words(valve),
      place_words(valve.fitted, *valve.fitted.touches_from_deg), held.not_sure(),
      "Do not turn it; find out which number or mark is wrong.");
  finding.brief = fmt::format("{} {} its piston", sentences::valve(valve.name),
                              held.sure() ? "meets" : "may meet");
  finding.action = held.action("put the cam timing right before anything turns");
}

void touching_or_near(const ValveAnswer& valve, std::vector<Finding>& findings) {
  const Held room = held(valve);
  const std::string name = sentences::valve(valve.name);
  if (room.stands == RoomStands::clears) {
    return may_touch_note(room, valve.name, name + " to piston", findings);
  }
  const bool touches = room.touches();
  Finding finding =
      finding_of(room.level(), touches ? "valve-touches" : "valve-room", valve.name, room.room_mm,
                 touches ? 0.0 : valve.limit_mm, touches ? "" : room_key(valve.side));
  if (touches) {
    touching(valve, room, finding);
  } else {
    finding.text = fmt::format(
        "{} to piston {} at least{}, {} {} mm ({}); least {}.{}{} Measure it with clay "
        "before the engine runs.",
        capital(name), room.told(), timing_words(valve), room.less(), shortest(valve.limit_mm, 2),
        valve.limit_given ? "as given" : "common practice",
        place_words(valve.fitted, valve.fitted.at_deg), room.hardly_words(), room.not_sure());
    finding.brief = fmt::format("{} mm between {} and piston",
                                sentences::value_left(room.room_mm, room.unsure), name);
    finding.action = room.action("measure that room with clay, turning by hand");
  }
  findings.push_back(finding);
}

void pair_touching_or_near(const ValvePairAnswer& pair, std::vector<Finding>& findings) {
  const Held room = held(pair);
  const std::string both = sentences::valves(pair.inlet, pair.exhaust);
  if (room.stands == RoomStands::clears) return may_touch_note(room, pair.inlet, both, findings);
  const bool touches = room.touches();
  Finding finding = finding_of(room.level(), touches ? "valves-touch" : "valve-to-valve",
                               pair.inlet, pair.fitted_mm, touches ? 0.0 : pair.limit_mm,
                               touches ? "" : "limits.valve_to_valve_mm");
  const std::string at = sentences::overlap_place(pair.at_deg);
  if (touches) {
    finding.text = fmt::format("{} {} touch each other, {}.{} Do not turn it.", capital(both),
                               room.sure() ? "would" : "may", at, room.not_sure());
    finding.brief = fmt::format("{} {}", both, room.sure() ? "meet" : "may meet");
    finding.action = room.action("put the cam timing right before anything turns");
  } else {
    finding.text =
        fmt::format("{} come within {} of each other, {}; {} {} mm ({}).{}{}", capital(both),
                    room.told(), at, room.less(), shortest(pair.limit_mm, 2),
                    pair.limit_given ? "as given" : "from memory, common practice",
                    room.hardly_words(), room.not_sure());
    finding.brief =
        fmt::format("{} mm between two valves", sentences::value_left(pair.fitted_mm, room.unsure));
    finding.action = room.action("measure between the valves with a feeler, turning by hand");
  }
  findings.push_back(finding);
}

void firing_order(const EngineAnswers& engine, std::vector<Finding>& findings) {
  if (!engine.pistons || engine.pistons->phases.fault.empty()) return;
  Finding finding{Level::look, "firing-order", "engine", ""};
  finding.text = fmt::format("Crank pins and firing order do not agree: {}. Look at both again.",
                             engine.pistons->phases.fault);
  finding.brief = "crank pins and firing order do not agree";
  finding.action = "look at both again";
  findings.push_back(finding);
}

// The fewest teeth out, either way, at which some valve touches.
const ValveAnswer* first_to_touch(const ValvesAnswer& valves, int& teeth) {
  const ValveAnswer* first = nullptr;
  for (const ValveAnswer& valve : valves.valves) {
    for (const ValveRoomAtTeeth& out : valve.teeth) {
      if (out.room.stands != RoomStands::touches) continue;
      if (first != nullptr && std::abs(out.teeth_out) >= std::abs(teeth)) continue;
      first = &valve;
      teeth = out.teeth_out;
    }
  }
  return first;
}

std::string can_meet_words(const ValvesAnswer& valves) {
  int teeth = 0;
  const ValveAnswer* first = first_to_touch(valves, teeth);
  std::string text(kCanMeet);
  if (first != nullptr && teeth != 0) {
    text +=
        fmt::format(" By the numbers {} is the first to touch: its cam {} {}.",
                    the(sentences::valve(first->name)), counted(std::abs(teeth), "tooth", "teeth"),
                    sentences::early_or_late(teeth, Direction::given));
  } else if (first == nullptr) {
    text += fmt::format(" By the numbers none touches up to {} teeth out.", kMostTeethOut);
  }
  return text;
}

double least_any_cam(const ValvesAnswer& valves) {
  double least = valves.valves.front().least_any_cam_mm;
  for (const ValveAnswer& valve : valves.valves) least = std::min(least, valve.least_any_cam_mm);
  return least;
}

void interference(const DriveSpec& spec, const EngineAnswers& engine,
                  std::vector<Finding>& findings) {
  const bool by_numbers = engine.valves && engine.valves->complete;
  const std::optional<bool> said = spec.engine.interference;
  if (said == false && !never_meet(spec, engine)) {
    const double least = least_any_cam(*engine.valves);
    Finding finding = finding_of(Level::look, "interference-contradicts", "valves", least, 0.0, "");
    finding.text = fmt::format(
        "interference = false, but by the numbers a fully open valve at top dead centre reaches {} "
        "mm into its piston: treat it as if they meet, and look at both again.",
        fixed(-least, 2));
    finding.brief = "said to be free of interference, and by the numbers it is not";
    finding.action = "look at the valve's numbers again";
    findings.push_back(finding);
    return;
  }
  if (said == false && !by_numbers) return;
  Finding finding{Level::note, "interference", "valves", ""};
  if (by_numbers && !engine.valves->can_meet) {
    finding = finding_of(Level::note, "no-interference", "valves", least_any_cam(*engine.valves),
                         0.0, "");
    finding.text = fmt::format(
        "By these numbers no valve reaches a piston wherever the cams stand: {} mm at least. That "
        "is the numbers, not the engine: turn it by hand with the same care.",
        fixed(finding.value, 2));
  } else if (by_numbers) {
    finding.text = can_meet_words(*engine.valves);
  } else if (said == true) {
    finding.text = kCanMeet;
  } else {
    finding.code = "interference-unknown";
    finding.text = "It is not known whether valves can hit pistons: treat as if they do.";
  }
  findings.push_back(finding);
}

bool says_nothing(const DriveSpec& spec) {
  const EngineSpec& engine = spec.engine;
  const bool sizes =
      engine.cylinders || engine.stroke_mm || engine.throw_mm || engine.rod_mm || engine.bore_mm;
  return !sizes && spec.valves.empty();
}

void ask_further(const DriveSpec& spec, const EngineAnswers& engine,
                 std::vector<Missing>& missing) {
  const auto ask = [&](const char* answer, std::string key, const char* measure) {
    missing.push_back({answer, std::move(key), measure});
  };
  if (engine.pistons && spec.valves.empty()) {
    ask("whether valves clear pistons", "valve",
        "add a [[valve]] for each kind of valve: how far it opens, when, and its room at top dead "
        "centre");
  }
  if (engine.pistons && engine.pistons->cylinders > 1 && spec.engine.firing_order.empty()) {
    ask("which cylinder a valve would meet first", "engine.firing_order",
        "take the firing order from the manual or the engine's cover");
  }
  if (engine.pistons && !engine.pistons->at_pins) {
    ask("where the pistons stand with all pins in, and the way there from the parked crank",
        "engine.timing_position_deg",
        "with the crank's pin in, read a degree wheel: how far past the firing top dead centre of "
        "cylinder 1 it stands");
  }
  if (!engine.valves) return;
  for (const ValveAnswer& valve : engine.valves->valves) {
    const std::string key = fmt::format("valve.{}.", valve.name);
    if (!valve.law_given) {
      ask("how the valve opens between its two ends (cycloidal taken)", key + "table",
          "measure the lift every few degrees of the cam, as a table beside the file");
    }
    if (!valve.crown_given && valve.valve_deg != 0.0) {
      ask("whether the valve meets a pocket or a flat crown (pocket taken, the nearer one)",
          key + "crown", "look at the piston's crown");
    }
    if (valve.cam.empty()) {
      ask("what a tooth out does to the valve", key + "cam", "say which pulley drives its cam");
    }
  }
}

}  // namespace

EngineAnswers answer_engine(const DriveSpec& spec, const FitAnswer& fitted,
                            std::vector<Missing>& missing) {
  EngineAnswers engine;
  if (says_nothing(spec)) {
    const bool asked = spec.engine.interference != false && !spec.heads.empty();
    if (asked) {
      missing.push_back({"room between valves and pistons, and where to park the crank", "valve",
                         "give [engine] its cylinders, stroke and rod, and a [[valve]] for each "
                         "kind of valve"});
    }
    return engine;
  }
  const TurnsAnswer* turns = fitted.turns ? &*fitted.turns : nullptr;
  if (spec.engine.cylinders) engine.counted = counted_park(layout_of(spec.engine));
  engine.pistons = pistons_answer(spec, missing);
  engine.compression = compression_answer(spec, fitted.fit);
  engine.valves = valves_answer(spec, fitted.fit, turns, missing);
  if (engine.valves) engine.park = park_answer(spec, fitted.fit, {}, missing);
  ask_further(spec, engine, missing);
  return engine;
}

bool never_meet(const DriveSpec& spec, const EngineAnswers& engine) {
  const bool by_numbers = engine.valves && engine.valves->complete;
  return spec.engine.interference == false && !(by_numbers && engine.valves->can_meet);
}

void find_in_engine(const DriveSpec& spec, const EngineAnswers& engine,
                    std::vector<Finding>& findings) {
  if (engine.valves) {
    for (const ValveAnswer& valve : engine.valves->valves) touching_or_near(valve, findings);
    for (const ValvePairAnswer& pair : engine.valves->pairs) pair_touching_or_near(pair, findings);
  }
  firing_order(engine, findings);
  interference(spec, engine, findings);
}

}  // namespace twoturn
