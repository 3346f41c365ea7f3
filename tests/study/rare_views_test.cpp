// Pictures, exercises and reports of drives of which little is known, or of which a fault shows.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/report.hpp"
#include "twoturn/study/view.hpp"
#include "twoturn/study/why.hpp"

using namespace twoturn;
using texts::with;

namespace {

const std::string kLaunch = "harbour-launch";

DriveSpec spec_of(const std::string& text) {
  ProfileText profile;
  profile.name = "p.toml";
  profile.text = text;
  return read_profile(profile);
}

BeltView view(const DriveSpec& spec, double crank_deg = 0.0) {
  const std::optional<BeltView> seen = view_of(spec, check_drive(spec), crank_deg);
  REQUIRE(seen.has_value());
  return *seen;
}

BeltView view(const std::string& text, double crank_deg = 0.0) {
  return view(spec_of(text), crank_deg);
}

std::string launch() { return demos::text_of(kLaunch); }
std::string without_teeth() { return with(launch(), "teeth = 112\n", ""); }

}  // namespace

TEST_CASE("Without a belt's count the picture has no teeth in any place, and the marks as drawn") {
  const BeltView drawn = view(without_teeth());
  CHECK_FALSE(drawn.phase_known);
  CHECK(drawn.counts.empty());
  CHECK_FALSE(drawn.tooth_out.has_value());
  REQUIRE(drawn.marks.size() == 2);
  CHECK_FALSE(drawn.marks[0].belongs.has_value());
  // The tensioner where the maker's marks put it; without them half way.
  REQUIRE(drawn.tensioner.has_value());
  CHECK_THAT(drawn.tensioner->setting.reading.value, WithinAbs(333.0, 1e-9));
  CHECK(drawn.tensioner->others.empty());
  const BeltView half_way =
      view(with(with(without_teeth(), "set_deg = 333\n", ""), "pointer_deg = 45\n", ""));
  CHECK(half_way.tensioner->choice == SettingChoice::mid_travel);
  // Turned it cannot be: pins stay in.
  CHECK(view(without_teeth(), 90.0).crank_deg == 0.0);
}

TEST_CASE("A pin without a mark stands at the top; on the way between turns none is due") {
  std::string text = with(launch(), "mark_deg = 184\n", "");
  text = with(text, "mark_deg = 352\n", "");
  const BeltView bare = view(text);
  CHECK(bare.marks.empty());
  REQUIRE(bare.pins.size() == 2);
  CHECK_THAT(bare.pins[0].at.clock_deg(), WithinAbs(0.0, 1e-9));
  CHECK(bare.pins[0].state == PinState::in);
  for (const auto& [deg, due] : {std::pair(0.0, true), std::pair(90.0, false),
                                 std::pair(360.0, true), std::pair(7.0 * 360.0, false)}) {
    INFO(deg);
    const BeltView turned = view(launch(), deg);
    CHECK((turned.pins[0].state != PinState::not_due) == due);
    CHECK(turned.crank_deg == deg);
  }
  CHECK(view(launch(), 360.0).pins[1].state == PinState::not_due);  // the cam's is half round
}

TEST_CASE("A gasket is drawn where its face is known, as wide as what stands on it") {
  const BeltView drawn = view(launch());
  REQUIRE(drawn.gaskets.size() == 1);
  // 212 mm from the crank, 4 deg from the top.
  const double high = drawn.gaskets[0].from_mm.dot(
      Vec2(std::sin(4.0 * 3.14159265358979 / 180.0), std::cos(4.0 * 3.14159265358979 / 180.0)));
  CHECK_THAT(high, WithinAbs(212.0, 1e-9));
  const BeltView cut = view(with(launch(), "skim_mm = { head = 0.2 }",
                                 "skim_mm = { head = 0.2 }\nblock_skim_mm = { head = 0.5 }"));
  CHECK_THAT((cut.gaskets[0].from_mm - drawn.gaskets[0].from_mm).norm(), WithinAbs(0.5, 1e-9));
  CHECK(view(with(launch(), "deck_from_crank_mm = 212\n", "")).gaskets.empty());
  CHECK(view(with(launch(), "deck_deg = 4\n", "")).gaskets.empty());
  CHECK(view(with(launch(), "mount = \"head\"\n", "")).gaskets.empty());
}

