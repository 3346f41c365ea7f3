#include "twoturn/study/skim_verdict.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "twoturn/base/assert.hpp"
#include "twoturn/base/numbers.hpp"
#include "verdict_of.hpp"

namespace twoturn {
namespace {

// Hundredths of a mm are what feelers and limits come in, thousandths what gauges read.
std::string size(double mm) { return mm_and_thou(mm, 3); }

// Limits come in hundredths: 0.10, not 0.1.
std::string limit(double mm) {
  const std::string text = shortest(mm, 3);
  const std::string hundredths = fixed(mm, 2);
  return text.size() < hundredths.size() ? hundredths : text;
}

std::string usual(bool given) { return given ? "the limit given" : "common practice"; }

std::string limit_words(const char* name, double mm, const std::string& from) {
  return fmt::format("the {} {} mm ({})", name, limit(mm), from);
}

FaceVerdict with_limits(const FaceLimits& limits) {
  FaceVerdict verdict;
  verdict.strict_given = limits.strict_mm.has_value();
  verdict.loose_given = limits.loose_mm.has_value();
  verdict.gap_given = limits.gap_mm.has_value();
  verdict.strict_mm = limits.strict_mm.value_or(kStrictFlatMm);
  verdict.loose_mm = limits.loose_mm.value_or(kLooseFlatMm);
  verdict.gap_mm = limits.gap_mm.value_or(kFarTooWideGapMm);
  // One limit given alone draws the usual other one along.
  if (!verdict.loose_given) verdict.loose_mm = std::max(verdict.loose_mm, verdict.strict_mm);
  if (!verdict.strict_given) verdict.strict_mm = std::min(verdict.strict_mm, verdict.loose_mm);
  verdict.local_mm = limits.local_mm;
  return verdict;
}

void add(FaceVerdict& verdict, Level level, std::string code, std::string text, double value,
         double limit, std::string limit_key) {
  Finding finding{level, std::move(code), "face", std::move(text)};
  finding.value = value;
  finding.limit = limit;
  finding.unit = "mm";
  finding.limit_key = std::move(limit_key);
  verdict.findings.push_back(std::move(finding));
}

FaceStands stand_of(double mm, const FaceVerdict& verdict) {
  // A reading on the limit is within it, also where a decimal misses it by rounding.
  constexpr double kOnLimitMm = 1e-9;
  if (mm <= verdict.strict_mm + kOnLimitMm) return FaceStands::within;
  return mm <= verdict.loose_mm + kOnLimitMm ? FaceStands::between : FaceStands::beyond;
}

std::string between_words(const FaceVerdict& verdict) {
  return fmt::format("between {} and {}",
                     limit_words("strict", verdict.strict_mm, usual(verdict.strict_given)),
                     limit_words("loose", verdict.loose_mm, usual(verdict.loose_given)));
}

// A face that far out, or that small, was written down in another unit.
void ask_about_units(const FaceAnswer& heights, FaceVerdict& verdict) {
  constexpr double kSeenByEyeMm = 1.0;
  constexpr double kSmallFaceMm = 40.0;
  const double flatness = heights.flatness_mm();
  if (flatness >= kSeenByEyeMm) {
    add(verdict, Level::look, "hundredths",
        fmt::format("{} out of flat would be seen by eye. Were the heights in hundredths of a mm? "
                    "Then it is {}: write them in mm.",
                    size(flatness), size(flatness / 100.0)),
        flatness, kSeenByEyeMm, "");
  }
  const double longest = heights.size_mm.maxCoeff();
  if (longest > 0.0 && longest < kSmallFaceMm) {
    add(verdict, Level::look, "inches",
        fmt::format("The points span {} x {} mm. Were they measured in inches? Then the face is "
                    "{} x {} mm, and heights are {} times as great too: write all in mm.",
                    shortest(heights.size_mm.x(), 1), shortest(heights.size_mm.y(), 1),
                    shortest(heights.size_mm.x() * kMmPerInch, 0),
                    shortest(heights.size_mm.y() * kMmPerInch, 0), shortest(kMmPerInch, 1)),
        longest, kSmallFaceMm, "");
  }
}

void judge_heights(const FaceAnswer& heights, FaceVerdict& verdict) {
  const double flatness = heights.flatness_mm();
  const std::string out = fmt::format("Out of flat by {}", size(flatness));
  verdict.stands = stand_of(flatness, verdict);
  switch (verdict.stands) {
    case FaceStands::within:
      verdict.headline =
          fmt::format("{}: within {}.", out,
                      limit_words("strict", verdict.strict_mm, usual(verdict.strict_given)));
      break;
    case FaceStands::between:
      verdict.headline = fmt::format(
          "{}: {}. Limits in circulation contradict one another; the engine's own manual says "
          "which "
          "holds.",
          out, between_words(verdict));
      add(verdict, Level::look, "between-limits",
          fmt::format("The face lies {}.", between_words(verdict)), flatness, verdict.strict_mm,
          "limits.strict_mm");
      break;
    default:
      verdict.headline =
          fmt::format("{}: refused, more than {}. A skim of at least that much would true it.", out,
                      limit_words("loose", verdict.loose_mm, usual(verdict.loose_given)));
      add(verdict, Level::stop, "not-flat",
          fmt::format("Out of flat by {}, more than {}: have it skimmed, or find another.",
                      size(flatness),
                      limit_words("loose", verdict.loose_mm, usual(verdict.loose_given))),
          flatness, verdict.loose_mm, "limits.loose_mm");
  }
  if (verdict.local_mm && heights.local.width_mm > *verdict.local_mm) {
    add(verdict, Level::stop, "not-flat-locally",
        fmt::format("Within {} mm it is out of flat by {}, more than the {} mm given for that.",
                    shortest(heights.local.side_mm, 1), size(heights.local.width_mm),
                    limit(*verdict.local_mm)),
        heights.local.width_mm, *verdict.local_mm, "limits.local_mm");
  }
  if (heights.left_after_skim_mm && *heights.left_after_skim_mm < 0.0) {
    const bool already = *heights.may_come_off_mm < 0.0;
    add(verdict, already ? Level::stop : Level::look, "too-low",
        already
            ? fmt::format("The part is {} mm high, below its least {} mm.",
                          shortest(*heights.height_mm, 3), shortest(*heights.least_height_mm, 3))
            : fmt::format("The least skim would leave it {} mm under its least height, {} mm.",
                          fixed(-*heights.left_after_skim_mm, 3),
                          shortest(*heights.least_height_mm, 3)),
        *heights.height_mm, *heights.least_height_mm, "least_height_mm");
  }
}

// A straight edge can condemn a face, not pass it.
void judge_lines(const FeelerAnswer& feelers, FaceVerdict& verdict) {
  const LineBounds& worst = feelers.lines[static_cast<std::size_t>(feelers.decisive)];
  const double least = feelers.at_least_mm;
  const FaceStands stands = stand_of(least, verdict);
  const bool far_too_wide = worst.least_gap_mm >= verdict.gap_mm;
  if (far_too_wide) {
    add(verdict, Level::stop, "gap",
        fmt::format("A gap of {} or more under the straight edge ({}) is far too much ({}, {} mm): "
                    "that face is skimmed or refused.",
                    size(worst.least_gap_mm), worst.line.name, usual(verdict.gap_given),
                    limit(verdict.gap_mm)),
        worst.least_gap_mm, verdict.gap_mm, "limits.gap_mm");
  } else if (stands == FaceStands::beyond) {
    add(verdict, Level::stop, "not-flat",
        fmt::format("By feelers out of flat by at least {} ({}), more than {}: have it skimmed, or "
                    "find another.",
                    size(least), worst.line.name,
                    limit_words("loose", verdict.loose_mm, usual(verdict.loose_given))),
        least, verdict.loose_mm, "limits.loose_mm");
  } else if (stands == FaceStands::between) {
    add(verdict, Level::look, "between-limits",
        fmt::format("By feelers out of flat by at least {} ({}): not within {}, and not proven "
                    "beyond {}.",
                    size(least), worst.line.name,
                    limit_words("strict", verdict.strict_mm, usual(verdict.strict_given)),
                    limit_words("loose", verdict.loose_mm, usual(verdict.loose_given))),
        least, verdict.strict_mm, "limits.strict_mm");
  }
}

// The opening line where there are feelers alone.
void open_with_lines(const FeelerAnswer& feelers, FaceVerdict& verdict) {
  const double least = feelers.at_least_mm;
  const LineBounds& worst = feelers.lines[static_cast<std::size_t>(feelers.decisive)];
  const bool far_too_wide = worst.least_gap_mm >= verdict.gap_mm;
  verdict.stands = far_too_wide ? FaceStands::beyond : stand_of(least, verdict);
  const bool lines_within = feelers.most_on_a_line_mm &&
                            stand_of(*feelers.most_on_a_line_mm, verdict) == FaceStands::within;
  const std::string out = least > 0.0 ? fmt::format("Out of flat by at least {}", size(least))
                                      : fmt::format("Out of flat by an amount no feeler showed");
  if (verdict.stands == FaceStands::beyond) {
    verdict.headline = fmt::format(
        "{}: refused, {}. Skim it or find another.", out,
        far_too_wide ? fmt::format("{} mm under the straight edge is far too much ({})",
                                   limit(verdict.gap_mm), usual(verdict.gap_given))
                     : fmt::format("more than {}", limit_words("loose", verdict.loose_mm,
                                                               usual(verdict.loose_given))));
  } else if (verdict.stands == FaceStands::between) {
    verdict.headline = fmt::format("{}: {}, or beyond both.", out, between_words(verdict));
  } else if (lines_within) {
    verdict.headline = fmt::format(
        "{}; no line felt is out by more than {}: within {} on those lines, which does not show "
        "the face between them.",
        out, size(*feelers.most_on_a_line_mm),
        limit_words("strict", verdict.strict_mm, usual(verdict.strict_given)));
  } else {
    verdict.stands = FaceStands::open;
    verdict.headline =
        fmt::format("{}: the feelers leave open whether it is within {}.", out,
                    limit_words("strict", verdict.strict_mm, usual(verdict.strict_given)));
    add(verdict, Level::look, "not-decided",
        "A thinner feeler that does not go is missing on some line, or the thinnest that does not "
        "go is above the strict limit.",
        feelers.most_on_a_line_mm.value_or(least), verdict.strict_mm, "limits.strict_mm");
  }
}

void compare(const FaceAnswer& heights, const FeelerAnswer& feelers, FaceVerdict& verdict) {
  constexpr double kOneFeelerMm = 0.01;
  if (feelers.at_least_mm <= heights.flatness_mm() + kOneFeelerMm) return;
  add(verdict, Level::look, "readings-differ",
      fmt::format("The feelers show at least {}, the heights {}: read one of them again, or the "
                  "gap lies between the points.",
                  size(feelers.at_least_mm), size(heights.flatness_mm())),
      feelers.at_least_mm, heights.flatness_mm(), "");
}

}  // namespace

FaceVerdict judge_face(const std::optional<FaceAnswer>& heights,
                       const std::optional<FeelerAnswer>& feelers, const FaceLimits& limits) {
  TWOTURN_ASSERT(heights || feelers, 0.0);
  FaceVerdict verdict = with_limits(limits);
  if (heights) judge_heights(*heights, verdict);
  if (heights) ask_about_units(*heights, verdict);
  if (feelers) judge_lines(*feelers, verdict);
  if (!heights) open_with_lines(*feelers, verdict);
  if (heights && feelers) compare(*heights, *feelers, verdict);
  sort_findings(verdict.findings);
  verdict.verdict = study::verdict_of(verdict.findings);
  // What is worse than the heights' own line leads.
  if (heights && verdict.verdict == Verdict::stop && verdict.stands != FaceStands::beyond) {
    verdict.headline = fmt::format("Out of flat by {}: refused. {}", size(heights->flatness_mm()),
                                   verdict.findings.front().text);
  }
  return verdict;
}

}  // namespace twoturn
