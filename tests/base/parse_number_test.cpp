// Texts as numbers.
#include "twoturn/base/parse_number.hpp"

#include <clocale>
#include <string>

#include "support/catch.hpp"

namespace twoturn {
namespace {

TEST_CASE("a decimal number is read whole, to the nearest double") {
  CHECK(parsed_number("0") == 0.0);
  CHECK(parsed_number("9.525") == 9.525);
  CHECK(parsed_number(".5") == 0.5);
  CHECK(parsed_number("-.5") == -0.5);
  CHECK(parsed_number("+3") == 3.0);
  CHECK(parsed_number("1e3") == 1000.0);
  CHECK(parsed_number("2.5E-1") == 0.25);
  CHECK(parsed_number("0.000") == 0.0);
  CHECK(parsed_number("0e999") == 0.0);
}

TEST_CASE("what is no number alone is none, and why is known") {
  for (const char* text : {"", "+", "-", ".", "+-3", "-+3", "e3", "mm", "infinite", " 3", "--3"}) {
    CAPTURE(text);
    CHECK(read_number(text).fault == NoNumber::no_digits);
    CHECK_FALSE(parsed_number(text));
  }
  for (const char* text : {"3 ", "3mm", "3,5", "1e", "0x10", "1_000", "3.5.1", "4:30"}) {
    CAPTURE(text);
    CHECK(read_number(text).fault == NoNumber::more_behind);
    CHECK_FALSE(parsed_number(text));
  }
}

TEST_CASE("a number that no double can hold is refused, too large or too small") {
  // The largest double is 1.8e308, the smallest above 0 is 4.9e-324 (IEEE 754, binary64).
  for (const std::string& text :
       {std::string("1e309"), std::string("-1e309"), std::string("1e-400"), std::string("nan"),
        std::string("inf"), std::string("-inf"), std::string(401, '9'),
        "0." + std::string(400, '0') + "1"}) {
    CAPTURE(text);
    CHECK(read_number(text).fault == NoNumber::not_finite);
    CHECK_FALSE(parsed_number(text));
  }
  CHECK(parsed_number("1.7e308") == 1.7e308);
  CHECK(parsed_number("5e-324") > 0.0);
}

TEST_CASE("a whole number is digits alone, as many as an int can hold") {
  CHECK(parsed_whole("0") == 0);
  CHECK(parsed_whole("007") == 7);
  CHECK(parsed_whole("2147483647") == 2147483647);
  for (const char* text :
       {"", "-1", "+1", "1.0", " 1", "1 ", "1e3", "2147483648", "99999999999999999999", "0x1"}) {
    CAPTURE(text);
    CHECK_FALSE(parsed_whole(text));
  }
}

TEST_CASE("numbers are read alike under any locale") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) == nullptr) continue;
    CHECK(parsed_number("1.5") == 1.5);
    CHECK_FALSE(parsed_number("1,5"));
  }
  std::setlocale(LC_ALL, before.c_str());
  CHECK_FALSE(parsed_number("1,5"));
}

}  // namespace
}  // namespace twoturn
