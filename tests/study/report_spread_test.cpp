// What the report tells of many drives: its timing errors are those of the check's own two turns.
#include <set>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/headings.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "twoturn/study/report.hpp"

using namespace twoturn;

namespace {

ReportAnswer report_for(const DriveSpec& spec, Fit fit) {
  return report_of(spec, headings::of("report", spec.title, fit));
}

}  // namespace

TEST_CASE("With every number as given the errors are those of two turns, on every demo") {
  int spread = 0;
  for (const char* demo : {"harbour-launch", "mill-generator", "orchard-sprayer",
                           "valley-rescue-v6", "weir-keeper", "cam-bench"}) {
    CAPTURE(demo);
    const ReportAnswer report = report_for(demos::spec_of(demo), Fit::as_fitted);
    REQUIRE(report.spread);
    CHECK(report.spread->samples == 2048);
    CHECK(report.spread->errors.empty() == !report.check.book.has_value());
    const TurnsAnswer& turns = *report.check.judged.turns;
    for (const SpreadError& error : report.spread->errors) {
      for (const ShaftAfter& seen : turns.after.front().shafts) {
        if (turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)].name != error.shaft) {
          continue;
        }
        ++spread;
        CAPTURE(error.shaft);
        CHECK_THAT(error.nominal, WithinAbs(seen.error_crank_deg, 1e-7));
        if (!error.spreads) CHECK(error.error.deviation == 0.0);
      }
    }
  }
  CHECK(spread == 9);
}

TEST_CASE("No two numbers that may be off go by the same name, not of one measurement either") {
  for (const std::string& demo : demos::names()) {
    const FittedResult fitted = fitted_for(demos::spec_of(demo), Fit::as_fitted);
    if (!fitted.fitted) continue;
    CAPTURE(demo);
    std::set<std::string> numbers;
    for (const Unknown& unknown : fitted.fitted->uncertainty().unknowns()) {
      CAPTURE(unknown.number);
      CHECK(numbers.insert(unknown.number).second);
    }
    if (demo != "weir-keeper") continue;
    CHECK(numbers.count("measured.1.distance_mm") == 1);
    CHECK(numbers.count("measured.1.bearing_deg") == 1);
  }
}

TEST_CASE("Where all is exact, or by the book, the report has no drives by chance, or no errors") {
  CHECK_FALSE(report_for(demos::spec_of("night-bakery-van"), Fit::as_fitted).spread);
  const ReportAnswer book = report_for(demos::spec_of("harbour-launch"), Fit::by_the_book);
  REQUIRE(book.spread);
  CHECK(book.spread->errors.empty());
}
