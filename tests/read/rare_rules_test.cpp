// Rules that few profiles break, each told at its line.
#include <string>
#include <vector>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "support/texts.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

std::string said_of(const std::string& text) {
  try {
    read_profile({"p.toml", text, {}});
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

// A piece of the launch's profile written otherwise, and what is said of it.
struct Row {
  const char* piece;
  std::string otherwise;
  std::string said;
};

const char* const kSection = "section = \"ZA\"";
const char* const kPump = "name = \"water pump\"";
const char* const kRoller = "diameter_mm = 60";
const char* const kBuild = "[build]";
const char* const kPin = "pin = { radius_mm = 35, play_mm = 0.15 }";
const char* const kSkim = "skim_mm = { head = 0.3 }";

}  // namespace

TEST_CASE("Rules that few profiles break are told at their line, with what to write") {
  const std::string gear =
      "[[geared]]\nname = \"balance\"\nfrom = \"cam\"\nrole = \"balance shaft\"\n";
  const std::string guard = "[[cover]]\nname = \"guard\"\n";
  for (
      const Row& row : {

          Row{kSection, "pitch_mm = 0.375",
              "4:12: belt.pitch_mm = 0.375 mm: in inches it would be 9.525 mm: write pitch_in, and "
              "every length in inches under its _in name"},
          Row{kSection, "pitch_mm = 0.3", "4:12: belt.pitch_mm = 0.3 mm: must be 0.5 mm or more"},
          Row{kBuild, "[[bolts]]\nname = \"head bolts\"\norder = [1, 2]\n[build]",
              "42:9: bolts.head bolts.order = 2 numbers: say how many bolts there are: count, or "
              "positions_mm"},
          Row{kBuild, "[[bolts]]\nname = \"head bolts\"\ncount = 3\norder = [1, 2, 2]\n[build]",
              "43:9: bolts.head bolts.order = 3 numbers: must name each bolt from 1 to 3 once, "
              "first to last"},
          Row{kSkim, "skim_mm = { block = 0.3 }",
              "41:21: build.skim_mm.block = 0.3 mm: no [[head]] is named \"block\""},
          Row{kSkim, "skim_mm = { haed = 0.3 }",
              "41:20: build.skim_mm.haed = 0.3 mm: no [[head]] is named \"haed\"; did you mean "
              "\"head\"?"},
          Row{kSkim, "skim_mm = { head = 12 }",
              "41:20: build.skim_mm.head = 12 mm: must be from -5 to 5 mm; hundredths of a mm, or "
              "thou taken for mm?"},
          Row{kSkim, "renewed = { tensioner = { teeth = 20 } }",
              "41:35: build.renewed.tensioner.teeth = 20: tensioner is a smooth pulley; give the "
              "new diameter_mm"},
          Row{kSkim, "renewed = { cam = { diameter_mm = 20 } }",
              "41:35: build.renewed.cam.diameter_mm = 20 mm: cam has teeth; give the new number of "
              "teeth"},
          Row{kSkim, "renewed = { cam = {} }",
              "41:19: build.renewed.cam: says nothing; give the new part's teeth, diameter_mm or "
              "at_mm"},
          Row{kSkim, "renewed = { cma = { teeth = 40 } }",
              "41:19: build.renewed.cma: no [[pulley]] is named \"cma\"; did you mean \"cam\"?"},
          Row{kSkim, "renewed = { tensioner = { at_mm = [1, 2] } }",
              "41:35: build.renewed.tensioner.at_mm = [1, 2] mm: a tensioner has no one place"},
          Row{kBuild, guard + "[build]",
              "40:1: cover.guard.points_mm: a line needs 2 points or more"},
          Row{kBuild, guard + "points_mm = [[0, 0]]\n[build]",
              "42:13: cover.guard.points_mm = 1 point: a line needs 2 points or more"},
          Row{kBuild, guard + "closed = true\npoints_mm = [[0, 0], [1, 1]]\n[build]",
              ": a closed outline needs 3 points or more"},
          Row{kBuild, "[[measured]]\nto = \"cam\"\ndistance_mm = 3\n[build]",
              "40:1: measured.1.from: must name the pulley whose centre was measured"},
          Row{kBuild, "[[measured]]\nfrom = \"crnk\"\nto = \"cam\"\ndistance_mm = 3\n[build]",
              "41:8: measured.1.from = \"crnk\": no pulley has this name; did you mean \"crank\"?"},
          Row{kPump, "name = \"water\\u007Fpump\"",
              "37:8: pulley.4.name = \"water?pump\": must be one line of 60 letters at most"},
          Row{kPump, "name = \" \"",
              "37:8: pulley.4.name = \" \": each pulley needs a name to be spoken of"},
          Row{kPump, "name = \"" + std::string(100, 'x') + "\"",
              "xx...: must be one line of 60 letters at most"},
          Row{kPump, "name = \"pump\"\nturns_per_crank = 2",
              "38:19: pulley.pump.turns_per_crank = 2: is for role = \"auxiliary shaft\" alone"},
          Row{kPump, "name = \"pump\"\nrole = \"auxiliary shaft\"\nturns_per_crank = 0",
              "39:19: pulley.pump.turns_per_crank = 0: must not be 0: a shaft that stands has no "
              "time"},
          Row{kPump, "name = \"pump\"\nrole = \"injection pump\"\nturns_per_crank = 2",
              "39:19: pulley.pump.turns_per_crank = 2: the role \"injection pump\" says that "
              "already; it is for role = \"auxiliary shaft\" alone"},
          Row{kRoller, "diameter_mm = 60\ndrag_nm = 1",
              "19:11: pulley.tensioner.drag_nm = 1 Nm: a smooth pulley is taken to turn freely: it "
              "carries no timing"},
          Row{kPump, "name = \"pump\"\ndrag_nm = -1",
              "38:11: pulley.pump.drag_nm = -1 Nm: must be from 0 to 1000 Nm"},
          Row{kBuild, gear + "ratio = 0\n[build]", "44:9: geared.balance.ratio = 0: must not be 0"},
          Row{kBuild, gear + "ratio = 2\nteeth = [20, 40]\n[build]",
              "44:9: geared.balance.ratio = 2: the teeth of both gears say that already; leave one "
              "of the two out"},
          Row{kBuild,
              gear + "ratio = 2\n[[geared]]\nname = \"other\"\nfrom = \"tensioner\"\nratio = "
                     "2\n[build]",
              "47:8: geared.other.from = \"tensioner\": tensioner is a smooth pulley, which keeps "
              "no time: nothing timed can be geared off it"},
          Row{kPin,
              "mark = [{ at_deg = 3 }, { name = \"a\", at_deg = 3 }, { name = \"a\", at_deg = 4 }]",
              "35:9: pulley.cam.mark.1.name: each mark needs a name\np.toml:35:62: "
              "pulley.cam.mark.3.name = \"a\": the name is taken by another mark of this pulley"},
          Row{kPin, "mark = [{ name = \"crank\", at_deg = 3 }]\n[seen]\nmark_mm = { crank = 3 }",
              "37:21: seen.mark_mm.crank = 3 mm: more than one mark goes by \"crank\"; give the "
              "[[pulley.mark]] a name of its own"},
          Row{kPin,
              "mark = [{ name = \"damper\", at_deg = 3 }]\n[seen]\nmark_teeth = { damper = 300, "
              "tensioner = 1 }",
              "37:25: seen.mark_teeth.damper = 300: must be less than a whole turn of cam, 40 "
              "teeth\np.toml:37:42: seen.mark_teeth.tensioner = 1: tensioner is no timed shaft: "
              "nothing on it shows the timing"},
          Row{kPin, "[seen]\npin = { tensioner = \"in\", nobody = \"out\" }",
              "36:21: seen.pin.tensioner = \"in\": tensioner is no timed shaft: nothing on it "
              "shows the timing\np.toml:36:36: seen.pin.nobody = \"out\": no timed shaft is named "
              "\"nobody\""},
      }) {
    INFO(row.otherwise);
    CHECK_THAT(said_of(texts::with(samples::kLaunch, row.piece, row.otherwise)),
               StartsWith("p.toml:") && EndsWith(row.said));
  }
}
