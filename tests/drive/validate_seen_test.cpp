#include "drive/validate_sound.hpp"
#include "twoturn/drive/choice_words.hpp"

using namespace twoturn;
using namespace validated;

namespace {

PulleySpec& crank(DriveSpec& spec) { return spec.pulleys[0]; }

void mark_both(DriveSpec& spec) {
  crank(spec).mark_deg = 0;
  spec.pulleys[2].mark_deg = 0;
}

void make_slide(DriveSpec& spec) {
  spec.pulleys[3].tensioner = TensionerSpec{SlideSpec{Vec2(1, 2), Vec2(1, 9)}, {}, {}, {}, {}, {}};
}

void without_tensioner(DriveSpec& spec) {
  spec.pulleys[3].tensioner.reset();
  spec.pulleys[3].at_mm = Vec2(-40, 176);
}

}  // namespace

TEST_CASE("Whatever can be seen at a drive is taken") {
  check_sound("pins of the crank, a cam and a geared shaft", [](DriveSpec& s) {
    s.seen.pin = {{"crank", PinFelt::in}, {"cam", PinFelt::out}, {"balance", PinFelt::tight}};
  });
  check_sound("a pin where the profile gives none", [](DriveSpec& s) {
    s.pulleys[2].pin.reset();
    s.seen.pin["cam"] = PinFelt::out;
  });
  check_sound("a further mark by its name, in each way", [](DriveSpec& s) {
    crank(s).marks = {{"damper", 0.0, 70.0}, {"flywheel", 0.0, 150.0}, {"nose", 0.0, 20.0}};
    s.seen.mark_mm["damper"] = 1.5;
    s.seen.mark_teeth["nose"] = -0.5;
    s.seen.mark_crank_deg["flywheel"] = 2;
  });
  check_sound("an auxiliary shaft that may yet be timed", [](DriveSpec& s) {
    s.pulleys[1].role = Role::auxiliary_shaft;
    s.seen.mark_teeth["pump"] = 1;
  });
  check_sound("a toothed pulley of no known role", [](DriveSpec& s) {
    s.pulleys[1].role.reset();
    s.seen.pin["pump"] = PinFelt::out;
  });
  check_sound("the greatest numbers", [](DriveSpec& s) {
    s.seen.mark_mm["cam"] = -1000;
    s.seen.mark_crank_deg["crank"] = 720;
    s.seen.give_mm = 50;
    s.seen.stop_deg = 720;
    s.seen.stops = true;
    s.seen.pointer_deg = 720;
    s.seen.prior["tooth-out"] = 1000;
  });
  for (const int turns : {0, 1, 2, 4}) {
    check_sound("whole rounds", [turns](DriveSpec& s) { s.seen.after_turns = turns; });
  }
  check_sound("a count between marks", [](DriveSpec& s) {
    mark_both(s);
    s.seen.count = {{"crank", "cam", 110}};
  });
  check_sound("where a slide stands", [](DriveSpec& s) {
    make_slide(s);
    s.seen.pointer_mm = 0;
  });
  check_sound("all faults but one ruled out", [](DriveSpec& s) {
    for (const std::string& code : words_of<FaultKind>()) s.seen.prior[code] = 0;
    s.seen.prior["eye"] = 1;
  });
}

TEST_CASE("Pins and marks that were seen belong to what keeps time") {
  check_each({
      {"a stranger's pin", [](DriveSpec& s) { s.seen.pin["cma"] = PinFelt::out; }, "seen.pin.cma",
       "\"out\"", "no timed shaft is named \"cma\"", "cam"},
      {"a roller's pin", [](DriveSpec& s) { s.seen.pin["roller"] = PinFelt::in; },
       "seen.pin.roller", "\"in\"", "roller is no timed shaft: nothing on it shows the timing"},
      {"a water pump's mark", [](DriveSpec& s) { s.seen.mark_mm["pump"] = 1; }, "seen.mark_mm.pump",
       "1 mm", "pump is no timed shaft: nothing on it shows the timing"},
      {"a stranger's mark",
       [](DriveSpec& s) {
         crank(s).marks = {{"damper", 0.0, 70.0}};
         s.seen.mark_mm["dampr"] = -1;
       },
       "seen.mark_mm.dampr", "-1 mm", "no timed shaft and no [[pulley.mark]] is named \"dampr\"",
       "damper"},
      {"a further mark has no pin",
       [](DriveSpec& s) {
         crank(s).marks = {{"damper", 0.0, 70.0}};
         s.seen.pin["damper"] = PinFelt::in;
       },
       "seen.pin.damper", "\"in\"", "no timed shaft is named \"damper\""},
      {"a mark of two shafts",
       [](DriveSpec& s) {
         crank(s).marks = {{"dot", 0.0, 70.0}};
         s.pulleys[2].marks = {{"dot", 0.0, 70.0}};
         s.seen.mark_mm["dot"] = 1;
       },
       "seen.mark_mm.dot", "1 mm",
       "more than one mark goes by \"dot\"; give the [[pulley.mark]] a name of its own"},
      {"a mark called as a shaft",
       [](DriveSpec& s) {
         crank(s).marks = {{"cam", 0.0, 70.0}};
         s.seen.mark_crank_deg["cam"] = 1;
       },
       "seen.mark_crank_deg.cam", "1 deg",
       "more than one mark goes by \"cam\"; give the [[pulley.mark]] a name of its own"},
  });
}

