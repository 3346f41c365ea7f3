// Bytes as the record of a demo's job: read or refused, and it never makes paper's verdict milder.
#include <cstdint>
#include <stdexcept>
#include <string>

#include "fuzz/lines.hpp"
#include "support/demos.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/read/record.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/job_card.hpp"
#include "twoturn/study/record.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;

namespace {

struct Job {
  DriveSpec spec = [] {
    ProfileText profile{"harbour-launch.toml", demos::text_of("harbour-launch"), {}};
    profile.fingerprint = ProfileText::Fingerprint::wanted;
    return read_profile(profile);
  }();
  CheckAnswer paper = check_drive(spec);
  JobCard card = job_card(spec, paper);
};

}  // namespace

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  return fuzz::mutate(data, size, most, seed, LLVMFuzzerMutate);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Job job;
  // "@" stands for the profile's fingerprint, so that the corpus outlives a change of the demo.
  std::string text(data, data + size);
  const std::size_t mark = text.find('@');
  if (mark != std::string::npos) text.replace(mark, 1, job.spec.fingerprint);
  try {
    Record record = read_record("fuzzed.toml", text, job.card);
    record.by.clear();  // who and when are told again as they are, and a name may be "Fernanda"
    record.date.clear();
    const CheckAnswer answer = with_record(job.spec, job.paper, job.card, record);
    if (answer.verdict < job.paper.verdict) throw std::logic_error("a record that quietens paper");
    if (check_text(Heading{}, answer).find("nan") != std::string::npos) {
      throw std::logic_error("a number that is none");
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) throw std::logic_error("refused without a reason");
  }
  return 0;
}
