// What a program outside this tree sees of the installed library.
#include <cmath>
#include <twoturn/base/angle.hpp>

int main() {
  const double quarter_turn = twoturn::Angle::degrees(90.0).radians();
  return std::abs(quarter_turn - std::acos(0.0)) < 1e-15 ? 0 : 1;
}
