#include "twoturn/write/text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "text_face_parts.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string mm(double value) { return fixed(value, 3); }
std::string thou(double value) { return fixed(value / kMmPerThou, 1); }
// Limits come in hundredths: 0.10, not 0.1.
std::string limit(double value) {
  const std::string text = shortest(value, 3);
  const std::string hundredths = fixed(value, 2);
  return text.size() < hundredths.size() ? hundredths : text;
}
std::string at(const Vec2& place) {
  return fmt::format("x {}, y {}", shortest(place.x(), 1), shortest(place.y(), 1));
}

std::string what_was_read(const FaceReport& report) {
  std::string text = report.title.empty() ? "" : report.title + ". ";
  if (report.heights) {
    text += fmt::format("{} over {} x {} mm. ", counted(report.heights->points, "point", "points"),
                        shortest(report.heights->size_mm.x(), 1),
                        shortest(report.heights->size_mm.y(), 1));
  }
  if (report.feelers) {
    text += counted(static_cast<long long>(report.feelers->lines.size()), "line", "lines") +
            " under the straight edge. ";
  }
  return text.empty() ? "" : wrapped(text.substr(0, text.size() - 1));
}

class Rows {
 public:
  void add(const std::string& what, double value, const std::string& note = "") {
    table_.add({what, mm(value), thou(value), note});
  }
  void add_signed(const std::string& what, const std::optional<double>& value,
                  const std::string& note) {
    if (value) {
      table_.add({what, signed_fixed(*value, 3), signed_fixed(*value / kMmPerThou, 1), note});
    } else {
      add_open(what, "not shown by these points");
    }
  }
  void add_open(const std::string& what, const std::string& why) {
    table_.add({what, "-", "-", why});
  }
  std::string text() const { return table_.text(); }

 private:
  TextTable table_{{{"", Align::left}, {"mm"}, {"thou"}, {"", Align::left}}};
};

std::string local_note(const LocalFlatness& local) {
  std::string note = "from " + at(local.corner_mm);
  if (!local.exact) note += fmt::format(", in steps of {} mm", shortest(local.step_mm, 2));
  return note;
}

std::string heights_table(const FaceAnswer& answer) {
  Rows rows;
  rows.add("out of flat (minimum zone)", answer.flatness_mm());
  rows.add("the same by least squares", answer.least_squares_mm, "as most tables print it");
  const std::string square = fmt::format("worst {} mm square", shortest(answer.local.side_mm, 1));
  if (answer.local.points > 0) {
    rows.add(square, answer.local.width_mm, local_note(answer.local));
  } else {
    rows.add_open(square, "no such square holds four points off one row");
  }
  const auto bow_note = [](const std::optional<double>& bow_mm) {
    return bow_mm ? face_words::bow(*bow_mm) : std::string();
  };
  rows.add_signed("bow along x", answer.shape.bow_x_mm, bow_note(answer.shape.bow_x_mm));
  rows.add_signed("bow along y", answer.shape.bow_y_mm, bow_note(answer.shape.bow_y_mm));
  rows.add_signed("twist", answer.shape.twist_mm, "fourth corner off the other three");
  rows.add("least skim, best cut", answer.skim.to_best_plane_mm, "cut parallel to its best plane");
  rows.add("least skim, as it stands", answer.skim.to_readings_mm, "cut parallel to the readings");
  if (answer.skim.to_datum_mm) {
    rows.add("least skim, by the datum", *answer.skim.to_datum_mm, "cut parallel to the datum");
  }
  return '\n' + rows.text();
}

std::string spot_list(const char* name, const std::vector<FaceSpot>& spots, int count) {
  if (spots.empty()) return "";
  std::string text = fmt::format("{}: ", name);
  for (std::size_t i = 0; i < spots.size(); ++i) {
    text += (i > 0 ? "; " : "") + at(spots[i].at_mm.head<2>());
  }
  if (count > static_cast<int>(spots.size())) {
    text += fmt::format("; and {} more", count - static_cast<int>(spots.size()));
  }
  return wrapped(text + ".", 2);
}

