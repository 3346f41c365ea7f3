#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"

namespace twoturn {

/// By what law a number lies within its give-or-take: normal (95 times in 100 within), evenly
/// anywhere within, or at one of its two limits.
enum class SpreadLaw { normal, uniform, limits };

struct SpreadQuestion {
  long long samples = 100000;
  std::uint32_t seed = 1;
  SpreadLaw law = SpreadLaw::normal;
  /// Of numbers that have another: by key, or for one number of a list "pulley.cam.at_mm[0]".
  std::map<std::string, SpreadLaw> laws;
};

/// How a number is spread over many drives.
struct Spreading {
  double mean = 0.0;
  double deviation = 0.0;  ///< standard deviation
  double low = 0.0;        ///< 95 in 100 lie from here
  double middle = 0.0;
  double high = 0.0;              ///< to here
  double linear_deviation = 0.0;  ///< by the gradient alone, for comparison
};

struct SpreadBin {
  double from = 0.0;
  double to = 0.0;
  long long count = 0;
};

struct SpreadShare {
  std::string key;
  double share = 0.0;  ///< of the linear variance
};

/// How far a timed shaft is from where it belongs, over the many drives: crank deg, + early.
struct SpreadError {
  std::string shaft;
  double nominal = 0.0;  ///< with every number as given
  /// Whether any number that may be off moves it; if not, every drive has the nominal.
  bool spreads = false;
  Spreading error;
  std::vector<SpreadShare> shares;  ///< greatest first; empty where it does not spread
};

/// What comes of building a drive many times within what its numbers may be off by.
struct SpreadAnswer {
  SpreadQuestion question;
  long long samples = 0;  ///< built; fewer than asked for where it was interrupted
  Fit fit = Fit::as_fitted;
  Direction direction = Direction::given;
  std::optional<TensionerKind> kind;  ///< empty: fixed centres
  std::optional<int> belt_teeth;
  long long not_assembled = 0;  ///< the profile's belt has no place in the travel
  double nominal = 0.0;         ///< reading with every number as given; fixed centres: mismatch, mm
  /// Of the reading over those that go together; fixed centres: of what the belt is too long, mm.
  Spreading reading;
  std::vector<SpreadBin> bins;      ///< of the same
  std::map<int, long long> counts;  ///< how many drives each tooth count goes on
  std::vector<SpreadShare> shares;  ///< greatest first
  double path_evaluations = 0.0;    ///< a sample, on average
  std::vector<SpreadError>
      errors;  ///< one a timed shaft; empty where nothing is changed by [build]
  /// Drives over which errors are spread: both fits go together. 0 where none spreads.
  long long error_samples = 0;
};

}  // namespace twoturn
