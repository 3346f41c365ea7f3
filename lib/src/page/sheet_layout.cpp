#include "sheet_layout.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "print_lines.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

constexpr double kPageMm = 283.0;  // A4 less the margins
constexpr double kWholeMm = 190.0;
constexpr double kOverMm = 1.5;  // all comes out lower than thought, by 2 mm at least: fonts differ
constexpr double kColumnMm = 92.5;
constexpr double kGapMm = 4.0;
constexpr double kRuleMm = 0.3;

// Sizes of print, as sheet.css has them.
constexpr Print kBench{10.2, 1.15};
constexpr Print kBenchBold{10.2, 1.15, Letters::bold};
constexpr Print kTitle{15.0, 1.1, Letters::bold};
constexpr Print kShout{25.0, 1.0, Letters::bold};
constexpr Print kMust{12.0, 1.12, Letters::bold};
constexpr Print kFound{8.5, 1.12};
constexpr Print kFoundDense{7.6, 1.12};
constexpr Print kTableHead{7.6, 1.1, Letters::bold};
constexpr Print kUnderTable{8.0, 1.15};

// Small print in columns.
struct Small {
  Print print;
  double column_mm;
  int columns;
};
constexpr Small kFaultsPlain{{8.5, 1.12}, 92.5, 2};
constexpr Small kFaultsDense{{7.6, 1.12}, 60.0, 3};
constexpr Small kCautions{{7.6, 1.14}, 56.5, 3};

// Over the table, the faults and the cautions.
double above_heading_mm(Density density) { return density == Density::tight ? 0.3 : 1.0; }

double heading_mm() { return kBenchBold.line_mm() + kRuleMm; }

double height_of(const SheetLine& line, double column_mm) {
  constexpr double kBoxMm = 5.6;
  constexpr double kBlankMm = 12.0;
  constexpr double kBlankLineMm = 4.5;
  std::vector<double> words = words_mm(line.text, kBench);
  for (const SheetBlank& blank : line.blanks) {
    const std::string round = blank.label + (blank.label.empty() ? "" : " ") +
                              (blank.unit.empty() ? "" : " ") + blank.unit;
    words.push_back(kBlankMm + width_mm(round, kBench));
  }
  const double one = line.blanks.empty() ? kBench.line_mm() : kBlankLineMm;
  return lines_in(words, column_mm - kBoxMm, kBench) * kBench.line_mm() + one - kBench.line_mm();
}

double step_frame_mm(Density density) {
  return heading_mm() + (density == Density::plain ? 1.0 : 0.6);
}

double height_of(const SheetStep& step, double column_mm, Density density) {
  double high = step_frame_mm(density);
  for (const SheetLine& line : step.lines) high += height_of(line, column_mm);
  return high;
}

double sum_of_steps(const SheetAnswer& sheet, double column_mm, Density density) {
  double high = 0.0;
  for (const SheetStep& step : sheet.steps) high += height_of(step, column_mm, density);
  return high;
}

// A place between two lines of the order of work, and how high what is before it stands in a
// column and what is after it in another.
struct Cut {
  std::size_t step = 0;
  std::size_t line = 0;  ///< lines of that step before the cut; 0: before the step
  double before_mm = 0.0;
  double after_mm = 0.0;
};

// Never between what is to be done and a note on it, nor after words that announce the next line.
bool may_cut(const SheetStep& step, std::size_t line) {
  if (line == 0) return true;
  const std::string& last = step.lines[line - 1].text;
  return step.lines[line].kind == SheetLine::Kind::tick && (last.empty() || last.back() != ':');
}

std::vector<Cut> cuts_of(const SheetAnswer& sheet, double first_mm, double second_mm,
                         Density density) {
  std::vector<Cut> cuts;
  double before = 0.0;
  double after = sum_of_steps(sheet, second_mm, density);
  for (std::size_t i = 0; i < sheet.steps.size(); ++i) {
    const SheetStep& step = sheet.steps[i];
    for (std::size_t k = 0; k < step.lines.size(); ++k) {
      if (i + k > 0 && may_cut(step, k)) cuts.push_back({i, k, before, after});
      if (k == 0) {
        before += step_frame_mm(density);
        after -= step_frame_mm(density);
      }
      before += height_of(step.lines[k], first_mm);
      after -= height_of(step.lines[k], second_mm);
    }
  }
  return cuts;
}

