// Indices of the drive are int, those of the standard library are not.
#pragma once

#include <cstddef>

namespace twoturn {

constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

}  // namespace twoturn
