#include <cmath>

#include "starter_parts.hpp"

namespace twoturn {
namespace {

// About where it stands, as anyone would say it: to the nearest cm.
Vec2 about(const Vec2& mm) {
  constexpr double kCm = 10.0;
  return {kCm * std::round(mm.x() / kCm), kCm * std::round(mm.y() / kCm)};
}

// The place that a pulley has, or its pivot; a slide has none that stays.
std::optional<Vec2>* place_of(PulleySpec& pulley) {
  if (!pulley.tensioner) return pulley.at_mm ? &pulley.at_mm : nullptr;
  SwingSpec* swing = std::get_if<SwingSpec>(&pulley.tensioner->path);
  return swing != nullptr && swing->pivot_mm ? &swing->pivot_mm : nullptr;
}

MeasuredSpec distance(const std::string& from, const Vec2& from_mm, const std::string& to,
                      const Vec2& to_mm) {
  MeasuredSpec measured;
  measured.from = from;
  measured.to = to;
  measured.distance_mm = tenth((to_mm - from_mm).norm());
  return measured;
}

}  // namespace

double tenth(double mm) { return std::round(mm * 10.0) / 10.0; }

void measure_with_calliper(DriveSpec& spec) {
  std::string crank;
  std::string cam;
  Vec2 cam_mm = Vec2::Zero();
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.role == Role::crankshaft) crank = pulley.name;
    if (pulley.role != Role::camshaft || !cam.empty()) continue;
    cam = pulley.name;
    cam_mm = *pulley.at_mm;
  }
  for (PulleySpec& pulley : spec.pulleys) {
    std::optional<Vec2>* place = place_of(pulley);
    if (pulley.role == Role::crankshaft || place == nullptr) continue;
    const Vec2 at_mm = **place;
    place->reset();
    pulley.near_mm = about(at_mm);
    MeasuredSpec from_crank = distance(crank, Vec2::Zero(), pulley.name, at_mm);
    if (pulley.name == cam) {
      // One direction is enough for the whole: by eye.
      from_crank.bearing_deg =
          std::round(Angle::radians(std::atan2(at_mm.y(), at_mm.x())).clock_deg());
      spec.measured.insert(spec.measured.begin(), from_crank);
      continue;
    }
    spec.measured.push_back(from_crank);
    spec.measured.push_back(distance(cam, cam_mm, pulley.name, at_mm));
  }
}

}  // namespace twoturn
