#pragma once

#include <string>
#include <vector>

#include "twoturn/picture/scene.hpp"

namespace twoturn {

/// A line over an x axis. Lines are told apart by their strokes and by their names at their ends.
struct PlotLine {
  std::string name;
  std::vector<Vec2> points;  ///< x and y in the units of the axes; x rises
};

/// A straight line across the plot at one value, with what it stands for.
struct PlotRule {
  enum class Across { x, y };  ///< the axis on which the value is

  Across across = Across::y;
  double value = 0.0;
  std::string words;
};

/// A place on the plot, ringed and named.
struct PlotPoint {
  Vec2 at = Vec2::Zero();
  std::string words;
};

struct Plot {
  std::string title;
  std::string x_words;  ///< with the unit: "crank deg from the timing position"
  std::string y_words;
  std::vector<PlotLine> lines;
  std::vector<PlotRule> rules;
  std::vector<PlotPoint> points;
  double least_height = 0.0;  ///< the y axis spans at least this much
  double x_step = 0.0;        ///< between figures on the x axis; 0: what is round
  /// What runs along the x axis. Two turns of the crank have a line that a page may move along
  /// (group "cursor", from its own place to that of the group "cursor-end").
  enum class Along { anything, two_turns };
  Along along = Along::anything;
};

/// The plot as a scene of this size, mm. Needs a line of two points at least.
scene::Scene plot_scene(const Plot& plot, const Vec2& size_mm);

}  // namespace twoturn
