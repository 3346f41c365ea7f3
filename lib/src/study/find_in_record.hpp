// A record of a job, thing by thing against what the job asks for.
#pragma once

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/job_card_answer.hpp"

namespace twoturn::study {

/// Everything that judging a record needs. `check` is of the drive on paper.
struct RecordCase {
  const DriveSpec& spec;
  const CheckAnswer& check;
  const JobCard& card;
  const Record& record;
};

/// The items of a record and what is found in them; counts are put into the answer.
RecordAnswer items_of_record(const RecordCase& job, std::vector<Finding>& findings);

/// An item, and a finding where it is not done: `brief` is its heart, for the verdict's line.
struct Judged {
  RecordItem item;
  Level level = Level::look;
  std::string brief{};
  std::string action{};
  double value = 0.0;
  double limit = 0.0;
  std::string unit{};
};
void settle(Judged judged, RecordAnswer& answer, std::vector<Finding>& findings);

void bolts_of_record(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings);
void readings_of_record(const RecordCase& job, RecordAnswer& answer,
                        std::vector<Finding>& findings);
void counts_of_record(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings);

}  // namespace twoturn::study
