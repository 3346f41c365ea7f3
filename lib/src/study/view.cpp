#include "twoturn/study/view.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/fitted_spec.hpp"
#include "twoturn/drive/place_answer.hpp"
#include "view_belt.hpp"
#include "words/head_changes.hpp"

namespace twoturn {
namespace {

// A wheel's angle for a place of the belt, in belt teeth from the arc's entry.
Angle angle_on_arc(const PlacedPath& placed, int pulley, double mm_from_entry) {
  const Wheel& wheel = placed.wheels[at(pulley)];
  return entry_angle(wheel, placed.path, pulley) +
         Angle::radians(wheel.sense * mm_from_entry / wheel.radius_mm);
}

bool timed(const Pulley& pulley, const std::vector<PulleySpec>& specs) {
  return turns_per_crank(specs[at(pulley.listed)]).has_value();
}

// The timed shafts (else the toothed pulleys) that end the slack side and begin the tight side.
struct SideEnds {
  int slack_end = 0;
  int tight_start = 0;
};

SideEnds find_sides(const Drive& drive, const std::vector<PulleySpec>& specs) {
  const int count = static_cast<int>(drive.pulleys.size());
  SideEnds ends{count, count};
  for (const bool need_timed : {true, false}) {
    for (int i = 1; i < count && ends.slack_end == count; ++i) {
      const Pulley& pulley = drive.pulleys[at(i)];
      if (need_timed ? timed(pulley, specs) : pulley.toothed()) ends.slack_end = i;
    }
    for (int i = count - 1; i > 0 && ends.tight_start == count; --i) {
      const Pulley& pulley = drive.pulleys[at(i)];
      if (need_timed ? timed(pulley, specs) : pulley.toothed()) ends.tight_start = i;
    }
  }
  return ends;
}

std::vector<SeenRun> runs_of(const Drive& drive, const PlacedPath& placed, const SideEnds& ends) {
  std::vector<SeenRun> runs;
  const int count = static_cast<int>(drive.pulleys.size());
  for (int i = 0; i < count; ++i) {
    const Span& span = placed.path.spans[at(i)];
    const Side side = i >= ends.tight_start ? Side::tight
                      : i < ends.slack_end  ? Side::slack
                                            : Side::between;
    runs.push_back({i, (i + 1) % count, span.start_mm, span.end_mm, side});
  }
  return runs;
}

class Viewer {
 public:
  Viewer(const DriveSpec& spec, const CheckAnswer& answer, double crank_deg)
      : spec_(spec), answer_(answer), crank_deg_(crank_deg) {}

  std::optional<BeltView> view() {
    const FitAnswer& judged = answer_.judged;
    if (!judged.drive() || !judged.route || judged.route->spans.empty()) return std::nullopt;
    drive_ = judged.drive();
    if (judged.turns) {
      assembly_ = &judged.turns->assembly;
      placed_ = assembly_->fitted_path;
    } else {
      const std::optional<Setting>& setting = judged.route->setting;
      placed_.wheels = placed_wheels(*drive_, setting ? setting->q : 0.0);
      if (!solve_path(placed_.wheels, placed_.path).solved()) return std::nullopt;
    }
    add_facts();
    add_pulleys();
    ends_ = find_sides(*drive_, spec_.pulleys);
    view_.runs = runs_of(*drive_, placed_, ends_);
    if (assembly_) {
      add_phase();
      add_counts();
      add_tooth_out();
      add_moves();
    } else {
      add_drawn_phase();
    }
    add_tensioner();
    add_gaskets();
    add_rings();
    return std::move(view_);
  }

 private:
  void add_facts() {
    const Drive& drive = *drive_;
    const RouteAnswer& route = *answer_.judged.route;
    view_.title = answer_.title;
    view_.fit = answer_.judged.fit;
    view_.lean = Angle::degrees(-spec_.lean_deg);
    view_.crank_deg = assembly_ ? crank_deg_ : 0.0;
    view_.is_belt = route.is_belt;
    view_.phase_known = assembly_ != nullptr;
    view_.direction = drive.direction;
    view_.crank_turns = drive.crank_turns;
    view_.pitch_mm = drive.belt.pitch_mm;
    view_.belt_teeth = drive.belt.teeth;
    view_.tooth_height_mm = drive.belt.tooth_height_mm;
    view_.land_to_pitch_line_mm = drive.belt.land_to_pitch_line_mm;
    view_.back_to_pitch_line_mm = drive.belt.back_to_pitch_line_mm;
    const Pulley& crank = drive.pulleys.front();
    view_.teeth_on_left = (crank.face == Face::tooth) == (crank.wheel.sense > 0);
    view_.double_sided = spec_.belt.double_sided;
    view_.length_mm = placed_.path.length_mm;
    view_.covers = spec_for(spec_, view_.fit).spec().covers;
    for (const GearedSpec& geared : spec_.geared) {
      view_.not_drawn.push_back(geared.name + ", driven off " + geared.from);
    }
    for (const NamedRefusal& refusal : route.refused) view_.refused.push_back(refusal.text);
  }

