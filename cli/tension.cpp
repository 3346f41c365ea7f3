#include "twoturn/study/tension.hpp"

#include <memory>

#include "commands.hpp"
#include "read_file.hpp"
#include "twoturn/read/sound.hpp"
#include "twoturn/study/tension_report.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::vector<std::string> run;
  std::optional<double> newtons;
  std::optional<double> hz;
  std::optional<double> give_mm;
  std::optional<double> push_n;
  std::optional<double> give_or_take;
  std::string sound;
};

constexpr SizeLimit kSoundSize{200'000'000,
                               "is larger than 200 MB; a few seconds of a plucked run are enough"};

TensionQuestion question_asked(const Options& options) {
  TensionQuestion question;
  if (!options.run.empty() && options.run.size() != 2) {
    throw UsageError("--run: two neighbouring pulleys, as in --run crank,cam");
  }
  if (!options.run.empty()) {
    question.from = options.run[0];
    question.to = options.run[1];
  }
  const auto take = [&](TensionBy by, const std::optional<double>& value) {
    if (!value) return;
    question.by = by;
    question.value = *value;
  };
  take(TensionBy::newton, options.newtons);
  take(TensionBy::note, options.hz);
  take(TensionBy::give, options.give_mm);
  question.give_or_take = options.give_or_take;
  question.push_n = options.push_n;
  return question;
}

NoAnswer no_reading(std::string text) {
  NoAnswer answer;
  answer.reason = "no-reading";
  answer.about = "tension";
  answer.text = std::move(text);
  return answer;
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  TensionQuestion question = question_asked(options);
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "tension");
  std::vector<Missing> open;
  const FitAnswer judged = answer_fit(spec, asked.fit(), open);
  if (!judged.fitted || !judged.turns) {
    heading.missing = open;
    return none(asked, heading, not_enough_given("how tight the belt is"));
  }
  const auto answer = [&] {
    heading.missing.clear();
    return tension_answer(spec, *judged.fitted, *judged.turns, question, heading.missing);
  };
  TensionReport report;
  report.answer = answer();
  if (!options.sound.empty()) {
    const Sound sound = read_sound(options.sound, read_file(options.sound, kSoundSize));
    PluckQuestion pluck;
    if (const TensionRun* run = run_asked(question, report.answer)) {
      pluck.expected_hz = run->note_hz;
    }
    const NoteAnswer heard = find_note(sound.samples, sound.rate_hz, pluck);
    if (const auto* nothing = std::get_if<NoNote>(&heard)) {
      return none(asked, heading, no_reading(no_note_words(*nothing)));
    }
    report.note = std::get<NoteFound>(heard);
    report.recording_s = sound.length_s();
    question.by = TensionBy::note;
    question.value = report.note->note_hz;
    question.give_or_take = options.give_or_take.value_or(report.note->give_or_take_hz);
    report.answer = answer();
  }
  const std::string why = why_not(question, report.answer);
  if (!why.empty()) return none(asked, heading, no_reading(why + "."));
  if (asked.json) return {tension_document(heading, report), kDone};
  return {tension_text(heading, report), kDone};
}

}  // namespace

void add_tension(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "tension", "how tight: newtons, notes, give and pointer; and back from a reading",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::none);
        constexpr double kLeast = 1e-3;
        constexpr double kMost = 1e5;
        command.option("--run", options->run, "the run that was measured, as in crank,cam")
            .divided_by_commas()
            .one_at_a_time();
        const Option newtons =
            command.option("--newtons", options->newtons, "a reading: tension, N")
                .within(kLeast, kMost);
        const Option hz = command.option("--hz", options->hz, "a reading: note of the plucked run")
                              .within(kLeast, kMost)
                              .excludes(newtons);
        const Option give =
            command.option("--give-mm", options->give_mm, "a reading: give at the run's middle")
                .within(kLeast, kMost)
                .excludes(newtons)
                .excludes(hz);
        command.option("--push-n", options->push_n, "the push or pull that it gave to")
            .within(kLeast, kMost);
        command
            .option("--give-or-take", options->give_or_take,
                    "how far off the reading may be, in its own unit")
            .within(0.0, kMost);
        command
            .option("--sound", options->sound,
                    "a reading: a recording of the plucked run, a WAV file")
            .hint("FILE")
            .excludes(newtons)
            .excludes(hz)
            .excludes(give);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
