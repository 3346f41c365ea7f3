// How many lines a text takes in print, from the widths of its letters.
#pragma once

#include <string>
#include <vector>

namespace twoturn::sheet {

enum class Letters { plain, bold };

/// A size of print: points, and lines so many times as high.
struct Print {
  double points = 10.2;
  double leading = 1.15;
  Letters letters = Letters::plain;

  double line_mm() const;
};

/// How wide a text prints in the first of the page's faces (and in those made to measure with it).
double width_mm(const std::string& text, const Print& print);

/// Words, and pieces that stay together, in the order in which they are set.
std::vector<double> words_mm(const std::string& text, const Print& print);

/// Lines that words of these widths take, set one after the other; one at least.
int lines_in(const std::vector<double>& words_mm, double room_mm, const Print& print);
int lines_in(const std::string& text, double room_mm, const Print& print);
/// How high those lines are.
double height_mm(const std::string& text, double room_mm, const Print& print);

}  // namespace twoturn::sheet
