#include "twoturn/study/skim.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/at.hpp"
#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/study/pistons.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/marks.hpp"
#include "twoturn/timing/run.hpp"

namespace twoturn {
namespace {

// What [build] leaves of itself under a fit, so that a skim can go on top of it.
DriveSpec base_of(const DriveSpec& spec, Fit fit) {
  DriveSpec base = spec;
  if (fit == Fit::by_the_book) base.build = {};
  return base;
}

std::string head_of(const DriveSpec& spec, const SkimQuestion& question) {
  if (!question.head.empty() || spec.heads.empty()) return question.head;
  return spec.heads.front().name;
}

const HeadSpec* find_head(const DriveSpec& spec, const std::string& name) {
  for (const HeadSpec& head : spec.heads) {
    if (head.name == name) return &head;
  }
  return nullptr;
}

// Own degrees that a shaft is ahead of where it belongs, with a gasket that much thicker; empty
// where the belt cannot be put on.
class GasketSearch {
 public:
  GasketSearch(const DriveSpec& spec, const Fitted& book, std::string head, int shaft,
               double whole_teeth_deg)
      : spec_(spec),
        book_(book),
        head_(std::move(head)),
        shaft_(shaft),
        whole_teeth_deg_(whole_teeth_deg) {}

  // The gasket nearest to the present one with no error: the first change of sign either way, then
  // halving.
  std::optional<double> solve() const {
    const std::optional<double> now = error(0.0);
    if (!now || *now == 0.0) return std::nullopt;
    constexpr double kStepMm = 0.25;
    constexpr int kSteps = 20;
    const std::array<double, 2> signs{1.0, -1.0};
    std::array<std::optional<double>, 2> last{now, now};
    for (int k = 1; k <= kSteps; ++k) {
      for (std::size_t way = 0; way < signs.size(); ++way) {
        const double near = signs[way] * (k - 1) * kStepMm;
        const double far = signs[way] * k * kStepMm;
        const std::optional<double> at_near = last[way];
        const std::optional<double> at_far = error(far);
        last[way] = at_far;
        if (!at_near || !at_far || (*at_near > 0.0) == (*at_far > 0.0)) continue;
        // Half a tooth's jump is a change of sign too, and no cure.
        if (std::abs(*at_far - *at_near) > kMostChangeDeg) continue;
        return halved(near, far, *at_near);
      }
    }
    return std::nullopt;
  }

 private:
  static constexpr double kMostChangeDeg = 2.0;

  std::optional<double> error(double gasket_mm) const {
    DriveSpec spec = spec_;
    spec.build.gasket_change_mm[head_] += gasket_mm;
    const FittedResult fitted = fitted_for(spec, Fit::as_fitted);
    if (!fitted.fitted) return std::nullopt;
    const AssemblyResult result = assemble(book_, *fitted.fitted);
    if (!result.assembly) return std::nullopt;
    const double shift = result.assembly->fits[at(shaft_)].shaft_shift_deg() + whole_teeth_deg_;
    return std::abs(shift) < kNoErrorDeg ? 0.0 : shift;
  }

  std::optional<double> halved(double near, double far, double at_near) const {
    constexpr int kHalvings = 50;
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (near + far) / 2.0;
      const std::optional<double> at_middle = error(middle);
      if (!at_middle) return std::nullopt;
      if (*at_middle == 0.0) return middle;
      ((*at_middle > 0.0) == (at_near > 0.0) ? near : far) = middle;
    }
    return (near + far) / 2.0;
  }

