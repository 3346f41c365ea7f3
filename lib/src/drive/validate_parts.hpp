#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "twoturn/base/problem.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn::validation {

inline constexpr double kFarthestMm = 10000.0;    ///< from the crank; no belt drive reaches farther
inline constexpr double kWidestAngleDeg = 720.0;  ///< of a clock angle as anyone would write it
inline constexpr double kSamePlaceMm = 1e-3;

struct Range {
  double least;
  double most;
  std::string_view unit = "";
};

/// A key under a path, put together only where a problem has to name it.
struct Key {
  Key(const char* key) : name(key) {}
  Key(const std::string& key) : name(key) {}
  Key(const std::string& table, const char* ending) : path(table), name(ending) {}
  std::string whole() const { return std::string(path).append(name); }

  std::string_view path;
  std::string_view name;
};

/// A spec under judgement and the problems found so far.
class Judge {
 public:
  explicit Judge(const DriveSpec& drive) : spec(drive) {}

  void add(std::string key, std::string value, std::string rule, std::string nearest = "");
  void range(const Key& key, std::optional<double> value, const Range& range);
  /// Above 0 and no more than `most`.
  void positive(const Key& key, std::optional<double> value, double most, std::string_view unit);
  void length(const Key& key, std::optional<double> value);  ///< above 0, mm
  void clock(const Key& key, std::optional<double> value);
  void position(const Key& key, const std::optional<Vec2>& value);
  void count(const Key& key, std::optional<int> value, int least, int most);

  const DriveSpec& spec;
  std::vector<Problem> problems;
};

/// A number as in a message, with its unit: "0.3 mm".
std::string shown(double value, std::string_view unit = "");
std::string shown(const Vec2& value);

/// "pulley.cam"; the place in the list, from 1, stands in for a missing name.
std::string path_of(std::string_view list, const std::string& name, std::size_t index);

/// The pitch that the belt's own numbers or its section give.
std::optional<double> pitch_of(const BeltSpec& belt);

void judge_belt(Judge& judge);
void judge_names(Judge& judge);
void judge_pulleys(Judge& judge);
void judge_tensioners(Judge& judge);
void judge_geared(Judge& judge);
void judge_measured(Judge& judge);
void judge_covers(Judge& judge);
void judge_build(Judge& judge);
void judge_engine(Judge& judge);
void judge_tension(Judge& judge);
void judge_bolts(Judge& judge);
void judge_access_holes(Judge& judge);
/// Of a pin: that it names one of them.
void judge_hole_of(Judge& judge, const std::string& path, const PinSpec& pin);
void judge_trays(Judge& judge);
void judge_seen(Judge& judge);
void judge_pin(Judge& judge, const std::string& path, const PinSpec& pin);
void judge_mount(Judge& judge, const std::string& path, const std::optional<std::string>& mount);

/// Whether a pulley has teeth that something can be out by, and so many; else the problem.
void judge_teeth_of(Judge& judge, const std::string& path, const std::string& value,
                    const PulleySpec& pulley, double teeth);

/// Of the one pulley that has a tensioner's path, or nullptr.
const TensionerSpec* tensioner_of(const DriveSpec& spec);

std::vector<std::string> pulley_names(const DriveSpec& spec);
std::vector<std::string> head_names(const DriveSpec& spec);

}  // namespace twoturn::validation
