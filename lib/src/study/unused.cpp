#include "twoturn/study/unused.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <string_view>

#include "twoturn/drive/rates.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "twoturn/study/bolts.hpp"
#include "twoturn/study/check_answer.hpp"
#include "twoturn/timing/marks.hpp"

namespace twoturn {
namespace {

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

// "at_mm" of "pulley.cam.at_mm".
std::string_view field_of(std::string_view key) {
  const std::size_t dot = key.rfind('.');
  return dot == std::string_view::npos ? key : key.substr(dot + 1);
}

// "cam" of "pulley.cam.teeth" below "pulley."; a name may itself hold dots.
std::string_view name_in(std::string_view key, std::string_view below) {
  key = key.substr(below.size());
  return key.substr(0, key.rfind('.'));
}

// What each answer of a check has taken from the spec, asked for one key at a time.
class Uses {
 public:
  Uses(const DriveSpec& spec, const CheckAnswer& answer)
      : spec_(spec),
        answer_(answer),
        fitted_(answer.judged.fit == Fit::as_fitted),
        marks_(marks_from_counts(marks_question(spec, answer.judged.fit))) {
    std::vector<Missing> ignored;
    bolts_ = bolts_answer(spec, ignored).groups;
  }

  /// Whether how far off it may be is carried on.
  bool is_unknown(std::string_view key) const {
    const auto named = [key](const FitAnswer& fit) {
      if (!fit.fitted) return false;
      const std::vector<Unknown>& all = fit.fitted->uncertainty().unknowns();
      return std::any_of(all.begin(), all.end(),
                         [key](const Unknown& unknown) { return unknown.key == key; });
    };
    return starts_with(key, "measured.") || named(answer_.judged) ||
           (answer_.book && named(*answer_.book));
  }

  /// Why nothing hangs on a given number; empty where something does.
  std::string why_not(const std::string& key) const {
    if (key == "lean_deg") {
      return answer_.judged.drive() ? ""
                                    : "without the pulleys' places there is no picture to turn";
    }
    if (key == "rough_centre_mm") {
      return skim_told(Role::camshaft) ? "" : "there is no skim for it to tell the effect of";
    }
    if (starts_with(key, "limits.") || starts_with(key, "tray.")) return "";
    if (starts_with(key, "bolts.")) return why_not_bolts(key);
    if (starts_with(key, "seen.")) return "";  // finding a fault weighs all that was seen
    if (of_forces(key)) return why_not_forces(key);
    if (starts_with(key, "engine.")) return why_not_engine(key);
    if (starts_with(key, "valve.")) return why_not_valve(key);
    if (starts_with(key, "head.")) return why_not_head(key);
    if (starts_with(key, "build.")) return why_not_build(key);
    if (starts_with(key, "belt.")) return why_not_belt(key);
    if (starts_with(key, "pulley.") && field_of(key) == "teeth") return why_not_teeth(key);
    if (of_judged_rate(key)) return "";
    if (!answer_.judged.drive()) return why_not_without_route(key);
    return of_timing(key) && !answer_.judged.turns ? std::string(kNoTurns) : "";
  }

 private:
  static bool of_forces(const std::string& key) {
    const std::string_view field = field_of(key);
    for (const std::string_view one :
         {"width_mm", "mass_g_per_m", "weighed_g", "stiffness_n", "drag_nm", "per_cylinder",
          "spring_n", "spring_rate_n_mm", "spring_nm_per_deg", "spring_n_per_mm"}) {
      if (field == one) return true;
    }
    return starts_with(key, "tension.");
  }

  std::string why_not_forces(const std::string& key) const {
    const std::string_view field = field_of(key);
    const bool springs = starts_with(key, "valve.") || field == "drag_nm";
    const std::optional<FeelAnswer>& feel = answer_.feel;
    const std::optional<TensionAnswer>& tension = answer_.tension;
    if (springs) {
      if (feel && feel->springs_known) return "";
      if (feel && field == "drag_nm") return "";
      return "what the spanner feels cannot be told yet";
    }
    if (!tension) return std::string(kNoTurns);
    if (field == "spring_nm_per_deg" || field == "spring_n_per_mm") {
      return feel && feel->belt && feel->belt->kind
                 ? ""
                 : "no tensioner is sprung, or its belt's tensions are not known";
    }
    if (field == "stiffness_n") {
      const bool used = tension->pointer || (feel && feel->belt);
      return used ? "" : "how tight the belt should be is not known";
    }
    if (field == "at_crank_deg") {
      return tension->springs_counted && !tension->from.empty()
                 ? ""
                 : "valve springs are not counted in the tension";
    }
    return field == "mass_g_per_m" || field == "weighed_g"
               ? (tension->target_n ? "" : "how tight the belt should be is not known")
               : "";
  }

