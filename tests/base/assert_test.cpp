// Assertions are alive wherever the tests are, in optimised builds too.
#include "twoturn/base/assert.hpp"

#include "support/catch.hpp"

#if !defined(TWOTURN_ASSERTS) || !TWOTURN_ASSERTS
#error "the tests must be built with TWOTURN_ASSERTS=1"
#endif

namespace twoturn {
namespace {

TEST_CASE("an assertion looks at its expectation, once, and passes where it holds") {
  int looks = 0;
  TWOTURN_ASSERT(++looks > 0, static_cast<double>(looks));
  CHECK(looks == 1);
}

TEST_CASE("an assertion is one expression, so that it may follow an if without braces") {
  const bool asked = true;
  int otherwise = 0;
  if (asked)
    TWOTURN_ASSERT(1 + 1 == 2, 2.0);
  else
    ++otherwise;
  CHECK(otherwise == 0);
}

}  // namespace
}  // namespace twoturn
