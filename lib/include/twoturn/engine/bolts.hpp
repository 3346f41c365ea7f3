#pragma once

#include <vector>

#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// How far a nut or bolt goes along its thread, mm, turned by so many deg. Exact.
constexpr double bolt_advance_mm(double thread_pitch_mm, double turned_deg) {
  return thread_pitch_mm * turned_deg / 360.0;
}

/// A bar of one cross-section that is pulled or squeezed along its length.
struct ElasticBar {
  double area_mm2 = 0.0;
  double length_mm = 0.0;
  double modulus_n_mm2 = 0.0;

  double stiffness_n_per_mm() const { return modulus_n_mm2 * area_mm2 / length_mm; }
};

double round_area_mm2(double diameter_mm);

/// What turning a bolt on by `advance_mm` comes to where nothing yields, settles or gives but the
/// two springs in series: the bolt, and the joint that it squeezes.
struct BoltedJoint {
  double load_n = 0.0;
  double stretch_mm = 0.0;  ///< of the bolt
  double squeeze_mm = 0.0;  ///< of the joint; with the stretch it is the advance
};

/// Both stiffnesses above 0, N for each mm. An upper bound: a bolt that yields, threads and gaskets
/// that settle, and a bolt that twists in place of turning all take from it. The load is what is
/// added by this turn alone. Derivation: lib/DERIVATIONS.md, bolts.
BoltedJoint bolted_joint(double advance_mm, double bolt_n_per_mm, double joint_n_per_mm);

/// A tightening order, by common practice, for bolts at these places: from the middle outwards in
/// a spiral; for bolts on one circle crosswise. Places as indices, first to last. Bolts whose
/// distances from the middle differ by less than a tenth of the greatest are of one round. Turned,
/// moved or scaled places have the same order but for where a round begins.
std::vector<int> usual_bolt_order(const std::vector<Vec2>& places_mm);

}  // namespace twoturn