  // Shank, modulus and joint are for the bound alone.
  std::string why_not_bolts(const std::string& key) const {
    const std::string_view field = field_of(key);
    const bool for_bound =
        field == "shank_mm" || field == "modulus_n_mm2" || field == "joint_stiffness_n_mm";
    if (!for_bound) return "";
    const std::string name(name_in(key, "bolts."));
    const auto bounded = [&](const BoltGroup& group) { return group.name == name && group.bound; };
    return std::any_of(bolts_.begin(), bolts_.end(), bounded)
               ? ""
               : "pitch, length, shank, joint and an angle are not all given";
  }

  static constexpr std::string_view kNoRoute = "the belt's route is not known yet";
  static constexpr std::string_view kNoPistons = "cylinders, stroke and rod are not all given";
  static constexpr std::string_view kNoTurns = "two turns cannot be told yet";

  bool skim_told(Role role) const {
    return std::any_of(marks_.skims.begin(), marks_.skims.end(),
                       [role](const SkimShift& shift) { return shift.role == role; });
  }

  const PulleySpec* pulley(std::string_view name) const {
    for (const PulleySpec& pulley : spec_.pulleys) {
      if (pulley.name == name) return &pulley;
    }
    return nullptr;
  }

  bool carries_anything(std::string_view head) const {
    const auto on_it = [head](const auto& part) { return part.mount == head; };
    return std::any_of(spec_.pulleys.begin(), spec_.pulleys.end(), on_it) ||
           std::any_of(spec_.covers.begin(), spec_.covers.end(), on_it);
  }

  // The only finding that holds a head's face against its parts names the key as its limit.
  bool below_its_face(std::string_view head) const {
    const std::string key = fmt::format("head.{}.deck_from_crank_mm", head);
    return std::any_of(answer_.findings.begin(), answer_.findings.end(),
                       [&](const Finding& finding) { return finding.limit_key == key; });
  }

  std::string why_not_head(const std::string& key) const {
    const std::string head(name_in(key, "head."));
    if (below_its_face(head)) return "";
    const bool warms = fitted_ && spec_.build.warm && carries_anything(head);
    if (warms && answer_.judged.turns) return "";
    if (field_of(key) == "deck_from_crank_mm") {
      return "nothing mounted on the head lies below its face";
    }
    if (!answer_.judged.drive()) return std::string(kNoRoute);
    if (!carries_anything(head)) return "nothing is mounted on the head";
    const bool moves = fitted_ && head_lift_mm(spec_.build, head) != 0.0;
    return moves ? "" : "the head's height is by the book";
  }

  std::string why_not_build(const std::string& key) const {
    if (!fitted_) return "the drive is taken by the book";
    if (starts_with(key, "build.warm.") || key == "build.stretch_percent") {
      return answer_.judged.turns ? "" : std::string(kNoTurns);
    }
    if (starts_with(key, "build.teeth_out.") || starts_with(key, "build.adjusted_deg.")) {
      const bool felt = starts_with(key, "build.teeth_out.") &&
                        valves_feel(key.substr(std::string_view("build.teeth_out.").size()));
      return answer_.judged.turns || felt ? "" : std::string(kNoTurns);
    }
    if (starts_with(key, "build.renewed.")) {
      if (answer_.judged.drive()) return "";
      const PulleySpec* renewed = pulley(name_in(key, "build.renewed."));
      const bool counted = renewed && turns_per_crank(*renewed) && field_of(key) == "teeth";
      return counted ? "" : std::string(kNoRoute);
    }
    if (!marks_.skims.empty() || brings_nearer(key)) return "";
    const std::string head = key.substr(key.find('.', std::string_view("build.").size()) + 1);
    const auto same = [&](const HeadSpec& spec) { return spec.name == head && spec.deck_deg; };
    const bool direction = std::any_of(spec_.heads.begin(), spec_.heads.end(), same);
    if (!direction) return "which way the head lifts off is not known";
    if (!carries_anything(head)) return "nothing is mounted on the head";
    return answer_.judged.drive() ? "" : std::string(kNoRoute);
  }

