// The belt end with its small pulleys drawn larger, for a picture that has to be small.
#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/geometry/segment.hpp"

namespace twoturn::draw {

namespace {

class Enlarger {
 public:
  Enlarger(const BeltView& view, double scale) : view_(view), scale_(scale) {
    grown_.assign(view.pulleys.size(), 0.0);
  }

  BeltView enlarged() {
    grow();
    if (std::all_of(grown_.begin(), grown_.end(), [](double by) { return by == 0.0; })) {
      return view_;
    }
    BeltView larger = view_;
    (void)path_of(grown_);
    for (std::size_t i = 0; i < larger.pulleys.size(); ++i) grow_pulley(larger, i);
    for (std::size_t i = 0; i < larger.runs.size(); ++i) {
      larger.runs[i].start_mm = path_.spans[i].start_mm;
      larger.runs[i].end_mm = path_.spans[i].end_mm;
    }
    for (SeenMark& mark : larger.marks) mark.radius_mm += grown_[at(mark.pulley)];
    for (SeenPin& pin : larger.pins) move_pin(pin);
    larger.teeth = teeth_of(larger);
    return larger;
  }

 private:
  // A little at a time each, as long as the belt still runs clear of everything.
  void grow() {
    constexpr double kStepMm = 0.25;
    for (bool any = true; any;) {
      any = false;
      for (std::size_t i = 0; i < grown_.size(); ++i) {
        const double lacks = wanted_mm(i) - view_.pulleys[i].outside_radius_mm - grown_[i];
        if (lacks <= 0.0) continue;
        std::vector<double> tried = grown_;
        tried[i] += std::min(lacks, kStepMm / scale_);
        if (!runs_clear(tried)) continue;
        grown_ = std::move(tried);
        any = true;
      }
    }
  }

  // The outside radius at which a pulley's marks can be read.
  double wanted_mm(std::size_t i) const {
    return view_.pulleys[i].teeth > 0 ? kLegibleMm / 2.0 / scale_ : 0.0;
  }

  bool path_of(const std::vector<double>& grown) {
    wheels_.clear();
    for (std::size_t i = 0; i < grown.size(); ++i) {
      const SeenPulley& pulley = view_.pulleys[i];
      wheels_.push_back({pulley.centre_mm, pulley.pitch_radius_mm + grown[i], pulley.sense});
    }
    return solve_path(wheels_, path_).solved();
  }

  bool runs_clear(const std::vector<double>& grown) {
    if (!path_of(grown)) return false;
    constexpr double kMostTurned = 0.7;  // of a wrap: more, and it is another drive
    constexpr double kLeastWrap = 0.15;
    for (std::size_t i = 0; i < wheels_.size(); ++i) {
      const double wrap = path_.wraps[i].radians();
      const double was = view_.pulleys[i].wrap.radians();
      if (std::abs(wrap - was) > kMostTurned || wrap < std::min(was, kLeastWrap)) return false;
    }
    for (std::size_t i = 0; i < wheels_.size(); ++i) {
      for (std::size_t j = 0; j < wheels_.size(); ++j) {
        if (j != i && !clear_of_pulley(i, j, grown)) return false;
        if (!clear_of_run(i, j, grown)) return false;
      }
    }
    return true;
  }

  double outside_mm(std::size_t i, const std::vector<double>& grown) const {
    return std::max(view_.pulleys[i].outside_radius_mm, view_.pulleys[i].rim_radius_mm) + grown[i];
  }

  // No nearer than a belt and some paper, or than it was.
  bool clear_of_pulley(std::size_t i, std::size_t j, const std::vector<double>& grown) const {
    constexpr double kApartMm = 2.2;
    const double apart = (view_.pulleys[i].centre_mm - view_.pulleys[j].centre_mm).norm();
    const double is = apart - outside_mm(i, grown) - outside_mm(j, grown);
    const double was = apart - outside_mm(i, none()) - outside_mm(j, none());
    return is >= std::min(was, kApartMm / scale_);
  }

  bool clear_of_run(std::size_t i, std::size_t run, const std::vector<double>& grown) const {
    if (run == i || (run + 1) % wheels_.size() == i) return true;
    constexpr double kApartMm = 1.8;
    const Vec2& centre = wheels_[i].centre_mm;
    const auto off = [&](const Vec2& from, const Vec2& to) {
      return (nearest_on({from, to}, centre) - centre).norm();
    };
    const double is =
        off(path_.spans[run].start_mm, path_.spans[run].end_mm) - outside_mm(i, grown);
    const double was =
        off(view_.runs[run].start_mm, view_.runs[run].end_mm) - outside_mm(i, none());
    return is >= std::min(was, kApartMm / scale_);
  }

