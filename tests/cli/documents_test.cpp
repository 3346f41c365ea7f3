// What holds for every text and every document alike.
#include <algorithm>
#include <cmath>
#include <regex>
#include <set>
#include <vector>

#include "cli/command.hpp"
#include "cli/drive_valves.hpp"
#include "cli/drives.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

void write_drives(const Bench& bench) {
  bench.write("launch.toml", kLaunch);
  bench.write("valves.toml", std::string(kLaunch) + kValves);
  bench.write("diesel.toml", kDiesel);
  bench.write("fixed.toml", kFixed);
  bench.write("slide.toml", kSlide);
  bench.write("counts.toml", kCounts);
  bench.write("refused.toml", kRefused);
}

std::vector<std::string> every_question() {
  std::vector<std::string> questions{
      "sections",
      "marks --belt 111 --crank 20 --cam 40",
      "marks --belt 121 --crank 22 --cam 43 --cam 44 --section H8M --centre 380 --skim 0.3",
      "route launch.toml --at 100",
      "tensioner launch.toml --rows 4",
      "turns launch.toml --backwards",
      "turns launch.toml --turns 7 --steps --step-deg 60",
      "turns launch.toml --set belt.teeth=112",
      "turns launch.toml --set pulley.cam.teeth=39",
      "teeth fixed.toml --move motor --along 7:15",
      "teeth launch.toml --set belt.teeth=110",
      "valves valves.toml",
      "valves valves.toml --by-the-book --crank 137.5",
      "valves valves.toml --set \"build.teeth_out.cam=2 early\"",
      "park valves.toml",
      "park valves.toml --margin 4 --crank 33.3",
      "park valves.toml --set valve.inlet.lift_mm=58",
      "park --cylinders 4",
      "park --cylinders 5",
      "park --cylinders 6 --layout v --bank 90"};
  for (const char* command : {"marks", "route", "teeth", "tensioner", "turns"}) {
    for (const char* file : {"launch", "diesel", "fixed", "slide", "counts", "refused"}) {
      for (const char* fit : {"", " --by-the-book"}) {
        questions.push_back(std::string(command) + " " + file + ".toml" + fit);
      }
    }
  }
  return questions;
}

struct Contents {
  std::vector<double> numbers;
  std::set<std::string> names;   ///< strings that are the reader's own, or quoted whole
  std::set<std::string> clocks;  ///< "11:32"
};

void gather(const Json& json, const std::string& key, Contents& contents) {
  static const std::set<std::string> kNames{"profile",  "name",    "from", "to",
                                            "shaft",    "measure", "key",  "piece",
                                            "standard", "past",    "about"};
  if (json.is_number()) contents.numbers.push_back(json.get<double>());
  if (json.is_string() && kNames.count(key) > 0) contents.names.insert(json.get<std::string>());
  const bool clock = key.size() > 6 && key.rfind("_clock") == key.size() - 6;
  if (json.is_string() && clock) contents.clocks.insert(json.get<std::string>());
  if (json.is_array()) {
    for (const Json& item : json) gather(item, key, contents);
  }
  if (json.is_object()) {
    for (const auto& [name, item] : json.items()) gather(item, name, contents);
  }
}

// Takes out what is quoted from the profile, so that digits in names do not count as numbers.
std::string without_names(std::string text, const Contents& contents) {
  for (const std::string& name : contents.names) {
    if (name.find_first_of("0123456789") == std::string::npos) continue;
    for (std::size_t at = text.find(name); at != std::string::npos; at = text.find(name, at)) {
      text.replace(at, name.size(), "#");
    }
  }
  return text;
}

bool in_document(const std::string& printed, const Contents& contents) {
  const double value = std::stod(printed);
  const std::size_t dot = printed.find('.');
  const double digits =
      dot == std::string::npos ? 0.0 : static_cast<double>(printed.size() - dot - 1);
  // A whole number is exact, or the count of teeth that a person makes (within 0.05 of whole).
  const double near = digits > 0.0 ? 0.5 * std::pow(10.0, -digits) + 1e-9 : 0.05;
  for (const double number : contents.numbers) {
    if (std::abs(std::abs(number) - value) <= near) return true;
  }
  return false;
}

// What is said of how well a number is known has no more digits than that leaves, and chances stand
// in whole parts of a hundred: taken out where the document holds them to that.
std::string without_rounded(std::string text, const Contents& contents) {
  const auto near = [&](const std::string& printed, double unit) {
    const double value = std::stod(printed) * unit;
    return std::any_of(contents.numbers.begin(), contents.numbers.end(), [&](double number) {
      return std::abs(std::abs(number) - value) <= 0.5 * unit + 1e-9;
    });
  };
  const std::regex known(R"((\d+) (?:\(#\)|mm from the slack end), give or take (\d+) )");
  const std::regex whole_mm(R"([^.\d](\d+)\s+mm,\s+give\s+or\s+take\s+(\d+)(?![.\d]))");
  const std::regex chance(R"((\d+) times in 100)");
  std::string left;
  const auto take_out = [&](const std::regex& what, double unit) {
    left.clear();
    std::sregex_iterator end;
    auto rest = text.cbegin();
    for (std::sregex_iterator it(text.begin(), text.end(), what); it != end; ++it) {
      left.append(rest, text.cbegin() + it->position());
      rest = text.cbegin() + it->position() + it->length();
      for (std::size_t k = 1; k < it->size(); ++k) {
        INFO(it->str());
        CHECK(near((*it)[k].str(), unit));
      }
    }
    left.append(rest, text.cend());
    text = left;
  };
  take_out(known, 1.0);
  take_out(whole_mm, 1.0);
  take_out(chance, 0.01);
  return text;
}

