// Bytes as a profile, with the lift table that it names behind a form feed: it is read or refused
// with a place, and what was read is judged and told without a number that is none.
#include <cstdint>
#include <stdexcept>
#include <string>

#include "fuzz/lines.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  return fuzz::mutate(data, size, most, seed, LLVMFuzzerMutate);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const std::size_t behind = text.find('\f');
  ProfileText profile{"fuzzed.toml", text.substr(0, behind), {}};
  profile.fingerprint = ProfileText::Fingerprint::wanted;
  profile.find_table = [&](const std::string& name) {
    if (behind == std::string::npos) return TableText{name, "", "no such file"};
    return TableText{name, text.substr(behind + 1), ""};
  };
  try {
    const DriveSpec spec = read_profile(profile);
    const CheckAnswer answer = check_drive(spec);
    const std::string told = check_text(Heading{}, answer);
    // A name may be "finance".
    const auto appears = [&](const char* word) {
      return told.find(word) != std::string::npos && text.find(word) == std::string::npos;
    };
    if (appears("nan") || appears("inf ")) {
      throw std::logic_error("a number that is none");
    }
    if (check_document(Heading{}, answer).empty()) throw std::logic_error("no document");
  } catch (const InputError& error) {
    if (error.problems().empty()) throw std::logic_error("refused without a reason");
  }
  return 0;
}