double verdict_mm(const SheetAnswer& sheet, const Layout& layout) {
  constexpr double kInsideMm = 183.0;
  const double move = layout.move_mm.x() > 0.0 ? layout.move_mm.x() + kGapMm : 0.0;
  const double room = kInsideMm - move;
  double high = 0.0;
  if (!sheet.shout.empty()) {
    high += kShout.line_mm() + 1.0 + height_mm(sheet.must_do, room, kMust);
  }
  const Print says = sheet.shout.empty() ? kBenchBold : kBench;
  high += height_mm(sheet.says, room, says);
  const Print& small = layout.density == Density::plain ? kFound : kFoundDense;
  for (const std::string& text : sheet.found) high += height_mm(text, room - 4.0, small);
  constexpr double kFramesMm = 3.2;
  constexpr double kStopFramesMm = 5.0;
  return std::max(high, layout.move_mm.y()) + (sheet.shout.empty() ? kFramesMm : kStopFramesMm);
}

double marks_mm(const SheetAnswer& sheet, Density density) {
  constexpr double kNameMm = 36.0;
  double high = above_heading_mm(density) + heading_mm() + 2.0 * kTableHead.line_mm() + 0.8;
  if (density != Density::tight) {
    high += height_mm(
        "After one turn the marks of shafts at half speed stand opposite: that is right. Late: not "
        "yet where it belongs, in the running direction; early: past it.",
        kWholeMm, kUnderTable);
  }
  for (const SheetMark& mark : sheet.marks) {
    constexpr double kBlankMm = 4.9;
    high += std::max(kBlankMm, height_mm(mark.shaft, kNameMm, kBenchBold) + 0.4) + 0.4;
  }
  return high;
}

// Rows that are not parted, in columns as even as they can be: how high the highest comes.
double in_columns(const std::vector<double>& rows_mm, int columns) {
  const auto columns_within = [&](double high) {
    int used = 1;
    double at = 0.0;
    for (const double row : rows_mm) {
      if (at > 0.0 && at + row > high) {
        ++used;
        at = 0.0;
      }
      at += row;
    }
    return used;
  };
  double least = 0.0;
  for (std::size_t from = 0; from < rows_mm.size(); ++from) {
    double high = 0.0;
    for (std::size_t to = from; to < rows_mm.size(); ++to) {
      high += rows_mm[to];
      constexpr double kRounding = 1e-9;
      const bool holds = columns_within(high + kRounding) <= columns &&
                         high >= *std::max_element(rows_mm.begin(), rows_mm.end());
      if (holds && (least == 0.0 || high < least)) least = high;
    }
  }
  return least;
}

double faults_mm(const SheetAnswer& sheet, const Layout& layout) {
  const Small& small = layout.density == Density::plain ? kFaultsPlain : kFaultsDense;
  Print bold = small.print;
  bold.letters = Letters::bold;
  std::vector<double> rows;
  for (std::size_t i = 0; i < layout.faults; ++i) {
    const SheetFault& fault = sheet.faults[i];
    std::vector<double> words = words_mm(fault.seen.text, bold);
    for (const double word : words_mm("-> " + fault.means.text, small.print)) words.push_back(word);
    rows.push_back(lines_in(words, small.column_mm, small.print) * small.print.line_mm() + 0.45);
  }
  return above_heading_mm(layout.density) + heading_mm() + in_columns(rows, small.columns);
}

double cautions_mm(const SheetAnswer& sheet, Density density) {
  std::vector<double> rows;
  const auto add = [&](const std::string& text) {
    rows.push_back(height_mm(text, kCautions.column_mm, kCautions.print));
  };
  for (const std::string& text : sheet.cautions) add(text);
  // The last two may be parted.
  for (const std::string& text : {"Not checked: " + sheet.not_checked.text, sheet.origins.text}) {
    if (text.empty()) continue;
    const int lines = lines_in(text, kCautions.column_mm, kCautions.print);
    rows.insert(rows.end(), static_cast<std::size_t>(lines), kCautions.print.line_mm());
  }
  return above_heading_mm(density) + heading_mm() + in_columns(rows, kCautions.columns);
}

// How high the order of work comes out, with what is after the cut under a picture.
double beside_mm(const Cut& cut, const Layout& layout) {
  constexpr double kUnderPictureMm = 1.0;
  return std::max(cut.before_mm, layout.view_mm.y() + kUnderPictureMm + cut.after_mm);
}

double first_column_mm(const Layout& layout) {
  return kWholeMm - kGapMm - second_column_mm(layout);
}

double work_mm(const SheetAnswer& sheet, const Layout& layout) {
  if (!layout.cut) {
    return sum_of_steps(sheet, kColumnMm, layout.density) / 2.0 + kBench.line_mm();
  }
  const double second = second_column_mm(layout);
  for (const Cut& cut : cuts_of(sheet, first_column_mm(layout), second, layout.density)) {
    if (cut.step == layout.cut->step && cut.line == layout.cut->line) return beside_mm(cut, layout);
  }
  return 1e9;
}

