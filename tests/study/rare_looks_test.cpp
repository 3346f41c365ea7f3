// What check finds in few drives beside their timing: sizes, sights, tension, rooms, limits and the
// whole move.
#include "study/rare_profiles.hpp"

using namespace rare;

TEST_CASE("Sizes that are small for the belt, and lengths of another unit, are asked about") {
  const std::string own = "tooth_height_mm = 2\nthickness_mm = 4.1\nland_to_pitch_line_mm = 0.7";
  const auto belt = [&](const std::string& pitch) {
    return with(launch(), "section = \"ZA\"", pitch + "\n" + own);
  };
  check_rows({
      {kLaunch,
       {{"pulley.crank.teeth", "10"}, {"pulley.cam.teeth", "20"}},
       Level::look,
       "small-pulley",
       "crank",
       "(10 teeth, least 18)",
       "crank is small for this belt"},
      {with(with(launch(), "face = \"back\"", "face = \"tooth\""), "diameter_mm = 60",
            "diameter_mm = 30"),
       {},
       Level::look,
       "small-pulley",
       "tensioner",
       "(30 mm, least 54.57)",
       ""},
      {kLaunch,
       {{"head.head.deck_from_crank_mm", "400"}},
       Level::look,
       "below-deck",
       "cam",
       "its centre lies 27.9 mm on the block's side of the gasket face",
       "below its own head"},
      {belt("over_10_teeth_mm = 95.4"),
       {},
       Level::look,
       "nearly-a-pitch",
       "belt",
       "and over all 112 teeth the difference is 1.7 mm.",
       "as of a pitch of 9.525 mm"},
      {with(belt("over_10_teeth_mm = 95.4"), "teeth = 112\n", ""),
       {},
       Level::look,
       "nearly-a-pitch",
       "belt",
       "and over a hundred teeth the difference is 1.5 mm.",
       ""},
      {with(belt("pitch_mm = 9.525"), "diameter_mm = 60", "diameter_mm = 30"),
       {},
       Level::look,
       "radius-for-diameter",
       "tensioner",
       "belts of 9.525 mm pitch are usually bent round 50 mm and more. Is that its radius?",
       ""},
      {kLaunch,
       {{"pulley.cam.at_mm", "[0.4, 37.29]"},
        {"pulley.water pump.at_mm", "[8.2, 15.2]"},
        {kTensioner + "pivot_mm", "[-4.4, 16.8]"}},
       Level::look,
       "other-unit",
       "profile",
       "With the places 10 times as great a belt of 112 teeth goes on: were they measured in cm?",
       "places seem to be in cm"},
      {kSprayer,
       {{"pulley.cam.at_mm", "[5.8, 33.94]"},
        {"pulley.water pump.at_mm", "[-5.2, 12.8]"},
        {kTensioner + "slack_at_mm", "[9.2, 15]"},
        {kTensioner + "tight_at_mm", "[7.6, 15.5]"}},
       Level::look,
       "other-unit",
       "profile",
       "With the places 10 times as great a belt of 104 teeth goes on",
       "places seem to be in cm"},
  });
}

TEST_CASE("What was seen is a finding of its own, and what nothing holds is no proof") {
  const auto seen = [](const std::string& lines) {
    return demos::text_of(kLaunch) + "[seen]\n" + lines;
  };
  check_rows({
      {seen("[[seen.count]]\nfrom = \"crank\"\nto = \"cam\"\nteeth = 52\n"),
       {},
       Level::look,
       "seen-unused",
       "what was seen",
       "nothing that this drive's marks, pins or pointer could be",
       "nothing that was seen could be held against this drive"},
      {seen("after_turns = 2\npin = { cam = \"out\" }\n"),
       {},
       Level::look,
       "seen-fault",
       "what was seen",
       "Before anything is moved, look next at the mark of the cam.",
       "points to this"},
      {seen("pin = { cam = \"in\" }\n"),
       {},
       Level::look,
       "seen-open",
       "what was seen",
       "Nothing that was looked at is wrong, but it leaves open what would have to be put right "
       "first (29 in 100): look next at the pointer of the tensioner.",
       "leaves a fault open"},
      {seen("pin = { cam = \"in\" }\n"),
       {},
       Level::look,
       "seen-part",
       "what was seen",
       "Give seen.after_turns.",
       "after how many turns"},
      {seen("after_turns = 2\npin = { crank = \"in\", cam = \"in\" }\nmark_mm = { cam = 30 }\n"),
       {},
       Level::look,
       "seen-unexplained",
       "what was seen",
       "Nearest: nothing is wrong.",
       "no fault that is known of explains"},
      {seen("after_turns = 2\npin = { crank = \"in\", cam = \"out\" }\nmark_mm = { cam = 9.5 }\n"),
       {},
       Level::stop,
       "seen-fault",
       "what was seen",
       "the cam is 1 tooth early",
       "points to this"},
  });
  const CheckAnswer unused =
      checked(seen("[[seen.count]]\nfrom = \"crank\"\nto = \"cam\"\nteeth = 52\n"));
  CHECK(unused.verdict == Verdict::look_again);
  CHECK_THAT(unused.headline, ContainsSubstring("say what its pins and marks show."));
}

TEST_CASE("Belt tension and springs that do not go together are told with both") {
  check_rows({
      {van(),
       {{"tension.target_hz", "400"}},
       Level::look,
       "tension-beyond",
       "",
       "The tension asked for, 3263 N, stretches the belt beyond what the tensioner takes up",
       "no place of the tensioner gives the tension asked for"},
      {van(),
       {{"tension.target_hz", "50"}},
       Level::look,
       "run-slack",
       "inlet cam",
       "let the run from the inlet cam to the water pump go slack in two turns by hand, first at "
       "18 "
       "to 84 crank deg",
       "the run from the inlet cam to the water pump goes slack"},
  });
}

