#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "text_why_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/text.hpp"
#include "words/fault_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string how_to_read(const WhyAnswer& answer) {
  std::string text =
      "Each fault is tried on this drive by itself. Marks are measured at their "
      "edge; late: not yet where it belongs, in the running direction; early: past it. Where a "
      "mark stands and what a pin does is told for after two turns, looking at the belt end; after "
      "one turn the marks of shafts at half speed stand opposite, which is right. A fault with a "
      "size is shown at the size in its title. Whatever is to be done: after it tension, two turns "
      "by hand, and look again.";
  if (!answer.layout.has_engine) {
    text +=
        " Where a solid stop would be is not known: the profile has no valves' timing and room.";
  }
  if (answer.direction == Direction::assumed) {
    text += " Which way the crank turns is not given, so early and late are not told apart.";
  }
  return '\n' + wrapped(text);
}

std::string slack_table(const WhyAnswer& answer) {
  if (answer.slack.empty()) return "";
  TextTable table({{"shaft", Align::left},
                   {"crank deg\na mm"},
                   {"own deg\na mm"},
                   {"it goes", Align::left},
                   {"turn the crank back\nfirst, crank deg a mm"}});
  for (const WhySlack& slack : answer.slack) {
    table.add(
        {slack.shaft, fixed(std::abs(slack.crank_deg_a_mm), 2),
         fixed(std::abs(slack.own_deg_a_mm), 2),
         std::string(sentences::early_or_late(slack.goes_late ? -1.0 : 1.0, answer.direction)),
         fixed(std::abs(slack.set_back_deg_a_mm), 2)});
  }
  return '\n' +
         wrapped(
             "What a mm of slack does: belt left loose on the way that is counted along moves "
             "the shaft when the tensioner takes it up.") +
         table.text();
}

std::string while_backwards(const WhyAnswer& answer) {
  if (!answer.backwards) return "";
  const WhyBackwards& backwards = *answer.backwards;
  std::string text;
  for (std::size_t k = 0; k < backwards.shafts.size(); ++k) {
    text += fmt::format("{}{} {}", k == 0 ? "" : ", ", the(backwards.shafts[k]),
                        sentences::error(backwards.early_crank_deg[k], answer.direction));
  }
  return '\n' + wrapped(fmt::format(
                    "While the crank is turned backwards the sprung tensioner can give up to {} "
                    "mm of belt. At most, marks then stand so: {}. Come up to them forwards.",
                    fixed(backwards.gives_mm, 2), text));
}

std::string evidence_table(const WhyCandidate& candidate) {
  TextTable table({{"what", Align::left},
                   {"seen", Align::left},
                   {"would show", Align::left},
                   {"that is", Align::left}});
  for (const WhyEvidence& evidence : candidate.evidence) {
    const bool for_it = evidence.weighs == WhyEvidence::Weighs::for_it;
    const bool against = evidence.weighs == WhyEvidence::Weighs::against_it;
    table.add({evidence.what, evidence.seen, evidence.would,
               for_it    ? "for it"
               : against ? "against it"
                         : "neither"});
  }
  return table.empty() ? "" : table.text();
}

bool several(const WhyGroup& group) { return group.members.size() > 1 || group.unnamed > 0; }

std::string not_told_apart(const WhyGroup& group) {
  if (!several(group)) return "";
  std::string text;
  for (const WhyCandidate& member : group.members) {
    text += wrapped(fmt::format("   - {}: {}", capital(sentences::in_hundred(member.probability)),
                                text_why::sentence(member.fault.title)),
                    5);
  }
  if (group.unnamed > 0) {
    text += wrapped(
        fmt::format("   - {}.", counted(group.unnamed, "less likely one", "less likely ones")), 5);
  }
  return text;
}

std::string group_lines(const WhyGroup& group, int number) {
  if (group.members.empty()) return "";
  const WhyCandidate& first = group.members.front();
  return '\n' +
         wrapped(fmt::format(
                     "{}. {}: {}", number, capital(sentences::in_hundred(group.probability)),
                     several(group) ? "one of these, which cannot be told apart by what was seen:"
                                    : text_why::sentence(first.fault.title)),
                 3) +
         not_told_apart(group) + evidence_table(first);
}

// The rest would fill pages with what nobody need think of.
std::string ranked_groups(const WhySeen& seen) {
  constexpr double kWorthNaming = 0.01;
  std::string text = "\nWhat it may be, likeliest first, and how each stands to what was seen:\n";
  int number = 0;
  for (const WhyGroup& group : seen.groups) {
    if (number > 1 && group.probability < kWorthNaming) break;
    text += group_lines(group, ++number);
  }
  if (static_cast<std::size_t>(number) < seen.groups.size()) {
    text += '\n' + wrapped("All others are less likely still; --json lists them.");
  }
  return text;
}

