// The bench card's looks, chosen by what they tell of simulated faults.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/fault/lineup.hpp"
#include "twoturn/study/card_answer.hpp"

namespace twoturn::card {

/// What a person reads off one bench after two turns.
struct Reading {
  std::vector<bool> pin_out;    ///< by shaft
  std::vector<double> marks;    ///< by shaft, mm (own deg without a radius)
  std::vector<double> further;  ///< by further mark
  std::vector<double> counts;   ///< by pair
  double pointer = 0.0;         ///< from its place
  bool again = false;
  std::optional<LookKind> sign{};
};

struct Sample {
  int lineup = 0;
  int bench = 0;
  int end = 0;              ///< that puts it right
  std::vector<int> ends{};  ///< that and all that no look tells from it
  int label = 0;            ///< one of them, the same for as many samples as may be
  Reading clean{};          ///< as it is
  Reading read{};           ///< as it was read
};

/// What there is to look at.
struct Ground {
  const BenchLayout& layout;
  const Bench& right;  ///< without any fault
  std::vector<Look> looks;
};

Reading reading_of(const Ground& ground, const Bench& bench);

/// Samples of every lineup: as many of each, their sizes evenly over its range, read by eye.
std::vector<Sample> samples_of(const Ground& ground, const std::vector<Lineup>& lineups,
                               const std::vector<int>& ends);

/// Lists the ends that the looks do not tell apart, within two sigma over all of them together, and
/// gives each sample its label.
void find_alike(const Ground& ground, const std::vector<Lineup>& lineups,
                const std::vector<int>& ends, std::vector<Sample>& samples);

/// A question with its cuts, and the answer that a reading gives to it.
struct Question {
  CardAsk ask = CardAsk::pins;
  int part = -1;
  double more_than_mm = 0.0;
  std::vector<double> cuts{};
};

inline constexpr int kNone = 0;
inline constexpr int kAll = 1;
inline constexpr int kSeveral = 2;
inline constexpr int kOnly = 3;  ///< and the shaft's index
/// Pins and marks: those above; of what is measured the interval's number; of signs 0 or 1 and the
/// kind's number.
int answer_of(const Ground& ground, const Question& question, const Reading& reading);

struct Branch {
  int answer = 0;
  int next = -1;
  int end = -1;
  std::vector<const Sample*> samples{};

  int right() const;                ///< how many of them `end` puts right
  std::vector<int> may_be() const;  ///< `end` and what many of them are and it puts right
};
struct Node {
  Question question{};
  std::vector<Branch> branches{};
};

/// At most three looks deep and not wider than one side of paper holds. The first node is the root.
/// `lines` has what each end takes on paper.
std::vector<Node> tree_of(const Ground& ground, const std::vector<Sample>& samples,
                          const std::vector<int>& lines);

}  // namespace twoturn::card
