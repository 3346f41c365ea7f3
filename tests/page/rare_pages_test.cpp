// Pages of what is hardly known or hardly ever so: reports whose answers are cut down to what a
// bare profile has, a bench card of many ends, a sheet of long names.
#include <regex>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/headings.hpp"
#include "support/texts.hpp"
#include "twoturn/page/card.hpp"
#include "twoturn/page/job_card.hpp"
#include "twoturn/page/report.hpp"
#include "twoturn/page/sheet.hpp"
#include "twoturn/study/report.hpp"
#include "twoturn/study/sheet.hpp"

namespace twoturn {
namespace {

using texts::on_one_line;

ReportAnswer reported(const std::string& demo, const std::vector<Override>& settings = {}) {
  const DriveSpec spec = demos::spec_of(demo, settings);
  return report_of(spec, headings::of("report", spec.title));
}

std::string page_of(const ReportAnswer& report) { return on_one_line(report_html(report)); }

// What stands between two pieces of a page, tags left out.
std::string words_between(const std::string& page, const std::string& from, const std::string& to) {
  const std::size_t at = page.find(from);
  INFO(from);
  REQUIRE(at != std::string::npos);
  const std::string part = page.substr(at, page.find(to, at) - at);
  return on_one_line(std::regex_replace(part, std::regex("<[^>]*>"), " "));
}

// A page is too long to be printed where it fails.
bool says(const std::string& page, const std::string& words) {
  return page.find(words) != std::string::npos;
}

// One look with many branches, each to an end of its own.
CardAnswer card_of(int ends) {
  CardAnswer card;
  card.heading = headings::of("sheet", "A pump engine");
  CardLook look;
  look.asks.text = "Which pin does not go in?";
  for (int end = 0; end < ends; ++end) {
    CardBranch branch;
    branch.seen.text = "pin " + std::to_string(end);
    branch.end = end;
    branch.may_be = {end};
    look.branches.push_back(branch);
    CardEnd own;
    own.title.text = "the cam is " + std::to_string(end) + " teeth late";
    card.ends.push_back(own);
  }
  card.looks = {look};
  card.trust = {SheetLine{SheetLine::Kind::note, "the pins"}};
  return card;
}

// The launch's sheet with more to do than a side holds, all of it about these.
SheetAnswer overfull(const std::vector<std::string>& names) {
  const DriveSpec spec = demos::spec_of("harbour-launch");
  SheetAnswer sheet = sheet_of(spec, headings::of("sheet", spec.title));
  sheet.names = names;
  for (int k = 0; k < 200; ++k) {
    for (const std::string& name : names) {
      sheet.steps.front().lines.push_back({SheetLine::Kind::tick, "Look at the " + name + "."});
    }
  }
  return sheet;
}

}  // namespace

TEST_CASE("A report shows what was seen, what it points to, and the one look that tells more") {
  ReportAnswer report = reported("harbour-launch", {{"seen.pin.cam", "out"}});
  REQUIRE(report.check.seen);
  REQUIRE(report.check.seen->next);
  const std::string page = page_of(report);
  CHECK(says(page, "What was seen points to"));
  CHECK(says(page, "Look next at " + report.check.seen->next->look));
  CHECK(says(page, "11 in 100: the cam is half a turn out"));
  report.check.seen->next.reset();
  report.candidates.clear();
  const std::string bare = page_of(report);
  CHECK_FALSE(says(bare, "Look next"));
  CHECK_FALSE(says(bare, "class=\"candidate\""));
}

TEST_CASE("A report's tables say so where the crank can park nowhere, or no belt goes on") {
  ReportAnswer report = reported("harbour-launch");
  REQUIRE(report.check.engine.park);
  CHECK(says(page_of(report), "best: no cam can reach a piston"));
  report.check.engine.park->best_is_clear = false;
  report.check.engine.park->best_spare_mm = -1.25;
  report.check.engine.park->best_unsure = Unsure{};
  CHECK(says(words_between(page_of(report), "none: some valve", "</tr>"),
             "none: some valve reaches its piston wherever the crank stands - "
             "-1.25"));

  TravelRow& row = report.check.judged.tensioner->rows.front();
  row.setting.reset();
  row.teeth_exact.reset();
  row.refused = NamedRefusal{};
  CHECK(says(words_between(page_of(report), "id=\"tensioner\"", "</table>"), "no belt -"));
  report.check.judged.teeth->fits.clear();
  CHECK(says(page_of(report), "None goes on within the tensioner"));
  report.check.engine.valves->valves.front().teeth.clear();
  CHECK(says(words_between(page_of(report), "Least room between valve and piston", "</table>"),
             "- - - - - - - -"));
}

TEST_CASE(
    "A report without places, marks, motion or forces leaves their part out and stays whole") {
  ReportAnswer report = reported("harbour-launch");
  const std::string whole = page_of(report);
  for (const char* part : {"<script>", "Timing error of each shaft", "Turn the crank:",
                           "Belt length against the tensioner", "Valves and piston of cylinder",
                           "What you should see", "The belt end"}) {
    INFO(part);
    CHECK(says(whole, part));
  }
  for (AfterTurns& after : report.check.judged.turns->after) {
    for (ShaftAfter& seen : after.shafts) {
      seen.mark_deg.reset();
      seen.belongs_deg.reset();
    }
  }
  CHECK(says(words_between(page_of(report), "<h2 id=\"see\"", "</table>"),
             "pins in crank - - right"));
  report.view->marks.clear();
  const std::string unmarked = page_of(report);
  CHECK_FALSE(says(unmarked, "Valves and piston of cylinder"));
  report.motion.reset();
  const std::string still = page_of(report);
  CHECK_FALSE(says(still, "<script>"));
  CHECK_FALSE(says(still, "Timing error of each shaft"));
  report.curve->rows.resize(1);
  CHECK_FALSE(says(page_of(report), "Belt length against the tensioner"));
  report.view.reset();
  report.check.judged.turns.reset();
  const std::string told = on_one_line(report_html(report, "<svg>an order</svg>"));
  CHECK(says(told,
             "The order in which the belt meets the pulleys. Where they "
             "stand is not given."));
  CHECK_FALSE(says(told, "What you should see"));
  CHECK_FALSE(says(told, "Runs of belt"));
  report.counts = MarksAnswer{};
  report.check.given = {};
  CHECK_FALSE(says(page_of(report), "What one tooth is worth"));
  CHECK(page_of(report).find("</html>") != std::string::npos);
}

TEST_CASE("Forces are drawn over two turns from pins in, or from cylinder 1 where those are open") {
  ReportAnswer report = reported("harbour-launch");
  FeelAnswer feel;
  feel.at_engine_place = true;
  feel.belt.emplace();
  feel.belt->static_n = 250.0;
  feel.belt->runs = {{"crank", "cam", 300.0, 90.0, 10.0, 410.0, 20.0, {}}};
  feel.belt->shafts = {{"cam", 0.25, 30.0, -0.75, 40.0}};
  for (int k = 0; k <= 1440; ++k) feel.steps.push_back({0.5 * k, 5.0, {250.0 + k % 90}, {0.1}, {}});
  report.feel = feel;
  const std::string placed = page_of(report);
  CHECK(says(placed, "The belt's tension while you turn"));
  CHECK(says(placed, "crank deg from pins in"));
  CHECK(says(placed, "without a load: 250 N"));
  report.feel->at_engine_place = false;
  CHECK(says(page_of(report), "crank deg past cylinder 1's firing top dead"));
  for (FeelStep& step : report.feel->steps) step.tension_n.clear();
  CHECK_FALSE(says(page_of(report), "The belt's tension while you turn"));
  report.feel->belt.reset();
  CHECK_FALSE(says(page_of(report), "What the belt's stretch does"));
}

TEST_CASE("A bench card of more than 26 ends goes on with two letters, each its own") {
  const CardAnswer card = card_of(30);
  const std::string phone = on_one_line(card_phone(card));
  CHECK(says(phone, "The cam is 0 teeth late."));
  CHECK(says(phone, "Z. The cam is 25 teeth late."));
  CHECK(says(phone, "AA. The cam is 26 teeth late."));
  CHECK(says(phone, "AD. The cam is 29 teeth late."));
  const std::string page = on_one_line(card_html(card));
  CHECK(says(page, "AD"));
  CHECK(says(page, "The cam is 29 teeth late."));
}

TEST_CASE("Names too long for the paper are cut short, where they are alike with their ends kept") {
  const std::string cut = sheet_html(overfull({"exhaust camshaft of all cylinders", "inlet cam"}));
  CHECK(says(cut, "Look at the exhaust camshaft of\u2026."));
  CHECK(says(cut, "Look at the inlet cam."));
  const std::string left = "exhaust camshaft of the bank, left";
  const std::string right = "exhaust camshaft of the bank, right";
  const std::string ends = sheet_html(overfull({left, right}));
  CHECK(says(ends, "Look at the exhaust cam\u2026nk, left."));
  CHECK(says(ends, "Look at the exhaust cam\u2026k, right."));
  // Neither tells these apart: whole, as they are given.
  const std::string alike = "exhaust camshaft of bank one, on the left";
  const std::string twin = "exhaust camshaft of bank two, on the left";
  const std::string whole = sheet_html(overfull({alike, twin}));
  CHECK(says(whole, "Look at the " + alike + "."));
  CHECK(says(whole, "Look at the " + twin + "."));
  CHECK(says(on_one_line(sheet_phone(overfull({left, right}))), "the " + left + "."));
}

TEST_CASE("The sheet's table says where a pin may not go in, and what is not known is a blank") {
  const DriveSpec spec = demos::spec_of("harbour-launch");
  SheetAnswer sheet = sheet_of(spec, headings::of("sheet", spec.title));
  REQUIRE(sheet.marks.size() == 2);
  SheetMark& cam = sheet.marks.back();
  cam.pin_sure = false;
  for (const auto& [pin, words] :
       {std::pair(PinState::out, "may not go in"), std::pair(PinState::tight, "may be tight"),
        std::pair(PinState::in, "may go in")}) {
    cam.pin = pin;
    CHECK(says(on_one_line(sheet_html(sheet)), words));
    CHECK(says(on_one_line(sheet_phone(sheet)), words));
  }
  cam.off_edge_mm.reset();
  cam.off_crank_deg.reset();
  cam.start_deg.reset();
  cam.after_one_deg.reset();
  CHECK(says(sheet_phone(sheet), "____"));
}

}  // namespace twoturn
