#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/study/pistons_answer.hpp"

namespace twoturn {

/// Cylinders, stroke and rod needed: else empty, and `missing` says what would supply it.
std::optional<PistonsAnswer> pistons_answer(const DriveSpec& spec, std::vector<Missing>& missing);

/// Where the pistons stand at any place of the crank.
PistonsAt pistons_at(const PistonsAnswer& answer, double crank_deg);

/// One a head, or one where there is none; empty without bore and stroke.
std::vector<CompressionAnswer> compression_answer(const DriveSpec& spec, Fit fit);

/// How much nearer a head has come to its pistons, mm: skims less gasket change; 0 by the book.
double head_nearer_mm(const DriveSpec& spec, const std::string& head, Fit fit);

/// The engine's layout as the profile gives it; 0 cylinders where their number is not known.
CylinderLayout layout_of(const EngineSpec& engine);

}  // namespace twoturn
