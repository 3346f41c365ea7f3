#pragma once

#include <cstddef>
#include <string>

namespace twoturn {

enum class PictureKind { belt_end, threading, true_size, degree_wheel, belt_strip };

/// A picture that was made: what of, how large, where it went.
struct PictureMade {
  PictureKind kind = PictureKind::belt_end;
  std::string path;  ///< empty: standard output
  std::size_t bytes = 0;
  int pages = 1;
  double crank_deg = 0.0;  ///< the moment it shows
};

}  // namespace twoturn
