// What the parts of the job sheet are made from.
#pragma once

#include <string>
#include <vector>

#include "twoturn/study/bolts_answer.hpp"
#include "twoturn/study/cautions.hpp"
#include "twoturn/study/job_card_answer.hpp"
#include "twoturn/study/sheet_answer.hpp"

namespace twoturn::sheet {

/// A profile of bolts alone has none.
inline bool has_a_belt(const DriveSpec& spec) {
  return !spec.pulleys.empty() || spec.belt.teeth.has_value();
}

/// The profile and every answer about it: what the steps and the faults are written from.
struct Job {
  const DriveSpec& spec;
  const CheckAnswer& check;
  const MarksAnswer& counts;
  const JobCard& card;

  const TurnsAnswer* turns() const { return check.judged.turns ? &*check.judged.turns : nullptr; }
  const Drive* drive() const { return check.judged.drive(); }
  bool has_belt() const { return has_a_belt(spec); }
  bool is_engine() const { return may_be_engine(spec); }
};

/// One shaft with a timing place: a pulley's, or one driven by gears.
struct TimedShaft {
  std::string name;
  std::optional<Role> role;
  double turns_per_crank = 1.0;
  std::optional<double> mark_deg;
  std::string held_by;
  std::optional<Fixing> fixing;
};
std::vector<TimedShaft> timed_shafts(const DriveSpec& spec);

/// A number for a line's text: kept with the line under its key, and printed with so many digits.
std::string put(SheetLine& line, std::string key, double value, int digits);
/// The nearest whole number, kept as that.
std::string put_whole(SheetLine& line, std::string key, double value);
/// The same as few digits as it needs.
std::string put_shortest(SheetLine& line, std::string key, double value, int digits);
std::string put_count(SheetLine& line, std::string key, long long value);
/// A clock angle: "11:32 (346.1 deg)".
std::string put_clock(SheetLine& line, std::string key, double clock_deg);
/// "18.00 crank deg (9.00 cam deg)"; only crank deg where the shaft turns with the crank.
std::string put_degrees(SheetLine& line, const std::string& key, double crank_deg, double own_deg,
                        const std::string& own);

SheetLine note(std::string text);
SheetLine tick(std::string text);

/// "crank, cam and water pump"
std::string in_words(const std::vector<std::string>& names);
std::string turning(const DriveSpec& spec);  ///< "clockwise"; empty where not given

/// Marks and pins in; pins out and holes closed.
SheetStep pins(const Job& job);
SheetStep close_up(const Job& job);
/// With the head on and the cams at their marks, unless it is parked at its mark already.
void add_way_to_mark(const Job& job, SheetStep& step);
/// Bolts at their place in the order of work: a head's, of parts that are tight before the belt
/// goes on, of pulleys that are loose until it is tight, of those again once it is, of the crank,
/// of the tensioner (whether any are given).
void add_head_bolts(const Job& job, SheetStep& step);
void add_parts_before_belt(const Job& job, SheetStep& step);
void add_loose_pulleys(const Job& job, SheetStep& step);
void add_tightened_pulleys(const Job& job, SheetStep& step);
void add_crank_bolts(const Job& job, SheetStep& step);
bool add_tensioner_bolts(const Job& job, SheetStep& step);
void add_trays(const Job& job, SheetStep& step);

std::vector<SheetStep> order_of_work(const Job& job);
/// What the job card has boxes for, but for the bolts' own grid and the trays' maps.
std::vector<SheetStep> job_card_steps(const JobCard& card);
std::vector<SheetFault> fault_card(const Job& job);
std::vector<SheetMark> marks_of(const Job& job);

}  // namespace twoturn::sheet
