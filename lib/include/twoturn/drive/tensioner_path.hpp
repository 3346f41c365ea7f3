#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "twoturn/drive/reading.hpp"
#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// A pulley centre carried round a pivot; an eccentric is one with a short arm. `sense` is +1 where
/// it tightens anticlockwise.
struct Swing {
  Vec2 pivot_mm = Vec2::Zero();
  double arm_mm = 0.0;
  Angle slack;
  Angle travel;  ///< from the slack end to the tight end, (0, 2 pi)
  int sense = 1;
};

/// A pulley centre in a straight slot.
struct Slide {
  Vec2 slack_mm = Vec2::Zero();
  Vec2 tight_mm = Vec2::Zero();
};

/// The path of a tensioner's pulley and its settings.
///
/// A setting is a single number q: radians (swing) or mm (slide) from the slack end towards the
/// tight end, never wrapped. 0 is the slack end, `travel_length()` the tight end. A swing goes on
/// past its tight end, all the way round to 2 pi, where only the question "which setting would
/// give this length" is asked.
class TensionerPath {
 public:
  explicit TensionerPath(const Swing& swing) : path_(swing) {}
  explicit TensionerPath(const Slide& slide) : path_(slide) {}

  TensionerKind kind() const { return swing() ? TensionerKind::swing : TensionerKind::slide; }
  const Swing* swing() const { return std::get_if<Swing>(&path_); }
  const Slide* slide() const { return std::get_if<Slide>(&path_); }

  double travel_length() const;
  /// End of the settings worth searching: 2 pi for a swing, the travel for a slide.
  double search_length() const;
  Vec2 centre_mm(double q) const;
  Vec2 centre_rate(double q) const;  ///< dc/dq

  double travel(double q) const { return q / travel_length(); }
  bool in_travel(double q) const;
  TensionerReading reading(double q) const;
  /// From the number of a reading of this tensioner's own kind.
  double from_reading(double reading) const;
  /// `dL/dq` as mm a degree (swing) or mm a mm (slide).
  double rate_per_reading(double dlength_dq) const;
  /// Every setting worth searching at which the pulley's centre stands this far from a point,
  /// exact, rising: where a straight run of belt to a neighbour comes or goes.
  std::vector<double> at_distance(const Vec2& point, double distance_mm) const;
  /// The smaller way between two settings: degrees (swing) or mm (slide).
  double apart(double q, double other) const;

 private:
  std::variant<Swing, Slide> path_;
};

/// One place of the tensioner.
struct TensionerPlace {
  double q = 0.0;
  TensionerReading reading;
  double travel = 0.0;  ///< 0 at the slack end, 1 at the tight end
  bool in_travel = false;
  std::optional<double> pointer_deg;
  Vec2 centre_mm = Vec2::Zero();
};

}  // namespace twoturn
