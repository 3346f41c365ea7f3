#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/refusal_known.hpp"
#include "twoturn/drive/route.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

void refused_paths(const FitAnswer& answer, std::vector<Finding>& findings) {
  const double q = choose_setting(*answer.drive(), answer.fitted->curve()).q;
  for (const NamedRefusal& refused : answer.route->refused) {
    const RefusalKnown known = answer.drive()->both_orders_run
                                   ? RefusalKnown{}
                                   : how_surely_refused(*answer.fitted, q, refused.refusal);
    Finding finding{known.sure ? Level::stop : Level::look, "path-refused", refused.about,
                    refused.text};
    finding.value = refused.refusal.value;
    finding.limit = refused.refusal.limit;
    finding.brief = fmt::format("the belt {} run as drawn ({})", known.sure ? "cannot" : "may not",
                                refused.about);
    finding.action = "check the sizes, places and faces given, and the engine itself";
    if (!known.sure) {
      finding.text += known.unsure.give_or_take > 0.0
                          ? sentences::not_sure("It may be clear all the same", known.unsure, "mm")
                          : fmt::format(
                                " It may run all the same: measure {} better, it settles "
                                "most.",
                                sentences::number_of(known.unsure.most));
      finding.action = fmt::format("measure {} better", sentences::number_of(known.unsure.most));
    }
    findings.push_back(finding);
  }
}

// The nearest approach, over the travel where there is one. Touching is a refusal already.
void near_parts(const RouteAnswer& route, const Limits& limits, std::vector<Finding>& findings) {
  for (const NamedApproach& approach : route.approaches) {
    const double here = approach.approach.gap_mm;
    const double least = std::min(here, approach.least_in_travel_mm.value_or(here));
    if (here <= 0.0 || least >= limits.near_mm) continue;
    const std::string where = least < here ? ", at its least within the tensioner's travel" : "";
    Finding finding{
        Level::look, "near", approach.to,
        fmt::format("{} passes {} mm from {}{}; under {} mm a belt that flaps can touch. "
                    "Look for rub marks and check the place of both.",
                    approach.piece, fixed(std::max(0.0, least), 2),
                    approach.to == "itself" ? "another run of the belt" : the(approach.to), where,
                    shortest(limits.near_mm, 2))};
    finding.text[0] = 'T';
    finding.value = least;
    finding.limit = limits.near_mm;
    finding.unit = "mm";
    finding.limit_key = "limits.near_mm";
    finding.brief = fmt::format("the belt passes {} mm from {}", fixed(least, 2), approach.to);
    finding.action = "look for rub marks";
    findings.push_back(finding);
  }
}

bool drives_timed_shaft(const DriveSpec& spec, const std::string& pulley) {
  return std::any_of(spec.geared.begin(), spec.geared.end(), [&](const GearedSpec& geared) {
    return geared.from == pulley && turns_per_crank(geared).has_value();
  });
}

enum class Carries { timing, timed_gears, neither };

std::string mesh_advice(Carries carries, const std::string& limit) {
  if (carries == Carries::timing) {
    return fmt::format(
        "Under {} a loaded pulley can jump a tooth: check the order of the pulleys and that no "
        "idler is left out.",
        limit);
  }
  if (carries == Carries::timed_gears) {
    return fmt::format(
        "Under {} is little, and this pulley drives a timed shaft by gears: a tooth jumped here "
        "puts that shaft out, so try its pin too.",
        limit);
  }
  return fmt::format("Under {} is little, but this shaft is not timed: no more than a note.",
                     limit);
}

