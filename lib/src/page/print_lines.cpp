#include "print_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace twoturn::sheet {
namespace {

constexpr double kPointMm = 25.4 / 72.0;
constexpr double kFontsDiffer = 1.015;  // faces made to measure are set with a hair more or less

// Advance widths from space to tilde in thousandths of the size, as the common metrics of
// Helvetica have them (published in its AFM files).
constexpr std::array<int, 95> kPlain{
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};
constexpr std::array<int, 95> kBold{
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667,
    611, 778, 722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556,
    278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584};

// Letters beyond those, wide ones among them; continuation bytes take no room.
double letter_width(char letter, Letters letters) {
  const auto byte = static_cast<unsigned char>(letter);
  if ((byte & 0xC0U) == 0x80U) return 0.0;
  const auto index = static_cast<std::size_t>(byte) - 32U;
  constexpr double kWide = 1.0;
  if (index >= kPlain.size()) return byte < 0x80U ? 0.0 : kWide;
  return (letters == Letters::bold ? kBold : kPlain)[index] / 1000.0;
}

}  // namespace

double Print::line_mm() const { return points * leading * kPointMm; }

double width_mm(const std::string& text, const Print& print) {
  double width = 0.0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    // A space that does not break a line is as wide as any.
    if (text.compare(i, 2, "\u00a0") == 0) {
      width += letter_width(' ', print.letters);
      ++i;
      continue;
    }
    width += letter_width(text[i], print.letters);
  }
  return width * print.points * kPointMm * kFontsDiffer;
}

std::vector<double> words_mm(const std::string& text, const Print& print) {
  std::vector<double> words;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t space = std::min(text.find(' ', from), text.size());
    if (space > from) words.push_back(width_mm(text.substr(from, space - from), print));
    from = space + 1;
  }
  return words;
}

int lines_in(const std::vector<double>& words_mm, double room_mm, const Print& print) {
  const double space = width_mm(" ", print);
  int lines = 1;
  double at = 0.0;
  for (const double word : words_mm) {
    if (at > 0.0 && at + space + word > room_mm) {
      ++lines;
      at = 0.0;
    }
    at += (at > 0.0 ? space : 0.0) + word;
    // A word wider than the line goes on over the next ones.
    for (; at > room_mm; at -= room_mm) ++lines;
  }
  return lines;
}

int lines_in(const std::string& text, double room_mm, const Print& print) {
  return lines_in(words_mm(text, print), room_mm, print);
}

double height_mm(const std::string& text, double room_mm, const Print& print) {
  return lines_in(text, room_mm, print) * print.line_mm();
}

}  // namespace twoturn::sheet
