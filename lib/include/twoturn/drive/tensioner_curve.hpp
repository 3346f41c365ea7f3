#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/setting.hpp"

namespace twoturn {

class MovedWheel;

/// Length of the path at setting q, and its rate dL/dq; empty without a tangent.
struct LengthAt {
  double length_mm = 0.0;
  double rate = 0.0;
};

/// A setting gives its length within this.
inline constexpr double kOnLengthMm = 1e-9;

/// How a drive's belt length depends on its tensioner, worked out once over the whole search range:
/// places where the length turns (over centre) and pieces between them on which it only rises or
/// only falls. Answers the rest from there. Holds what it needs of the drive by value, and its
/// questions change nothing: several threads may ask one curve.
class TensionerCurve {
 public:
  explicit TensionerCurve(const Drive& drive);

  std::optional<LengthAt> at(double q) const;

  /// Every setting that gives this length within 1e-9 mm and whose path a belt can take, by q; on a
  /// swing's whole circle.
  std::vector<Setting> settings_for(double length_mm) const;
  /// As above; `most_evaluations` rises to the most path evaluations that one of these roots took
  /// once it was bracketed.
  std::vector<Setting> settings_for(double length_mm, int& most_evaluations) const;

  Setting describe(double q) const;
  /// The same with a wheel that the caller keeps for several questions, made by `scratch`; where it
  /// was put is lost. Other questions make one anew, so that they share nothing.
  Setting describe(double q, MovedWheel& work) const;
  MovedWheel scratch() const;

  /// Settings within the travel at which the belt stops tightening (a greatest length).
  std::vector<double> over_centres() const;
  /// From a setting on, the one at which the belt is longest: over centre, or the end of the usable
  /// travel.
  double longest_ahead(double q) const;
  const std::vector<UsableTravel>& usable() const { return usable_; }
  bool runs_at(double q) const;  ///< within the usable travel
  /// How much belt moving it on from the slack end to the tight end lets off in all: 0 where it
  /// tightens all along; and the same for a swing that goes there the other way round, where a belt
  /// can be all that way. Shares of the difference between its greatest and least length.
  double lets_off() const;
  std::optional<double> lets_off_the_other_way() const;
  double least_mm() const { return least_mm_; }        ///< over the usable travel
  double greatest_mm() const { return greatest_mm_; }  ///< over the usable travel

 private:
  struct Sample {
    double q;
    double length_mm;
    double rate;
    bool turning;  ///< dL/dq is zero here
    bool joined;   ///< the curve is whole from here to the next sample
  };
  enum class Side { slack, tight };
  std::optional<LengthAt> at(double q, MovedWheel& work) const;
  std::vector<double> ends_of_stretches() const;
  void sample_curve(MovedWheel& work);
  void sample_stretch(double from_q, double to_q, MovedWheel& work);
  void refine(const Sample& from, const Sample& to, int depth, MovedWheel& work);
  void find_usable(MovedWheel& work);
  void find_range(MovedWheel& work);
  void cut_unusable(double good_q, double bad_q, UsableTravel& range, Side side,
                    MovedWheel& work) const;
  std::optional<Refusal> refusal_at(double q, MovedWheel& work) const;
  double root_between(const Sample& low, const Sample& high, double length_mm, MovedWheel& work,
                      int& most_evaluations) const;
  double whole_range_mm() const;

  Tensioner tensioner_;
  Surroundings around_;
  std::vector<Wheel> wheels_;
  double tooth_mm_;
  std::vector<Sample> samples_;
  std::vector<UsableTravel> usable_;
  std::optional<double> own_length_mm_;  // of the profile's own belt, which all ask about
  std::vector<Setting> own_settings_;
  double least_mm_ = 0.0;
  double greatest_mm_ = 0.0;
};

/// Every tooth count with a setting in the travel.
std::vector<FittingCount> fitting_counts(const TensionerCurve& curve, const Belt& belt);

}  // namespace twoturn