TEST_CASE("Sides are told by timed shafts, and by any toothed pulley where none is timed") {
  std::string text =
      launch().substr(0, launch().find("[engine]")) + "[origin]\ndefault = \"manual\"\n";
  for (const std::string line :
       {"mount = \"head\"\n", "fixing = \"keyed\"\n", "key_radius_mm = 14\n", "mark_deg = 352\n",
        "pin = { radius_mm = 35, play_mm = 0.15, access_hole = \"cam cover "
        "hole\" }\n",
        ", access_hole = \"flywheel hole\""}) {
    text = with(text, line, "");
  }
  text = with(text, "role = \"camshaft\"", "role = \"oil pump\"");
  const BeltView seen = view(text);
  REQUIRE(seen.runs.size() == 4);
  CHECK(seen.runs.front().side == Side::slack);
  CHECK(seen.runs.back().side == Side::tight);
  CHECK_FALSE((seen.tooth_out && seen.tooth_out->pulley == 0));
}

TEST_CASE("A drive on which no belt runs is drawn with why, and turns nowhere") {
  const BeltView seen =
      view(with(launch(), "[[-92, 60], [-92, 330], [-80, 420]]", "[[-62, 150], [-62, 190]]"));
  CHECK_FALSE(seen.is_belt);
  CHECK_FALSE(seen.refused.empty());
  CHECK_FALSE(seen.phase_known);
}

TEST_CASE("An exercise writes down each sign that its fault shows, and no other") {
  struct Row {
    const char* demo;
    const char* kind;
    std::optional<bool> SeenSpec::*sign;
    bool shows;
    bool sprung = false;
  };
  for (const Row& row :
       {Row{"harbour-launch", "not-seated", &SeenSpec::seated, false},
        Row{"harbour-launch", "loose-pin", &SeenSpec::rocks, true},
        Row{"harbour-launch", "slipped", &SeenSpec::same_each_try, false},
        Row{"harbour-launch", "slack-left", &SeenSpec::moved_when_tensioned, true},
        Row{"harbour-launch", "backwards", &SeenSpec::right_forwards, true, true},
        Row{"harbour-launch", "transit-pin", &SeenSpec::pointer_moves, false, true},
        Row{"orchard-sprayer", "tooth-out", &SeenSpec::seated, true}}) {
    INFO(row.demo << ' ' << row.kind);
    DriveSpec spec = demos::spec_of(row.demo);
    spec.seen.prior[row.kind] = 1000.0;
    for (PulleySpec& pulley : spec.pulleys) {
      if (pulley.tensioner && row.sprung) pulley.tensioner->holds = Holds::sprung;
    }
    std::vector<Missing> missing;
    const std::optional<Exercise> one = exercise(spec, Fit::as_fitted, 1, missing);
    REQUIRE(one.has_value());
    CHECK(word(one->hidden.suspect.first().kind) == row.kind);
    if (std::string(row.kind) == "tooth-out") {
      CHECK(one->seen.pointer_mm.has_value());
      CHECK_FALSE(one->seen.pointer_deg.has_value());
      CHECK_FALSE((one->seen.*row.sign).has_value());
      continue;
    }
    REQUIRE((one->seen.*row.sign).has_value());
    CHECK(*(one->seen.*row.sign) == row.shows);
  }
}

TEST_CASE("An exercise hides nothing that cannot be put together") {
  // On the sprayer a belt of a tooth more or less does not go on.
  DriveSpec spec = demos::spec_of("orchard-sprayer");
  spec.seen.prior["belt-count"] = 1e12;  // more than a profile may say
  std::vector<Missing> missing;
  CHECK_FALSE(exercise(spec, Fit::as_fitted, 1, missing).has_value());
}

TEST_CASE("A report has its pictures, curves and builds by chance as far as they are known") {
  Heading heading;
  const auto report = [&](const std::string& text) { return report_of(spec_of(text), heading); };
  const ReportAnswer whole = report(launch());
  CHECK(whole.spread.has_value());
  CHECK(whole.curve.has_value());
  CHECK(whole.motion.has_value());
  CHECK_FALSE(whole.nearest.crank_deg.empty());
  CHECK(whole.candidates.empty());
  const ReportAnswer open = report(without_teeth());
  CHECK_FALSE(open.spread.has_value());
  CHECK_FALSE(open.motion.has_value());
  CHECK(open.view.has_value());
  const ReportAnswer bare = report(demos::text_of("roadside-counts"));
  CHECK_FALSE(bare.view.has_value());
  CHECK(bare.nearest.crank_deg.empty());
  CHECK(bare.counts.worth.size() == 2);
  // By the numbers of what was seen, the two likeliest side by side.
  const ReportAnswer seen =
      report(launch() +
             "[seen]\nafter_turns = 2\npin = { crank = \"in\", cam = \"in\" }\n"
             "pointer_deg = \"9:00\"\n");
  REQUIRE(seen.candidates.size() == 2);
  CHECK(seen.candidates[0].probability >= seen.candidates[1].probability);
  CHECK_FALSE(seen.candidates[0].title.empty());
}
