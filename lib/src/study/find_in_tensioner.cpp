#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "words/sentences.hpp"

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

// How far past over centre the setting meant stands, in the unit of its reading; where over centre
// lies beyond its travel, no end.
double past_over_centre(const TensionerAnswer& tensioner) {
  double least = std::numeric_limits<double>::infinity();
  for (const Setting& place : tensioner.over_centres) {
    const double apart = std::abs(place.travel - tensioner.meant->travel);
    least = std::min(least, apart * tensioner.travel_length);
  }
  return least;
}

void over_centre(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  if (!tensioner.meant || tensioner.meant->over_centre != OverCentre::past) return;
  const double beyond = past_over_centre(tensioner);
  const bool sure = certainly_beyond(beyond, tensioner.unsure);
  Finding finding{sure ? Level::stop : Level::look, "over-centre", tensioner.pulley, ""};
  finding.value = tensioner.meant->travel;
  finding.unit = "of travel";
  std::string right;
  for (const Setting& setting : tensioner.settings) {
    if (setting.in_travel && setting.over_centre == OverCentre::before) {
      right = " The place before over centre is " + place_of(setting) + ".";
    }
  }
  finding.text = fmt::format(
      "The tensioner {} past over centre at {}: turned on towards tight it slackens the belt "
      "again.{}{} Back it right off and approach from the slack end.",
      sure ? "stands" : "may stand", place_of(*tensioner.meant), right,
      sure ? ""
           : sentences::not_sure(
                 fmt::format("It is past by {} {}", fixed(beyond, 1), unit(tensioner.kind)),
                 tensioner.unsure, unit(tensioner.kind)));
  finding.brief = fmt::format("the tensioner {} past over centre", sure ? "is" : "may be");
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
      "The tensioner stands near the {} end, at {}: {} of its travel used; adjustment left {} "
      "({} percent of what it can take up in all). Check the belt's count and every "
      "roller's size before blaming the belt.",
      slack_end ? "slack" : "tight", place_of(meant), fixed(meant.travel, 3),
      sentences::mm(meant.adjustment_left_mm, tensioner.adjustment_unsure), fixed(percent, 1));
  finding.brief = fmt::format("tensioner near its {} end ({} of travel)",
                              slack_end ? "slack" : "tight", fixed(meant.travel, 3));
  finding.action = "check the belt's count and the rollers";
  findings.push_back(finding);
}

void wrong_way(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  Finding finding{Level::stop, "tightens-contradicted", tensioner.pulley,
                  sentences::tightens_contradicted(tensioner)};
  finding.value = 100.0 * tensioner.lets_off;
  finding.unit = "percent of what it can take up";
  finding.brief = fmt::format("{} tightens the other way than said", the(tensioner.pulley));
  finding.action = "see which way the spanner tightens it (tightens), and its two ends";
  findings.push_back(finding);
}

// Half a circle apart, its ends leave both ways round open: one word decides where the roller
// stands.
void way_open(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  if (!tensioner.either_way || tensioner.maker) return;
  Finding finding{Level::look, "tightens-open", tensioner.pulley, ""};
  finding.text = fmt::format(
      "The two ends of {} lie so that it tightens from one to the other whichever way it is "
      "turned: nothing but the word tightens says on which side the roller stands. Give where its "
      "marks put it ({}).",
      the(tensioner.pulley), in_unit("set", tensioner.kind));
  finding.brief = fmt::format("{} could tighten either way round", the(tensioner.pulley));
  finding.action = fmt::format("give where its marks put it ({})", in_unit("set", tensioner.kind));
  findings.push_back(finding);
}

// The belt must be longer, and so tighter, at the tight end than at the slack end.
bool ends_swapped(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  if (!tensioner.slack_end || !tensioner.tight_end) return false;
  const double more = tensioner.slack_end->length_mm - tensioner.tight_end->length_mm;
  if (more <= 0.0) return false;
  Finding finding{Level::look, "ends-contradicted", tensioner.pulley, ""};
  finding.value = more;
  finding.unit = "mm";
  finding.text = fmt::format(
      "At the end of the travel of {} that is called slack the belt's path is {} mm longer than at "
      "the one called tight: there it is the tighter. Check which end is which{}.",
      the(tensioner.pulley), fixed(more, 2),
      tensioner.kind == TensionerKind::swing ? ", slack_deg, tight_deg and tightens"
                                             : ", slack_at_mm and tight_at_mm");
  finding.brief = fmt::format("the two ends of {} seem swapped", the(tensioner.pulley));
  finding.action = "check which end of its travel is slack";
  findings.push_back(finding);
  return true;
}