  void add_pulleys() {
    for (std::size_t i = 0; i < drive_->pulleys.size(); ++i) {
      const Pulley& from = drive_->pulleys[i];
      SeenPulley pulley;
      pulley.name = from.name;
      pulley.role = from.role;
      pulley.teeth = from.teeth;
      pulley.face = from.face;
      pulley.centre_mm = placed_.wheels[i].centre_mm;
      pulley.pitch_radius_mm = placed_.wheels[i].radius_mm;
      pulley.outside_radius_mm = from.outside_mm / 2.0;
      pulley.rim_radius_mm = from.rim_mm;
      pulley.sense = placed_.wheels[i].sense;
      pulley.entry = entry_angle(placed_.wheels[i], placed_.path, static_cast<int>(i));
      pulley.wrap = placed_.path.wraps[i];
      pulley.fitting_order = i == 0 ? 1 : static_cast<int>(drive_->pulleys.size() - i) + 1;
      view_.pulleys.push_back(pulley);
    }
  }

  // Teeth, marks and pins as the state of the run has them.
  void add_phase() {
    const Assembly& assembly = *assembly_;
    const RunState state = state_at(assembly, Angle::degrees(crank_deg_));
    const std::vector<ShaftReading> readings = read_shafts(assembly, state);
    const double pitch = view_.pitch_mm;
    for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
      const Shaft& shaft = assembly.shafts[i];
      if (shaft.pulley < 0) continue;
      SeenPulley& pulley = view_.pulleys[at(shaft.pulley)];
      const Mesh& held = state.in_mesh[i].front();
      const double from_entry =
          (first_belt_tooth(assembly, state) + static_cast<double>(held.tooth) -
           assembly.fits[i].arc_start_teeth) *
          pitch;
      pulley.groove = angle_on_arc(placed_, shaft.pulley, from_entry);
      pulley.turned = shaft.sense * readings[i].pulley;
      add_marks(shaft, readings[i]);
    }
    view_.teeth = belt_teeth_along(assembly, state);
    view_.crank_mark_teeth = assembly.fits[0].groove_phase;
  }

  void add_marks(const Shaft& shaft, const ShaftReading& reading) {
    for (std::size_t k = 0; k < shaft.marks.size(); ++k) {
      const Mark& mark = shaft.marks[k];
      SeenMark seen;
      seen.pulley = shaft.pulley;
      seen.name = mark.name;
      seen.at = Angle::clock(mark.at_deg) + shaft.sense * reading.pulley;
      seen.radius_mm = *mark.radius_mm;  // of a pulley's mark always known
      if (shaft.timed()) {
        const Angle due = Angle::degrees(crank_deg_ * *shaft.turns_per_crank);
        seen.belongs = Angle::clock(mark.at_deg) + shaft.sense * due;
        seen.error_crank_deg = error_crank_deg(shaft, reading, Angle::degrees(crank_deg_));
      }
      view_.marks.push_back(seen);
    }
    if (!shaft.pin) return;
    const Angle at_mark =
        shaft.marks.empty() ? Angle::clock(0.0) : Angle::clock(shaft.marks.front().at_deg);
    view_.pins.push_back({shaft.pulley, at_mark + shaft.sense * reading.shaft, shaft.pin->radius_mm,
                          shaft.pin->bar, pin_of(shaft)});
  }

  // At rest the pin is as two turns by hand find it; on the way none is due.
  PinState pin_of(const Shaft& shaft) const {
    const double turns = crank_deg_ / 360.0;
    constexpr double kWholeTurns = 1e-9;
    if (std::abs(turns - std::round(turns)) > kWholeTurns) return PinState::not_due;
    for (const AfterTurns& after : answer_.judged.turns->after) {
      if (after.turns != std::lround(turns)) continue;
      for (const ShaftAfter& seen : after.shafts) {
        if (assembly_->shafts[at(seen.shaft)].pulley == shaft.pulley) return seen.pin;
      }
    }
    return PinState::not_due;
  }

