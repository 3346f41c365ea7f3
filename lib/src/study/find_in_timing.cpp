#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/cure.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

std::string in_teeth(double teeth) {
  const double size = std::abs(teeth);
  return fmt::format("{} {}", fixed(size, 2), fixed(size, 2) == "1.00" ? "tooth" : "teeth");
}

constexpr double kRounding = 1e-9;

struct Judged {
  const TurnsAnswer& turns;
  const Limits& limits;

  const Assembly& assembly() const { return turns.assembly; }
  Direction direction() const { return assembly().fitted.direction; }
  const Shaft& shaft(int index) const { return assembly().shafts[at(index)]; }
  const Cure* cure(int shaft) const {
    for (const Cure& cure : turns.cures) {
      if (cure.shaft == shaft) return &cure;
    }
    return nullptr;
  }
  // The pulley on which the belt has to be moved for a shaft: its own, or the one that drives it.
  int belt_shaft(int index) const { return belt_shaft_of(assembly().shafts, index); }
};

// What to do about a shaft, behind what is wrong with it.
std::string cure_text(const Judged& judged, int shaft) {
  const Cure* cure = judged.cure(shaft);
  return cure ? sentences::cure(judged.turns, *cure) : "";
}

std::string cure_in_short(const Judged& judged, int shaft) {
  if (judged.direction() == Direction::assumed) {
    return "before any tooth is moved, see which way the crank turns (crank_turns)";
  }
  const Cure* cure = judged.cure(shaft);
  return cure ? sentences::cure_in_short(judged.turns, *cure) : "find out why before turning it";
}

// What it was allowed, in crank degrees, so that a reader can see how far beyond it stands.
std::string allowed(const Shaft& shaft, const Limits& limits) {
  if (!shaft.pin)
    return fmt::format(" Allowed: {} crank deg.", shortest(limits.phase_crank_deg, 2));
  const double play = shaft.pin->play_deg / *shaft.turns_per_crank;
  return fmt::format(" Allowed: {} crank deg, its own {}'s play.",
                     sentences::degrees(std::min(play, limits.phase_crank_deg)),
                     shaft.pin->bar ? "bar" : "pin");
}

// Where the error comes from, as far as [build] tells: the belt's way to the crank, and teeth.
std::string cause_text(const Judged& judged, int shaft) {
  if (judged.direction() == Direction::assumed) return "";  // which way is on is not known
  const int belt_shaft = judged.belt_shaft(shaft);
  const ShaftFit& fit = judged.assembly().fits[at(belt_shaft)];
  std::string text;
  if (!prints_as_nothing(fit.way_change_mm, 2)) {
    const bool with_travel = fit.reference == Way::with_travel;
    const bool longer = with_travel == (fit.way_change_mm > 0.0);
    text += fmt::format(" The belt's way between it and the crank is {} mm {} than by the book.",
                        fixed(std::abs(fit.way_change_mm), 2), longer ? "longer" : "shorter");
  }
  if (fit.way_change_teeth != 0) {
    text += fmt::format(" In the belt it stands {} {} than by the book.",
                        counted(std::abs(fit.way_change_teeth), "tooth", "teeth"),
                        fit.way_change_teeth > 0 ? "further on" : "further back");
  }
  return text;
}

// A miss so near the play that the crank's own pin decides it.
std::string too_close(const Judged& judged, const ShaftAfter& seen) {
  const Shaft& shaft = judged.shaft(seen.shaft);
  const double give_own_deg = judged.turns.crank_play_deg * *shaft.turns_per_crank;
  const double give_mm = shaft.pin->between_holes_mm(Angle::degrees(give_own_deg));
  if (std::abs(*seen.miss_mm - shaft.pin->play_mm) > give_mm) return "";
  return fmt::format(
      " Too close to call: the crank's own pin lets this one stand {} mm either way.",
      fixed(give_mm, 2));
}

