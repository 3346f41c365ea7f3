// The belt path computed a second time and in another way: the contact points of each tangent are
// the unknowns of four equations, solved by Newton's method in 50 digits. Shares nothing with the
// library.
#pragma once

#include <algorithm>
#include <array>
#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>
#include <vector>

namespace oracle {

using Real = boost::multiprecision::cpp_bin_float_50;

struct Circle {
  double x = 0.0;
  double y = 0.0;
  double radius = 0.0;
  int sense = 1;  // +1: the path goes round it anticlockwise
};

struct Contact {
  Real start_x, start_y, end_x, end_y;  // on the circle left, on the circle met
};

struct Path {
  std::vector<Contact> contacts;  // of the tangent from circle i to circle i + 1
  std::vector<Real> spans;
  std::vector<Real> shares;  // l/D of each span
  std::vector<Real> wraps;   // radians, on circle i
  Real length = 0;
};

inline const Real& full_turn() {
  static const Real turn = 8 * atan(Real(1));
  return turn;
}

// Bisects for where `f` passes from positive to negative between `low` and `high`.
template <typename Function>
double falling_root(Function f, double low, double high) {
  for (int step = 0; step < 100; ++step) {
    const double middle = 0.5 * (low + high);
    (f(middle) > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// Direction of travel along the tangent, from a scan of all directions; good to some digits only.
inline double guessed_direction(const Circle& from, const Circle& to) {
  const double dx = to.x - from.x;
  const double dy = to.y - from.y;
  const double k = to.sense * to.radius - from.sense * from.radius;
  const auto beside = [&](double t) { return dy * std::cos(t) - dx * std::sin(t); };
  constexpr int kLooks = 64;
  constexpr double kTurn = 6.283185307179586;
  constexpr double kFirstLook = 0.1;  // no axis: a root there could hide between last and first
  for (int look = 0; look < kLooks; ++look) {
    const double low = kFirstLook + kTurn * look / kLooks;
    const double high = kFirstLook + kTurn * (look + 1) / kLooks;
    if (!(beside(low) > 0.0 && beside(high) <= 0.0)) continue;
    const double ahead = falling_root(beside, low, high);
    const auto offset = [&](double t) { return beside(t) - k; };
    return falling_root(offset, ahead - kTurn / 4, ahead + kTurn / 4);
  }
  throw std::logic_error("oracle: no direction found");
}

using Vector4 = std::array<Real, 4>;
using Matrix4 = std::array<Vector4, 4>;

// Gauss with the largest pivot.
inline Vector4 solved_system(Matrix4 a, Vector4 b) {
  for (std::size_t column = 0; column < 4; ++column) {
    std::size_t pivot = column;
    for (std::size_t row = column + 1; row < 4; ++row) {
      if (abs(a[row][column]) > abs(a[pivot][column])) pivot = row;
    }
    std::swap(a[pivot], a[column]);
    std::swap(b[pivot], b[column]);
    for (std::size_t row = column + 1; row < 4; ++row) {
      const Real factor = a[row][column] / a[column][column];
      for (std::size_t k = column; k < 4; ++k) a[row][k] -= factor * a[column][k];
      b[row] -= factor * b[column];
    }
  }
  for (std::size_t row = 4; row-- > 0;) {
    for (std::size_t k = row + 1; k < 4; ++k) b[row] -= a[row][k] * b[k];
    b[row] /= a[row][row];
  }
  return b;
}

// P on the circle left, Q on the circle met: each on its circle, PQ square to both radii.
inline Contact tangent(const Circle& from, const Circle& to) {
  const double direction = guessed_direction(from, to);
  const double nx = -std::sin(direction);
  const double ny = std::cos(direction);
  const double rho_from = from.sense * from.radius;
  const double rho_to = to.sense * to.radius;
  Vector4 z{Real(from.x - rho_from * nx), Real(from.y - rho_from * ny), Real(to.x - rho_to * nx),
            Real(to.y - rho_to * ny)};
  const Real enough = Real("1e-44") * Real(from.radius + to.radius);
  for (int step = 0; step < 40; ++step) {
    const Real ax = z[0] - from.x, ay = z[1] - from.y;
    const Real bx = z[2] - to.x, by = z[3] - to.y;
    const Real ex = z[2] - z[0], ey = z[3] - z[1];
    const Vector4 residual{ax * ax + ay * ay - Real(from.radius) * from.radius,
                           bx * bx + by * by - Real(to.radius) * to.radius, ax * ex + ay * ey,
                           bx * ex + by * ey};
    const Matrix4 jacobian{Vector4{2 * ax, 2 * ay, 0, 0}, Vector4{0, 0, 2 * bx, 2 * by},
                           Vector4{ex - ax, ey - ay, ax, ay}, Vector4{-bx, -by, ex + bx, ey + by}};
    const Vector4 change = solved_system(jacobian, residual);
    Real greatest = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      z[k] -= change[k];
      greatest = (std::max)(greatest, Real(abs(change[k])));
    }
    if (greatest > enough) continue;
    const Real ahead = (z[2] - z[0]) * std::cos(direction) + (z[3] - z[1]) * std::sin(direction);
    if (!(ahead > 0)) throw std::logic_error("oracle: the other tangent was found");
    return {z[0], z[1], z[2], z[3]};
  }
  throw std::logic_error("oracle: Newton did not settle");
}

// From where the path meets circle i to where it leaves it, in its sense, [0, 2 pi).
inline Real wrap_on(const Circle& circle, const Contact& in, const Contact& out) {
  const Real entry = atan2(in.end_y - circle.y, in.end_x - circle.x);
  const Real exit = atan2(out.start_y - circle.y, out.start_x - circle.x);
  Real wrap = circle.sense * (exit - entry);
  while (wrap < 0) wrap += full_turn();
  while (wrap >= full_turn()) wrap -= full_turn();
  return wrap;
}

/// The closed path round the circles, in order of travel.
inline Path closed_path(const std::vector<Circle>& circles) {
  const std::size_t n = circles.size();
  Path path;
  for (std::size_t i = 0; i < n; ++i) {
    const Circle& to = circles[(i + 1) % n];
    const Contact contact = tangent(circles[i], to);
    const Real x = contact.end_x - contact.start_x, y = contact.end_y - contact.start_y;
    const Real dx = Real(to.x) - circles[i].x, dy = Real(to.y) - circles[i].y;
    path.contacts.push_back(contact);
    path.spans.push_back(sqrt(x * x + y * y));
    path.shares.push_back(path.spans.back() / sqrt(dx * dx + dy * dy));
    path.length += path.spans.back();
  }
  for (std::size_t i = 0; i < n; ++i) {
    path.wraps.push_back(wrap_on(circles[i], path.contacts[(i + n - 1) % n], path.contacts[i]));
    path.length += circles[i].radius * path.wraps.back();
  }
  return path;
}

}  // namespace oracle
