#include "twoturn/base/names.hpp"

#include "support/catch.hpp"

using namespace twoturn;

TEST_CASE("a part has the article in a sentence once, whatever its name brings along") {
  for (const char* name : {"cam", "the cam", "The cam", "THE cam"}) CHECK(the(name) == "the cam");
  // "A cam" is that of bank A; "theta" and "the" are names of their own.
  CHECK(the("A cam") == "the A cam");
  CHECK(the("a cam") == "a cam");
  CHECK(the("an idler") == "an idler");
  CHECK(the("a ") == "the a ");
  CHECK(the("theta shaft") == "the theta shaft");
  CHECK(the("the") == "the the");
}

TEST_CASE("from one part to another stand plain names, a capital article in small letters") {
  CHECK(plain_name("cam") == "cam");
  CHECK(plain_name("The cam") == "the cam");
  CHECK(plain_name("a cam") == "a cam");
}

TEST_CASE("a sentence begins with a capital where its first letter has one") {
  CHECK(capital("the cam") == "The cam");
  CHECK(capital("2 teeth") == "2 teeth");
  CHECK(capital("\xC3\xA4") == "\xC3\xA4");
  CHECK(capital("") == "");
}