TEST_CASE("Rooms in the engine: farther off, free of each other, and what nobody says") {
  check_rows({
      {kLaunch,
       {{"build.skim_mm.head", "0"},
        {"build.gasket_change_mm.head", "0.3"},
        {"valve.inlet.room_tdc_mm", "1.5"}},
       Level::look,
       "valve-room",
       "inlet",
       "(the valve 0.30 mm farther from the piston than by the book and its cam 0.54 crank deg "
       "early)",
       ""},
      {kSaloon,
       {{"valve.inlet.across_mm", "16"},
        {"valve.exhaust.across_mm", "-13.5"},
        {"limits.valve_to_valve_mm", "3"}},
       Level::look,
       "valve-to-valve",
       "inlet",
       "come within 2.50 mm of each other, 8.3 crank deg after top dead centre on overlap; less "
       "than 3 "
       "mm (as given).",
       "2.50 mm between two valves"},
      {kLaunch,
       {{"valve.inlet.room_tdc_mm", "0.9"}},
       Level::stop,
       "valve-room",
       "inlet",
       "less than a quarter of 2 mm (common practice)",
       "0.25 mm between inlet valve and piston"},
      {kLaunch,
       {{"valve.inlet.room_tdc_mm", "20"}, {"valve.exhaust.room_tdc_mm", "20"}},
       Level::note,
       "no-interference",
       "valves",
       "By these numbers no valve reaches a piston wherever the cams stand: 11.20 mm at least.",
       ""},
      {no_origin(kLaunch),
       {{"valve.inlet.timed_at_lift_mm", "8.5"}},
       Level::note,
       "interference",
       "valves",
       "Valves and pistons can meet in this engine",
       ""},
  });
  const CheckAnswer bent = checked(launch(), {{"valve.inlet.timed_at_lift_mm", "8.5"}});
  const auto open =
      std::find_if(bent.not_checked.begin(), bent.not_checked.end(),
                   [](const Missing& missing) { return missing.key == "valve.inlet.opens_deg"; });
  REQUIRE(open != bent.not_checked.end());
  CHECK_THAT(open->measure, ContainsSubstring("no lobe does all of them"));
}

TEST_CASE("The whole move is told for a drive without a tensioner, and for slots after teeth") {
  const auto moves = [](const std::string& text, const std::vector<Override>& settings) {
    std::string all;
    for (const std::string& step : checked(text, settings).whole_move) all += step + "\n";
    return all;
  };
  const std::string fixed = moves(fixed_centres("role = \"water pump\"\nteeth = 20\n"
                                                "at_mm = [65, 60]\n"),
                                  {{"build.teeth_out.cam", "1 late"}});
  CHECK_THAT(fixed, StartsWith("Park the crank clear of the valves as the manual says."));
  CHECK_THAT(fixed, ContainsSubstring("Take the belt off as the manual says; never lever it."));
  CHECK_THAT(fixed, ContainsSubstring("the slack left to the last run; every mark in its place."));
  CHECK_THAT(fixed, !ContainsSubstring("tensioner"));
  const std::string clear = moves(launch(), {{"build.teeth_out.cam", "1 late"},
                                             {"engine.interference", "false"},
                                             {"valve.inlet.room_tdc_mm", "20"},
                                             {"valve.exhaust.room_tdc_mm", "20"}});
  CHECK_THAT(clear, StartsWith("Leave the crank at its mark: by what is stated no valve meets"));
  const std::string parked = moves(launch(), {{"build.teeth_out.cam", "1 late"}});
  CHECK_THAT(parked, StartsWith("Leave the crank at its mark: there every piston is clear of the "
                                "valves wherever the cams stand, by 39.94 mm, give or take 0."));
  const std::string slots = moves(demos::text_of(kSaloon), {{"build.teeth_out.inlet cam", "1 late"},
                                                            {"build.skim_mm.head", "0.5"}});
  CHECK_THAT(slots, ContainsSubstring("After that, "));
  CHECK_THAT(slots, ContainsSubstring("Park the crank as the manual says; on paper at 90."));
  CHECK_THAT(slots, ContainsSubstring("belt off: the crank back to its mark; "));
}

TEST_CASE("Limits that let more pass are named beside the verdict, stricter ones are not") {
  const auto limits = [](const std::string& near, const std::string& stop) {
    return checked(launch(), {{"limits.near_mm", near}, {"limits.stop_teeth", stop}}).headline;
  };
  CHECK_THAT(limits("1", "0.7"),
             ContainsSubstring("Judged by loosened limits (limits.stop_teeth 0.7 for 0.5, "
                               "limits.near_mm 1 for 2). The fitting itself"));
  CHECK_THAT(limits("3", "0.4"), !ContainsSubstring("loosened"));
  CHECK_THAT(limits("2", "0.5"), !ContainsSubstring("loosened"));
  const CheckAnswer example = checked(launch() + "\"pulley.cam.teeth\" = \"example\"\n");
  REQUIRE(find(example, "example-numbers", "profile") != nullptr);
  CHECK_THAT(
      find(example, "example-numbers", "profile")->text,
      StartsWith("1 number is still the example's, not this engine's: pulley.cam.teeth (line "));
  CHECK_THAT(checked(launch(), {{"origin.default", "example"}}).headline,
             ContainsSubstring("88 numbers are still the example's"));
}
