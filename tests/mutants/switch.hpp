#pragma once
// Operators that can be told to be others: mutants.py puts these in their places. TWOTURN_MUTANT is
// the one mutant that is on; TWOTURN_MUTANTS_REACHED names a file for those that were come to.
#include <cstdlib>
#include <fstream>
#include <set>
#include <type_traits>
#include <vector>

namespace twoturn_mutants {

inline int chosen() {
  const char* number = std::getenv("TWOTURN_MUTANT");
  return number == nullptr ? 0 : std::atoi(number);
}

constexpr std::size_t kMost = 100000;

// Which were come to, written when the program ends.
class Reached {
 public:
  Reached() {
    if (const char* name = std::getenv("TWOTURN_MUTANTS_REACHED")) file_.open(name);
  }
  ~Reached() {
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      if (seen_[i] != 0) file_ << i << ' ';
    }
  }
  bool wanted() const { return file_.is_open(); }
  void see(int number) { seen_[static_cast<std::size_t>(number)] = 1; }

 private:
  std::ofstream file_;
  std::vector<char> seen_ = std::vector<char>(kMost);  // a test counts what is allocated later
};

inline const int kChosen = chosen();
inline Reached reached;

inline bool is(int number) {
  if (reached.wanted()) reached.see(number);
  return kChosen == number;
}

template <class A, class B>
auto sum(int n, A a, B b) {
  return is(n) ? a - b : a + b;
}
template <class A, class B>
auto difference(int n, A a, B b) {
  return is(n) ? a + b : a - b;
}
template <class A, class B>
auto product(int n, A a, B b) {
  return is(n) ? a / b : a * b;
}
template <class A, class B>
auto quotient(int n, A a, B b) {
  return is(n) ? a * b : a / b;
}
template <class A>
auto minus(int n, A a) {
  return is(n) ? +a : -a;
}
template <class A>
bool no(int n, const A& a) {
  return is(n) ? static_cast<bool>(a) : !a;
}

template <class A, class B>
bool less(int n, A a, B b) {
  return is(n) ? a <= b : kChosen == n + 1 ? a >= b : a < b;
}
template <class A, class B>
bool at_most(int n, A a, B b) {
  return is(n) ? a < b : kChosen == n + 1 ? a > b : a <= b;
}
template <class A, class B>
bool more(int n, A a, B b) {
  return is(n) ? a >= b : kChosen == n + 1 ? a <= b : a > b;
}
template <class A, class B>
bool at_least(int n, A a, B b) {
  return is(n) ? a > b : kChosen == n + 1 ? a < b : a >= b;
}
template <class A, class B>
bool same(int n, A a, B b) {
  return is(n) ? a != b : a == b;
}
template <class A, class B>
bool other(int n, A a, B b) {
  return is(n) ? a == b : a != b;
}

template <class A, class B>
A& add(int n, A& a, B b) {
  return is(n) ? a -= b : a += b;
}
template <class A, class B>
A& take(int n, A& a, B b) {
  return is(n) ? a += b : a -= b;
}
template <class A, class B>
A& scale(int n, A& a, B b) {
  return is(n) ? a /= b : a *= b;
}
template <class A, class B>
A& divide(int n, A& a, B b) {
  return is(n) ? a *= b : a /= b;
}

template <class A, class B>
auto matrix_sum(int n, const A& a, const B& b) {
  auto result = (a + b).eval();
  if (is(n)) result = a - b;
  return result;
}
template <class A, class B>
auto matrix_difference(int n, const A& a, const B& b) {
  auto result = (a - b).eval();
  if (is(n)) result = a + b;
  return result;
}
template <class A, class B>
auto matrix_product(int n, const A& a, const B& b) {
  if constexpr (std::is_arithmetic_v<B>) {
    auto result = (a * b).eval();
    if (is(n)) result = a / b;
    return result;
  } else if constexpr (std::is_arithmetic_v<A>) {
    auto result = (a * b).eval();
    if (is(n)) result = b / a;
    return result;
  } else {
    auto result = (a * b).eval();
    if (is(n)) result = -result;
    return result;
  }
}
template <class A, class B>  // a block of a matrix is an rvalue
auto& matrix_add(int n, A&& a, const B& b) {
  if (is(n)) {
    a -= b;
  } else {
    a += b;
  }
  return a;
}
template <class A, class B>  // a block of a matrix is an rvalue
auto& matrix_take(int n, A&& a, const B& b) {
  if (is(n)) {
    a += b;
  } else {
    a -= b;
  }
  return a;
}

}  // namespace twoturn_mutants