std::string numbered_steps(const WhySeen& seen) {
  if (seen.steps.empty()) return "";
  std::string text = "\nWhat to do about the likeliest, in this order:\n";
  int number = 0;
  for (const std::string& step : seen.steps) {
    text += wrapped(fmt::format("{}. {}", ++number, text_why::sentence(step)), 3);
  }
  return text;
}

std::string further_look(const WhySeen& seen) {
  if (!seen.next) return "";
  const WhyNext& next = *seen.next;
  return "\nThe one look that would tell most before that:\n" +
         wrapped("- " + text_why::sentence(next.look), 2) +
         wrapped(fmt::format("- {}: most likely {}.", next.if_first, next.first), 2) +
         wrapped(fmt::format("- {}: most likely {}.", next.if_second, next.second), 2);
}

std::string what_first_shows(const WhyAnswer& answer, const WhySeen& seen) {
  if (seen.groups.empty() || seen.groups.front().members.empty()) return "";
  const WhyFault& fault = seen.groups.front().members.front().fault;
  return '\n' + wrapped(fmt::format("What shows if {}:", fault.title)) +
         text_why::shows(answer, fault) + text_why::without_fault(answer);
}

std::string not_used(const WhySeen& seen) {
  if (seen.not_used.empty()) return "";
  std::string keys;
  for (const std::string& key : seen.not_used) keys += (keys.empty() ? "" : ", ") + key;
  return '\n' +
         wrapped(fmt::format("Not used, for this drive has nothing to hold it against: {}.", keys));
}

std::string weights_before(const WhyAnswer& answer) {
  std::string given;
  for (const WhyPrior& prior : answer.priors) {
    if (!prior.given) continue;
    given += fmt::format("{}{} {} ({})", given.empty() ? "" : ", ", word(prior.kind),
                         shortest(prior.weight, 3), sentences::in_hundred(prior.share));
  }
  std::string text = given.empty()
                         ? "Before anything was seen every kind of fault counted as likely as any "
                           "other ([seen.prior] changes that)"
                         : fmt::format(
                               "Before anything was seen each kind of fault weighed 1 but "
                               "for, by [seen.prior], {}",
                               given);
  return '\n' + wrapped(fmt::format("{}; two faults together {}.", text,
                                    sentences::in_hundred(answer.two_together_share)));
}

std::string counted_from(const WhyAnswer& answer, const WhySeen& seen) {
  if (seen.datum <= 0) return "";
  const BenchPart& part = answer.layout.shafts[static_cast<std::size_t>(seen.datum)];
  return wrapped(fmt::format("Everything is counted from {}, as the crank itself was looked at.",
                             the(part.name)));
}

}  // namespace

std::string text_why::ranking(const WhyAnswer& answer, const WhySeen& seen) {
  return counted_from(answer, seen) + ranked_groups(seen) + numbered_steps(seen) +
         further_look(seen) + what_first_shows(answer, seen) + not_used(seen) +
         weights_before(answer);
}

std::string why_text(const Heading& heading, const WhyAnswer& answer, Catalogue catalogue) {
  std::string text;
  if (answer.seen) {
    text = wrapped(text_why::sentence(answer.seen->headline)) + sentences::heading(heading) +
           text_why::ranking(answer, *answer.seen);
  } else {
    text = wrapped(fmt::format("What {} on this drive would show on the bench.",
                               counted(static_cast<long long>(answer.catalogue.size()),
                                       "possible fault", "possible faults"))) +
           sentences::heading(heading);
  }
  if (answer.seen && catalogue == Catalogue::where_nothing_was_seen) {
    text += '\n' + wrapped(
                       "What every fault shows here: add --catalogue, or leave out what was "
                       "seen.");
  } else {
    text += how_to_read(answer) + text_why::without_fault(answer) + text_why::catalogue(answer);
  }
  return text + slack_table(answer) + while_backwards(answer) + sentences::missing(heading.missing);
}

std::string exercise_text(const Heading& heading, const Exercise& exercise, Solution solution) {
  std::string text =
      wrapped(fmt::format("Exercise {}: the belt is on, and this is seen.", exercise.seed)) +
      sentences::heading(heading) + '\n';
  for (const std::string& line : exercise.shows) {
    text += wrapped("- " + text_why::sentence(line), 2);
  }
  if (solution == Solution::hidden) {
    return text + '\n' +
           wrapped(fmt::format("What is wrong? What would put it right? What would you look at "
                               "next? The answer: --seed {} --answer.",
                               exercise.seed)) +
           sentences::missing(heading.missing);
  }
  text += '\n' + wrapped(fmt::format("Hidden was {}.", exercise.hidden.title)) +
          text_why::shows(exercise.working, exercise.hidden);
  if (const std::optional<WhySeen>& seen = exercise.working.seen) {
    text += "\nHow to find it by what was seen:\n" + wrapped(text_why::sentence(seen->headline)) +
            text_why::ranking(exercise.working, *seen);
  }
  return text + sentences::missing(heading.missing);
}

}  // namespace twoturn
