#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/setting.hpp"

namespace twoturn {

/// Why the tensioner stands where a route was taken.
enum class SettingChoice { fixed_centres, as_asked, maker_marks, belt_length, mid_travel };

struct RoutePulley {
  std::string name;
  int index = 0;  ///< in travel order
  int teeth = 0;
  Face face = Face::tooth;
  double pitch_radius_mm = 0.0;
  Vec2 centre_mm = Vec2::Zero();
  double wrap_deg = 0.0;
  std::optional<double> mesh_exact;  ///< toothed pulleys
  std::optional<int> teeth_in_mesh;
  Vec2 gradient = Vec2::Zero();  ///< dL/dcentre, mm a mm
};

struct RouteSpan {
  std::string from;
  std::string to;
  double length_mm = 0.0;
  Vec2 start_mm = Vec2::Zero();
  Vec2 end_mm = Vec2::Zero();
};

struct NamedRefusal {
  Refusal refusal;
  std::string about;  ///< the parts named
  std::string text;   ///< the sentence, with its numbers
};

/// The belt's nearest approach to one foreign part, at the route's setting and, where a tensioner
/// moves it, anywhere in the usable travel.
struct NamedApproach {
  Approach approach;
  std::string to;
  std::string piece;  ///< the run or arc of belt that comes nearest, in words
  std::optional<double> least_in_travel_mm;
  std::optional<TensionerReading> least_at_reading;
};

/// How far the belt is from one given point of a cover at the route's setting: a rule held there
/// shows whether the point was measured right.
struct CoverPoint {
  std::string cover;
  int point = 0;  ///< from 1, in the order given
  Vec2 at_mm = Vec2::Zero();
  double gap_mm = 0.0;  ///< to the belt's body; 0 or less: it touches
};

struct RouteAnswer {
  Fit fit = Fit::as_fitted;
  bool is_belt = false;
  double length_mm = 0.0;  ///< of the tangent path; 0 where there is none
  double teeth_exact = 0.0;
  SettingChoice choice = SettingChoice::fixed_centres;
  std::optional<Setting> setting;
  Order order = Order::as_listed;
  std::vector<RoutePulley> pulleys;
  std::vector<RouteSpan> spans;
  std::vector<NamedRefusal> refused;
  std::vector<NamedApproach> approaches;
  std::vector<CoverPoint> cover_points;
  PathFaults faults;  ///< what the independent look at the path found
};

}  // namespace twoturn
