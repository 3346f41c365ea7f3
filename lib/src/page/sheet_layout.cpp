#include "sheet_layout.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

constexpr double kPageMm = 283.0;  // A4 less the margins
constexpr double kSlackMm = 2.0;   // fonts differ
constexpr double kLineMm = 4.18;   // of what is read on the bench
constexpr double kLetterMm = 1.75;
constexpr double kHeadingMm = 5.4;
constexpr double kColumnMm = 92.0;
constexpr double kGapMm = 4.0;

// Small print, by density: faults, then cautions.
struct Small {
  double letter_mm;
  double line_mm;
  double column_mm;
  double columns;
};
constexpr Small kFaultsPlain{1.52, 3.4, 92.0, 2.0};
constexpr Small kFaultsDense{1.36, 3.05, 60.0, 3.0};
constexpr Small kCautions{1.3, 3.05, 57.0, 3.0};

double letters(const std::string& text) {
  return static_cast<double>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

double lines(double wide_mm, double room_mm) { return std::max(1.0, std::ceil(wide_mm / room_mm)); }

double height_of(const SheetStep& step, double column_mm) {
  constexpr double kBoxMm = 5.6;
  constexpr double kBlankMm = 16.0;
  double high = kHeadingMm;
  for (const SheetLine& line : step.lines) {
    double wide = letters(line.text) * kLetterMm;
    for (const SheetBlank& blank : line.blanks) {
      wide += kBlankMm + letters(blank.label + blank.unit) * kLetterMm;
    }
    high += lines(wide, column_mm - kBoxMm) * kLineMm;
  }
  return high;
}

double sum_of_steps(const SheetAnswer& sheet, std::size_t from, std::size_t to, double column_mm) {
  double high = 0.0;
  for (std::size_t i = from; i < to; ++i) high += height_of(sheet.steps[i], column_mm);
  return high;
}

double verdict_mm(const SheetAnswer& sheet) {
  constexpr double kInsideMm = 180.0;
  double high = 3.5;
  if (!sheet.shout.empty()) {
    high += 4.0 + 10.0 + lines(letters(sheet.must_do) * 2.4, kInsideMm) * 5.0;
  }
  high += lines(letters(sheet.says) * 1.95, kInsideMm) * kLineMm;
  for (const std::string& text : sheet.found) high += lines(letters(text) * 1.5, kInsideMm) * 3.5;
  return high;
}

double marks_mm(const SheetAnswer& sheet) {
  constexpr double kNameMm = 36.0;
  double high = 18.0;
  for (const SheetMark& mark : sheet.marks) {
    high += lines(letters(mark.shaft) * 1.95, kNameMm) * kLineMm + 0.6;
  }
  return high;
}

double in_columns(const Small& small, double sum_mm) {
  return sum_mm / small.columns + small.line_mm;
}

double faults_mm(const SheetAnswer& sheet, const Layout& layout) {
  const Small& small = layout.density == Density::dense ? kFaultsDense : kFaultsPlain;
  double sum = 0.0;
  for (std::size_t i = 0; i < layout.faults; ++i) {
    const SheetFault& fault = sheet.faults[i];
    const double wide = (letters(fault.seen.text + fault.means.text) + 4.0) * small.letter_mm;
    sum += lines(wide, small.column_mm) * small.line_mm + 0.5;
  }
  return kHeadingMm + in_columns(small, sum);
}

double cautions_mm(const SheetAnswer& sheet) {
  double sum = 0.0;
  const auto add = [&](double wide) {
    sum += lines(wide, kCautions.column_mm) * kCautions.line_mm;
  };
  for (const std::string& text : sheet.cautions) add(letters(text) * kCautions.letter_mm);
  add((letters(sheet.not_checked.text) + 13.0) * kCautions.letter_mm);
  add(letters(sheet.origins.text) * kCautions.letter_mm);
  return kHeadingMm + in_columns(kCautions, sum);
}

double work_mm(const SheetAnswer& sheet, const Layout& layout) {
  const std::size_t all = sheet.steps.size();
  if (layout.first_steps == 0) {
    return sum_of_steps(sheet, 0, all, kColumnMm) / 2.0 + kLineMm;
  }
  constexpr double kWholeMm = 190.0;
  const double beside = kViewWideMm * layout.view_scale;
  const double second = std::max(beside, kViewWideMm);
  const double first = sum_of_steps(sheet, 0, layout.first_steps, kWholeMm - kGapMm - second);
  return std::max(first, kViewHighMm * layout.view_scale + 2.0 +
                             sum_of_steps(sheet, layout.first_steps, all, second));
}

void balance(const SheetAnswer& sheet, Layout& layout) {
  double least = 1e9;
  Layout tried = layout;
  for (std::size_t first = 1; first <= sheet.steps.size(); ++first) {
    tried.first_steps = first;
    const double high = work_mm(sheet, tried);
    if (high < least) layout.first_steps = first;
    least = std::min(least, high);
  }
}

// The first `keep` letters and the last `tail`, with dots between.
std::string cut_short(const std::string& name, std::size_t keep, std::size_t tail) {
  std::vector<std::size_t> starts;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if ((static_cast<unsigned char>(name[i]) & 0xC0U) != 0x80U) starts.push_back(i);
  }
  if (starts.size() <= keep + tail + 1) return name;
  const std::string end = tail == 0 ? "" : name.substr(starts[starts.size() - tail]);
  std::string first = name.substr(0, starts[keep]);
  while (!first.empty() && first.back() == ' ') first.pop_back();
  return first + "\u2026" + end;
}

