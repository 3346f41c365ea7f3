#include "twoturn/load/string.hpp"
#include "support/catch.hpp"

using namespace twoturn;

TEST_CASE("a string of 40 g a metre and 400 mm under 16 N sounds 25 Hz") {
  // H. C. Verma, Concepts of Physics 1, ex. 15.7, met through a worked-solution notebook.
  const BeltString run{400.0, 0.04};
  CHECK(note_hz(run, 16.0) == Approx(25.0).epsilon(1e-14));
  CHECK(tension_of_note_n(run, 25.0) == Approx(16.0).epsilon(1e-14));
}

TEST_CASE("twice the note is four times the tension") {
  const BeltString run{163.0, 0.09};
  CHECK(tension_of_note_n(run, 240.0) == Approx(4.0 * tension_of_note_n(run, 120.0)));
}

TEST_CASE("22 N that push a run of 200 mm in by 5 mm are met by 220 N of tension") {
  // Statics: two halves of the run each hold T times 5/100, F = 2 x 220 x 0.05.
  const BeltString run{200.0, 0.0};
  CHECK(tension_of_give_n(run, 5.0, 22.0) == Approx(220.0).epsilon(1e-14));
  CHECK(give_mm(run, 220.0, 22.0) == Approx(5.0).epsilon(1e-14));
}