// The error in teeth is as far off as the one in degrees.
Unsure teeth_unsure(const ShaftAfter& seen) {
  Unsure unsure = seen.error_unsure;
  const double share = seen.error_crank_deg == 0.0 ? 0.0 : seen.error_teeth / seen.error_crank_deg;
  unsure.give_or_take *= std::abs(share);
  return unsure;
}

// Half a tooth out, and whether that is sure.
bool far_out(const Judged& judged, const ShaftAfter& seen) {
  return std::abs(seen.error_teeth) >= judged.limits.stop_teeth - kRounding;
}
bool surely_far_out(const Judged& judged, const ShaftAfter& seen) {
  const Unsure unsure = teeth_unsure(seen);
  const double by = std::abs(seen.error_teeth) - judged.limits.stop_teeth;
  return far_out(judged, seen) && (unsure.give_or_take == 0.0 || certainly_beyond(by, unsure));
}

void phase_finding(const Judged& judged, const ShaftAfter& seen, std::vector<Finding>& findings) {
  const Shaft& shaft = judged.shaft(seen.shaft);
  const double own = std::abs(seen.error_own_deg);
  const double crank = std::abs(seen.error_crank_deg);
  const bool half_tooth = far_out(judged, seen);
  const bool sure = surely_far_out(judged, seen);
  const bool beyond_pin = shaft.pin && own > shaft.pin->play_deg + kRounding;
  const bool beyond_limit = crank > judged.limits.phase_crank_deg;
  if (!half_tooth && !beyond_pin && !beyond_limit) return;
  if (prints_as_nothing(own, 2) && prints_as_nothing(crank, 2)) return;
  Finding finding{sure ? Level::stop : Level::look, "phase", shaft.name, ""};
  finding.value = seen.error_crank_deg;
  finding.limit = judged.limits.phase_crank_deg;
  finding.unit = "crank deg";
  finding.limit_key = "limits.phase_crank_deg";
  if (half_tooth) {
    finding.value = seen.error_teeth;
    finding.limit = judged.limits.stop_teeth;
    finding.unit = "teeth";
    finding.limit_key = "limits.stop_teeth";
  } else if (beyond_pin && !beyond_limit) {
    finding.value = seen.error_own_deg;
    finding.limit = shaft.pin->play_deg;
    finding.unit = "own deg";
    finding.limit_key = "";
  }
  const std::string_view side = sentences::early_or_late(
      own > crank ? seen.error_own_deg : seen.error_crank_deg, seen.direction);
  const std::string edge = seen.error_edge_mm ? fmt::format(", {} mm at the edge",
                                                            fixed(std::abs(*seen.error_edge_mm), 2))
                                              : "";
  const std::string cure = allowed(shaft, judged.limits) + cause_text(judged, seen.shaft) +
                           cure_text(judged, seen.shaft);
  finding.text =
      fmt::format("{} is {} {}: {} crank deg, {} {}{}.{}", capital(the(shaft.name)),
                  in_teeth(seen.error_teeth), side, sentences::degrees(crank),
                  sentences::degrees(own), sentences::own_deg(shaft.role, shaft.name), edge, cure);
  if (half_tooth && !sure) {
    finding.text += sentences::not_sure("It may be less than half a tooth all the same",
                                        seen.error_unsure, "crank deg");
  }
  finding.brief =
      fmt::format("{} {} crank deg {}", plain_name(shaft.name), sentences::degrees(crank), side);
  finding.action = cure_in_short(judged, seen.shaft);
  findings.push_back(finding);
}

std::string miss_words(const ShaftAfter& seen) {
  if (prints_as_nothing(*seen.miss_mm, 2)) return "less than 0.01 mm off";
  return fmt::format(
      "{} mm {}", fixed(*seen.miss_mm, 2),
      sentences::early_or_late(std::copysign(*seen.miss_mm, seen.error_own_deg), seen.direction));
}