  // Without two turns, valves still go by the teeth that their cam or the crank is out.
  bool valves_feel(const std::string& name) const {
    if (!answer_.engine.valves) return false;
    const PulleySpec* out = pulley(name);
    const std::vector<ValveAnswer>& valves = answer_.engine.valves->valves;
    return (out && out->role == Role::crankshaft) ||
           std::any_of(valves.begin(), valves.end(),
                       [&](const ValveAnswer& valve) { return valve.cam == name; });
  }

  // A skim or gasket that valves or a compression ratio feel.
  bool brings_nearer(const std::string& key) const {
    const std::string head = key.substr(key.find('.', std::string_view("build.").size()) + 1);
    const EngineAnswers& engine = answer_.engine;
    const auto of_head = [&](const auto& part) { return part.head == head; };
    const bool squeezed =
        std::any_of(engine.compression.begin(), engine.compression.end(), of_head);
    return squeezed || (engine.valves && std::any_of(engine.valves->valves.begin(),
                                                     engine.valves->valves.end(), of_head));
  }

  std::string why_not_engine(const std::string& key) const {
    const EngineAnswers& engine = answer_.engine;
    const std::string_view field = field_of(key);
    if (field == "bores_deg" && spec_.engine.crank_pins_deg.empty()) {
      return "the crank pins are not given: even firing is taken";
    }
    const bool of_layout = field == "cylinders" || field == "crank_pins_deg" ||
                           field == "firing_order" || field == "bores_deg";
    if (of_layout) return engine.counted ? "" : std::string(kNoPistons);
    const bool of_volume =
        field == "bore_mm" || field == "chamber_cc" || field == "compression_ratio";
    const bool of_stroke = field == "stroke_mm" || field == "throw_mm";
    if (of_volume) return engine.compression.empty() ? "bore and stroke are not both given" : "";
    if (of_stroke && !engine.compression.empty()) return "";
    return engine.pistons ? "" : std::string(kNoPistons);
  }

  std::string why_not_valve(const std::string& key) const {
    const std::string name(name_in(key, "valve."));
    const auto found = std::find_if(spec_.valves.begin(), spec_.valves.end(),
                                    [&](const ValveSpec& valve) { return valve.name == name; });
    const EngineAnswers& engine = answer_.engine;
    const bool answered =
        engine.valves && std::any_of(engine.valves->valves.begin(), engine.valves->valves.end(),
                                     [&](const ValveAnswer& valve) { return valve.name == name; });
    if (!answered || found == spec_.valves.end()) return "the valve's room cannot be told yet";
    return why_not_of_valve(*found, field_of(key));
  }

  std::string why_not_of_valve(const ValveSpec& valve, std::string_view field) const {
    const bool table = !valve.rows.empty();
    const bool gauge_on_valve = table && valve.rows_at == LiftAtPart::valve;
    if (field == "lash_mm" && gauge_on_valve) {
      return "the table was measured at the valve, lash and all";
    }
    if (field == "rocker_ratio" && !valve.cam_lift_mm && (!table || gauge_on_valve) &&
        (valve.timed_at != LiftAtPart::cam || !valve.timed_at_lift_mm)) {
      return "nothing is given at the cam";
    }
    const bool of_ends = field == "opens_deg" || field == "closes_deg" || field == "duration_deg";
    if (table && of_ends && valve.lobe_centre_deg) {
      return "the table shows it, placed by lobe_centre_deg";
    }
    if (field == "head_mm" || field == "across_mm") {
      const bool paired =
          std::any_of(answer_.engine.valves->pairs.begin(), answer_.engine.valves->pairs.end(),
                      [&](const ValvePairAnswer& pair) {
                        return pair.inlet == valve.name || pair.exhaust == valve.name;
                      });
      if (!paired) return "both valves of a chamber need head_mm and across_mm";
    }
    return "";
  }

