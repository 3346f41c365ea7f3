// From a recording to the lines of its spectrum that came with a rise of loudness.
#pragma once

#include <cmath>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

namespace twoturn::plucked {

inline constexpr double kLeastS = 0.115;  // what must follow a rise

double squared(double value);

/// The recording without its mean and rumble, at a rate that is enough for a belt.
struct Listened {
  std::vector<double> x;
  double rate_hz = 0.0;
  double top_hz = 0.0;       ///< what is looked at goes so far
  std::vector<double> hops;  ///< mean square of each step of `hop` samples
  std::size_t hop = 1;
};
Listened listen(const std::vector<double>& x, double rate_hz);

/// The steepest rises of loudness, steepest first, as samples. The start is one: a recording may
/// begin in the ring.
std::vector<std::size_t> rises_of(const Listened& heard);

/// Mean square over a twentieth of a second from each step on.
std::vector<double> loudness(const Listened& heard);

/// By bin; of a sine of amplitude A, A^2/4.
using Power = std::vector<double>;

struct Line {
  double hz = 0.0;
  double power = 0.0;
  double noise = 0.0;     ///< mean power of the noise there
  double log_p = 0.0;     ///< of the chance that noise is as loud
  double sigma_hz = 0.0;  ///< one sigma of its place
  double early = 0.0;     ///< power at first
  double late = 0.0;      ///< power later, over what the longest ring would have left of it
  bool stands = false;    ///< was there before the rise, or does not die away behind it
};

/// What follows one rise.
struct Behind {
  std::size_t rise = 0;        ///< sample
  std::size_t first = 0;       ///< where the window begins
  std::vector<double> window;  ///< a short rise and a long fall, as the ring has them
  double places_per_hz = 0.0;  ///< independent ones, by the window's length
  double noisy_per_hz = 0.0;   ///< by how long the sound in it lasts: fewer
  double bin_hz = 0.0;
  Power power;
  Power floor;                     ///< median of the noise
  double loudest = 0.0;            ///< power of the loudest line
  bool led_in = false;             ///< enough was recorded before it to tell what stands
  std::vector<Line> lines;         ///< loudest first
  std::optional<Line> standing{};  ///< the loudest that surely does

  std::size_t bin(double hz) const { return static_cast<std::size_t>(std::lround(hz / bin_hz)); }
};

/// Looks behind rises; keeps what it needs for Fourier's transform.
class Looker {
 public:
  explicit Looker(const Listened& heard);
  ~Looker();
  Looker(const Looker&) = delete;
  Looker& operator=(const Looker&) = delete;

  Behind look(std::size_t rise);

 private:
  class Spectra;
  const Listened& heard_;
  std::unique_ptr<Spectra> spectra_;
};

/// Finds the place of a line's top by Newton, and one sigma of it: from the noise that turns the
/// slope of the power there, to first order.
void refine(const Listened& heard, const Behind& behind, Line& line);

}  // namespace twoturn::plucked