std::string heights_below(const FaceAnswer& answer) {
  std::string text = '\n' + spot_list("High spots", answer.high, answer.high_count);
  text += spot_list("Low spots", answer.low, answer.low_count);
  const LeastSkim& skim = answer.skim;
  std::string tilt;
  for (const auto& [mm_more, axis] : {std::pair(skim.tilt_x_mm, 'x'), {skim.tilt_y_mm, 'y'}}) {
    if (prints_as_nothing(mm_more, 3)) continue;
    tilt += fmt::format("{}{} mm more at the {} end of {}", tilt.empty() ? "" : ", ",
                        mm(std::abs(mm_more)), mm_more > 0.0 ? "far" : "near", axis);
  }
  if (!tilt.empty()) {
    text += wrapped(fmt::format(
        "The best cut is not parallel to the plane that the heights were read from: it takes {}.",
        tilt));
  }
  if (answer.may_come_off_mm) {
    text +=
        wrapped(fmt::format("The part is {} mm high and must keep {} mm: {} mm may come off, {} mm "
                            "of it left after the "
                            "least skim.",
                            shortest(*answer.height_mm, 3), shortest(*answer.least_height_mm, 3),
                            mm(*answer.may_come_off_mm), mm(*answer.left_after_skim_mm)));
  }
  if (!answer.local.exact) {
    text += wrapped(fmt::format(
        "With more than {} points, squares are looked at in steps of a tenth of their side.",
        kMostPointsForEverySquare));
  }
  return text;
}

std::string feeler_table(const FeelerAnswer& answer) {
  TextTable table({{"line", Align::left}, {"goes\nmm"}, {"does not\ngo mm"}, {"", Align::left}});
  for (const LineBounds& bounds : answer.lines) {
    const auto number = [](const std::optional<double>& value) {
      return value ? shortest(*value, 3) : std::string("-");
    };
    table.add({bounds.line.name, number(bounds.line.goes_mm), number(bounds.line.stops_mm),
               bounds.line.rocks ? "the edge rocks" : ""});
  }
  return "\nUnder the straight edge:\n" + table.text();
}

std::string feelers_say(const FeelerAnswer& answer) {
  std::string text = "\nWhat this says:\n";
  const std::string& decisive = answer.lines[static_cast<std::size_t>(answer.decisive)].line.name;
  if (answer.at_least_mm > 0.0) {
    text += wrapped(fmt::format("- The face is out of flat by at least {} ({}).",
                                mm_and_thou(answer.at_least_mm, 3), decisive),
                    2);
  }
  if (answer.most_on_a_line_mm) {
    text += wrapped(fmt::format("- No line felt is out of straight by more than {}.",
                                mm_and_thou(*answer.most_on_a_line_mm, 3)),
                    2);
  }
  if (answer.twist_at_most_mm) {
    text += wrapped(
        fmt::format(
            "- The fourth corner stands off the other three by at most {}, if the diagonals "
            "ran from corner to corner.",
            mm_and_thou(*answer.twist_at_most_mm, 3)),
        2);
  }
  text += "What it does not say:\n";
  text += wrapped(
      "- By how much at most the whole face is out: feelers do not show how the lines lie to one "
      "another, nor what lies between them. Heights at points would.",
      2);
  text += wrapped(
      "- All this holds where the edge rests on both sides of the gap. Where it rocks on a high "
      "spot the gap at its end is up to twice the error: say so (rocks = true).",
      2);
  std::string open;
  const auto name = [&open](const char* what) {
    open += (open.empty() ? "" : ", ") + std::string(what);
  };
  if (!answer.along_felt) name("along");
  if (!answer.across_felt) name("across");
  if (answer.diagonals_felt < 2) name("both diagonals");
  if (!open.empty()) text += wrapped(fmt::format("- Not felt yet: {}.", open), 2);
  return text;
}

std::string findings(const FaceVerdict& verdict) {
  std::string text;
  for (const Finding& finding : verdict.findings) {
    text += wrapped(fmt::format("- {}: {}", word(finding.level), finding.text), 2);
  }
  return text.empty() ? "" : '\n' + text;
}

std::string limits(const FaceVerdict& verdict) {
  const auto from = [](bool given) { return given ? "given" : "common practice"; };
  return '\n' +
         wrapped(fmt::format(
             "Limits: strict {} mm ({}), loose {} mm ({}), a gap of {} mm under the straight "
             "edge ({}). The engine maker's own come before them.",
             limit(verdict.strict_mm), from(verdict.strict_given), limit(verdict.loose_mm),
             from(verdict.loose_given), limit(verdict.gap_mm), from(verdict.gap_given)));
}

}  // namespace

std::string face_words::bow(double bow_mm) {
  if (prints_as_nothing(bow_mm, 3)) return "straight";
  return bow_mm > 0.0 ? "hollow: the ends stand higher" : "crowned: the middle stands higher";
}

std::string face_text(const FaceReport& report) {
  std::string text;
  if (report.verdict) text += wrapped(report.verdict->headline);
  text += what_was_read(report);
  if (report.heights) text += heights_table(*report.heights) + heights_below(*report.heights);
  if (report.feelers) text += feeler_table(*report.feelers) + feelers_say(*report.feelers);
  if (report.verdict) text += findings(*report.verdict) + limits(*report.verdict);
  if (report.skim) text += (text.empty() ? "" : "\n") + face_words::skim(report);
  return text;
}

}  // namespace twoturn
