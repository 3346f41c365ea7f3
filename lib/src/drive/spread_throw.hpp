// One drive of many: what is thrown, and where its belt then puts the tensioner.
#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/spread.hpp"
#include "twoturn/drive/uncertainty.hpp"

namespace twoturn::spreading {

/// One sigma's worth of an unknown, by where it lies between 0 and 1.
double off_by(double share, SpreadLaw law);
/// The standard deviation of that.
double deviation_of(SpreadLaw law);

/// One fit of the drive: where its tensioner stands with every number as given, how far it may go,
/// and which throw each of its unknowns takes.
struct Side {
  explicit Side(const Fitted& of);

  Fitted fitted;
  double q = 0.0;
  double slope = 0.0;    ///< dL/dq there
  double reading = 0.0;  ///< what is read there; fixed centres: nothing
  double rate = 0.0;     ///< mm of belt a unit of reading
  double slack_q = 0.0;
  double tight_q = 0.0;
  double most_q = 0.0;  ///< where the longest belt goes on: over centre, or the tight end
  std::vector<double> length_effects;  ///< of one sigma of each unknown, at q
  std::vector<std::size_t> throws;

  const Drive& drive() const { return fitted.drive(); }
  const std::vector<Unknown>& unknowns() const { return fitted.uncertainty().unknowns(); }
};

/// All that is solved again and again, without a word on the heap. Keeps a reference to its side.
class Sample {
 public:
  explicit Sample(const Side& side);

  void put(const std::vector<double>& off);

  double tooth_mm() const { return side_.drive().belt.tooth_mm() + pitch_off_; }
  double belt_mm() const { return *side_.drive().belt.teeth * tooth_mm(); }

  /// The path's length with the tensioner at q; a number that is none where there is no path.
  double length(double q);

  /// Where the belt has its own length: empty where that leads out of the travel. Fixed centres: 0.
  std::optional<double> setting();

  /// The whole drive with its tensioner there; false without a path.
  bool look(double q, ThrownDrive& into);

  long long evaluations = 0;

 private:
  void turn(const std::vector<double>& off);
  void place_roller(double q);

  const Side& side_;
  std::vector<Wheel> nominal_;
  std::vector<Wheel> wheels_;
  const Swing* swing_ = nullptr;
  int roller_ = -1;
  Vec2 base_ = Vec2::Zero();
  Vec2 slack_off_ = Vec2::Zero();
  Vec2 tight_off_ = Vec2::Zero();
  double pitch_off_ = 0.0;
  double arm_off_ = 0.0;
  double length_off_ = 0.0;  ///< by the gradient
};

}  // namespace twoturn::spreading