TEST_CASE("How far a mark stands off is said once and stays within its turn") {
  check_each({
      {"in mm and in teeth",
       [](DriveSpec& s) {
         s.seen.mark_mm["cam"] = 9.5;
         s.seen.mark_teeth["cam"] = 1;
       },
       "seen.mark_teeth.cam", "1", "the same mark is given by seen.mark_mm.cam as well; keep one"},
      {"in teeth and in crank degrees",
       [](DriveSpec& s) {
         s.seen.mark_teeth["cam"] = 1;
         s.seen.mark_crank_deg["cam"] = 18;
       },
       "seen.mark_crank_deg.cam", "18 deg",
       "the same mark is given by seen.mark_teeth.cam as well; keep one"},
      {"too far", [](DriveSpec& s) { s.seen.mark_mm["cam"] = -1000.5; }, "seen.mark_mm.cam",
       "-1000.5 mm", "must be from -1000 to 1000 mm"},
      {"no number", [](DriveSpec& s) { s.seen.mark_mm["cam"] = kNan; }, "seen.mark_mm.cam",
       "nan mm", "must be a finite number"},
      {"a cycle and more", [](DriveSpec& s) { s.seen.mark_crank_deg["cam"] = 721; },
       "seen.mark_crank_deg.cam", "721 deg", "must be from -720 to 720 deg"},
      {"a turn of the cam in teeth", [](DriveSpec& s) { s.seen.mark_teeth["cam"] = -40; },
       "seen.mark_teeth.cam", "-40", "must be less than a whole turn of cam, 40 teeth"},
      {"a turn of the damper in teeth",
       [](DriveSpec& s) {
         crank(s).marks = {{"damper", 0.0, 70.0}};
         s.seen.mark_teeth["damper"] = 20;
       },
       "seen.mark_teeth.damper", "20", "must be less than a whole turn of crank, 20 teeth"},
      {"teeth of a geared shaft", [](DriveSpec& s) { s.seen.mark_teeth["balance"] = 1; },
       "seen.mark_teeth.balance", "1",
       "the belt does not run on balance, which is geared: give mark_mm or mark_crank_deg"},
      {"no give", [](DriveSpec& s) { s.seen.give_mm = 0; }, "seen.give_mm", "0 mm",
       "must be more than 0"},
      {"a blind eye", [](DriveSpec& s) { s.seen.give_mm = 51; }, "seen.give_mm", "51 mm",
       "must be 50 mm or less"},
  });
}

