// What is said of measured centres.
#pragma once

#include <string>

#include "twoturn/drive/place_answer.hpp"

namespace twoturn::sentences {

/// "measurement 3 (from crank to cam)", "the place given of the cam".
std::string measurement(const MeasuredRow& row);

/// Which measurement is most likely wrong, or that it cannot be told; empty where nothing looks
/// wrong.
std::string contradiction(const MeasuredPlaces& places);

/// How far the measurements can be held against each other.
std::string spare(const MeasuredPlaces& places);

/// The distance that would tie the worst centre best; empty where none does much.
std::string next_measurement(const MeasuredPlaces& places);

}  // namespace twoturn::sentences