  std::string why_not_belt(const std::string& key) const {
    // Marks tell what a tooth is in mm from these alone; a pitch is held against ten teeth.
    if (key == "belt.over_10_teeth_mm" && (spec_.belt.pitch_mm || spec_.belt.section)) {
      return "the pitch is told exactly, and it only bears that out";
    }
    if (key == "belt.teeth" || key == "belt.pitch_mm" || key == "belt.over_10_teeth_mm") return "";
    if (!answer_.judged.drive()) return std::string(kNoRoute);
    if (key != "belt.length_tolerance_mm" || !answer_.judged.tensioner) return "";
    const bool known_belt =
        std::any_of(spec_.measured.begin(), spec_.measured.end(),
                    [](const MeasuredSpec& measured) { return measured.belt_teeth.has_value(); });
    const bool unsure = known_belt || (fitted_ && spec_.build.length_by_standard);
    return unsure ? "" : "the tensioner takes it up";
  }

  std::string why_not_teeth(const std::string& key) const {
    const PulleySpec* spec = pulley(name_in(key, "pulley."));
    const auto carries_timed = [&](const GearedSpec& geared) {
      return rate_is_judged(geared) && spec && on_belt(geared) == spec->name;
    };
    if (answer_.judged.drive() || (spec && turns_per_crank(*spec))) return "";
    if (std::any_of(spec_.geared.begin(), spec_.geared.end(), carries_timed)) return "";
    return std::string(kNoRoute);
  }

  // Counts alone tell at which rate a geared shaft turns.
  bool rate_is_judged(const GearedSpec& geared) const {
    return turns_per_crank(geared) && turns_made(spec_, geared.name);
  }

  bool of_judged_rate(const std::string& key) const {
    const std::string field(field_of(key));
    if (field != "ratio" && field != "teeth" && field != "turns_per_crank") return false;
    return std::any_of(spec_.geared.begin(), spec_.geared.end(), [&](const GearedSpec& geared) {
      return key == fmt::format("geared.{}.{}", geared.name, field) && rate_is_judged(geared);
    });
  }

  // The pulley that a geared shaft hangs on in the end.
  std::string on_belt(const GearedSpec& geared) const {
    for (const GearedSpec& driver : spec_.geared) {
      if (driver.name == geared.from) return on_belt(driver);
    }
    return geared.from;
  }

  // Places of the crank and of timed shafts stand in for the rough centre distance.
  std::string why_not_without_route(const std::string& key) const {
    if (starts_with(key, "pulley.")) {
      const PulleySpec* spec = pulley(name_in(key, "pulley."));
      if (field_of(key) == "turns_per_crank" && spec && spec->teeth) return "";
      const bool centre = field_of(key) == "at_mm" && spec && turns_per_crank(*spec);
      if (centre && !spec_.rough_centre_mm && !marks_.skims.empty()) return "";
    }
    return std::string(kNoRoute);
  }

  static bool of_timing(const std::string& key) {
    if (starts_with(key, "geared.")) return true;
    if (!starts_with(key, "pulley.")) return false;
    constexpr std::array<std::string_view, 6> kFields{
        "mark_deg", "mark_radius_mm", "at_deg", "key_radius_mm", "range_deg", "radius_mm"};
    const std::string_view field = field_of(key);
    if (std::find(kFields.begin(), kFields.end(), field) != kFields.end()) return true;
    const std::string_view table = std::string_view(key).substr(0, key.size() - field.size() - 1);
    return ends_with(table, ".pin");
  }

  const DriveSpec& spec_;
  const CheckAnswer& answer_;
  bool fitted_;
  MarksAnswer marks_;
  std::vector<BoltGroup> bolts_;
};

}  // namespace

std::vector<UnusedKey> unused_keys(const DriveSpec& spec, const CheckAnswer& answer) {
  const Uses uses(spec, answer);
  std::vector<UnusedKey> unused;
  const auto add = [&unused](const std::string& key, std::string_view why) {
    if (unused.empty() || unused.back().key != key) unused.push_back({key, std::string(why)});
  };
  for (const GivenValue& given : spec.given) {
    const std::string key = given.key.substr(0, given.key.find('['));  // a place as one
    const std::string why = uses.why_not(key);
    if (!why.empty()) add(key, why);
  }
  for (const GivenValue& given : spec.given) {
    if (!given.give_or_take) continue;
    const std::string key = given.key.substr(0, given.key.find('['));
    if (!uses.is_unknown(key)) {
      add(fmt::format("origin.{}.give_or_take", key), "the belt's length does not hang on it");
    }
  }
  return unused;
}

}  // namespace twoturn
