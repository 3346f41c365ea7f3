#include "twoturn/drive/spread.hpp"

#include <algorithm>
#include <atomic>
#include <csignal>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "commands.hpp"
#include "progress.hpp"
#include "twoturn/base/problem.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/timing/timing_spread.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  int samples = 100000;
  int seed = 1;
  int threads = 0;
  std::string law = "normal";
  std::vector<std::string> law_of;
};

const std::vector<std::string> kLaws{"normal", "uniform", "limits"};

std::optional<SpreadLaw> law_named(const std::string& word) {
  if (word == "normal") return SpreadLaw::normal;
  if (word == "uniform") return SpreadLaw::uniform;
  if (word == "limits") return SpreadLaw::limits;
  return std::nullopt;
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& words) {
  const std::string nearest = nearest_word(word, words);
  return nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?";
}

// What may be off in either fit has a law; a number that is exact has none.
std::map<std::string, SpreadLaw> laws_asked(const std::vector<std::string>& asked,
                                            const DriveSpec& spec,
                                            const std::vector<std::string>& known) {
  std::map<std::string, SpreadLaw> laws;
  for (const std::string& one : asked) {
    const std::size_t equals = one.rfind('=');
    const std::string key = one.substr(0, equals);
    if (equals == std::string::npos || key.empty()) {
      throw UsageError("--law-of " + one +
                       ": write KEY=LAW, as in --law-of build.skim_mm.head=uniform");
    }
    const std::string word = one.substr(equals + 1);
    const std::optional<SpreadLaw> law = law_named(word);
    if (!law) {
      throw UsageError("--law-of " + one + ": a law is normal, uniform or limits" +
                       did_you_mean(word, kLaws));
    }
    if (std::find(known.begin(), known.end(), key) == known.end()) {
      const bool exact = find_given(spec, key) || find_given(spec, key + "[0]");
      throw UsageError(
          "--law-of " + one +
          (exact ? ": that number is taken as exact, or moves nothing that is spread"
                 : ": no number that may be off has that key" + did_you_mean(key, known)));
    }
    laws[key] = *law;
  }
  return laws;
}

SpreadQuestion question_asked(const Options& options) {
  SpreadQuestion question;
  question.samples = options.samples;
  question.seed = static_cast<std::uint32_t>(options.seed);
  question.law = *law_named(options.law);
  return question;
}

// Asked to stop: what is built by then is the answer, and it says how far it came.
std::atomic<int> stop_signal{0};
extern "C" void stop_building(int signal) { stop_signal = signal; }

// Lanes are dealt out as they come; their order in the answer is their own.
SpreadAnswer worked_out(const Spread& spread, int threads) {
  std::vector<std::shared_ptr<const Spread::Tally>> lanes(Spread::kLanes);
  std::atomic<int> next{0};
  Progress progress;
  std::atomic<int> done{0};
  std::signal(SIGINT, stop_building);
  std::signal(SIGTERM, stop_building);
  const auto work = [&] {
    for (int lane = next++; lane < Spread::kLanes && stop_signal == 0; lane = next++) {
      lanes[static_cast<std::size_t>(lane)] = spread.lane(lane);
      ++done;
    }
  };
  std::vector<std::thread> others;
  for (int k = 1; k < threads; ++k) others.emplace_back(work);
  for (int lane = next++; lane < Spread::kLanes && stop_signal == 0; lane = next++) {
    progress.at("building drives, " + std::to_string(100 * done / Spread::kLanes) + " in 100");
    lanes[static_cast<std::size_t>(lane)] = spread.lane(lane);
    ++done;
  }
  for (std::thread& other : others) other.join();
  return spread.answer(lanes);
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const Built built = read_and_build(asked, "spread");
  if (!built.fitted) return none(asked, built.heading, not_enough_given("how builds are spread"));
  const std::string why_not = Spread::why_not(*built.fitted);
  if (!why_not.empty()) return none(asked, built.heading, nothing_to_spread(why_not));
  SpreadQuestion question = question_asked(options);
  std::vector<std::string> known = Spread::numbers(*built.fitted);
  std::optional<SpreadBeside> beside;
  if (changes_the_drive(built.fitted->spec().build)) {
    if (const std::optional<Fitted> book = by_the_book(built)) {
      beside = timing_beside(*book, *built.fitted);
      const std::vector<std::string> of_book = Spread::numbers(*book);
      known.insert(known.end(), of_book.begin(), of_book.end());
    }
  }
  question.laws = laws_asked(options.law_of, built.spec, known);
  const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
  const Spread spread(*built.fitted, question, std::move(beside));
  const SpreadAnswer answer = worked_out(spread, options.threads > 0 ? options.threads : cores);
  constexpr int kInterrupted = 128;
  const int code = stop_signal == 0 ? kDone : kInterrupted + stop_signal.load();
  if (asked.json) return {spread_document(built.heading, answer), code};
  return {spread_text(built.heading, answer), code};
}

}  // namespace

void add_spread(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "spread", "the drive built many times within what its numbers may be off by",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::none);
        constexpr int kMostSamples = 100000000;
        constexpr int kMostThreads = 256;
        command.option("--samples", options->samples, "how many drives are built")
            .between_counts(100, kMostSamples)
            .showing_default();
        command
            .option("--law", options->law,
                    "how a number lies within its give-or-take: normal, uniform, or at its limits")
            .one_of(kLaws)
            .showing_default();
        command
            .option("--law-of", options->law_of,
                    "another law for one number, KEY=LAW (build.skim_mm.head=uniform); may be "
                    "repeated")
            .hint("KEY=LAW")
            .one_at_a_time();
        command.option("--seed", options->seed, "another seed throws other drives")
            .between_counts(0, 2147483647)
            .showing_default();
        command.option("--threads", options->threads, "how many work at once; all there are")
            .between_counts(1, kMostThreads);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