void teeth_in_mesh(const DriveSpec& spec, const RouteAnswer& route, const Drive& drive,
                   const Limits& limits, std::vector<Finding>& findings) {
  for (const RoutePulley& pulley : route.pulleys) {
    if (!pulley.teeth_in_mesh || *pulley.teeth_in_mesh >= limits.teeth_in_mesh) continue;
    const int listed = drive.pulleys[static_cast<std::size_t>(pulley.index)].listed;
    const Carries carries = turns_per_crank(spec.pulleys[static_cast<std::size_t>(listed)])
                                ? Carries::timing
                            : drives_timed_shaft(spec, pulley.name) ? Carries::timed_gears
                                                                    : Carries::neither;
    Finding finding{carries == Carries::timing ? Level::look : Level::note, "teeth-in-mesh",
                    pulley.name, ""};
    finding.text = fmt::format("Only {} of the belt {} in mesh on {} ({} deg round it). {}",
                               counted(*pulley.teeth_in_mesh, "tooth", "teeth"),
                               *pulley.teeth_in_mesh == 1 ? "is" : "are", the(pulley.name),
                               fixed(pulley.wrap_deg, 1),
                               mesh_advice(carries, shortest(limits.teeth_in_mesh, 1)));
    finding.value = *pulley.teeth_in_mesh;
    finding.limit = limits.teeth_in_mesh;
    finding.unit = "teeth";
    finding.limit_key = "limits.teeth_in_mesh";
    finding.brief = fmt::format("only {} in mesh on {}",
                                counted(*pulley.teeth_in_mesh, "tooth", "teeth"), the(pulley.name));
    finding.action = "check the route";
    findings.push_back(finding);
  }
}

// A smooth roller on the teeth bends the belt as the smallest toothed pulley does: common practice.
double least_on_teeth_mm(const Belt& belt) { return belt.pitch_mm * *belt.least_teeth / kPi; }

void small_pulleys(const Drive& drive, std::vector<Finding>& findings) {
  for (const Pulley& pulley : drive.pulleys) {
    Finding finding{Level::look, "small-pulley", pulley.name, ""};
    if (pulley.toothed() && drive.belt.least_teeth && pulley.teeth < *drive.belt.least_teeth) {
      finding.value = pulley.teeth;
      finding.limit = *drive.belt.least_teeth;
      finding.unit = "teeth";
      finding.limit_key = "belt.least_teeth";
    } else if (!pulley.toothed() && pulley.face == Face::tooth && drive.belt.least_teeth &&
               pulley.outside_mm < least_on_teeth_mm(drive.belt)) {
      finding.value = pulley.outside_mm;
      finding.limit = least_on_teeth_mm(drive.belt);
      finding.unit = "mm";
      finding.limit_key = "belt.least_teeth";
    } else if (!pulley.toothed() && pulley.face == Face::back && drive.belt.least_roller_mm &&
               pulley.outside_mm < *drive.belt.least_roller_mm) {
      finding.value = pulley.outside_mm;
      finding.limit = *drive.belt.least_roller_mm;
      finding.unit = "mm";
      finding.limit_key = "belt.least_roller_mm";
    } else {
      continue;
    }
    finding.text = fmt::format(
        "{} is smaller than this belt section is usually bent round ({} {}, least {}): the belt "
        "tires early. Check that pulley and belt belong together.",
        capital(the(pulley.name)), shortest(finding.value, 2), finding.unit,
        shortest(finding.limit, 2));
    if (!pulley.toothed() && 2.0 * finding.value >= finding.limit) {
      finding.text += " Is that its radius? The diameter is wanted, right across.";
    }
    finding.brief = fmt::format("{} is small for this belt", plain_name(pulley.name));
    finding.action = "check that pulley and belt belong together";
    findings.push_back(finding);
  }
}

// A part said to be mounted on a head cannot lie on the block's side of its gasket face.
void below_deck(const DriveSpec& spec, const Drive& drive, std::vector<Finding>& findings) {
  for (const Pulley& pulley : drive.pulleys) {
    if (pulley.head < 0) continue;
    const HeadSpec& head = spec.heads[static_cast<std::size_t>(pulley.head)];
    if (!head.deck_deg || !head.deck_from_crank_mm) continue;
    const Angle deck = Angle::clock(*head.deck_deg);
    const double above =
        pulley.wheel.centre_mm.dot(Vec2(std::cos(deck.radians()), std::sin(deck.radians())));
    if (above >= *head.deck_from_crank_mm) continue;
    Finding finding{
        Level::look, "below-deck", pulley.name,
        fmt::format("{} is said to be mounted on {}, but its centre lies {} mm on the "
                    "block's side of the gasket face. Check its place, the head it is on, and "
                    "head.{}.deck_from_crank_mm.",
                    capital(the(pulley.name)), the(head.name),
                    fixed(*head.deck_from_crank_mm - above, 1), head.name)};
    finding.value = above;
    finding.limit = *head.deck_from_crank_mm;
    finding.unit = "mm";
    finding.limit_key = fmt::format("head.{}.deck_from_crank_mm", head.name);
    finding.brief = fmt::format("{} lies below its own head", plain_name(pulley.name));
    finding.action = "check where it is mounted";
    findings.push_back(finding);
  }
}

