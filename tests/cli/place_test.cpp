// place through the command: what is placed, what contradicts, what is not tied down. The numbers
// have their evidence in tests/drive/place_scipy_test.py; here they are only told.
#include "cli/command.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

using texts::on_one_line;

const std::string kWeir =
    std::string("place '") + TWOTURN_SOURCE_DIR + "/profiles/weir-keeper.toml'";

// Crank, cam and pump, each distance of a right triangle of 90, 120 and 150 mm.
std::string triangle(const std::string& measured) {
  std::string text =
      "[belt]\nsection = \"ZA\"\nteeth = 60\n[origin]\ndefault = \"measured\"\n"
      "[[pulley]]\nname = \"crank\"\nrole = \"crankshaft\"\nteeth = 20\n"
      "[[pulley]]\nname = \"cam\"\nrole = \"camshaft\"\nteeth = 40\nnear_mm = [0, 120]\n"
      "[[pulley]]\nname = \"pump\"\nrole = \"water pump\"\nteeth = 20\nnear_mm = [90, 0]\n";
  return text + measured;
}

std::string distance(const std::string& from, const std::string& to, double mm) {
  return "[[measured]]\nfrom = \"" + from + "\"\nto = \"" + to +
         "\"\ndistance_mm = " + std::to_string(mm) + "\n";
}

const std::string kUp = "[[measured]]\nfrom = \"crank\"\nto = \"cam\"\nbearing_deg = 0\n";

std::string placed(const Bench& bench, const std::string& profile) {
  bench.write("p.toml", profile);
  return on_one_line(bench.run("place p.toml").out);
}

}  // namespace

TEST_CASE("place: centres, measurements, spares and the turn of the whole are told") {
  const Bench bench;
  const std::string text = on_one_line(done(bench, kWeir).out);
  CHECK_THAT(text, StartsWith("4 centres are placed; worst known is the cam"));
  CHECK_THAT(text, ContainsSubstring("tensioner (pivot)"));
  CHECK_THAT(text, ContainsSubstring("Nothing measured contradicts the rest. 2 more were taken"));
  CHECK_THAT(text, ContainsSubstring("turned round the crank by"));
}

TEST_CASE("place: without a spare nothing is held against the others, with one it shows") {
  const Bench bench;
  const std::string sides = distance("crank", "cam", 120.0) + distance("crank", "pump", 90.0) +
                            distance("cam", "pump", 150.0);
  const std::string bare = placed(bench, triangle(sides + kUp));
  CHECK_THAT(bare, ContainsSubstring("Every one of them was needed"));
  CHECK_THAT(bare, ContainsSubstring("3 centres are placed"));
  const std::string spare = placed(bench, triangle(sides + kUp + distance("crank", "cam", 120.1)));
  CHECK_THAT(spare, ContainsSubstring("One more was taken than needed"));
}

TEST_CASE("place: a contradiction names the measurements it may be") {
  const Bench bench;
  const std::string wrong = distance("crank", "cam", 120.0) + distance("crank", "pump", 90.0) +
                            distance("cam", "pump", 150.0) + kUp + distance("crank", "cam", 140.0);
  const std::string text = placed(bench, triangle(wrong));
  CHECK_THAT(text, ContainsSubstring("The measurements contradict each other"));
  CHECK_THAT(text, ContainsSubstring("measurement 1 (from crank to cam)"));
  CHECK_THAT(text, ContainsSubstring("measurement 5 (from crank to cam)"));
}

TEST_CASE("place: what is not tied down is told with what ties it") {
  const Bench bench;
  const std::string text = placed(bench, triangle(distance("crank", "cam", 120.0) + kUp));
  CHECK_THAT(text, StartsWith("Not placed: "));
  CHECK_THAT(text, ContainsSubstring("Not tied down:"));
  CHECK_THAT(text, ContainsSubstring("not placed"));
  CHECK_THAT(text, ContainsSubstring("the pump"));
}

TEST_CASE("commands: a list for people and one for programs name the same commands") {
  const Bench bench;
  const std::string text = done(bench, "commands").out;
  const Json document = done(bench, "commands --json").json();
  CHECK(document["commands"].size() > 10);
  for (const Json& command : document["commands"]) {
    CHECK_THAT(text, ContainsSubstring(command["name"].get<std::string>() + ": "));
    for (const Json& option : command["options"]) {
      CHECK_THAT(text, ContainsSubstring("  " + option["name"].get<std::string>()));
    }
  }
}

}  // namespace twoturn::test
