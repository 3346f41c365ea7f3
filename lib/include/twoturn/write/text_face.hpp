#pragma once

#include <optional>
#include <span>
#include <string>

#include "twoturn/study/face_report.hpp"

namespace twoturn {

/// Plain text at 80 columns, "out of flat by" first.
std::string face_text(const FaceReport& report);
/// Every number of it and more.
std::string face_document(const FaceReport& report);
/// One row a point: where it is, how high it was read, and how high it stands above the lower plane
/// of the thinnest slab.
std::string face_csv(std::span<const Vec3> points, const FaceAnswer& answer);

}  // namespace twoturn