  // No belt is on: grooves under the marks, else at the top; belt teeth from the crank's entry on.
  void add_drawn_phase() {
    view_.teeth = drawn_teeth(placed_, view_.pitch_mm,
                              view_.teeth_on_left ? BeltSide::left : BeltSide::right);
    for (SeenPulley& pulley : view_.pulleys) {
      if (pulley.teeth == 0) continue;
      const Pulley& from = drive_->pulleys[at(static_cast<int>(&pulley - view_.pulleys.data()))];
      const PulleySpec& spec = spec_.pulleys[at(from.listed)];
      const Angle mark = Angle::clock(spec.mark_deg.value_or(0.0));
      pulley.groove = mark;
      if (!spec.mark_deg) continue;
      const double radius = spec.mark_radius_mm.value_or(pulley.pitch_radius_mm);
      const int index = static_cast<int>(&pulley - view_.pulleys.data());
      view_.marks.push_back({index, "", mark, std::nullopt, radius, 0.0});
    }
  }

  void add_counts() {
    for (const BetweenMarks& between : answer_.judged.turns->between_marks) {
      const TeethBetween& count = between.count;
      if (!count.from_in_mesh || !count.to_in_mesh) continue;
      const bool with_travel = count.way == Way::with_travel;
      const bool both_ways = answer_.judged.turns->between_marks.size() == 1;
      if (with_travel || !count.other_way) {
        const int start = with_travel ? count.from : count.to;
        const int end = with_travel ? count.to : count.from;
        add_count(start, end, count, count.teeth, count.other_way);
        if (both_ways && count.other_way)
          add_count(end, start, count, *count.other_way, count.teeth);
        continue;
      }
      // Counted against the travel: along it lies the other way.
      add_count(count.from, count.to, count, *count.other_way, count.teeth);
      if (both_ways) add_count(count.to, count.from, count, count.teeth, count.other_way);
    }
    std::stable_sort(view_.counts.begin(), view_.counts.end(),
                     [](const SeenCount& a, const SeenCount& b) { return a.from < b.from; });
  }

  void add_count(int from, int to, const TeethBetween& between, double teeth,
                 std::optional<double> other_way) {
    const double middle_mm = coordinate_of_mark(from) + teeth / 2.0 * view_.pitch_mm;
    view_.counts.push_back(
        {from, to, teeth, other_way, between.countable(), point_along(placed_, middle_mm).at_mm});
  }

  // Of a pulley's mark with pins in, mm along travel from the crank's entry.
  double coordinate_of_mark(int pulley) const {
    double mark_deg = 0.0;
    for (const Shaft& shaft : assembly_->shafts) {
      if (shaft.pulley == pulley && !shaft.marks.empty()) mark_deg = shaft.marks[0].at_deg;
    }
    return entry_to_entry_mm(placed_, 0, pulley) +
           on_arc(placed_, pulley, Angle::clock(mark_deg)).from_entry_mm;
  }

  void add_tooth_out() {
    const Shaft* chosen = shaft_to_show();
    if (!chosen) return;
    const double radius = *chosen->edge_radius_mm();
    ToothOutExample example{chosen->pulley, radius, {}};
    const double tooth_deg = 360.0 / chosen->teeth;
    for (const double teeth : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
      const double own = teeth * tooth_deg;
      example.cases.push_back(
          {teeth, own, own / *chosen->turns_per_crank, Angle::degrees(own).radians() * radius});
    }
    for (const SeenMark& mark : view_.marks) {
      if (mark.pulley == chosen->pulley && mark.name.empty()) {
        example.this_crank_deg = mark.error_crank_deg;
      }
    }
    constexpr double kHalfWay = 0.25;  // teeth: to the next case
    for (std::size_t k = 0; k < example.cases.size(); ++k) {
      const double off = example.this_crank_deg - example.cases[k].crank_deg;
      if (std::abs(off) * *chosen->turns_per_crank <= kHalfWay * tooth_deg) {
        example.this_case = static_cast<int>(k);
      }
    }
    view_.tooth_out = std::move(example);
  }

  // The timed shaft that is furthest out; the first of equal ones.
  const Shaft* shaft_to_show() const {
    constexpr double kEqualDeg = 1e-6;  // else rounding would choose
    const Shaft* chosen = nullptr;
    double most = -1.0;
    for (const ShaftAfter& seen : answer_.judged.turns->after.front().shafts) {
      const Shaft& shaft = assembly_->shafts[at(seen.shaft)];
      if (shaft.pulley <= 0 || std::abs(seen.error_crank_deg) <= most + kEqualDeg) continue;
      most = std::abs(seen.error_crank_deg);
      chosen = &shaft;
    }
    return chosen;
  }

