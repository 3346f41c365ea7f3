#include "twoturn/page/sheet.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>
#include <stdexcept>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/headings.hpp"
#include "twoturn/page/html_page.hpp"
#include "twoturn/page/job_card.hpp"
#include "twoturn/study/sheet.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {
namespace {

using Json = nlohmann::json;

SheetAnswer sheet_for(const DriveSpec& spec, Fit fit = Fit::as_fitted) {
  return sheet_of(spec, headings::of("sheet", spec.title, fit));
}

SheetAnswer sheet_for(const std::string& demo) { return sheet_for(demos::spec_of(demo)); }

Json document_of(const SheetAnswer& sheet) {
  return Json::parse(sheet_document(sheet, {"phone", "", 0}));
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::size_t letters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

const SheetStep& step(const SheetAnswer& sheet, const std::string& code) {
  for (const SheetStep& step : sheet.steps) {
    if (step.code == code) return step;
  }
  throw std::out_of_range("no step is called " + code);
}

bool says(const SheetStep& step, const std::string& words) {
  return std::any_of(step.lines.begin(), step.lines.end(), [&](const SheetLine& line) {
    return line.text.find(words) != std::string::npos;
  });
}

// A drive whose names are 40 letters long, some without a gap.
DriveSpec long_names() {
  DriveSpec spec = drives::worked_example();
  spec.title = std::string(120, 'W');
  int number = 0;
  for (PulleySpec& pulley : spec.pulleys) {
    pulley.name = std::string(38, 'n') + "\u00e9" + static_cast<char>('a' + number++);
  }
  return spec;
}

void gather(const Json& json, const std::string& key, std::vector<double>& numbers,
            std::set<std::string>& clocks) {
  if (json.is_number()) numbers.push_back(std::abs(json.get<double>()));
  const bool clock = key.size() > 6 && key.rfind("_clock") == key.size() - 6;
  if (clock && json.is_string()) clocks.insert(json.get<std::string>());
  if (!json.is_structured()) return;
  for (const auto& [name, item] : json.items()) {
    gather(item, json.is_array() ? key : name, numbers, clocks);
  }
}

bool holds(const std::vector<double>& numbers, const std::string& printed) {
  const std::size_t dot = printed.find('.');
  const std::size_t digits = dot == std::string::npos ? 0 : printed.size() - dot - 1;
  // A whole number is exact, or the count of teeth that a person makes (within 0.05 of whole).
  const double near = digits > 0 ? 0.5 * std::pow(10.0, -static_cast<double>(digits)) + 1e-9 : 0.05;
  const double value = std::stod(printed);
  return std::any_of(numbers.begin(), numbers.end(),
                     [&](double number) { return std::abs(number - value) <= near; });
}

TEST_CASE("The phone's text keeps to 40 columns, however long the names") {
  std::vector<SheetAnswer> sheets{sheet_for(long_names())};
  for (const std::string& demo : demos::names()) sheets.push_back(sheet_for(demo));
  for (const SheetAnswer& sheet : sheets) {
    for (const std::string& line : lines_of(sheet_phone(sheet))) {
      INFO(sheet.heading.profile << ": " << line);
      CHECK(letters(line) <= 40);
    }
  }
}

TEST_CASE("No line of the phone's text ends between a number and its unit") {
  const std::regex ends_in_number(R"(\d$)");
  const std::regex starts_with_unit(R"(^\s*(mm|deg|crank deg|cam deg|tooth|teeth|turns?)\b)");
  int numbers = 0;
  for (const std::string& demo : demos::names()) {
    const std::vector<std::string> lines = lines_of(sheet_phone(sheet_for(demo)));
    for (std::size_t i = 1; i < lines.size(); ++i) {
      INFO(lines[i - 1] << '\n' << lines[i]);
      const bool number = std::regex_search(lines[i - 1], ends_in_number);
      CHECK_FALSE((number && std::regex_search(lines[i], starts_with_unit)));
      CHECK_FALSE(std::regex_search(lines[i - 1], std::regex(R"(\d (crank|cam)$)")));
      numbers += std::regex_search(lines[i], std::regex(R"(\d (mm|deg|crank deg|teeth))")) ? 1 : 0;
    }
  }
  CHECK(numbers > 100);
}

TEST_CASE("Every number on a sheet is in its document") {
  const std::regex printed(R"(\d+(\.\d+)?)");
  const std::regex clock_face(R"(\b\d{1,2}:\d\d\b)");
  int seen = 0;
  for (const std::string& demo : demos::names()) {
    SheetAnswer sheet = sheet_for(demo);
    sheet.found.clear();  // the check's own sentences
    std::vector<double> numbers;
    std::set<std::string> clocks;
    gather(document_of(sheet), "", numbers, clocks);
    // The steps' own numbers are no numbers of the drive.
    std::string text = std::regex_replace(sheet_phone(sheet), std::regex(R"(\n\d+\. )"), "\n");
    text = std::regex_replace(text, std::regex("\\s+"), " ");
    text = std::regex_replace(text, std::regex("V6|H8M|M12|M8|over 10 teeth|over_10_teeth"), "");
    // "from 3 to 6 o'clock" is 3:00 and 6:00.
    text = std::regex_replace(text, std::regex(R"(from (\d+) to (\d+) o'clock)"), "$1:00 $2:00");
    for (std::sregex_iterator it(text.begin(), text.end(), clock_face), end; it != end; ++it) {
      INFO(demo << ": " << it->str());
      CHECK(clocks.count(it->str()) == 1);
    }
    text = std::regex_replace(text, clock_face, "");
    for (std::sregex_iterator it(text.begin(), text.end(), printed), end; it != end; ++it) {
      INFO(demo << ": " << it->str() << " after " << it->prefix().str());
      CHECK(holds(numbers, it->str()));
      ++seen;
    }
  }
  CHECK(seen > 200);
}

TEST_CASE("The page says what the phone says") {
  const SheetAnswer sheet = sheet_for("mill-generator");
  const std::string page = sheet_html(sheet);
  for (const SheetStep& step : sheet.steps) {
    CHECK_THAT(page, ContainsSubstring(step.title));
    for (const SheetLine& line : step.lines) {
      const std::string first = line.text.substr(0, line.text.find('\''));
      CHECK_THAT(page, ContainsSubstring(first));
    }
  }
  for (const std::string& caution : sheet.cautions) {
    CHECK_THAT(page, ContainsSubstring(caution.substr(0, caution.find('\''))));
  }
}

TEST_CASE("A stop comes before everything else and says what to move which way by how much") {
  const SheetAnswer sheet = sheet_for("night-bakery-van");
  CHECK(sheet.shout == "STOP: do not turn it");
  CHECK_THAT(sheet.must_do, ContainsSubstring("turn the inlet cam 1\u00a0tooth on (clockwise)"));
  const std::string phone = sheet_phone(sheet);
  CHECK(phone.find("STOP") < 10);
  const std::string page = sheet_html(sheet);
  CHECK(page.find("STOP: do not turn it") < page.find("Order of work"));
  for (const char* demo : {"harbour-launch", "orchard-sprayer", "roadside-counts"}) {
    CHECK(sheet_for(demo).shout.empty());
  }
}

TEST_CASE("Bolts stand in the order of work: a head's stages, slotted pulleys slack, then tight") {
  // Common practice: a torque, then 90 deg, then 90 deg.
  CHECK(says(step(sheet_for("night-bakery-van"), "head"),
             "to 40\u00a0Nm (29.5 lbf ft); 90 more: dot from 12 to 3 o'clock (90 in all); 90 more: "
             "dot from 3 to 6 o'clock (180 in all)"));
  const SheetAnswer sheet = sheet_for("hill-climb-saloon");
  const auto place = [&](const std::string& code) {
    return std::find_if(sheet.steps.begin(), sheet.steps.end(),
                        [&](const SheetStep& one) { return one.code == code; });
  };
  CHECK(says(*place("route"), "Inlet cam, adjustable: its 3 bolts slack before tension"));
  CHECK(says(*place("tension"), "Inlet cam, pinned, now tight"));
  CHECK(place("route") < place("tension"));
  const std::vector<SheetLine>& lines = place("tension")->lines;
  CHECK_THAT(lines.back().text, ContainsSubstring("now tight"));
  CHECK_THAT(lines.back().text, ContainsSubstring("12\u00a0Nm"));
}

TEST_CASE("Pins and holes are counted of how many, each hole with what closes it and its seal") {
  const SheetStep close = step(sheet_for("harbour-launch"), "close");
  CHECK(says(close, "Pins and bars counted out (of 2 known here)"));
  CHECK(says(close, "Access holes closed (of 2 known here)"));
  CHECK(says(close, "Cam cover hole: plug, M8; seal: new fibre washer."));
  CHECK(says(step(sheet_for("harbour-launch"), "pins"), "Crank through the flywheel hole"));
}

TEST_CASE("A profile of bolts alone gives the card alone, and a tray is numbered row by row") {
  DriveSpec spec;
  spec.title = "Bolts alone";
  BoltsSpec bolts;
  bolts.name = "cap bolts";
  bolts.count = 2;
  BoltStageSpec stage;
  stage.torque_nm = 20.0;
  bolts.stages = {stage};
  spec.bolts = {bolts};
  TraySpec tray;
  tray.name = "caps";
  tray.rows = 2;
  tray.columns = 3;
  spec.trays = {tray};
  const SheetAnswer sheet = sheet_for(spec);
  CHECK(sheet_html(sheet) == job_card_html(sheet));
  const Json trays = document_of(sheet)["job_card"]["trays"];
  CHECK(trays[0]["parts"] == 6);
  CHECK(trays[0]["map"][1][0] == 4);
  CHECK_THAT(sheet_phone(sheet), ContainsSubstring("4 [ ] 5 [ ] 6 [ ]"));
}

TEST_CASE("A sheet from tooth counts alone leaves blanks for what is not known") {
  const SheetAnswer sheet = sheet_for("roadside-counts");
  CHECK(step(sheet, "measure").lines.size() >= 4);
  CHECK(says(step(sheet, "measure"), "calliper"));
  REQUIRE(sheet.marks.size() == 2);
  CHECK_FALSE(sheet.marks[1].start_deg);
  // The camshaft turns at half speed: its mark stands opposite after one turn (common practice).
  CHECK(sheet.marks[1].opposite_after_one);
  CHECK_FALSE(sheet.marks[0].opposite_after_one);
  // 2 x 20 teeth of 111 are laid on: 40 further on; all meet after 222 turns (common practice).
  CHECK(says(step(sheet, "turn"), "40\u00a0teeth"));
  CHECK(says(step(sheet, "turn"), "222\u00a0turns"));
  // A tooth of 40 is 9 cam deg, 18 crank deg (common practice).
  CHECK_THAT(sheet.faults.front().seen.text,
             ContainsSubstring("18.00\u00a0crank\u00a0deg (9.00\u00a0cam\u00a0deg)"));
  CHECK(document_of(sheet)["verdict"] == "look again");
}

TEST_CASE("A tooth out is a pitch at the pitch line, and more at a larger mark radius") {
  DriveSpec spec = drives::worked_example();
  const auto edge_mm = [&]() {
    const SheetAnswer sheet = sheet_for(spec);
    for (const SheetNumber& number : sheet.faults.front().seen.numbers) {
      if (number.key == "tooth_edge_mm") return number.value;
    }
    return 0.0;
  };
  CHECK_THAT(edge_mm(), WithinAbs(9.525, 1e-9));  // exact: the arc of one tooth
  drives::named(spec, "cam").mark_radius_mm = 100.0;
  CHECK_THAT(edge_mm(), WithinAbs(100.0 * kPi / 20.0, 1e-9));  // exact: 9 deg of 100 mm
}

TEST_CASE("One tooth less on the cam wanders as arithmetic says") {
  // 20 teeth drive 39: two crank turns make 40/39 cam turns, 720 x 40/39 - 720 crank deg too far.
  // Told from the counts alone: on the worked example no belt goes over a wrong pulley.
  const SheetAnswer sheet = sheet_for("roadside-counts");
  for (const SheetFault& fault : sheet.faults) {
    for (const SheetNumber& number : fault.means.numbers) {
      if (number.key == "wanders_crank_deg") {
        CHECK_THAT(number.value, WithinAbs(720.0 / 39.0, 1e-9));
        return;
      }
    }
  }
  FAIL("no row about a wrong tooth count");
}

TEST_CASE("Pins and bars that go in are counted out again") {
  const SheetAnswer sheet = sheet_for("mill-generator");
  CHECK(says(step(sheet, "pins"), "(4 known here)"));
  CHECK(says(step(sheet, "close"), "(of 4 known here)"));
  CHECK(says(step(sheet, "close"), "access hole"));
  CHECK_FALSE(says(step(sheet_for("roadside-counts"), "pins"), "known here"));
}

TEST_CASE("The tensioner's line gives the pointer, the roller, the way to turn and what is left") {
  const SheetStep tension = step(sheet_for("harbour-launch"), "tension");
  CHECK(says(tension, "spanner turns clockwise"));
  CHECK(says(tension, "Pointer to"));
  CHECK(says(tension, "Roller's centre"));
  CHECK(says(tension, "adjustment left"));
  CHECK(says(step(sheet_for("orchard-sprayer"), "tension"), "from the slack end"));
  CHECK(says(step(sheet_for("cam-bench"), "tension"), "No tensioner"));
}

TEST_CASE("Every caution that belongs on a sheet stands on it") {
  // Common practice: the cautions of the job, each by words that only it has.
  const char* cautions[] = {"Battery off",
                            "Plugs out, their holes",
                            "running direction",
                            "Overshot",
                            "No starter",
                            "Solid stop",
                            "Belt off: shafts",
                            "never against a bolt",
                            "counted out",
                            "Cold",
                            "snap round",
                            "treat it as if they do",
                            "Neutral",
                            "mount is off",
                            "holes dry",
                            "blind bolt hole",
                            "stretch bolts",
                            "never by a cam bolt",
                            "hydraulic",
                            "never kinked",
                            "arrow",
                            "not refitted",
                            "painted",
                            "qualified mechanic",
                            "Backwards is allowed"};
  DriveSpec spec = drives::worked_example();
  spec.crank_turns = std::nullopt;
  spec.engine.interference = std::nullopt;
  std::string text;
  for (const std::string& line : lines_of(sheet_phone(sheet_for(spec)))) {
    text += std::regex_replace(line, std::regex("^ +"), "") + ' ';
  }
  for (const char* caution : cautions) CHECK_THAT(text, ContainsSubstring(caution));
}

TEST_CASE("No sheet says that an engine is safe, ready or good to go") {
  for (const std::string& demo : demos::names()) {
    const std::string text = sheet_phone(sheet_for(demo));
    for (const char* word : {" safe", " ready", "good to go", " OK"}) {
      CHECK(text.find(word) == std::string::npos);
    }
    CHECK_THAT(text, ContainsSubstring("Not checked"));
    CHECK_THAT(text, ContainsSubstring("fitting itself"));
  }
}

TEST_CASE("Markup in a title or a name comes out as text") {
  DriveSpec spec = drives::worked_example();
  spec.title = R"(</title><script>alert("1")</script>'&)";
  drives::named(spec, "water pump").name = R"("><img src=x onerror='alert(1)'>)";
  const std::string page = sheet_html(sheet_for(spec));
  CHECK(page.find("<script") == std::string::npos);
  CHECK(page.find("<img") == std::string::npos);
  CHECK_THAT(page,
             ContainsSubstring("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&apos;&amp;"));
}

TEST_CASE("Characters that HTML cannot hold come out as spaces") {
  DriveSpec spec = drives::worked_example();
  spec.title = "bell\x07line\nnext \xC2\x85 del\x7F end";
  const std::string page = sheet_html(sheet_for(spec));
  for (const char c : {'\x07', '\x7F'}) CHECK(page.find(c) == std::string::npos);
  CHECK(page.find("\xC2\x85") == std::string::npos);
  CHECK_THAT(page, ContainsSubstring("bell line next"));
}

TEST_CASE(
    "The pictures stand in the page as they were given, and a page without them has no place") {
  const SheetAnswer sheet = sheet_for("harbour-launch");
  const std::string view = "<svg id=\"view\"><path d=\"M0 0\"/></svg>";
  const std::string move = "<svg id=\"move\"><path d=\"M0 0\"/></svg>";
  const std::string page = sheet_html(sheet, {{Vec2(60.0, 60.0)}, Vec2(30.0, 30.0)}, {view, move});
  CHECK_THAT(page, ContainsSubstring(view));
  CHECK_THAT(page, ContainsSubstring(move));
  CHECK(sheet_html(sheet).find("<figure class=\"view\"") == std::string::npos);
}

TEST_CASE("A sheet tells how many sides of paper it takes") {
  const SheetPictures large{{Vec2(90.0, 120.0)}};
  CHECK(sheet_sides(sheet_for("cam-bench"), large) == 1);
  // Its bolts stand on a job card.
  CHECK(sheet_sides(sheet_for("harbour-launch"), {}) == 2);
  // Beside a picture and a card of its own the small print has no room left.
  CHECK(sheet_sides(sheet_for("night-bakery-van"), large) == 3);
}

TEST_CASE("A picture is as large as the rest of the sheet leaves room for") {
  const std::vector<Vec2> sizes{{100.0, 400.0}, {90.0, 70.0}, {60.0, 45.0}};
  std::set<double> heights;
  for (const std::string& demo : demos::names()) {
    const SheetAnswer sheet = sheet_for(demo);
    INFO(demo);
    const std::optional<Vec2> taken = sheet_view_mm(sheet, {sizes});
    REQUIRE(taken);
    // None that is higher than the page.
    CHECK(taken->y() < 283.0);
    // The first that went on is taken again where it is the only one offered.
    CHECK(sheet_view_mm(sheet, {{*taken}}) == taken);
    CHECK_FALSE(sheet_view_mm(sheet, {{sizes.front()}}));
    heights.insert(taken->y());
  }
  // And not the smallest for all of them.
  CHECK(heights.size() == 2);
}

TEST_CASE("A crank parked at its mark needs no way to it; where no place is clear it does") {
  DriveSpec spec = demos::spec_of("night-bakery-van");  // four in line, timed half way up the bore
  const std::string to_mark = "then the parked crank to its own";
  const auto page = [&] { return sheet_html(sheet_for(spec)); };
  CHECK_THAT(page(), ContainsSubstring("on paper at its mark"));
  CHECK(page().find(to_mark) == std::string::npos);
  spec.limits.inlet_room_mm = 50.0;  // more than half the stroke
  CHECK(page().find("on paper at its mark") == std::string::npos);
  CHECK_THAT(page(), ContainsSubstring(to_mark));
}

TEST_CASE("A page refuses scripts unless it brings one of its own") {
  HtmlPage page{"A <page>", "p { color: black; }\n", "<p>text</p>"};
  const std::string plain = html_page(page);
  CHECK_THAT(plain, ContainsSubstring("<title>A &lt;page&gt;</title>"));
  CHECK(plain.find("script-src") == std::string::npos);
  CHECK(plain.find("<script") == std::string::npos);
  page.script = "let a = 1 < 2;";
  const std::string own = html_page(page);
  CHECK_THAT(own, ContainsSubstring("script-src 'unsafe-inline'"));
  CHECK_THAT(own, ContainsSubstring("let a = 1 < 2;"));
}

}  // namespace
}  // namespace twoturn
