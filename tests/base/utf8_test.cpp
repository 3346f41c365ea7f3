#include "twoturn/base/utf8.hpp"

#include <string>

#include "support/catch.hpp"

using namespace twoturn;

TEST_CASE("a character is as long as its first byte says, where all of it is there") {
  CHECK(utf8_length("a") == 1);
  CHECK(utf8_length("\xC3\xA4rm") == 2);
  CHECK(utf8_length("\xE2\x80\x9C") == 3);
  CHECK(utf8_length("\xF0\x9F\x94\xA7") == 4);
  for (const char* broken :
       {"\x80", "\xC1\x81", "\xF5\x80\x80\x80", "\xE2\x80", "\xC3 a", "\xFF"}) {
    CHECK(utf8_length(broken) == 0);
  }
}

TEST_CASE(
    "a message keeps to one line, shows no control character and stops where it is too long") {
  CHECK(shown_text("two\nlines\tof text") == "two lines of text");
  CHECK(shown_text("\x1B[31m\x7F") == "?[31m?");
  // U+0085 and U+009F are controls, U+00A0 and U+00C4 are none.
  CHECK(shown_text("\xC2\x85|\xC2\x9F|\xC2\xA0|\xC3\x84") == "?|?|\xC2\xA0|\xC3\x84");
  CHECK(shown_text("ca\xE9") == "ca?");
  CHECK(shown_text("\xC3\xA4\xC3\xA4\xC3\xA4", 2) == "\xC3\xA4\xC3\xA4...");
  CHECK(shown_text("abc", 3) == "abc");
}

TEST_CASE("of control characters in a page's text each run is one space, none at the start") {
  CHECK(printable("\x01\x02 one\x1B\x7F\ntwo") == " one two");
  CHECK(printable("\x01one") == "one");
  CHECK(printable("one \x01two") == "one two");
  CHECK(printable("\xC2\x85one\xC2\x9F\xC2\x80two\xC2\xA0three\xC2") == "one two\xC2\xA0three\xC2");
  CHECK(printable("").empty());
}