  const DriveSpec& spec_;
  const Fitted& book_;
  std::string head_;
  int shaft_;
  double whole_teeth_deg_;
};

SkimmedShaft shaft_after(const TurnsAnswer& turns, const ShaftAfter& seen) {
  const Shaft& shaft = turns.assembly.shafts[at(seen.shaft)];
  SkimmedShaft skimmed;
  skimmed.name = shaft.name;
  skimmed.role = shaft.role;
  skimmed.fixing = shaft.fixing;
  skimmed.direction = seen.direction;
  skimmed.error_crank_deg = seen.error_crank_deg;
  skimmed.error_own_deg = seen.error_own_deg;
  skimmed.error_teeth = seen.error_teeth;
  skimmed.error_edge_mm = seen.error_edge_mm;
  skimmed.pin = seen.pin;
  skimmed.miss_mm = seen.miss_mm;
  if (shaft.pin) skimmed.play_mm = shaft.pin->play_mm;
  skimmed.turned_on_shaft_deg = turns.assembly.fits[at(seen.shaft)].turned_on_shaft_deg;
  skimmed.range_deg = shaft.range_deg;
  skimmed.key_radius_mm = shaft.key_radius_mm;
  for (const Cure& cure : turns.cures) {
    if (cure.shaft == seen.shaft) skimmed.cure = cure;
  }
  return skimmed;
}

void add_shafts(const DriveSpec& after_spec, const Fitted& book, const TurnsAnswer& before,
                const TurnsAnswer& after, SkimAnswer& answer) {
  const AfterTurns* seen_before = after_two(before);
  const AfterTurns* seen_after = after_two(after);
  for (const ShaftAfter& seen : seen_after->shafts) {
    if (seen.shaft == 0) continue;
    SkimmedShaft shaft = shaft_after(after, seen);
    for (const ShaftAfter& earlier : seen_before->shafts) {
      if (earlier.shaft != seen.shaft) continue;
      shaft.before_crank_deg = earlier.error_crank_deg;
      shaft.before_own_deg = earlier.error_own_deg;
    }
    if (shaft.cure && shaft.cure->rest_own_deg != 0.0 && !answer.head.empty()) {
      const double whole_teeth_deg = -seen.error_own_deg - shaft.cure->rest_own_deg;
      shaft.gasket_mm =
          GasketSearch(after_spec, book, answer.head, seen.shaft, whole_teeth_deg).solve();
    }
    answer.shafts.push_back(std::move(shaft));
  }
}

void add_missing(const std::vector<Missing>& from, std::vector<Missing>& to) {
  for (const Missing& missing : from) {
    const auto same = [&](const Missing& other) { return other.key == missing.key; };
    if (std::none_of(to.begin(), to.end(), same)) to.push_back(missing);
  }
}

// What keeps the skim from reaching the drive at all.
void ask_about_head(const DriveSpec& spec, SkimAnswer& answer) {
  const HeadSpec* head = find_head(spec, answer.head);
  if (!head) {
    answer.missing.push_back(
        {"what the skim moves", "head.name",
         "add a [[head]] with its name and deck_deg, and mount the cam on it"});
    return;
  }
  if (!head->deck_deg) {
    answer.missing.push_back({"which way the skim moves the cam",
                              fmt::format("head.{}.deck_deg", head->name),
                              "say which way the head lifts off, as on a clock face"});
  }
  const bool any = std::any_of(spec.pulleys.begin(), spec.pulleys.end(),
                               [&](const PulleySpec& one) { return one.mount == head->name; });
  if (!any) {
    answer.missing.push_back({"which pulleys come down with the head", "pulley.NAME.mount",
                              fmt::format("say which pulleys are mounted on {}", the(head->name))});
  }
}

// From counts and a tape, where there are no coordinates.
void add_rough(const DriveSpec& after_spec, SkimAnswer& answer) {
  MarksQuestion question = marks_question(after_spec, Fit::as_fitted);
  if (after_spec.heads.empty()) {
    for (CountedPulley& pulley : question.timed) {
      if (pulley.role == Role::camshaft) pulley.skim_mm = answer.skim_mm;
    }
  }
  const MarksAnswer marks = marks_from_counts(question);
  answer.rough = marks.skims;
  if (marks.skims.empty()) add_missing(marks.missing, answer.missing);
}

bool can_be_built(const BothFits& both, std::vector<Missing>& missing) {
  for (const FittedResult* result : {&both.book, &both.asked}) {
    if (result->fitted) continue;
    add_missing(result->missing, missing);
    return false;
  }
  return true;
}

void add_drive(const DriveSpec& before_spec, const DriveSpec& after_spec, const BothFits& both,
               SkimAnswer& answer) {
  const CheckAnswer check = check_built(after_spec, both, Fit::as_fitted);
  answer.verdict = check.verdict;
  answer.headline = check.headline;
  for (const Finding& finding : check.findings) {
    if (finding.level != Level::note) answer.findings.push_back(finding);
  }
  std::vector<Missing> ignored;
  const FitAnswer before = answer_built(
      before_spec, both_fits(both.book, before_spec, Fit::as_fitted), Fit::as_fitted, ignored);
  const FitAnswer& after = check.judged;
  answer.none = after.no_turns;
  if (after.drive()) {
    if (answer.none) answer.drive = *after.drive();
  }
  if (before.turns) answer.tensioner_before = before.turns->assembly.fitted_setting;
  if (after.turns) answer.tensioner_after = after.turns->assembly.fitted_setting;
  if (before.turns && after.turns) {
    add_shafts(after_spec, *both.book.fitted, *before.turns, *after.turns, answer);
    answer.turns = after.turns;
  }
  add_missing(check.not_checked, answer.missing);
}

std::optional<CompressionAnswer> compression_of(const DriveSpec& spec, const std::string& head) {
  for (const CompressionAnswer& answer : compression_answer(spec, Fit::as_fitted)) {
    if (answer.head == head && answer.ratio) return answer;
  }
  return std::nullopt;
}

// Of an engine without a [[head]] the skim is this one alone.
void add_compression(const DriveSpec& before_spec, const DriveSpec& after_spec,
                     SkimAnswer& answer) {
  const auto before = compression_of(before_spec, answer.head);
  if (!before) return;
  answer.ratio_before = before->ratio_after;
  answer.compression = compression_of(after_spec, answer.head);
  if (!after_spec.heads.empty()) return;
  CompressionAnswer& after = *answer.compression;
  after.nearer_mm = answer.skim_mm;
  const auto volumes =
      brought_nearer({after.swept_cc, *after.left_cc}, after.bore_mm, after.nearer_mm);
  after.left_after_cc = volumes ? std::optional(volumes->left_cc) : std::nullopt;
  after.ratio_after = volumes ? std::optional(volumes->ratio()) : std::nullopt;
}

}  // namespace

DriveSpec skimmed(const DriveSpec& spec, const SkimQuestion& question) {
  DriveSpec after = base_of(spec, question.fit);
  const std::string head = head_of(spec, question);
  if (!head.empty()) after.build.skim_mm[head] += question.skim_mm;
  after.seen = {};  // what was seen, was seen of the engine as it is
  return after;
}

SkimAnswer skim_consequences(const DriveSpec& spec, const SkimQuestion& question) {
  const DriveSpec before = base_of(spec, question.fit);
  const DriveSpec after = skimmed(spec, question);
  SkimAnswer answer;
  answer.head = head_of(spec, question);
  answer.skim_mm = question.skim_mm;
  const auto already = before.build.skim_mm.find(answer.head);
  if (already != before.build.skim_mm.end()) answer.already_mm = already->second;
  ask_about_head(after, answer);
  answer.reaches = answer.missing.empty();
  add_compression(before, after, answer);
  const BothFits both = both_fits(after, Fit::as_fitted);
  if (can_be_built(both, answer.missing)) {
    add_drive(before, after, both, answer);
  } else {
    add_rough(after, answer);
  }
  return answer;
}

}  // namespace twoturn
