#pragma once

#include <span>
#include <string>

#include "twoturn/drive/compare_answer.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/study/engine_report.hpp"
#include "twoturn/study/face_report.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// Comma-separated tables (RFC 4180, lines end with CR LF): a header row whose names carry the
/// unit, numbers with a full stop that round-trip, an empty field where nothing is known.

std::string route_csv(const RouteAnswer& answer);                      ///< one row a pulley
std::string teeth_csv(const Drive& drive, const TeethAnswer& answer);  ///< one row a setting
std::string compare_csv(const CompareAnswer& answer);                  ///< one row a count
std::string tensioner_csv(const TensionerAnswer& answer);              ///< one row a place
std::string turns_csv(const TurnsAnswer& answer);                      ///< one row a step
std::string sections_csv();
/// One row a valve and whole teeth out.
std::string valves_csv(const ValvesReport& report);
/// One row a point: where it is, how high it was read, and how high it stands above the lower plane
/// of the thinnest slab.
std::string face_csv(std::span<const Vec3> points, const FaceAnswer& answer);

}  // namespace twoturn
