#include <fmt/format.h>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/fault_words.hpp"

// What was seen at the engine against what it may be: a fault that it points to, or what it leaves
// open.
namespace twoturn {
namespace {

constexpr double kSure = 0.95;
constexpr const char* kSight = "what was seen";

bool nothing_wrong(const WhySeen& seen) {
  const FaultKind kind = seen.groups.front().members.front().fault.suspect.first().kind;
  return kind == FaultKind::none || kind == FaultKind::eye;
}

std::string small(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
  while (!text.empty() && text.back() == '.') text.pop_back();
  return text;
}

std::string next_look(const WhySeen& seen) {
  return seen.next ? fmt::format("look next at {}", seen.next->look)
                   : std::string("look at every mark and pin again");
}

void not_explained(const WhySeen& seen, std::vector<Finding>& findings) {
  Finding finding{Level::look, "seen-unexplained", kSight, seen.headline + "."};
  finding.brief = "no fault that is known of explains all that was seen";
  finding.action = "turn it two turns forwards by hand and look at every mark and pin again";
  findings.push_back(std::move(finding));
}

void points_to(const WhySeen& seen, std::vector<Finding>& findings) {
  const WhyGroup& group = seen.groups.front();
  const WhyFault& fault = group.members.front().fault;
  Finding finding{seen.serious >= kSure ? Level::stop : Level::look, "seen-fault", kSight, ""};
  // What one remedy puts right needs no telling apart, and what no look tells apart cannot be.
  const bool look_first = seen.next && seen.likeliest != fault.title;
  finding.text = seen.headline + ". ";
  if (look_first) {
    finding.text += fmt::format("Before anything is moved, {}. For the first of these: {}",
                                next_look(seen), fault.remedy);
  } else {
    finding.text += fault.remedy;
    if (seen.next) {
      finding.text += fmt::format(" To tell it from the next: look at {}.", seen.next->look);
    }
  }
  finding.value = group.probability;
  finding.limit = kSure;
  finding.brief = fmt::format("what was seen points to this ({}): {}",
                              sentences::in_hundred(group.probability), seen.likeliest);
  finding.action = look_first ? next_look(seen) : small(fault.remedy);
  findings.push_back(std::move(finding));
}

void leaves_open(const WhySeen& seen, std::vector<Finding>& findings) {
  constexpr double kMayBe = 1.0 - kSure;
  if (seen.serious > kMayBe) {
    Finding finding{Level::look, "seen-open", kSight, ""};
    finding.text = fmt::format(
        "Nothing that was looked at is wrong, but it leaves open what would have to be put right "
        "first ({}): {}.",
        sentences::in_hundred(seen.serious), next_look(seen));
    finding.value = seen.serious;
    finding.limit = kMayBe;
    finding.brief = "what was seen leaves a fault open";
    finding.action = next_look(seen);
    findings.push_back(std::move(finding));
  }
  if (!seen.turns_said) {
    Finding finding{Level::look, "seen-part", kSight, ""};
    finding.text =
        "It is not said after how many turns of the crank that was looked at: before two turns a "
        "belt may yet settle, and a wrong count does not show. Give seen.after_turns.";
    finding.brief = "it is not said after how many turns that was seen";
    finding.action = "turn it two turns by hand, look, and give seen.after_turns";
    findings.push_back(std::move(finding));
  }
  for (const std::string& shaft : seen.not_seen) {
    Finding finding{Level::look, "seen-part", shaft, ""};
    finding.text = fmt::format(
        "Neither pin nor mark of {} was seen after two turns or more: it may stand anywhere.",
        the(shaft));
    finding.brief = fmt::format("neither pin nor mark of {} was seen", the(shaft));
    finding.action = fmt::format("turn it two turns by hand and look at {}", the(shaft));
    findings.push_back(std::move(finding));
  }
}

}  // namespace

void find_in_seen(const CheckAnswer& answer, std::vector<Finding>& findings) {
  const WhySeen& seen = *answer.seen;
  if (seen.groups.empty()) {
    Finding finding{Level::look, "seen-unused", kSight, seen.headline + "."};
    finding.brief = "nothing that was seen could be held against this drive";
    finding.action = "say what its pins and marks show";
    findings.push_back(std::move(finding));
    return;
  }
  if (!seen.explained) {
    not_explained(seen, findings);
  } else if (!nothing_wrong(seen)) {
    points_to(seen, findings);
  } else {
    leaves_open(seen, findings);
  }
}

}  // namespace twoturn