  void add_moves() {
    const Assembly& assembly = *assembly_;
    if (assembly.book.pulleys.size() != assembly.fitted.pulleys.size()) return;
    SeenMove moved;
    for (std::size_t i = 0; i < assembly.book_path.wheels.size(); ++i) {
      if (assembly.book.pulleys[i].name != assembly.fitted.pulleys[i].name) return;
      const Vec2& book = assembly.book_path.wheels[i].centre_mm;
      moved.book_centres_mm.push_back(book);
      moved.greatest_move_mm = std::max(moved.greatest_move_mm,
                                        (assembly.fitted_path.wheels[i].centre_mm - book).norm());
    }
    for (const HeadSpec& head : spec_.heads) {
      for (const sentences::HeadChange& change : sentences::head_changes(spec_.build, head.name)) {
        moved.said.push_back(fmt::format("{}: {}", head.name, sentences::told(change)));
      }
    }
    if (moved.said.empty() || view_.fit == Fit::by_the_book || moved.greatest_move_mm == 0.0)
      return;
    moved.book_runs = runs_of(assembly.book, assembly.book_path, ends_);
    view_.moved = std::move(moved);
  }

  // The face of the block, as long as the pulleys of its head are wide.
  void add_gaskets() {
    for (const HeadSpec& head : spec_.heads) {
      if (!head.deck_deg || !head.deck_from_crank_mm) continue;
      const Angle up = Angle::clock(*head.deck_deg);
      const Vec2 lift(std::cos(up.radians()), std::sin(up.radians()));
      const Vec2 along(lift.y(), -lift.x());
      const Vec2 crank = view_.pulleys.front().centre_mm;
      const auto cut = spec_.build.block_skim_mm.find(head.name);
      const bool is_cut = view_.fit == Fit::as_fitted && cut != spec_.build.block_skim_mm.end();
      const double high = *head.deck_from_crank_mm - (is_cut ? cut->second : 0.0);
      std::optional<double> least;
      std::optional<double> most;
      for (std::size_t i = 0; i < view_.pulleys.size(); ++i) {
        if (spec_.pulleys[at(drive_->pulleys[i].listed)].mount != head.name) continue;
        const double middle = along.dot(view_.pulleys[i].centre_mm - crank);
        const double radius = view_.pulleys[i].outside_radius_mm;
        least = std::min(least.value_or(middle - radius), middle - radius);
        most = std::max(most.value_or(middle + radius), middle + radius);
      }
      if (!least || !most) continue;
      view_.gaskets.push_back(
          {head.name, crank + high * lift + *least * along, crank + high * lift + *most * along});
    }
  }

  void add_rings() {
    if (!spec_.places || !spec_.places->placed()) return;
    for (const MeasuredPoint& point : spec_.places->points) {
      if (point.at_mm && point.ellipse) {
        view_.rings.push_back({point.name, *point.at_mm, *point.ellipse});
      }
    }
  }

  void add_tensioner() {
    if (!drive_->tensioner) return;
    const FitAnswer& judged = answer_.judged;
    const Tensioner& tensioner = *drive_->tensioner;
    SeenTensioner seen{
        tensioner.pulley, tensioner.path, {}, SettingChoice::mid_travel, {}, {}, {}, {}};
    if (assembly_) {
      seen.setting = *assembly_->fitted_setting;
      seen.choice = SettingChoice::belt_length;
    } else if (judged.route->setting) {
      seen.setting = *judged.route->setting;
      seen.choice = judged.route->choice;
    }
    if (judged.tensioner) {
      const TensionerAnswer& answer = *judged.tensioner;
      for (const Setting& other : answer.settings) {
        constexpr double kSameQ = 1e-6;
        if (std::abs(other.q - seen.setting.q) > kSameQ) seen.others.push_back(other);
      }
      if (!answer.rows.empty()) {
        seen.slack_end = answer.rows.front().place;
        seen.tight_end = answer.rows.back().place;
      }
      if (answer.kind == TensionerKind::swing) seen.tightens = answer.tightens;
    }
    view_.tensioner = std::move(seen);
  }

  const DriveSpec& spec_;
  const CheckAnswer& answer_;
  double crank_deg_;
  const Drive* drive_ = nullptr;
  const Assembly* assembly_ = nullptr;
  PlacedPath placed_;
  SideEnds ends_;
  BeltView view_;
};

}  // namespace

std::optional<BeltView> view_of(const DriveSpec& spec, const CheckAnswer& answer,
                                double crank_deg) {
  return Viewer(spec, answer, crank_deg).view();
}

}  // namespace twoturn
