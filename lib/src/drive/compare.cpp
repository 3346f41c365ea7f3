#include "twoturn/drive/compare.hpp"

#include <algorithm>

#include "twoturn/drive/teeth.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"

namespace twoturn {
namespace {

// Where a belt puts the tensioner, and how well that is known.
void place(const Fitted& fitted, ComparedCount& count) {
  const Drive& drive = fitted.drive();
  const std::vector<Setting> settings = fitted.curve()->settings_for(count.length_mm);
  const Setting* meant = meant_setting(settings, *drive.tensioner);
  if (!meant) return;
  count.meant = *meant;
  count.unsure = fitted.uncertainty().reading(drive, meant->q, count.teeth, meant->rate);
}

// The marks are those of the drive by the book.
void hold_against_marks(const Fitted& book, ComparedCount& count) {
  const Tensioner& tensioner = *book.drive().tensioner;
  ComparedCount by_book{count.teeth, count.length_mm};
  place(book, by_book);
  if (!by_book.meant || !tensioner.set_q) return;
  count.apart = tensioner.path.apart(by_book.meant->q, *tensioner.set_q);
  count.meets_marks = *count.apart <= tensioner.set_give + by_book.unsure.give_or_take;
}

// Of the counts that meet the marks the one that does so alone, or twice as near as any other.
std::optional<int> meant_of(const std::vector<ComparedCount>& counts) {
  constexpr double kClearly = 2.0;
  const ComparedCount* nearest = nullptr;
  for (const ComparedCount& count : counts) {
    if (count.meets_marks && (!nearest || *count.apart < *nearest->apart)) nearest = &count;
  }
  if (!nearest) return std::nullopt;
  const bool rival = std::any_of(counts.begin(), counts.end(), [&](const ComparedCount& count) {
    return &count != nearest && count.meets_marks && *count.apart < kClearly * *nearest->apart;
  });
  return rival ? std::nullopt : std::optional(nearest->teeth);
}

}  // namespace

CompareAnswer compare_counts(const Fitted& fitted, const Fitted& book,
                             const std::vector<int>& counts) {
  const Drive& drive = fitted.drive();
  const TeethAnswer all = fitting_teeth(fitted, {}, &book);
  CompareAnswer answer;
  answer.fit = fitted.fit();
  answer.tolerance_mm = all.tolerance_mm;
  if (drive.tensioner) answer.kind = drive.tensioner->path.kind();
  const bool marks = book.drive().tensioner && book.drive().tensioner->set_q;
  if (marks) answer.set_give = book.drive().tensioner->set_give;
  for (const int teeth : counts) {
    ComparedCount count{teeth, drive.belt.length_mm(teeth)};
    const CountChance chance = chance_of(fitted, all, teeth);
    count.goes_on = all.goes_on(teeth);
    count.probability = chance.probability;
    count.mismatch_mm = chance.mismatch_mm;
    if (drive.tensioner) place(fitted, count);
    if (marks) hold_against_marks(book, count);
    answer.counts.push_back(count);
  }
  answer.meant_teeth = meant_of(answer.counts);
  return answer;
}

}  // namespace twoturn
