#pragma once

namespace twoturn {

/// Prints the broken expectation with its value and aborts. Only for faults of this program, never
/// for unusable input.
[[noreturn]] void assertion_failed(const char* expectation, double value, const char* file,
                                   int line);

}  // namespace twoturn

/// Holds an expectation about our own code, with the value that breaks it. Alive wherever
/// TWOTURN_ASSERTS is set: in every build that has the tests, optimised ones too.
#if defined(TWOTURN_ASSERTS) && TWOTURN_ASSERTS
#define TWOTURN_ASSERT(expectation, value) \
  ((expectation) ? void(0) : ::twoturn::assertion_failed(#expectation, (value), __FILE__, __LINE__))
#else
#define TWOTURN_ASSERT(expectation, value) void(0)
#endif