void pin_finding(const Judged& judged, const ShaftAfter& seen, std::vector<Finding>& findings) {
  if (seen.pin != PinState::tight && seen.pin != PinState::out) return;
  const Shaft& shaft = judged.shaft(seen.shaft);
  const bool far = surely_far_out(judged, seen);
  const bool tight = seen.pin == PinState::tight;
  const double beyond = *seen.miss_mm - shaft.pin->play_mm;
  const bool sure = seen.pin_sure || certainly_beyond(beyond, seen.beyond_unsure);
  Finding finding{!tight && far ? Level::stop : Level::look, "pin", shaft.name, ""};
  finding.value = *seen.miss_mm;
  finding.limit = shaft.pin->play_mm;
  finding.unit = "mm";
  const std::string what = shaft.pin->bar ? "bar" : "pin";
  const std::string_view state =
      sentences::pin_shows(seen.pin, sure ? sentences::Sureness::sure : sentences::Sureness::open);
  finding.text = fmt::format(
      "After two turns the {} of {} {}: its hole is {} at {} mm radius, its play is {} "
      "mm, and up to {} mm more counts as tight.{}{}",
      what, the(shaft.name), state, miss_words(seen), shortest(shaft.pin->radius_mm, 2),
      fixed(shaft.pin->play_mm, 2), shortest(judged.limits.pin_tight_mm, 2),
      too_close(judged, seen),
      sure ? ""
           : sentences::not_sure(fmt::format("It is beyond its play by {} mm", fixed(beyond, 2)),
                                 seen.beyond_unsure, "mm"));
  finding.brief =
      fmt::format("{} of {} {}", what, the(shaft.name), tight && sure ? "tight" : state);
  finding.action = "do not force it";
  finding.caution = "Tight is not in: do not force it, and do not pull the shaft round by it.";
  findings.push_back(finding);
}

// The belt's own pulleys that carry a timed shaft, themselves or by gears; the crank left out.
std::vector<int> timing_pulleys(const Assembly& assembly) {
  std::vector<int> pulleys;
  for (std::size_t i = 1; i < assembly.shafts.size(); ++i) {
    if (!assembly.shafts[i].timed()) continue;
    const int on_belt = belt_shaft_of(assembly.shafts, static_cast<int>(i));
    const bool again = std::find(pulleys.begin(), pulleys.end(), on_belt) != pulleys.end();
    if (on_belt > 0 && !again) pulleys.push_back(on_belt);
  }
  return pulleys;
}

void reference_finding(const Judged& judged, std::vector<Finding>& findings) {
  const Assembly& assembly = judged.assembly();
  for (const int on_belt : timing_pulleys(assembly)) {
    const Shaft& shaft = assembly.shafts[at(on_belt)];
    const bool own_tensioner =
        assembly.fitted.tensioner && assembly.fitted.tensioner->pulley == shaft.pulley;
    if (own_tensioner) {
      Finding finding{
          Level::note, "timed-by-tensioner", shaft.name,
          fmt::format("{} is itself the tensioner: it is timed along the tight side, and "
                      "every change of its setting moves it a little.",
                      capital(the(shaft.name)))};
      findings.push_back(finding);
      continue;
    }
    if (assembly.fits[at(on_belt)].reference != Way::with_travel) continue;
    Finding finding{Level::look, "reference-run", shaft.name, ""};
    finding.text = fmt::format(
        "The run without a tensioner between the crank and {} is not the tight side: the "
        "belt that pulls {} round is the one the tensioner holds, so its timing follows the "
        "tensioner under load. Check crank_turns and the order of the pulleys.",
        the(shaft.name), the(shaft.name));
    finding.brief = fmt::format("the tensioner sits on the tight side of {}", the(shaft.name));
    finding.action = "check which way the crank turns and the order of the pulleys";
    findings.push_back(finding);
  }
}