TEST_CASE("What was seen of pointer and crank fits this drive and itself") {
  check_each({
      {"a slide's pointer",
       [](DriveSpec& s) {
         make_slide(s);
         s.seen.pointer_deg = 90;
       },
       "seen.pointer_deg", "90 deg",
       "belongs to a tensioner that swings; of a slide give pointer_mm, from the slack end"},
      {"a swing's mm", [](DriveSpec& s) { s.seen.pointer_mm = 3; }, "seen.pointer_mm", "3 mm",
       "belongs to a slide; of a tensioner that swings give pointer_deg"},
      {"no tensioner",
       [](DriveSpec& s) {
         without_tensioner(s);
         s.seen.pointer_deg = 90;
       },
       "seen.pointer_deg", "90 deg",
       "no pulley has a tensioner's path, so there is no pointer to see"},
      {"no slide",
       [](DriveSpec& s) {
         without_tensioner(s);
         s.seen.pointer_mm = 3;
       },
       "seen.pointer_mm", "3 mm", "no pulley has a tensioner's path, so nothing slides"},
      {"beyond the slack end",
       [](DriveSpec& s) {
         make_slide(s);
         s.seen.pointer_mm = -1;
       },
       "seen.pointer_mm", "-1 mm", "must be from 0 to 10000 mm"},
      {"a pointer of no clock", [](DriveSpec& s) { s.seen.pointer_deg = 721; }, "seen.pointer_deg",
       "721 deg", "must be from -720 to 720 deg"},
      {"odd turns", [](DriveSpec& s) { s.seen.after_turns = 3; }, "seen.after_turns", "3",
       "must be 0, 1, 2 or 4 turns of the crank"},
      {"turns back", [](DriveSpec& s) { s.seen.after_turns = -1; }, "seen.after_turns", "-1",
       "must be 0, 1, 2 or 4 turns of the crank"},
      {"stopped and not",
       [](DriveSpec& s) {
         s.seen.stops = false;
         s.seen.stop_deg = 75;
       },
       "seen.stop_deg", "75 deg",
       "says where the crank stopped dead, yet stops = false; keep one of the two"},
      {"stopped before it turned", [](DriveSpec& s) { s.seen.stop_deg = -1; }, "seen.stop_deg",
       "-1 deg", "must be from 0 to 720 deg"},
  });
}

TEST_CASE("Teeth are counted between two pulleys with marks, each pair once") {
  const auto counted = [](const TeethCounted& count) {
    return [count](DriveSpec& s) {
      mark_both(s);
      s.seen.count = {count};
    };
  };
  check_each({
      {"from a stranger", counted({"crnk", "cam", 41}), "seen.count.1.from", "\"crnk\"",
       "no timed shaft is named \"crnk\"", "crank"},
      {"to a roller", counted({"crank", "roller", 41}), "seen.count.1.to", "\"roller\"",
       "roller is no timed shaft: nothing on it shows the timing"},
      {"to a geared shaft", counted({"crank", "balance", 41}), "seen.count.1.to", "\"balance\"",
       "the belt does not run on balance, which is geared: count between pulleys"},
      {"from nowhere", counted({"", "cam", 41}), "seen.count.1.from", "",
       "must name the shaft at whose mark the counting began or ended"},
      {"to itself", counted({"cam", "cam", 41}), "seen.count.1.to", "\"cam\"",
       "is where the counting began; name another shaft"},
      {"without a mark",
       [](DriveSpec& s) {
         crank(s).mark_deg = 0;
         s.seen.count = {{"crank", "cam", 41}};
       },
       "seen.count.1.to", "\"cam\"", "cam has no mark to count from: give its mark_deg"},
      {"uncounted", counted({"crank", "cam", {}}), "seen.count.1.teeth", "",
       "is missing: how many belt teeth lie from one mark to the other, the way without the "
       "tensioner"},
      {"none", counted({"crank", "cam", 0}), "seen.count.1.teeth", "0", "must be 1 or more"},
      {"the whole belt", counted({"crank", "cam", 111}), "seen.count.1.teeth", "111",
       "must be 110 or less"},
      {"twice, the other way round",
       [](DriveSpec& s) {
         mark_both(s);
         s.seen.count = {{"crank", "cam", 41}, {"cam", "crank", 40}};
       },
       "seen.count.2.to", "\"crank\"", "seen.count.1 counts between these two already; keep one"},
  });
}

TEST_CASE("Weights go to faults that there are, and leave one") {
  check_each({
      {"a stranger", [](DriveSpec& s) { s.seen.prior["tooth out"] = 3; }, "seen.prior.tooth out",
       "3", "no fault goes by the code \"tooth out\"", "tooth-out"},
      {"less than nothing", [](DriveSpec& s) { s.seen.prior["seat"] = -1; }, "seen.prior.seat",
       "-1", "must be from 0 to 1000"},
      {"certain", [](DriveSpec& s) { s.seen.prior["seat"] = kInfinite; }, "seen.prior.seat", "inf",
       "must be a finite number"},
      {"nothing left",
       [](DriveSpec& s) {
         for (const std::string& code : words_of<FaultKind>()) s.seen.prior[code] = 0;
       },
       "seen.prior", "", "rules out every fault that there is; leave one above 0"},
  });
}

TEST_CASE("A part without a name has one problem, and none where it was seen") {
  DriveSpec spec = sound();
  spec.pulleys[2].name = "";
  spec.seen.pin["cam"] = PinFelt::out;
  spec.seen.mark_mm["cam"] = 1;
  const std::vector<Problem> problems = validate(spec);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].key == "pulley.3.name");
}
