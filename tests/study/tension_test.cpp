// One target, four ways, and back. Evidence: an ideal string (H. C. Verma, Concepts of Physics 1,
// ex. 15.7, met through a worked-solution notebook; twice the note is four times the tension),
// statics of a run pushed at its middle, tangent lengths of two pulleys, Hooke's law.
#include "twoturn/study/tension.hpp"

#include <cmath>
#include <numbers>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

namespace {

constexpr double kCentreMm = 346.86836251;  // 8 mm, 22/44, 120 teeth: the exact inverse in teeth
const double kCrankMm = 8.0 * 22 / (2.0 * std::numbers::pi);
const double kRunMm = std::sqrt(kCentreMm * kCentreMm - kCrankMm * kCrankMm);

DriveSpec two_shafts() {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 44, kCentreMm, 120);
  spec.tension.target_n = 250.0;
  spec.tension.from = "crank";
  spec.tension.to = "cam";
  spec.belt.mass_g_per_m = 120.0;
  return spec;
}

struct Told {
  TensionAnswer answer;
  std::vector<Missing> missing;
};

Told told(const DriveSpec& spec, const TensionQuestion& question = {}) {
  Told result;
  std::vector<Missing> ignored;
  const FitAnswer judged = answer_fit(spec, Fit::as_fitted, ignored);
  REQUIRE(judged.fitted.has_value());
  REQUIRE(judged.turns.has_value());
  result.answer = tension_answer(spec, *judged.fitted, *judged.turns, question, result.missing);
  return result;
}

TensionQuestion read(TensionBy by, double value) {
  TensionQuestion question;
  question.by = by;
  question.value = value;
  question.push_n = 30.0;
  return question;
}

}  // namespace

TEST_CASE("One target is a note, a give and a tension of the same run") {
  const TensionAnswer answer = told(two_shafts()).answer;
  REQUIRE(answer.runs.size() == 2);
  const TensionRun& run = answer.runs[0];
  CHECK_THAT(run.length_mm, WithinRel(kRunMm, 1e-9));
  const double note = std::sqrt(250.0 / 0.12) / (2.0 * kRunMm / 1000.0);
  CHECK_THAT(run.note_hz.value(), WithinRel(note, 1e-9));
  CHECK_THAT(run.give_mm.value(), WithinRel(30.0 * kRunMm / (4.0 * 250.0), 1e-9));
}

TEST_CASE("Each way of saying the target says the same") {
  const DriveSpec by_newton = two_shafts();
  const TensionRun run = told(by_newton).answer.runs[0];
  DriveSpec by_note = by_newton;
  by_note.tension.target_n.reset();
  by_note.tension.target_hz = run.note_hz;
  DriveSpec by_give = by_newton;
  by_give.tension.target_n.reset();
  by_give.tension.give_mm = run.give_mm;
  by_give.tension.push_n = 30.0;
  for (const DriveSpec& spec : {by_note, by_give}) {
    CHECK_THAT(told(spec).answer.target_n.value(), WithinRel(250.0, 1e-12));
  }
}

TEST_CASE("A belt on the scale gives its mass a metre") {
  DriveSpec spec = two_shafts();
  spec.belt.mass_g_per_m.reset();
  spec.belt.weighed_g = 0.12 * 960.0;  // 120 teeth of 8 mm
  CHECK_THAT(told(spec).answer.mass_kg_per_m.value(), WithinRel(0.12, 1e-12));
}

TEST_CASE("A reading comes back as tension, with what it may be off by") {
  const TensionAnswer plain = told(two_shafts()).answer;
  const double note = plain.runs[0].note_hz.value();
  const TensionReading reading =
      told(two_shafts(), read(TensionBy::note, note)).answer.reading.value();
  CHECK_THAT(reading.tension_n, WithinRel(250.0, 1e-12));
  CHECK(reading.stands == TensionStands::fits);
  // Nothing else is unsure: T goes with the square of the note, 2 Hz of a phone come in twice.
  CHECK_THAT(reading.tension_give_n, WithinRel(250.0 * 2.0 * 2.0 / note, 1e-9));
}

TEST_CASE("Twice the note is another note, and so is half") {
  const double note = told(two_shafts()).answer.runs[0].note_hz.value();
  const auto stands = [&](double hz) {
    return told(two_shafts(), read(TensionBy::note, hz)).answer.reading->stands.value();
  };
  CHECK(stands(2.0 * note) == TensionStands::another_note_up);
  CHECK(stands(0.5 * note) == TensionStands::another_note_down);
  CHECK(stands(1.2 * note) == TensionStands::high);
  CHECK(stands(0.8 * note) == TensionStands::low);
  CHECK(stands(1.02 * note) == TensionStands::fits);
}

TEST_CASE("What a reading leaves open is neither right nor wrong") {
  TensionQuestion question = read(TensionBy::newton, 290.0);  // 15 over what is allowed
  question.give_or_take = 30.0;
  CHECK(told(two_shafts(), question).answer.reading->stands == TensionStands::open);
  question.give_or_take = 10.0;
  CHECK(told(two_shafts(), question).answer.reading->stands == TensionStands::high);
}

TEST_CASE("The pointer stands where the stretched belt has its length") {
  DriveSpec spec = drives::worked_example();
  spec.tension.target_n = 200.0;
  spec.belt.stiffness_n = 2e5;
  const TensionAnswer answer = told(spec).answer;
  REQUIRE(answer.pointer.has_value());
  REQUIRE(answer.pointer->target.has_value());
  // Hooke: 200 of 200,000 is a thousandth of 111 x 9.525.
  CHECK_THAT(answer.pointer->target->length_mm, WithinAbs(111 * 9.525 * 1.001, 1e-9));
  CHECK_THAT(answer.pointer->untensioned.length_mm, WithinAbs(111 * 9.525, 1e-9));
  spec.tension.target_n = 2000.0;  // a hundredth: more than the eccentric takes up
  CHECK_FALSE(told(spec).answer.pointer->target.has_value());
}

TEST_CASE("What cannot be read is said") {
  DriveSpec spec = two_shafts();
  spec.belt.mass_g_per_m.reset();
  const Told without = told(spec);
  CHECK_THAT(why_not(read(TensionBy::note, 90.0), without.answer), ContainsSubstring("weigh it"));
  REQUIRE_FALSE(without.missing.empty());
  CHECK(without.missing.front().key == "belt.weighed_g");
  const TensionAnswer answer = told(two_shafts()).answer;
  CHECK_THAT(why_not(read(TensionBy::give, 40.0), answer), ContainsSubstring("slack"));
  CHECK_THAT(why_not(read(TensionBy::newton, 25000.0), answer), ContainsSubstring("its unit"));
  TensionQuestion elsewhere = read(TensionBy::newton, 100.0);
  elsewhere.from = "crank";
  elsewhere.to = "moon";
  CHECK_THAT(why_not(elsewhere, answer), ContainsSubstring("no straight of belt"));
}

TEST_CASE("Bare hands are bounds that hang on length and width") {
  DriveSpec spec = two_shafts();
  const HandTests wide = told(spec).answer.hands.value();
  CHECK_FALSE(wide.twist_least_n.has_value());
  CHECK_THAT(wide.push_greatest_n, WithinRel(50.0 * kRunMm / 24.0, 1e-9));
  spec.belt.width_mm = 20.0;
  const double twenty = told(spec).answer.hands->twist_least_n.value();
  spec.belt.width_mm = 40.0;
  // The pull on its edges grows with the square of the width.
  CHECK_THAT(told(spec).answer.hands->twist_least_n.value(), WithinRel(twenty / 4.0, 1e-12));
}
