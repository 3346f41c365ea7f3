#include "twoturn/base/assert.hpp"

#include <cstdio>
#include <cstdlib>

namespace twoturn {

void assertion_failed(const char* expectation, double value, const char* file, int line) {
  std::fprintf(stderr, "twoturn: fault of the program: %s:%d: expected %s, value %.17g\n", file,
               line, expectation, value);
  std::abort();
}

}  // namespace twoturn
