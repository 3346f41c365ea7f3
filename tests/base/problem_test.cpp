// The nearest known word to a slip of the pen.
#include "twoturn/base/problem.hpp"

#include "support/catch.hpp"

namespace twoturn {
namespace {

const std::vector<std::string> kKeys{"teeth", "diameter_mm", "at_mm", "mark_deg", "face", "name"};

TEST_CASE("a slip of the pen finds the word that was meant") {
  CHECK(nearest_word("tooth", kKeys) == "teeth");
  CHECK(nearest_word("teeht", kKeys) == "teeth");
  CHECK(nearest_word("diametre_mm", kKeys) == "diameter_mm");
  CHECK(nearest_word("diameter", kKeys).empty());  // three letters short: not a slip
  CHECK(nearest_word("mark_degs", kKeys) == "mark_deg");
  CHECK(nearest_word("fcae", kKeys) == "face");
}

TEST_CASE("a word that is known is its own nearest") {
  for (const std::string& key : kKeys) CHECK(nearest_word(key, kKeys) == key);
}

TEST_CASE("a word like no other finds none") {
  CHECK(nearest_word("crankcase", kKeys).empty());
  CHECK(nearest_word("zzzzzz", kKeys).empty());
  CHECK(nearest_word("teeth", {}).empty());
}

TEST_CASE("two neighbouring letters swapped count as one slip, not two") {
  // "abdc" is one swap from "abcd" and two changes from "abxy": the swap is nearer.
  CHECK(nearest_word("abdc", {"abxy", "abcd"}) == "abcd");
}

TEST_CASE("among equals the first in the list is taken") {
  CHECK(nearest_word("marx", {"mark", "mars"}) == "mark");
}

TEST_CASE("a long word may differ in a third of its letters") {
  CHECK(nearest_word("abcdefghijkl", {"abcdefghWXYZ"}) == "abcdefghWXYZ");
  CHECK(nearest_word("abcdefghijkl", {"abcdefgVWXYZ"}).empty());
}

TEST_CASE("a word too long to be a key is not compared") {
  const std::string endless(100000, 'x');
  CHECK(nearest_word(endless, {endless}).empty());
}

TEST_CASE("problems are equal only where every part is") {
  Problem a;
  a.key = "pulley.cam.teeth";
  Problem b = a;
  CHECK(a == b);
  b.line = 7;
  CHECK_FALSE(a == b);
}

}  // namespace
}  // namespace twoturn
