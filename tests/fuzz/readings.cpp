// Bytes as the readings of a face: read or refused; of what was read the slab holds every point and
// is no thicker than what the heights range over.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <string>

#include "twoturn/face/face.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/read/readings.hpp"

using namespace twoturn;

namespace {

void examine(const FaceReadings& readings) {
  const FaceAnswer answer = examine_face(readings.points, {});
  const double flatness = answer.flatness_mm();
  const auto [low, high] =
      std::minmax_element(readings.points.begin(), readings.points.end(),
                          [](const Vec3& a, const Vec3& b) { return a.z() < b.z(); });
  const double range = high->z() - low->z();
  constexpr double kRounding = 1e-9;
  double size = 1.0;
  for (const Vec3& point : readings.points) size = std::max(size, point.cwiseAbs().maxCoeff());
  if (!std::isfinite(flatness) || flatness < 0.0) throw std::logic_error("a flatness that is none");
  if (flatness > range + kRounding * size) throw std::logic_error("thicker than the heights");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr std::size_t kFew = 300;  // what it costs to examine grows with the points
  try {
    const FaceReadings readings = read_readings("fuzzed.csv", std::string(data, data + size));
    for (const Vec3& point : readings.points) {
      if (!point.allFinite()) throw std::logic_error("a point that is none");
    }
    if (readings.points.empty() || readings.points.size() > kFew) return 0;
    if (face_faults(readings.points).empty()) examine(readings);
  } catch (const InputError& error) {
    if (error.problems().empty()) throw std::logic_error("refused without a reason");
  }
  return 0;
}
