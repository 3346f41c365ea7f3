// The parts of a face's text.
#pragma once

#include <string>

#include "twoturn/study/face_report.hpp"

namespace twoturn::face_words {

/// "hollow", "crowned", or "straight" where nothing is left of it in print.
std::string bow(double bow_mm);
std::string pin(PinState state);
/// What the drive does with the skim.
std::string skim(const FaceReport& report);

}  // namespace twoturn::face_words