std::vector<std::string> cut_short(const std::vector<std::string>& names, std::size_t tail) {
  constexpr std::size_t kKept = 19;
  std::vector<std::string> cut;
  for (const std::string& name : names) cut.push_back(cut_short(name, kKept - tail, tail));
  return cut;
}

bool all_different(std::vector<std::string> names) {
  std::sort(names.begin(), names.end());
  return std::adjacent_find(names.begin(), names.end()) == names.end();
}

// In a sentence, and where a sentence begins with it.
void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (const bool capital : {false, true}) {
    const std::string wanted = capital ? twoturn::capital(from) : from;
    for (std::size_t at = text.find(wanted); at != std::string::npos;
         at = text.find(wanted, at + to.size())) {
      text.replace(at, wanted.size(), capital ? twoturn::capital(to) : to);
    }
  }
}

}  // namespace

bool fits(const SheetAnswer& sheet, const Layout& layout) {
  return printed_height_mm(sheet, layout) <= kPageMm - kSlackMm;
}

SheetAnswer with_short_names(const SheetAnswer& sheet) {
  constexpr std::size_t kTail = 8;
  std::vector<std::string> cut = cut_short(sheet.names, 0);
  if (!all_different(cut)) cut = cut_short(sheet.names, kTail);
  SheetAnswer with = sheet;
  if (!all_different(cut)) return with;
  for_every_text(with, [&](std::string& text) {
    if (text == sheet.heading.profile) return;
    for (std::size_t i = 0; i < cut.size(); ++i) {
      if (cut[i] != sheet.names[i]) replace_all(text, sheet.names[i], cut[i]);
    }
  });
  return with;
}

double printed_height_mm(const SheetAnswer& sheet, const Layout& layout) {
  const double title = lines(letters(sheet.heading.profile) * 2.95, 188.0) * 5.9 + 5.0;
  return title + verdict_mm(sheet) + work_mm(sheet, layout) + marks_mm(sheet) +
         faults_mm(sheet, layout) + cautions_mm(sheet);
}

Layout lay_out(const SheetAnswer& sheet, Picture picture) {
  constexpr std::size_t kFewestFaults = 4;
  constexpr std::size_t kGoodFaults = 7;
  constexpr int kGoodTenths = 8;
  constexpr int kSmallestTenths = 6;
  constexpr int kWhole = 10;
  Layout layout;
  layout.faults = sheet.faults.size();
  const bool view = picture == Picture::there;
  const auto scaled = [&](int tenths) {
    Layout tried = layout;
    tried.view_scale = tenths / 10.0;
    balance(sheet, tried);
    return tried;
  };
  if (view) layout = scaled(kWhole);
  if (fits(sheet, layout)) return layout;
  layout.density = Density::dense;
  int tenths = kWhole;
  const auto give_up = [&](int smallest_tenths, std::size_t fewest_faults) {
    while (view && tenths > smallest_tenths && !fits(sheet, layout)) layout = scaled(--tenths);
    while (!fits(sheet, layout) && layout.faults > fewest_faults) --layout.faults;
  };
  give_up(kGoodTenths, kGoodFaults);
  give_up(kSmallestTenths, kFewestFaults);
  if (view && !fits(sheet, layout)) {
    layout = lay_out(sheet, Picture::none);
    layout.view_scale = 0.0;
    return layout;
  }
  // Larger again, as far as the steps beside it are longer.
  while (view && tenths < kWhole && fits(sheet, scaled(tenths + 1))) layout = scaled(++tenths);
  return layout;
}

}  // namespace twoturn::sheet
