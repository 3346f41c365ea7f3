#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/job_card_answer.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/timing/marks_answer.hpp"

namespace twoturn {

/// A number that a line of the sheet prints, under a key that carries its unit.
struct SheetNumber {
  std::string key;
  double value = 0.0;
  std::string clock_face;  ///< "11:32" where it is a clock angle that is printed as one
};

/// A place to write in: what, and its unit.
struct SheetBlank {
  std::string label;
  std::string unit;
};

/// One line: something to do (with a box to tick) or to know, its numbers and its blanks.
struct SheetLine {
  enum class Kind { tick, note };

  Kind kind = Kind::tick;
  std::string text;
  std::vector<SheetNumber> numbers{};
  std::vector<SheetBlank> blanks{};
};

struct SheetStep {
  std::string code;  ///< short and stable: "belt", "tension"
  std::string title;
  std::vector<SheetLine> lines{};
};

/// What one timed shaft's mark should do, and how this drive stands. What is not known is a blank.
struct SheetMark {
  std::string shaft;
  std::string held_by;                  ///< "pin", "bar"; empty where none is given
  std::optional<double> start_deg;      ///< clock angle with pins in, and again after two turns
  std::optional<double> after_one_deg;  ///< where it belongs after one turn of the crank
  bool opposite_after_one = false;
  Direction direction = Direction::given;
  std::optional<double> off_crank_deg;  ///< as the drive stands; + early
  std::optional<double> off_edge_mm;
  PinState pin = PinState::not_given;  ///< after two turns
  bool pin_sure = true;                ///< 95 times in 100
};

struct SheetFault {
  SheetLine seen;
  SheetLine means;
};

/// The job on one side of paper: everything that any form of it prints.
struct SheetAnswer {
  Heading heading;
  CheckAnswer check;
  MarksAnswer counts;
  std::string shout;    ///< in large letters, for a stop only
  std::string must_do;  ///< then what to do about it, in one sentence
  std::string says;     ///< else the verdict's own sentence
  std::vector<SheetStep> steps;
  std::vector<SheetMark> marks;
  std::vector<SheetFault> faults;
  std::vector<std::string> found;  ///< stop and look findings, in full
  SheetLine not_checked;           ///< what the sheet says nothing of
  SheetLine origins;               ///< where its numbers come from
  std::vector<std::string> cautions;
  std::vector<std::string> names;         ///< of pulleys, shafts and heads
  JobCard job_card;                       ///< names as the profile has them
  std::vector<SheetStep> job_card_steps;  ///< its boxes, but for bolts and trays
  bool has_belt = true;                   ///< else of bolts alone: the card is all there is

  /// Bolts or trays: they take the sheet's other side.
  bool has_other_side() const { return !job_card.bolts.empty() || !job_card.trays.empty(); }
};

/// Every text of a sheet that may hold one of the profile's.
void for_every_text(SheetAnswer& sheet, const std::function<void(std::string&)>& change);

/// What became of a sheet: the form, and the file where it went to one.
struct SheetFile {
  std::string form;  ///< "page", "phone", "job card", "phone job card", "record"
  std::string path;  ///< empty: no file
  std::size_t bytes = 0;
};

}  // namespace twoturn
