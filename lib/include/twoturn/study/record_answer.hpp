#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/study/tension_answer.hpp"

namespace twoturn {

/// What was typed of a job, value for value. Whatever is absent was left blank.
struct Record {
  struct Face {
    std::string head;
    std::optional<double> out_of_flat_mm{};
  };
  struct Stage {
    std::string group;
    int stage = 0;
    std::vector<int> done{};  ///< bolts by number, in the order in which they were done
  };
  struct Mark {
    std::string shaft;
    std::optional<bool> back{};      ///< after two turns
    std::optional<double> off_mm{};  ///< at the edge, early above nought
    std::optional<bool> pin_in{};    ///< after two turns
  };
  struct Named {
    std::string name;
    std::optional<bool> yes{};
  };
  struct Counted {
    std::string name;
    std::optional<int> count{};
  };

  std::string file;
  std::string by;
  std::string date;
  std::vector<Face> faces;
  std::vector<Stage> stages;
  std::optional<double> pointer_deg{};
  std::optional<double> roller_deg{};
  std::optional<double> roller_mm{};
  std::optional<TensionBy> tension_by{};
  double tension_read = 0.0;
  std::optional<double> tension_push_n{};
  std::optional<int> turns_by_hand{};
  std::vector<Mark> marks;
  std::vector<Named> pins_out;
  std::vector<Named> holes_closed;
  std::vector<Counted> trays_back;
  std::optional<int> pins_counted_in{};
  std::optional<int> pins_counted_out{};
  std::optional<int> holes_opened{};
  std::optional<int> holes_counted_closed{};
};

/// One thing that a job has to leave done.
struct RecordItem {
  enum class State { done, open, wrong };
  std::string what;  ///< short and stable: "bolts", "mark", "pin out"
  std::string about;
  State state = State::open;
  std::string text;                 ///< how it stands
  std::optional<double> read{};     ///< what was read or counted
  std::optional<double> wanted{};   ///< what it should be
  std::optional<double> allowed{};  ///< how far from it, or of the reading give or take
  std::string unit{};
};

/// A record held against what the job asks for.
struct RecordAnswer {
  std::string file;
  std::string by;
  std::string date;
  std::string fingerprint;
  bool paper_stops = false;  ///< the drive does, whatever the record says
  int pins_out = 0;
  int pins = 0;
  int holes_closed = 0;
  int holes = 0;
  int bolt_ticks = 0;
  int bolt_ticks_of = 0;
  int open = 0;        ///< items that are not done
  int wrong = 0;       ///< that are not as they should be
  std::string counts;  ///< "2 pins out of 2, 1 plug closed of 2"
  std::vector<RecordItem> items;

  bool complete() const { return open == 0 && wrong == 0; }
};

}  // namespace twoturn