void balance(const SheetAnswer& sheet, Layout& layout) {
  double least = 1e9;
  Layout tried = layout;
  for (const double wide : {60.0, 67.0, 75.0, 83.0, 91.0, 99.0, 0.0}) {
    tried.second_mm = wide;
    const double second = second_column_mm(tried);
    if (wide > 0.0 && second > wide) continue;
    for (const Cut& cut : cuts_of(sheet, first_column_mm(tried), second, layout.density)) {
      const double high = beside_mm(cut, tried);
      if (high >= least) continue;
      layout.cut = Layout::Place{cut.step, cut.line};
      layout.second_mm = wide;
      least = high;
    }
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
  return printed_height_mm(sheet, layout) <= kPageMm + kOverMm;
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

double second_column_mm(const Layout& layout) {
  return std::max(layout.view_mm.x(), layout.second_mm);
}

double printed_height_mm(const SheetAnswer& sheet, const Layout& layout) {
  const double title = height_mm(sheet.heading.profile, 188.0, kTitle) + kBench.line_mm() + 1.0;
  const double round_verdict = layout.density == Density::plain ? 2.2 : 1.4;
  const double bench = title + verdict_mm(sheet, layout) + round_verdict + work_mm(sheet, layout);
  const double marks = marks_mm(sheet, layout.density);
  const double faults = faults_mm(sheet, layout);
  const double cautions = cautions_mm(sheet, layout.density);
  const double small_print = faults + cautions;
  switch (layout.sides) {
    case Sides::faults_over:
      return std::max(bench + marks + cautions, faults);
    case Sides::small_print_over:
      return std::max(bench + marks, small_print);
    case Sides::marks_over:
      return std::max(bench, marks + small_print);
    case Sides::one:
      break;
  }
  return bench + marks + small_print;
}

// Rows of the card again, as far as they go on.
static void add_faults(const SheetAnswer& sheet, Layout& layout) {
  while (layout.faults < sheet.faults.size()) {
    ++layout.faults;
    if (fits(sheet, layout)) continue;
    --layout.faults;
    return;
  }
}

// The largest picture with which such a layout fits.
static std::optional<Layout> with_picture(const SheetAnswer& sheet, const std::vector<Vec2>& sizes,
                                          const Layout& such) {
  for (const Vec2& size : sizes) {
    Layout tried = such;
    tried.view_mm = size;
    balance(sheet, tried);
    if (fits(sheet, tried)) return tried;
  }
  return std::nullopt;
}

Layout lay_out(const SheetAnswer& sheet, const SheetPictures& pictures) {
  constexpr std::size_t kFewestFaults = 2;
  constexpr std::size_t kGoodFaults = 6;
  const std::size_t all = sheet.faults.size();
  const std::size_t fewest = std::min(kFewestFaults, all);
  const std::size_t good = std::min(kGoodFaults, all);
  const auto such = [&](Density density, std::size_t faults, Sides sides) {
    Layout layout;
    layout.density = density;
    layout.faults = faults;
    layout.sides = sides;
    layout.move_mm = pictures.move_mm;
    return layout;
  };
  const std::vector<Vec2>& sizes = pictures.views_mm;
  const Layout spacious = such(Density::plain, all, Sides::one);
  if (sizes.empty() && fits(sheet, spacious)) return spacious;
  if (!sizes.empty()) {
    if (const auto layout = with_picture(sheet, {sizes.front()}, spacious)) return *layout;
  }
  for (const Layout& tight :
       {such(Density::dense, good, Sides::one), such(Density::dense, fewest, Sides::one),
        such(Density::tight, fewest, Sides::one)}) {
    std::optional<Layout> layout = with_picture(sheet, sizes, tight);
    if (!layout) continue;
    add_faults(sheet, *layout);
    return *layout;
  }
  const Layout faults_over = such(Density::tight, good, Sides::faults_over);
  if (const auto layout = with_picture(sheet, sizes, faults_over)) return *layout;
  for (const Sides sides : {Sides::small_print_over, Sides::marks_over}) {
    const auto layout = with_picture(sheet, sizes, such(Density::dense, all, sides));
    if (layout) return *layout;
  }
  Layout bare = such(Density::dense, all, Sides::one);
  while (!fits(sheet, bare) && bare.faults > fewest) --bare.faults;
  return bare;
}

}  // namespace twoturn::sheet
