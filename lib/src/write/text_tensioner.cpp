#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "answer_tables.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string teeth(int count) { return counted(count, "tooth", "teeth"); }

std::string list_of(const std::vector<std::string>& items) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) text += i + 1 == items.size() ? " and " : ", ";
    text += items[i];
  }
  return text;
}

// Teeth

std::string counts_that_fit(const Drive& drive, const TeethAnswer& answer) {
  std::vector<std::string> counts;
  for (const FittingCount& count : answer.fits) counts.push_back(fmt::format("{}", count.teeth));
  if (!counts.empty()) {
    const bool one = counts.size() == 1;
    return fmt::format("{} teeth: {} the only tooth count{} that {} on", list_of(counts),
                       one ? "this is" : "these are", one ? "" : "s", one ? "goes" : "go");
  }
  if (!answer.nearby.empty() && !drive.tensioner && !answer.tolerance_mm) {
    return fmt::format("The path measures {} teeth", fixed(answer.teeth_exact, 2));
  }
  return drive.tensioner ? "No tooth count goes on within the tensioner's travel"
                         : "No tooth count fits these fixed centres";
}

std::string own_belt(const TeethAnswer& answer) {
  if (!answer.belt_teeth || (answer.fits.empty() && answer.nearby.empty())) return "";
  if (answer.own_goes_on()) {
    return wrapped(fmt::format("The profile's belt of {} goes on.", teeth(*answer.belt_teeth)));
  }
  return wrapped(
      fmt::format("The profile's belt of {} does not go on: count its teeth again, and "
                  "check the sizes and places of the pulleys.",
                  teeth(*answer.belt_teeth)));
}

std::string fits_table(const Drive& drive, const TeethAnswer& answer) {
  const std::string table = counts_table(drive, answer).text();
  if (table.empty()) return "";
  return "\nWhere the tensioner then stands (travel: nought slack, one tight):\n" + table;
}

// Of a count that does not go on; nothing where it is out of the question.
std::string may_go_on(double probability) {
  constexpr double kPercent = 100.0;
  if (prints_as_nothing(kPercent * probability, 0)) return "";
  return fmt::format("; by how well the numbers are known it goes on after all {} times in 100",
                     fixed(kPercent * probability, 0));
}

// Counts that go on by the numbers as they are, and might not.
std::string chances(const TeethAnswer& answer) {
  constexpr double kPercent = 100.0;
  std::string text;
  for (const FittingCount& count : answer.fits) {
    const std::string share = fixed(kPercent * count.probability, 0);
    if (share == "100") continue;
    text += wrapped(fmt::format("- {}: goes on {} times in 100, by how well the numbers are known.",
                                teeth(count.teeth), share),
                    2);
  }
  return text.empty() ? "" : "\nNot certain:\n" + text;
}

std::string neighbours(const TeethAnswer& answer) {
  std::string text;
  for (const NearbyCount& near : answer.nearby) {
    const bool too_short = near.mismatch_mm < 0.0;
    if (near.mismatch_mm == 0.0) {
      text += wrapped(fmt::format("- {}: within the travel, yet no belt can run at that setting.",
                                  teeth(near.teeth)),
                      2);
      continue;
    }
    text += wrapped(fmt::format("- {}: {} mm too {}{}{}.", teeth(near.teeth),
                                fixed(std::abs(near.mismatch_mm), 2), too_short ? "short" : "long",
                                too_short ? ", even with the tensioner right off"
                                          : ", even with the tensioner at its tightest",
                                may_go_on(near.probability)),
                    2);
  }
  return text.empty() ? "" : "\nThe next counts do not go on:\n" + text;
}

std::string fixed_table(const TeethAnswer& answer) {
  if (answer.nearby.empty()) return "";
  const std::string along =
      answer.move_along_deg ? fixed(*answer.move_along_deg, 1) : std::string();
  TextTable table({{"teeth"},
                   {"off by mm"},
                   {"what it means", Align::left},
                   {fmt::format("move {}\nmm", answer.moved.value_or("a pulley"))}});
  for (const NearbyCount& near : answer.nearby) {
    const bool fits = answer.goes_on(near.teeth);
    std::string means = near.mismatch_mm < 0.0 ? "belt too short, will not go on or runs tight"
                                               : "belt too long, hangs slack";
    if (fits) means = "within the length tolerance";
    table.add({fmt::format("{}", near.teeth), signed_fixed(near.mismatch_mm, 2), means,
               near.move_mm ? signed_fixed(*near.move_mm, 2) : "none"});
  }
  std::string text = "\nFixed centres:\n" + table.text();
  if (answer.moved && answer.move_along_deg) {
    text += wrapped(fmt::format("Moves of {} are + towards {}.", the(*answer.moved),
                                sentences::clock(*answer.move_along_deg)));
  }
  if (answer.tolerance_mm) {
    text += wrapped(fmt::format("Tolerance of the belt's length: {} mm either way.",
                                fixed(*answer.tolerance_mm, 2)));
  } else {
    text += wrapped(
        "The belt's length tolerance is not known (belt.length_tolerance_mm), so which "
        "count is near enough is not judged.");
  }
  return text;
}

// Tensioner

