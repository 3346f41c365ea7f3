// Whatever a group of bolts holds, it has its one place in the sheet's order of work.
#include <algorithm>
#include <map>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/headings.hpp"
#include "twoturn/study/sheet.hpp"

using namespace twoturn;

namespace {

DriveSpec with_bolts(DriveSpec spec, const std::optional<std::string>& part, bool staged) {
  BoltsSpec bolts;
  bolts.name = "trial bolts";
  bolts.holds = part;
  bolts.count = 3;
  if (staged) bolts.stages = {{20.0, std::nullopt}, {std::nullopt, 90.0}};
  spec.bolts = {bolts};
  return spec;
}

// The steps that say how they are tightened, a code for each line.
std::vector<std::string> steps_of(const DriveSpec& spec) {
  std::vector<std::string> codes;
  for (const SheetStep& step : sheet_of(spec, headings::of("sheet")).steps) {
    for (const SheetLine& line : step.lines) {
      if (line.text.find("Trial bolts:") != std::string::npos) codes.push_back(step.code);
    }
  }
  return codes;
}

}  // namespace

TEST_CASE("Bolts of any part of any drive are tightened in one step, at its place") {
  std::map<std::string, int> in_step;
  for (const std::string& name : demos::names()) {
    const DriveSpec spec = demos::spec_of(name);
    const auto step_for = [&](const std::optional<std::string>& part) {
      INFO(name << ": " << part.value_or("none"));
      for (const bool staged : {true, false}) {
        const std::vector<std::string> codes = steps_of(with_bolts(spec, part, staged));
        REQUIRE(codes.size() == 1);
        if (staged) ++in_step[codes.front()];
      }
      return steps_of(with_bolts(spec, part, true)).front();
    };
    CHECK(step_for(std::nullopt) == "head");
    for (const HeadSpec& head : spec.heads) CHECK(step_for(head.name) == "head");
    for (const PulleySpec& pulley : spec.pulleys) {
      // Common practice: what turns on its own bearing is tight before the belt lies on it; what
      // the belt or the pins place, and the bolt by which the crank is turned, once the belt is
      // tight.
      const bool later = pulley.tensioner || pulley.role == Role::crankshaft ||
                         pulley.fixing == Fixing::adjustable ||
                         pulley.fixing == Fixing::free_until_tightened;
      CHECK(step_for(pulley.name) == (later ? "tension" : "route"));
    }
    for (const GearedSpec& geared : spec.geared) step_for(geared.name);
  }
  CHECK(in_step["route"] > 0);
  CHECK(in_step["tension"] > 0);
}

TEST_CASE("A keyed pulley's bolts stand before the belt, in the line before its route") {
  DriveSpec spec = demos::spec_of("night-bakery-van");
  const auto pump =
      std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                   [](const PulleySpec& one) { return one.role == Role::water_pump; });
  REQUIRE(pump != spec.pulleys.end());
  const SheetAnswer sheet = sheet_of(with_bolts(spec, pump->name, true), headings::of("sheet"));
  const auto route = std::find_if(sheet.steps.begin(), sheet.steps.end(),
                                  [](const SheetStep& step) { return step.code == "route"; });
  REQUIRE(route != sheet.steps.end());
  CHECK(route->lines.front().text.find("Before the belt goes on. Trial bolts: 3, to ") == 0);
  CHECK(route->lines[1].text.find("From the crank, along the run") == 0);
}