TEST_CASE("Every number in a text is in the document of the same answer") {
  const Bench bench;
  write_drives(bench);
  const std::regex clock_face(R"(\b\d{1,2}:\d\d\b)");
  const std::regex printed(R"(\d+(\.\d+)?)");
  int numbers_seen = 0;
  for (const std::string& question : every_question()) {
    const Ran text = bench.run(question);
    const Ran document = bench.run(question + " --json");
    REQUIRE(text.code == document.code);
    REQUIRE(text.err.empty());
    Contents contents;
    gather(document.json(), "", contents);
    std::string words = without_names(texts::on_one_line(text.out), contents);
    for (std::sregex_iterator it(words.begin(), words.end(), clock_face), end; it != end; ++it) {
      INFO(question << ": " << it->str() << "\n" << text.out);
      CHECK(contents.clocks.count(it->str()) == 1);
    }
    words = without_rounded(std::regex_replace(words, clock_face, "#"), contents);
    for (std::sregex_iterator it(words.begin(), words.end(), printed), end; it != end; ++it) {
      INFO(question << ": " << it->str() << " after \"" << it->prefix().str() << "\"\n"
                    << text.out);
      CHECK(in_document(it->str(), contents));
      ++numbers_seen;
    }
  }
  // The test would pass on empty texts.
  CHECK(numbers_seen > 2000);
}

TEST_CASE("Text keeps within 80 columns") {
  const Bench bench;
  write_drives(bench);
  for (const std::string& question : every_question()) {
    if (question.find("--steps") != std::string::npos) continue;  // as wide as there are shafts
    std::istringstream lines(bench.run(question).out);
    std::string line;
    while (std::getline(lines, line)) {
      INFO(question << "\n" << line);
      CHECK(line.size() <= 80);
    }
  }
}

void check_numbers(const Json& json, const std::string& key, const std::string& question) {
  if (json.is_number_float()) {
    const double value = json.get<double>();
    INFO(question << ": " << key << " = " << json.dump());
    CHECK(std::isfinite(value));
    CHECK_FALSE((value == 0.0 && std::signbit(value)));
    CHECK(Json::parse(json.dump()).get<double>() == value);
  }
  if (json.is_number()) {
    // Counts, shares and ratios have no unit; everything else says its own.
    static const std::regex unit(
        "_(mm|deg|teeth|turns|n|cc|percent|mm_per_mm|mm_per_deg|per_mm|per_crank)$");
    static const std::set<std::string> plain{
        "probability",      "most_share",    "teeth",        "turns",      "travel",
        "mesh_exact",       "teeth_in_mesh", "teeth_exact",  "teeth_on",   "after_turns",
        "teeth_further_on", "off_square",    "wrong_way",    "point",      "cylinder",
        "cylinders",        "best_cylinder", "firing_order", "teeth_out",  "fitted_teeth_out",
        "most_teeth_out",   "drop_a_lift",   "ratio",        "ratio_after"};
    INFO(question << ": " << key);
    CHECK((std::regex_search(key, unit) || plain.count(key) == 1));
  }
  if (json.is_array()) {
    for (const Json& item : json) check_numbers(item, key, question);
  }
  if (json.is_object()) {
    for (const auto& [name, item] : json.items()) check_numbers(item, name, question);
  }
}

TEST_CASE("Numbers of a document round-trip, are finite, never -0, and their keys carry units") {
  const Bench bench;
  write_drives(bench);
  for (const std::string& question : every_question()) {
    const Ran ran = bench.run(question + " --json");
    const Json document = ran.json();
    CHECK(document.at("command") == question.substr(0, question.find(' ')));
    check_numbers(document, "", question);
    CHECK(ran.out.find("-0.0,") == std::string::npos);
  }
}

TEST_CASE(
    "Documents name the profile and the fit, and give the pointer wherever a setting stands") {
  const Bench bench;
  write_drives(bench);
  const Json turns = done(bench, "turns diesel.toml --json").json();
  CHECK(turns["profile"] == "Threshing shed, two-litre diesel");
  CHECK(turns["fit"] == "as fitted");
  CHECK(done(bench, "turns diesel.toml --by-the-book --json").json()["fit"] == "by the book");
  // The pointer is said to stand 45 degrees on from the roller's centre: it turns with it.
  const auto pointer_leads = [](const Json& setting) {
    const double lead = setting["pointer_deg"].get<double>() - setting["at_deg"].get<double>();
    return std::fmod(lead + 720.0, 360.0);
  };
  CHECK_THAT(pointer_leads(turns["setting"]), WithinAbs(45.0, 1e-9));
  CHECK_THAT(pointer_leads(turns["setting_by_the_book"]), WithinAbs(45.0, 1e-9));
  const Json tensioner = done(bench, "tensioner diesel.toml --json").json();
  for (const char* key : {"settings", "over_centres", "rows"}) {
    REQUIRE_FALSE(tensioner[key].empty());
    for (const Json& setting : tensioner[key]) {
      CHECK_THAT(pointer_leads(setting), WithinAbs(45.0, 1e-9));
    }
  }
  const Json unknown = done(bench, "tensioner launch.toml --json").json();
  CHECK(unknown["meant"]["pointer_deg"].is_null());
}

TEST_CASE("The same question gives the same bytes") {
  const Bench bench;
  write_drives(bench);
  for (const char* question :
       {"turns diesel.toml --json", "route launch.toml", "tensioner slide.toml"}) {
    CHECK(bench.run(question).out == bench.run(question).out);
  }
}

}  // namespace
}  // namespace twoturn::test
