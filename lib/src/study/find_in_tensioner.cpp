#include <fmt/format.h>
#include <cmath>

#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn {
namespace {

// Where a setting stands, as people see it: clock angle of the roller and the pointer, or mm along
// the slot.
std::string place_of(const Setting& setting) {
  const TensionerReading& reading = setting.reading;
  const std::string number = fixed(reading.value, digits(reading.kind));
  if (reading.kind == TensionerKind::slide) return number + " mm along its slot";
  std::string text = fmt::format("clock {} deg", number);
  if (setting.pointer_deg) {
    text += fmt::format(" (pointer at clock {} deg)", fixed(*setting.pointer_deg, 1));
  }
  return text;
}

void over_centre(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  if (!tensioner.meant || tensioner.meant->over_centre != OverCentre::past) return;
  Finding finding{Level::stop, "over-centre", tensioner.pulley, ""};
  finding.value = tensioner.meant->travel;
  finding.unit = "of travel";
  std::string right;
  for (const Setting& setting : tensioner.settings) {
    if (setting.in_travel && setting.over_centre == OverCentre::before) {
      right = " The place before over centre is " + place_of(setting) + ".";
    }
  }
  finding.text = fmt::format(
      "The tensioner stands past over centre at {}: turned on towards tight it slackens the belt "
      "again.{} Back it right off and approach from the slack end.",
      place_of(*tensioner.meant), right);
  finding.brief = "the tensioner is past over centre";
  finding.action = "back it right off and set it from the slack end";
  findings.push_back(finding);
}

void near_an_end(const TensionerAnswer& tensioner, const Limits& limits,
                 std::vector<Finding>& findings) {
  if (!tensioner.meant || tensioner.meant->over_centre == OverCentre::past) return;
  const Setting& meant = *tensioner.meant;
  const double range = tensioner.greatest_mm - tensioner.least_mm;
  const double percent = range > 0.0 ? meant.adjustment_left_mm / range * 100.0 : 0.0;
  const bool slack_end = meant.travel < limits.travel_end;
  const bool tight_end = meant.travel > 1.0 - limits.travel_end;
  const bool little_left = percent < limits.adjustment_left_percent;
  if (!slack_end && !tight_end && !little_left) return;
  Finding finding{Level::look, "tensioner-end", tensioner.pulley, ""};
  finding.value = slack_end || tight_end ? meant.travel : percent;
  finding.limit = slack_end   ? limits.travel_end
                  : tight_end ? 1.0 - limits.travel_end
                              : limits.adjustment_left_percent;
  finding.unit = slack_end || tight_end ? "of travel" : "percent of the length range";
  finding.limit_key =
      slack_end || tight_end ? "limits.travel_end" : "limits.adjustment_left_percent";
  finding.text = fmt::format(
      "The tensioner stands near the {} end, at {}: {} of its travel used, {} mm of adjustment "
      "left ({} percent of what it can take up in all). Check the belt's count and every "
      "roller's size before blaming the belt.",
      slack_end ? "slack" : "tight", place_of(meant), fixed(meant.travel, 3),
      fixed(meant.adjustment_left_mm, 2), fixed(percent, 1));
  finding.brief = fmt::format("tensioner near its {} end ({} of travel)",
                              slack_end ? "slack" : "tight", fixed(meant.travel, 3));
  finding.action = "check the belt's count and the rollers";
  findings.push_back(finding);
}

// As fitted the tensioner stands elsewhere than by the book, and why that is to be expected.
void moved_by_build(const TensionerAnswer& tensioner, const TurnsAnswer& turns,
                    std::vector<Finding>& findings) {
  const Assembly& assembly = turns.assembly;
  if (!assembly.book_setting || !assembly.fitted_setting) return;
  const double moved =
      assembly.fitted.tensioner->path.apart(assembly.fitted_setting->q, assembly.book_setting->q);
  if (moved <= tensioner.set_give) return;
  Finding finding{Level::note, "setting-moved", tensioner.pulley, ""};
  finding.value = moved;
  finding.limit = tensioner.set_give;
  finding.unit = unit(tensioner.kind);
  finding.text = fmt::format(
      "What [build] changes moves the tensioner by {} {} from its place by the book, to {}: "
      "expect it there, and set it as the manual says.",
      fixed(moved, 1), finding.unit, place_of(*assembly.fitted_setting));
  findings.push_back(finding);
}

// Drawings count angles from 3 o'clock, most of them anticlockwise; asked where that would fit.
std::string counted_from_three(const FitAnswer& book) {
  const TensionerPath& path = book.drive->tensioner->path;
  if (!path.swing()) return "";
  constexpr double kThreeDeg = 90.0;
  const double reading = book.tensioner->maker->reading.value;
  const auto fits = [&](double clock_deg) { return path.in_travel(path.from_reading(clock_deg)); };
  if (fits(kThreeDeg - reading)) {
    return " Was set_deg counted from 3 o'clock, anticlockwise? Then write 90 less it.";
  }
  if (fits(kThreeDeg + reading)) {
    return " Was set_deg counted from 3 o'clock, clockwise? Then write 90 more.";
  }
  return "";
}

// By the book only: there the maker's marks and the belt's own length must tell the same story.
void against_marks(const FitAnswer& fit, std::vector<Finding>& findings) {
  const TensionerAnswer& book = *fit.tensioner;
  if (book.maker && !book.maker->in_travel) {
    Finding finding{Level::look, "marks-outside-travel", book.pulley, ""};
    finding.value = book.maker->reading.value;
    finding.unit = book.kind == TensionerKind::swing ? "clock deg" : "mm";
    finding.text = fmt::format(
        "The maker's marks are said to put the tensioner at {}, which lies outside its travel. "
        "Check slack_deg, tight_deg, tightens and set_deg: all are the roller's centre seen from "
        "the pivot.",
        place_of(*book.maker));
    finding.text += counted_from_three(fit);
    finding.brief = "the tensioner's marks lie outside its travel";
    finding.action = "check the tensioner's angles";
    findings.push_back(finding);
    return;
  }
  if (!book.apart || *book.apart <= book.set_give) return;
  Finding finding{Level::look, "setting-marks", book.pulley, ""};
  finding.value = *book.apart;
  finding.limit = book.set_give;
  finding.unit = unit(book.kind);
  finding.limit_key =
      fmt::format("pulley.{}.tensioner.{}", book.pulley, in_unit("set_give", book.kind));
  finding.text = fmt::format(
      "By the book a belt of {} teeth puts the tensioner at {}, but the maker's marks put it at "
      "{}: {} {} apart (give {}). One of the count, the pulleys, the places or the marks is not "
      "right.",
      *book.belt_teeth, place_of(*book.meant), place_of(*book.maker), fixed(*book.apart, 1),
      finding.unit, shortest(book.set_give, 1));
  finding.brief =
      fmt::format("tensioner {} {} from its marks", fixed(*book.apart, 1), finding.unit);
  finding.action = "check the belt's count and the places given";
  findings.push_back(finding);
}

}  // namespace

void find_in_tensioner(const DriveSpec& spec, const CheckAnswer& answer,
                       std::vector<Finding>& findings) {
  const Limits limits = limits_of(spec.limits);
  const FitAnswer& book = answer.book ? *answer.book : answer.judged;
  if (book.tensioner) against_marks(book, findings);
  if (!answer.judged.tensioner) return;
  // The setting as fitted is the one nearest the book's, not nearest the marks.
  TensionerAnswer tensioner = *answer.judged.tensioner;
  if (answer.judged.turns && answer.judged.turns->assembly.fitted_setting) {
    tensioner.meant = answer.judged.turns->assembly.fitted_setting;
  }
  over_centre(tensioner, findings);
  near_an_end(tensioner, limits, findings);
  if (answer.judged.turns) moved_by_build(tensioner, *answer.judged.turns, findings);
}

}  // namespace twoturn
