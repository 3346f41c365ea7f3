#include "twoturn/drive/spread.hpp"

#include <atomic>
#include <csignal>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "commands.hpp"
#include "progress.hpp"
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
};

SpreadQuestion question_asked(const Options& options) {
  SpreadQuestion question;
  question.samples = options.samples;
  question.seed = static_cast<std::uint32_t>(options.seed);
  if (options.law == "uniform") question.law = SpreadLaw::uniform;
  if (options.law == "limits") question.law = SpreadLaw::limits;
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
  const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
  const Spread spread(*built.fitted, question_asked(options));
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
            .one_of({"normal", "uniform", "limits"})
            .showing_default();
        command.option("--seed", options->seed, "another seed throws other drives")
            .between_counts(0, 2147483647)
            .showing_default();
        command.option("--threads", options->threads, "how many work at once; all there are")
            .between_counts(1, kMostThreads);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
