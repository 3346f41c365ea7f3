// Numbers as people read them.
#include "twoturn/base/numbers.hpp"

#include <clocale>
#include <cmath>
#include <limits>
#include <locale>

#include "support/catch.hpp"

namespace twoturn {
namespace {

TEST_CASE("fixed digits are just as many as asked for") {
  CHECK(fixed(9.525, 3) == "9.525");
  CHECK(fixed(9.5, 3) == "9.500");
  CHECK(fixed(1056.0, 0) == "1056");
  CHECK(fixed(-0.28, 2) == "-0.28");
  CHECK(fixed(1e15, 1) == "1000000000000000.0");
}

TEST_CASE("nothing is ever printed as minus nothing") {
  CHECK(fixed(-0.0, 0) == "0");
  CHECK(fixed(-0.0, 2) == "0.00");
  CHECK(fixed(-0.004, 2) == "0.00");
  CHECK(fixed(-0.006, 2) == "-0.01");
  CHECK(signed_fixed(-0.004, 2) == "0.00");
  CHECK(signed_fixed(0.004, 2) == "0.00");
  CHECK(signed_fixed(-0.0, 1) == "0.0");
  CHECK(shortest(-0.0, 3) == "0");
  CHECK(shortest(-0.0004, 3) == "0");
}

TEST_CASE("what prints as nothing is known beforehand") {
  // By hand: half of the last digit is the edge.
  for (const double nothing : {0.0, -0.0, 0.0049, -0.0049, 1e-300}) {
    CHECK(prints_as_nothing(nothing, 2));
    CHECK(fixed(nothing, 2) == "0.00");
  }
  for (const double something : {0.0051, -0.0051, 0.01, -10.0, 100.0}) {
    CHECK_FALSE(prints_as_nothing(something, 2));
  }
  CHECK_FALSE(prints_as_nothing(0.0049, 3));
  CHECK(prints_as_nothing(0.49, 0));
}

TEST_CASE("Nothing is what prints as noughts, to the last digit of a double") {
  for (const int digits : {0, 1, 2, 3}) {
    const double half = 0.5 * std::pow(10.0, -digits);
    double below = half;
    double above = half;
    for (int k = 0; k < 50; ++k) {
      for (const double value : {below, above, -below, -above, half * (0.9 + 0.004 * k)}) {
        const bool noughts = fixed(value, digits).find_first_of("123456789") == std::string::npos;
        CAPTURE(digits, value);
        CHECK(prints_as_nothing(value, digits) == noughts);
      }
      below = std::nextafter(below, 0.0);
      above = std::nextafter(above, 1.0);
    }
  }
}

TEST_CASE("a signed number shows its sign either way") {
  CHECK(signed_fixed(0.28, 2) == "+0.28");
  CHECK(signed_fixed(-0.28, 2) == "-0.28");
  CHECK(signed_fixed(12.0, 0) == "+12");
}

TEST_CASE("the shortest form cuts trailing zeros only after the point") {
  CHECK(shortest(8.0, 3) == "8");
  CHECK(shortest(9.5, 3) == "9.5");
  CHECK(shortest(9.525, 3) == "9.525");
  CHECK(shortest(100.0, 2) == "100");
  CHECK(shortest(120.0, 0) == "120");
  CHECK(shortest(0.1 + 0.2, 6) == "0.3");
  CHECK(shortest(-2.50, 2) == "-2.5");
}

TEST_CASE("a length in millimetres is told in thousandths of an inch beside it") {
  // exact: 0.30/0.0254 = 11.811
  CHECK(mm_and_thou(0.30, 2) == "0.30 mm (11.8 thou)");
  CHECK(mm_and_thou(25.4, 1) == "25.4 mm (1000.0 thou)");
  CHECK(mm_and_thou(-0.001, 2) == "0.00 mm (0.0 thou)");
}

TEST_CASE("one is counted in the singular, all else in the plural") {
  CHECK(counted(1, "tooth", "teeth") == "1 tooth");
  CHECK(counted(-1, "tooth", "teeth") == "-1 tooth");
  CHECK(counted(0, "tooth", "teeth") == "0 teeth");
  CHECK(counted(2, "tooth", "teeth") == "2 teeth");
  CHECK(counted(1000000, "turn", "turns") == "1000000 turns");
}

TEST_CASE("once and twice have words of their own") {
  CHECK(times(0) == "0 times");
  CHECK(times(1) == "once");
  CHECK(times(2) == "twice");
  CHECK(times(3) == "3 times");
}

TEST_CASE("an inch is 25.4 mm and a thousand thou") {
  // exact
  CHECK(kMmPerInch == 25.4);
  CHECK(kMmPerThou * 1000.0 == 25.4);
}

// A locale of commas, made here: none need be installed.
struct Commas : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST_CASE("numbers are printed the same whatever the locale") {
  const std::locale before = std::locale::global(std::locale(std::locale(), new Commas));
  const std::string printed = fixed(1234.5, 2);
  const std::string with_unit = mm_and_thou(1234.5, 1);
  const std::string count = counted(12345, "turn", "turns");
  std::locale::global(before);
  CHECK(printed == "1234.50");
  CHECK(with_unit == "1234.5 mm (48602.4 thou)");
  CHECK(count == "12345 turns");
}

}  // namespace
}  // namespace twoturn