Finding mismatch_finding(const NearbyCount& count, const TeethAnswer& teeth) {
  const double off = std::abs(count.mismatch_mm);
  const bool slack = count.mismatch_mm > 0.0;
  Finding finding{Level::look, "fixed-mismatch", "belt", ""};
  finding.value = off;
  finding.limit = *teeth.tolerance_mm;
  finding.unit = "mm";
  finding.limit_key = "belt.length_tolerance_mm";
  const std::string cure =
      count.move_mm ? fmt::format(" {} would have to move {} mm {} for it.",
                                  capital(the(*teeth.moved)), fixed(std::abs(*count.move_mm), 2),
                                  *count.move_mm > 0.0 ? "outwards" : "inwards")
                    : "";
  finding.text = fmt::format(
      "On these fixed centres a belt of {} teeth is {} mm too {} (belts themselves vary by {} "
      "mm{}).{} Check the tooth count and the centre distance.",
      count.teeth, fixed(off, 2), slack ? "long and hangs slack" : "short and will not go on",
      shortest(*teeth.tolerance_mm, 2), sentences::left_open(count.unsure, "mm"), cure);
  finding.brief = fmt::format("the belt is {} mm too {}", fixed(off, 2), slack ? "long" : "short");
  finding.action = "check the tooth count and the centre distance";
  return finding;
}

void fixed_centres(const TeethAnswer& teeth, std::vector<Finding>& findings) {
  if (!teeth.belt_teeth || !teeth.tolerance_mm) return;
  for (const NearbyCount& count : teeth.nearby) {
    if (count.teeth != *teeth.belt_teeth) continue;
    if (std::abs(count.mismatch_mm) <= *teeth.tolerance_mm) return;
    Finding finding = mismatch_finding(count, teeth);
    constexpr double kStopTolerances = 3.0;
    if (certainly_beyond(finding.value - kStopTolerances * *teeth.tolerance_mm, count.unsure)) {
      finding.level = Level::stop;
      finding.limit = kStopTolerances * *teeth.tolerance_mm;
    }
    findings.push_back(finding);
  }
}

// The profile's own belt has no place; `others` are the counts that have.
void does_not_fit(const TeethAnswer& teeth, const Drive& drive, const std::string& others,
                  std::vector<Finding>& findings) {
  const auto ours =
      std::find_if(teeth.nearby.begin(), teeth.nearby.end(),
                   [&](const NearbyCount& count) { return count.teeth == *teeth.belt_teeth; });
  const double off = ours == teeth.nearby.end() ? 0.0 : ours->mismatch_mm;
  const Unsure unsure = ours == teeth.nearby.end() ? Unsure{} : ours->unsure;
  const bool sure = off == 0.0 || certainly_beyond(std::abs(off), unsure);
  Finding finding{sure ? Level::stop : Level::look, "belt-fit", "belt", ""};
  finding.value = off;
  finding.unit = "mm";
  const std::string fits = others.empty() ? "No tooth count fits" : "What would fit: " + others;
  finding.text = fmt::format(
      "A belt of {} teeth {} not fit: it is {} mm too {} end of the tensioner's usable travel. "
      "{}.{} Count the belt's teeth again and check the pulleys.",
      *teeth.belt_teeth, sure ? "does" : "may", fixed(std::abs(off), 2),
      off < 0.0 ? "short at the slack" : "long at the tight", fits,
      sure ? "" : sentences::not_sure("It may fit all the same", unsure, "mm"));
  if (off == 0.0 && !drive.tensioner) {
    finding.text = fmt::format(
        "Between these fixed centres no belt can run, whether it has {} teeth or others. Check the "
        "places and the pulleys.",
        *teeth.belt_teeth);
  } else if (off == 0.0) {
    finding.text = fmt::format(
        "A belt of {} teeth has no place of the tensioner at which it can run. {}. Check the "
        "pulleys and the tensioner.",
        *teeth.belt_teeth, fits);
  }
  finding.brief =
      fmt::format("a belt of {} teeth {} not fit", *teeth.belt_teeth, sure ? "does" : "may");
  finding.action = sure ? "count the belt's teeth again and check the pulleys"
                        : fmt::format("count its teeth again and measure {} better",
                                      sentences::number_of(unsure.most));
  findings.push_back(finding);
}

