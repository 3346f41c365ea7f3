#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/drive.hpp"

namespace twoturn {

/// Where a setting stands to over centre, the place past which moving the tensioner on slackens the
/// belt again.
enum class OverCentre { before, at, past };

/// One place of the tensioner, with everything that depends on it.
struct Setting {
  double q = 0.0;
  double reading = 0.0;  ///< swing: clock angle of the roller centre, deg; slide: mm
  double travel = 0.0;   ///< 0 at the slack end, 1 at the tight end
  bool in_travel = false;
  OverCentre over_centre = OverCentre::before;
  double rate = 0.0;                ///< mm of belt a degree (swing) or a mm (slide) towards tight
  double adjustment_left_mm = 0.0;  ///< how much more belt can still be taken up; 0 past it
  double length_mm = 0.0;
  std::optional<double> pointer_deg;
  Vec2 centre_mm = Vec2::Zero();
};

/// A part of the travel in which the belt can run, and what ends it before the travel does.
struct UsableTravel {
  double from_q = 0.0;
  double to_q = 0.0;
  std::optional<Refusal> slack_cause;  ///< empty: the slack end itself
  std::optional<Refusal> tight_cause;  ///< empty: the tight end itself
};

/// Length of the path at setting q, and its rate dL/dq; empty without a tangent.
struct LengthAt {
  double length_mm = 0.0;
  double rate = 0.0;
};

/// How a drive's belt length depends on its tensioner, worked out once over the whole search range:
/// places where the length turns (over centre) and pieces between them on which it only rises or
/// only falls. Answers the rest from there.
class TensionerCurve {
 public:
  explicit TensionerCurve(const Drive& drive);

  std::optional<LengthAt> at(double q) const;

  /// Every setting that gives this length within 1e-9 mm and whose path a belt can take, by q; on a
  /// swing's whole circle.
  std::vector<Setting> settings_for(double length_mm) const;

  Setting describe(double q) const;

  /// Settings within the travel at which the belt stops tightening (a greatest length).
  std::vector<double> over_centres() const;
  const std::vector<UsableTravel>& usable() const { return usable_; }
  double least_mm() const { return least_mm_; }        ///< over the usable travel
  double greatest_mm() const { return greatest_mm_; }  ///< over the usable travel
  /// The most path evaluations that any root so far took once it was bracketed; for the benchmark.
  int most_evaluations() const { return most_evaluations_; }

 private:
  struct Sample {
    double q;
    double length_mm;
    double rate;
    bool turning;  ///< dL/dq is zero here
    bool joined;   ///< the curve is whole from here to the next sample
  };
  void sample_curve();
  void refine(const Sample& from, const Sample& to, int depth);
  void find_usable();
  void find_range();
  void cut_unusable(double good_q, double bad_q, UsableTravel& range, bool tight_side);
  std::optional<Refusal> refusal_at(double q) const;
  double root_between(const Sample& low, const Sample& high, double length_mm) const;
  double greatest_ahead(double q) const;

  const Drive& drive_;
  const TensionerPath& path_;
  std::vector<Sample> samples_;
  std::vector<UsableTravel> usable_;
  double least_mm_ = 0.0;
  double greatest_mm_ = 0.0;
  mutable std::vector<Wheel> wheels_;
  mutable TangentPath tangents_;
  mutable int most_evaluations_ = 0;
};

/// A tooth count and the places of the tensioner at which that belt is at its own length.
struct FittingCount {
  int teeth = 0;
  std::vector<Setting> settings;

  bool fits() const;  ///< at least one of them in the travel
};

/// Every tooth count with a setting in the travel.
std::vector<FittingCount> fitting_counts(const TensionerCurve& curve, double pitch_mm);

/// Of several settings the one meant: in the travel and nearest to the maker's marks; without marks
/// the first before over centre, else the first past it. nullptr when none is in the travel.
const Setting* meant_setting(const std::vector<Setting>& settings, const Tensioner& tensioner);

}  // namespace twoturn
