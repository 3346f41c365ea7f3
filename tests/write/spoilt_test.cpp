// Demos spoilt in bytes, lines, numbers and keys: each ends in an answer whose document is whole,
// or in problems with their places; in no time worth a word.
#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <vector>

#include "fuzz/lines.hpp"
#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;

namespace {

constexpr unsigned kSeed = 20261201;
#ifdef TWOTURN_SANITIZED  // twenty times as slow
constexpr int kTexts = 500;
constexpr double kMostSeconds = 20.0;
#else
constexpr int kTexts = 10000;
constexpr double kMostSeconds = 1.0;
#endif

class Spoiler {
 public:
  std::string spoilt(std::string text) {
    const std::size_t changes = 1 + pick(3);
    for (std::size_t k = 0; k < changes && !text.empty(); ++k) {
      text = pick(4) == 0 ? bytes(std::move(text)) : lines(std::move(text));
    }
    return text;
  }

 private:
  std::size_t pick(std::size_t below) {
    return std::uniform_int_distribution<std::size_t>(0, below - 1)(random_);
  }

  std::string lines(std::string text) {
    return fuzz::Lines(std::move(text), static_cast<unsigned>(random_())).changed();
  }

  std::string bytes(std::string text) {
    const std::size_t at = pick(text.size());
    switch (pick(3)) {
      case 0:
        text[at] = static_cast<char>(pick(256));
        break;
      case 1:
        text.erase(at, 1 + pick(5));
        break;
      default:
        text.insert(at, 1, static_cast<char>(pick(256)));
        break;
    }
    return text;
  }

  std::mt19937 random_{kSeed};
};

// Empty where the answer is whole.
std::string fault_of(const std::string& text, const CheckAnswer& answer) {
  const std::string told = check_text(Heading{}, answer);
  if (text.find("nan") == std::string::npos && told.find("nan") != std::string::npos) {
    return "a number that is none";
  }
  const nlohmann::json document =
      nlohmann::json::parse(check_document(Heading{}, answer), nullptr, false);
  return document.is_discarded() ? "no JSON" : "";
}

std::string fault_of(const InputError& error) {
  if (error.problems().empty()) return "refused without a problem";
  for (const Problem& problem : error.problems()) {
    const bool placed = problem.file == "spoilt.toml" && (problem.line > 0 || !problem.key.empty());
    if (!placed || problem.rule.empty()) return "no place: " + describe(problem);
  }
  return "";
}

std::string fault_of(const std::string& text, bool& answered) {
  ProfileText profile{"spoilt.toml", text, {}};
  profile.fingerprint = ProfileText::Fingerprint::wanted;
  profile.find_table = [](const std::string& name) {
    if (name == "hill-climb-saloon-inlet.csv") return TableText{name, demos::file_text(name), ""};
    return TableText{name, "", "is not there"};
  };
  try {
    const DriveSpec spec = read_profile(profile);
    answered = true;
    return fault_of(text, check_drive(spec));
  } catch (const InputError& error) {
    return fault_of(error);
  }
}

}  // namespace

TEST_CASE("A spoilt profile gives a whole answer or problems with their places, and at once") {
  std::vector<std::string> whole;
  for (const std::string& name : demos::names()) whole.push_back(demos::text_of(name));
  Spoiler spoiler;
  int answers = 0;
  double slowest = 0.0;
  for (int k = 0; k < kTexts; ++k) {
    const std::string text = spoiler.spoilt(whole[static_cast<std::size_t>(k) % whole.size()]);
    INFO("seed " << kSeed << ", text " << k << ":\n" << text);
    const auto begun = std::chrono::steady_clock::now();
    bool answered = false;
    const std::string fault = fault_of(text, answered);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    answers += answered ? 1 : 0;
    slowest = std::max(slowest, took.count());
    if (!fault.empty()) FAIL(fault);
    if (took.count() > kMostSeconds) FAIL(took.count() << " s");
  }
  INFO(answers << " of " << kTexts << " answered, the slowest after " << slowest << " s");
  // Else it would try one end alone.
  CHECK(answers > kTexts / 10);
  CHECK(answers < kTexts - kTexts / 10);
}