// Every other shaft is timed from the crank: where its pin lets it stand farther off than a shaft
// may be, pins in prove little.
void loose_datum(const Judged& judged, std::vector<Finding>& findings) {
  const double play = judged.turns.crank_play_deg;
  const double limit = judged.limits.phase_crank_deg;
  if (play <= limit) return;
  const Shaft& crank = judged.assembly().crank();
  Finding finding{Level::look, "datum-play", crank.name, ""};
  finding.value = play;
  finding.limit = limit;
  finding.unit = "crank deg";
  finding.limit_key = "limits.phase_crank_deg";
  const std::string pin = crank.pin->bar ? "bar" : "pin";
  finding.text = fmt::format(
      "The {} of {} lets it stand {} crank deg either way, more than a shaft may be out ({}): with "
      "all pins in, every timed shaft may be that far out together. Check the {}, or find its mark "
      "with a degree wheel.",
      pin, the(crank.name), sentences::degrees(play), shortest(limit, 2),
      crank.pin->bar ? "bar's bar_mm, slot_mm and length_mm" : "pin's radius and play");
  finding.brief = fmt::format("the {} of {} leaves {} crank deg either way", pin, the(crank.name),
                              sentences::degrees(play));
  finding.action = fmt::format("measure that {}'s play again", pin);
  findings.push_back(finding);
}

void remainder_finding(const Judged& judged, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < judged.assembly().fits.size(); ++i) {
    const double teeth = judged.assembly().fits[i].drawn_remainder_teeth;
    if (prints_as_nothing(teeth, 2)) continue;
    const Shaft& shaft = judged.assembly().shafts[i];
    const double deg = teeth * 360.0 / shaft.teeth;
    const double crank_deg = deg / shaft.turns_made;
    const bool beyond = std::abs(crank_deg) > judged.limits.phase_crank_deg;
    Finding finding{beyond ? Level::look : Level::note, "drawn-remainder", shaft.name, ""};
    finding.value = beyond ? crank_deg : teeth;
    finding.unit = beyond ? "crank deg" : "teeth";
    if (beyond) {
      finding.limit = judged.limits.phase_crank_deg;
      finding.limit_key = "limits.phase_crank_deg";
      finding.brief = fmt::format("as drawn {} is {} crank deg off its own marks", the(shaft.name),
                                  sentences::degrees(crank_deg));
      finding.action =
          fmt::format("check the places given and mark_on of {} and of the crank", the(shaft.name));
    }
    finding.text = fmt::format(
        "With its teeth tied to its mark, the drawn drive itself leaves {} {} {} ({} {}): "
        "the places given are not quite the engine's. It is kept apart from the errors above.",
        the(shaft.name), in_teeth(teeth), sentences::early_or_late(-teeth, judged.direction()),
        sentences::degrees(deg), sentences::own_deg(shaft.role, shaft.name));
    findings.push_back(finding);
  }
}

void turned_on_shaft_note(const Judged& judged, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < judged.assembly().fits.size(); ++i) {
    const Shaft& shaft = judged.assembly().shafts[i];
    const double deg = judged.assembly().fits[i].turned_on_shaft_deg;
    const std::string loose = sentences::loose_pulley(shaft.name, deg);
    if (shaft.fixing != Fixing::free_until_tightened || loose.empty()) continue;
    Finding finding{Level::note, "turned-on-shaft", shaft.name, ""};
    finding.value = deg;
    finding.unit = "own deg";
    finding.text = capital(loose) + ". Trust its pin, not the mark on the pulley.";
    findings.push_back(finding);
  }
}

}  // namespace

void find_in_timing(const DriveSpec& spec, const TurnsAnswer& turns,
                    std::vector<Finding>& findings) {
  const Limits limits = limits_of(spec.limits);
  const Judged judged{turns, limits};
  const AfterTurns* two = after_two(turns);
  for (const ShaftAfter& seen : two->shafts) {
    if (judged.shaft(seen.shaft).wrong_ratio()) continue;  // the counts alone tell that
    phase_finding(judged, seen, findings);
    pin_finding(judged, seen, findings);
  }
  loose_datum(judged, findings);
  reference_finding(judged, findings);
  remainder_finding(judged, findings);
  turned_on_shaft_note(judged, findings);
}

}  // namespace twoturn
