#pragma once

#include <span>

#include "twoturn/face/contour_lines.hpp"
#include "twoturn/picture/scene.hpp"
#include "twoturn/study/face_report.hpp"

namespace twoturn {

/// The face as a map, seen from above: contours between the measured points, high and low quarters
/// hatched and dotted, the spots that its two planes touch marked, x and y in mm. Readable in black
/// and white. The report holds heights; `points` are those it was made from, `contours` theirs.
scene::Scene face_scene(std::span<const Vec3> points, const FaceReport& report,
                        const FaceContours& contours);

}  // namespace twoturn