std::string tensioner_first_line(const TensionerAnswer& answer) {
  if (!answer.belt_teeth) {
    return wrapped(fmt::format("{} takes {} to {} mm of belt; the belt's teeth are not given.",
                               capital(the(answer.pulley)), fixed(answer.least_mm, 2),
                               fixed(answer.greatest_mm, 2)));
  }
  if (answer.only_tightens) {
    return wrapped(
        fmt::format("{}: where the tensioner stands is not told, for by its geometry it "
                    "tightens the other way than said.",
                    teeth(*answer.belt_teeth)));
  }
  if (!answer.meant) {
    return wrapped(fmt::format("A belt of {} does not go on anywhere in the tensioner's travel.",
                               teeth(*answer.belt_teeth)));
  }
  const Setting& meant = *answer.meant;
  if (meant.over_centre != OverCentre::before) {
    return wrapped(fmt::format("{}: the tensioner stands at {}, {} over centre: the wrong side.",
                               teeth(*answer.belt_teeth), sentences::reading(meant.reading),
                               sentences::word(meant.over_centre)));
  }
  return wrapped(fmt::format("{}: the tensioner stands at {}; adjustment left {}.",
                             teeth(*answer.belt_teeth),
                             sentences::reading(meant.reading, answer.unsure),
                             sentences::mm(meant.adjustment_left_mm, answer.adjustment_unsure)));
}

std::string way_to_tighten(const TensionerAnswer& answer) {
  if (answer.kind == TensionerKind::slide) {
    return wrapped(fmt::format("To tighten, push it towards {}.",
                               sentences::clock(answer.tightens_towards_deg)));
  }
  const std::string way =
      answer.only_tightens ? sentences::tightens_contradicted(answer)
                           : fmt::format("To tighten, turn the spanner {}, seen from the belt end.",
                                         word(answer.tightens));
  return wrapped(
      fmt::format("{} The roller's centre stands {} mm from the pivot it turns on; clock "
                  "angles are of that centre seen from the pivot.",
                  way, shortest(answer.arm_mm, 2)));
}

std::string positions(const TensionerAnswer& answer) {
  if (answer.settings.empty()) return "";
  return fmt::format("\nEvery position at which {} are at their own length:\n",
                     teeth(answer.belt_teeth.value_or(0))) +
         settings_table(answer).text();
}

std::string against_maker(const TensionerAnswer& answer) {
  if (!answer.maker) return "";
  std::string text =
      fmt::format("The maker's marks put it at {}", sentences::setting(*answer.maker));
  if (answer.apart) {
    text += fmt::format("; {} {} from there", fixed(*answer.apart, digits(answer.kind)),
                        unit(answer.kind));
    // The marks are the drawn drive's: only against that do they judge.
    if (answer.fit == Fit::by_the_book) {
      text += fmt::format(" ({} the {} {} that is allowed{})",
                          *answer.apart > answer.set_give ? "more than" : "within",
                          shortest(answer.set_give, 2), unit(answer.kind),
                          sentences::left_open(answer.unsure, unit(answer.kind)));
    }
  }
  return wrapped(text + ".");
}

std::string over_centre(const TensionerAnswer& answer) {
  if (answer.over_centres.empty()) {
    return wrapped(
        "It nowhere goes over centre in its travel: further towards the tight end always "
        "tightens.");
  }
  std::string text;
  for (const Setting& setting : answer.over_centres) {
    text +=
        wrapped(fmt::format("Over centre at {}, {} mm of belt: past there, turning further "
                            "slackens it again.",
                            sentences::setting(setting), fixed(setting.length_mm, 2)));
  }
  return text;
}

std::string usable_travel(const TensionerAnswer& answer) {
  if (answer.usable.empty()) return "Nowhere in its travel can the belt run.\n";
  std::string text;
  for (const auto& [slack, tight] : answer.usable) {
    const auto cause = [](const TravelEnd& end, const char* own) {
      return end.cause ? fmt::format("ended by: {}", end.cause->text) : std::string(own);
    };
    text += wrapped(
        fmt::format("Usable travel: from {} ({}) to {} ({}).",
                    sentences::reading(slack.setting.reading), cause(slack, "the slack end"),
                    sentences::reading(tight.setting.reading), cause(tight, "the tight end")));
  }
  text += wrapped(fmt::format("It takes {} to {} mm of belt.", fixed(answer.least_mm, 2),
                              fixed(answer.greatest_mm, 2)));
  return text;
}

std::string places(const TensionerAnswer& answer) {
  const bool refused = std::any_of(answer.rows.begin(), answer.rows.end(),
                                   [](const TravelRow& row) { return row.refused.has_value(); });
  return "\nFrom slack to tight:\n" + travel_table(answer).text() +
         (refused ? "no: a belt cannot run there.\n" : "");
}

}  // namespace

std::string teeth_text(const Heading& heading, const Drive& drive, const TeethAnswer& answer) {
  std::string text = wrapped(counts_that_fit(drive, answer) + ".") + sentences::heading(heading);
  text += own_belt(answer);
  if (answer.teeth_exact > 0.0) {
    const std::string where =
        drive.tensioner
            ? fmt::format(" with the tensioner at {}", answer.choice == SettingChoice::maker_marks
                                                           ? "the maker's marks"
                                                           : "the middle of its travel")
            : "";
    text +=
        wrapped(fmt::format("The path measures {} teeth of {} mm{}.", fixed(answer.teeth_exact, 2),
                            shortest(drive.belt.pitch_mm, 4), where));
  }
  text += drive.tensioner ? fits_table(drive, answer) + chances(answer) + neighbours(answer)
                          : fixed_table(answer);
  return text + sentences::missing(heading.missing);
}

std::string tensioner_text(const Heading& heading, const TensionerAnswer& answer) {
  std::string text = answer.usable.empty()
                         ? std::string("Nowhere in the tensioner's travel can the belt run.\n")
                         : tensioner_first_line(answer);
  text += sentences::heading(heading);
  text += way_to_tighten(answer);
  if (!answer.usable.empty()) {
    text += over_centre(answer) + against_maker(answer) + usable_travel(answer);
  }
  return text + positions(answer) + places(answer) + sentences::missing(heading.missing);
}

}  // namespace twoturn
