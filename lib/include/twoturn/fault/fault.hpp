#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "twoturn/drive/fault_kind.hpp"

namespace twoturn {

/// The sizes that a fault comes in, evenly likely from one to the other. `typical` is what is told
/// where nothing is known of it.
struct SizeRange {
  double least = 0.0;
  double greatest = 0.0;
  double typical = 0.0;
  std::string_view unit;  ///< "mm", "deg", "teeth", "clock deg"
};

/// One thing that may have gone wrong on a drive.
struct Fault {
  FaultKind kind = FaultKind::eye;
  std::string about;    ///< the shaft, pulley, head, further mark; of a cylinder its number
  std::string other{};  ///< of two swapped the second; of slack the pulley at the run's other end
  int teeth = 0;        ///< whole ones, + early; of counts + more
  std::optional<SizeRange> size{};  ///< empty: it has none
};

/// What a bench is explained by: one fault, or two that often come together. At most one of them
/// has a size.
struct FaultCase {
  std::vector<Fault> faults;
  double weight = 0.0;  ///< prior probability, all suspects of a drive together 1

  const Fault& first() const { return faults.front(); }
  const SizeRange* size() const;
};

/// What puts a fault right; several faults share one.
enum class Remedy {
  look_square,
  move_belt,
  take_up_slack,
  right_belt,
  reset_tensioner,
  allow_for_head,
  right_part,
  reseat_pulley,
  right_mark,
  right_pin,
  come_forwards,
  release_tensioner,
  seat_belt,
  inner_mark,
  clear_the_way
};
Remedy remedy_of(const Fault& fault);
/// The remedy of all that a suspect holds, with what it is done to and how far: equal where the
/// same hands would do the same.
std::string remedy_key(const FaultCase& suspect);

}  // namespace twoturn