// Past over centre the spanner slackens what it should tighten. With marks to set it by, a note.
void over_centre_ahead(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  if (tensioner.over_centres.empty()) return;
  const Setting& place = tensioner.over_centres.front();
  Finding finding{tensioner.maker ? Level::note : Level::look, "over-centre-in-travel",
                  tensioner.pulley, ""};
  finding.value = place.travel;
  finding.unit = "of travel";
  finding.text = fmt::format(
      "{} goes over centre within its travel, at {}: turned on past there it slackens the belt "
      "again. Never go past it{}.",
      capital(the(tensioner.pulley)), place_of(place),
      tensioner.maker ? ""
                      : "; where its marks put it is not given, so nothing says on which side it "
                        "belongs");
  finding.brief = fmt::format("{} goes over centre within its travel", the(tensioner.pulley));
  finding.action = fmt::format("give where its marks put it ({})", in_unit("set", tensioner.kind));
  findings.push_back(finding);
}

// Its whole travel is swept by roller and belt, with every part held against both.
void travel_cut(const TensionerAnswer& tensioner, std::vector<Finding>& findings) {
  for (const auto& [slack, tight] : tensioner.usable) {
    for (const TravelEnd* end : {&slack, &tight}) {
      if (!end->cause) continue;
      Finding finding{Level::look, "travel-cut", tensioner.pulley, ""};
      finding.value = end->setting.travel;
      finding.unit = "of travel";
      finding.text = fmt::format(
          "{} cannot go through its whole travel: {} {}, no belt can run. {} Check that part's "
          "place and size, and the travel given.",
          capital(the(tensioner.pulley)), end == &slack ? "before" : "beyond",
          place_of(end->setting), end->cause->text);
      finding.brief = fmt::format("{} cannot go through its whole travel", the(tensioner.pulley));
      finding.action = fmt::format("check {} and the travel given", end->cause->about.empty()
                                                                        ? "what stands in its way"
                                                                        : the(end->cause->about));
      findings.push_back(finding);
    }
  }
}

// What the belt would be like with the tensioner at its place by the book, or its marks.
std::string at_old_place(const Assembly& assembly, const TensionerCurve& curve) {
  const std::optional<LengthAt> old = curve.at(assembly.book_setting->q);
  if (!old) return "";
  const double slack_mm = assembly.fitted_setting->length_mm - old->length_mm;
  if (prints_as_nothing(slack_mm, 2)) return "";
  return fmt::format(" Put where it stood by the book, the belt would be {} mm too {}.",
                     fixed(std::abs(slack_mm), 2), slack_mm > 0.0 ? "slack" : "tight");
}

// As fitted the tensioner stands elsewhere than by the book, and why that is to be expected.
void moved_by_build(const TensionerAnswer& tensioner, const TurnsAnswer& turns,
                    const TensionerCurve& curve, std::vector<Finding>& findings) {
  const Assembly& assembly = turns.assembly;
  if (!assembly.setting_is_moved()) return;
  Finding finding{Level::note, "setting-moved", tensioner.pulley, ""};
  finding.value = *assembly.setting_moved;
  finding.limit = tensioner.set_give;
  finding.unit = unit(tensioner.kind);
  finding.text = fmt::format(
      "What [build] changes moves the tensioner by {} {} from its place by the book, to {}: expect "
      "it there.{} Set the tension as the manual says: it decides, and the place follows.",
      fixed(finding.value, 1), finding.unit, place_of(*assembly.fitted_setting),
      at_old_place(assembly, curve));
  findings.push_back(finding);
}

