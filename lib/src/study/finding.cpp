#include "twoturn/study/finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "twoturn/base/names.hpp"
#include "verdict_of.hpp"

namespace twoturn {
namespace {

bool of_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' ||
         (static_cast<unsigned char>(c) & 0x80U) != 0;
}

// With a mark in place of a name wherever it stands as words of its own.
std::string without_name(const std::string& text, const std::string& name) {
  if (name.empty()) return text;
  std::string left;
  std::size_t taken = 0;
  for (std::size_t i = text.find(name); i != std::string::npos; i = text.find(name, i + 1)) {
    const std::size_t end = i + name.size();
    const bool word_of_its_own =
        (i == 0 || !of_word(text[i - 1])) && (end == text.size() || !of_word(text[end]));
    if (i < taken || !word_of_its_own) continue;
    left.append(text, taken, i - taken).push_back('\x01');
    taken = end;
  }
  return left.append(text, taken);
}

}  // namespace

std::string word(Level level) {
  switch (level) {
    case Level::stop:
      return "stop";
    case Level::look:
      return "look";
    case Level::note:
      return "note";
  }
  return "";
}

std::string brief_of(const Finding& finding, const std::vector<Finding>& all) {
  const auto more = std::count_if(all.begin(), all.end(), [&](const Finding& other) {
    return other.level == finding.level && other.code == finding.code &&
           other.about != finding.about;
  });
  return more == 0 ? finding.brief : fmt::format("{} (and {} more)", finding.brief, more);
}

std::string whole_text(const Finding& finding) {
  return finding.caution.empty() ? finding.text : finding.text + " " + finding.caution;
}

std::vector<ToldFinding> told(const std::vector<Finding>& findings) {
  std::vector<ToldFinding> all;
  std::vector<std::string>
      likenesses;  // one for each told: its code, and its text without the name
  std::vector<std::vector<std::string>> parts;
  std::vector<std::string> cautions;
  for (const Finding& finding : findings) {
    const std::string likeness =
        word(finding.level) + finding.code + without_name(finding.text, finding.about);
    const auto same = std::find(likenesses.begin(), likenesses.end(), likeness);
    if (same != likenesses.end()) {
      parts[static_cast<std::size_t>(same - likenesses.begin())].push_back(finding.about);
      continue;
    }
    const bool said =
        std::find(cautions.begin(), cautions.end(), finding.caution) != cautions.end();
    if (!said) cautions.push_back(finding.caution);
    likenesses.push_back(likeness);
    parts.push_back({finding.about});
    all.push_back({finding.level, "", said ? finding.text : whole_text(finding)});
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::string others;
    for (std::size_t k = 0; k < parts[i].size(); ++k) {
      all[i].about += (k == 0 ? "" : ", ") + parts[i][k];
      const bool last = k + 1 == parts[i].size();
      if (k > 0) others += (k == 1 ? "" : last ? " and " : ", ") + the(parts[i][k]);
    }
    if (!others.empty()) all[i].text += " The same goes for " + others + ".";
  }
  return all;
}

Verdict study::verdict_of(const std::vector<Finding>& findings) {
  Verdict verdict = Verdict::agrees;
  for (const Finding& finding : findings) {
    if (finding.level == Level::look) verdict = worse(verdict, Verdict::look_again);
    if (finding.level == Level::stop) verdict = Verdict::stop;
  }
  return verdict;
}

void sort_findings(std::vector<Finding>& findings) {
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.level < b.level; });
}

}  // namespace twoturn