  std::vector<double> none() const { return std::vector<double>(grown_.size(), 0.0); }

  void grow_pulley(BeltView& larger, std::size_t i) const {
    SeenPulley& pulley = larger.pulleys[i];
    pulley.pitch_radius_mm += grown_[i];
    pulley.outside_radius_mm += grown_[i];
    pulley.rim_radius_mm += grown_[i];
    pulley.entry = entry_angle(wheels_[i], path_, static_cast<int>(i));
    pulley.wrap = path_.wraps[i];
  }

  // With its pulley where it lies in it, else as far outside as it was.
  void move_pin(SeenPin& pin) const {
    const SeenPulley& pulley = view_.pulleys[at(pin.pulley)];
    const double by = grown_[at(pin.pulley)];
    if (pin.radius_mm > pulley.rim_radius_mm) {
      pin.radius_mm += by;
    } else {
      pin.radius_mm *= 1.0 + by / pulley.outside_radius_mm;
    }
  }

  // In the grooves, and evenly between one toothed pulley and the next.
  std::vector<SeenTooth> teeth_of(const BeltView& larger) const {
    std::vector<SeenTooth> teeth;
    const double along = view_.pitch_mm;
    double since_mm = 0.0;
    for (std::size_t i = 0; i < larger.pulleys.size(); ++i) {
      const SeenPulley& pulley = larger.pulleys[i];
      const double arc = pulley.pitch_radius_mm * pulley.wrap.radians();
      const bool grooved = pulley.teeth > 0 && pulley.groove && view_.phase_known;
      const double pitch = grooved ? kFullTurn * pulley.pitch_radius_mm / pulley.teeth : along;
      double first = along - std::fmod(since_mm, along);
      if (grooved) {
        const Angle to = (pulley.sense * (*pulley.groove - pulley.entry)).wrapped_turn();
        first = std::fmod(to.radians() * pulley.pitch_radius_mm, pitch);
      }
      double last = -std::fmod(since_mm, along);
      for (double s = first; s < arc; s += pitch) {
        const Angle there =
            pulley.entry + pulley.sense * Angle::radians(s / pulley.pitch_radius_mm);
        const bool inwards = (pulley.sense > 0) == view_.teeth_on_left;
        teeth.push_back({0, pulley.centre_mm + pulley.pitch_radius_mm * towards(there),
                         inwards ? there + Angle::degrees(180.0) : there, std::nullopt});
        last = s;
      }
      add_on_run(larger, i, arc - last, teeth, since_mm);
    }
    return teeth;
  }

  // `since` is the way from the last tooth to the run's start; afterwards to its end.
  void add_on_run(const BeltView& larger, std::size_t i, double since,
                  std::vector<SeenTooth>& teeth, double& since_mm) const {
    const SeenRun& run = larger.runs[i];
    const Vec2 way = run.end_mm - run.start_mm;
    const double length = way.norm();
    const Vec2 along = way / length;
    const double side = view_.teeth_on_left ? 1.0 : -1.0;
    const Angle tooth_side = Angle::radians(std::atan2(side * along.x(), -side * along.y()));
    double last = -since;
    for (double s = view_.pitch_mm - since; s < length; s += view_.pitch_mm) {
      if (s >= 0.0) teeth.push_back({0, run.start_mm + s * along, tooth_side, std::nullopt});
      last = s;
    }
    since_mm = length - last;
  }

  const BeltView& view_;
  double scale_;
  std::vector<double> grown_;  // of each radius, mm of engine
  std::vector<Wheel> wheels_;
  TangentPath path_;
};

}  // namespace

BeltView enlarged(const BeltView& view, double scale) { return Enlarger(view, scale).enlarged(); }

bool is_legible(const BeltView& view, double scale) {
  constexpr double kRoundingMm = 0.01;
  return std::all_of(view.pulleys.begin(), view.pulleys.end(), [&](const SeenPulley& pulley) {
    return pulley.teeth == 0 || 2.0 * scale * pulley.outside_radius_mm >= kLegibleMm - kRoundingMm;
  });
}

}  // namespace twoturn::draw
