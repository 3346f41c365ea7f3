#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/picture/scene.hpp"

namespace twoturn {

/// Something over two turns of the crank, wound round it: the first turn is the inner ring, the
/// second the outer one, and each place stands where the crank's mark then points. A hand (groups
/// "hand", and "hand-first" or "hand-second" on its ring) stands at the start; a page may turn it.
struct TwoTurns {
  /// What is filled between a value and where it rests.
  struct Track {
    std::string name;
    std::vector<Vec2> points;  ///< crank deg, rising, within 720 (it comes round again), and value
    double rest = 0.0;
    double mm_per_unit = 1.0;  ///< on paper, outwards; inwards where negative
    scene::Fill fill = scene::Fill::light_hatch;
  };
  /// A place on a track, ringed and named.
  struct Word {
    std::size_t track = 0;
    double crank_deg = 0.0;
    double value = 0.0;
    std::string words;
  };
  /// A place in every turn.
  struct Tick {
    double crank_deg = 0.0;
    std::string words;
  };

  std::string title;
  Angle start;     ///< on paper
  int sense = -1;  ///< +1 anticlockwise
  double outwards_mm = 10.0;
  double inwards_mm = 0.0;
  std::vector<Track> tracks;
  std::vector<Word> words;
  std::vector<Tick> ticks;
};

scene::Scene two_turns_scene(const TwoTurns& turns);

}  // namespace twoturn