// It goes on by the numbers as they are; how well they are known may leave that open. A note: of
// correct drives measured with a rule up to two in five are so.
void may_not_go_on(const TeethAnswer& teeth, std::vector<Finding>& findings) {
  constexpr double kSure = 0.95;
  constexpr double kHundred = 100.0;
  const auto ours =
      std::find_if(teeth.fits.begin(), teeth.fits.end(),
                   [&](const FittingCount& count) { return count.teeth == *teeth.belt_teeth; });
  if (ours == teeth.fits.end() || ours->probability >= kSure) return;
  // The same numbers decide over its nearest neighbour.
  const auto nearest = std::min_element(teeth.nearby.begin(), teeth.nearby.end(),
                                        [](const NearbyCount& a, const NearbyCount& b) {
                                          return std::abs(a.mismatch_mm) < std::abs(b.mismatch_mm);
                                        });
  const std::string most = nearest == teeth.nearby.end() ? "" : nearest->unsure.most;
  Finding finding{Level::note, "belt-fit-open", "belt", ""};
  finding.value = kHundred * ours->probability;
  finding.limit = kHundred * kSure;
  finding.unit = "times in 100";
  finding.text = fmt::format(
      "A belt of {} teeth may not go on: it does {} times in 100, by how well the numbers are "
      "known.{}",
      ours->teeth, fixed(finding.value, 0),
      most.empty()
          ? ""
          : fmt::format(" Measure {} better, it settles most.", sentences::number_of(most)));
  findings.push_back(finding);
}

void belt_fit(const TeethAnswer& teeth, const Drive& drive, std::vector<Finding>& findings) {
  if (!teeth.belt_teeth || teeth.moved) return;
  std::string others;
  for (const FittingCount& count : teeth.fits) {
    if (count.teeth == *teeth.belt_teeth) continue;
    others += (others.empty() ? "" : ", ") + std::to_string(count.teeth);
  }
  if (teeth.own_goes_on()) {
    may_not_go_on(teeth, findings);
    if (others.empty()) return;
    Finding finding{
        Level::note, "other-counts-fit", "belt",
        fmt::format(
            "A belt of {} teeth would also go on these pulleys: that a belt goes on does "
            "not prove its count. Count its teeth{}.",
            others,
            teeth.right_teeth == teeth.belt_teeth
                ? fmt::format(": {} is right, it meets the tensioner's marks", *teeth.belt_teeth)
                : "")};
    finding.value = static_cast<double>(teeth.fits.size());
    finding.limit = 1.0;
    finding.unit = "counts";
    findings.push_back(finding);
    return;
  }
  does_not_fit(teeth, drive, others, findings);
}

}  // namespace

void find_in_route(const DriveSpec& spec, const FitAnswer& answer, std::vector<Finding>& findings) {
  const Drive& drive = *answer.drive();
  const Limits limits = limits_of(spec.limits);
  refused_paths(answer, findings);
  if (answer.teeth) {
    belt_fit(*answer.teeth, drive, findings);
    fixed_centres(*answer.teeth, findings);
  }
  if (answer.route->is_belt) {
    near_parts(*answer.route, limits, findings);
    teeth_in_mesh(spec, *answer.route, drive, limits, findings);
  }
  small_pulleys(drive, findings);
  below_deck(spec, drive, findings);
}

}  // namespace twoturn