// Drawings count angles from 3 o'clock, most of them anticlockwise; asked where that would fit.
std::string counted_from_three(const FitAnswer& book) {
  const TensionerPath& path = book.drive()->tensioner->path;
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

bool origin_is_open(const DriveSpec& spec) {
  return std::any_of(spec.given.begin(), spec.given.end(), [](const GivenValue& given) {
    return given.origin == Origin::not_said && give_or_take(given).value > 0.0;
  });
}

// Taken as measured the numbers may be off by so much, taken from the manual not: one line settles
// it.
void marks_by_origin(const TensionerAnswer& book, std::vector<Finding>& findings) {
  Finding finding{Level::look, "setting-origin", book.pulley, ""};
  finding.value = *book.apart;
  finding.limit = book.set_give;
  finding.unit = unit(book.kind);
  finding.limit_key = "origin.default";
  finding.text = fmt::format(
      "By the book a belt of {} teeth puts the tensioner {} {} from its marks (give {}). Measured "
      "with rule and calliper the numbers may be off by that, read from the manual not: say under "
      "[origin] where they come from.",
      *book.belt_teeth, fixed(*book.apart, 1), finding.unit, shortest(book.set_give, 1));
  finding.brief =
      fmt::format("tensioner {} {} from its marks", fixed(*book.apart, 1), finding.unit);
  finding.action = "say under [origin] where the numbers come from";
  findings.push_back(finding);
}

// By the book only: there the maker's marks and the belt's own length must tell the same story.
void against_marks(const DriveSpec& spec, const FitAnswer& fit, std::vector<Finding>& findings) {
  const TensionerAnswer& book = *fit.tensioner;
  if (book.maker && !book.maker->in_travel) {
    Finding finding{Level::look, "marks-outside-travel", book.pulley, ""};
    finding.value = book.maker->reading.value;
    finding.unit = book.kind == TensionerKind::swing ? "clock deg" : "mm";
    finding.text = fmt::format(
        "The maker's marks are said to put the tensioner at {}, which lies outside its travel. {}",
        place_of(*book.maker),
        book.kind == TensionerKind::swing
            ? "Check slack_deg, tight_deg, tightens and set_deg: all are the roller's centre seen "
              "from the pivot."
            : "Check slack_at_mm, tight_at_mm and set_mm: set_mm counts from the slack end.");
    finding.text += counted_from_three(fit);
    finding.brief = "the tensioner's marks lie outside its travel";
    finding.action = book.kind == TensionerKind::swing ? "check the tensioner's angles"
                                                       : "check the tensioner's places";
    findings.push_back(finding);
    return;
  }
  if (!book.apart || *book.apart <= book.set_give) return;
  if (*book.apart <= book.set_give + book.unsure.give_or_take) {
    if (origin_is_open(spec)) marks_by_origin(book, findings);
    return;
  }
  Finding finding{Level::look, "setting-marks", book.pulley, ""};
  finding.value = *book.apart;
  finding.limit = book.set_give;
  finding.unit = unit(book.kind);
  finding.limit_key =
      fmt::format("pulley.{}.tensioner.{}", book.pulley, in_unit("set_give", book.kind));
  finding.text = fmt::format(
      "By the book a belt of {} teeth puts the tensioner at {}, but the maker's marks put it at "
      "{}: {} {} apart (give {}{}). One of the count, the pulleys, the places or the marks is not "
      "right.",
      *book.belt_teeth, place_of(*book.meant), place_of(*book.maker), fixed(*book.apart, 1),
      finding.unit, shortest(book.set_give, 1), sentences::left_open(book.unsure, finding.unit));
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
  if (book.tensioner) against_marks(spec, book, findings);
  if (!answer.judged.tensioner) return;
  // The setting as fitted is the one nearest the book's, not nearest the marks.
  TensionerAnswer tensioner = *answer.judged.tensioner;
  if (answer.judged.turns && answer.judged.turns->assembly.fitted_setting) {
    tensioner.meant = answer.judged.turns->assembly.fitted_setting;
  }
  if (tensioner.only_tightens) return wrong_way(tensioner, findings);
  way_open(tensioner, findings);
  if (!ends_swapped(tensioner, findings)) over_centre_ahead(tensioner, findings);
  over_centre(tensioner, findings);
  near_an_end(tensioner, limits, findings);
  travel_cut(tensioner, findings);
  if (answer.judged.turns) {
    moved_by_build(tensioner, *answer.judged.turns, *answer.judged.fitted->curve(), findings);
  }
}

}  // namespace twoturn
