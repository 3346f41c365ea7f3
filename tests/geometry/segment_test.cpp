// Segments, arcs and outlines: exact cases.
#include "twoturn/geometry/segment.hpp"

#include "geometry/random_drives.hpp"

namespace twoturn::test {
namespace {

TEST_CASE("the nearest point of a segment is its foot, or the nearer end") {
  const Segment s{Vec2(0, 0), Vec2(10, 0)};
  CHECK(nearest_on(s, Vec2(4, 3)) == Vec2(4, 0));
  CHECK(nearest_on(s, Vec2(-4, 3)) == Vec2(0, 0));
  CHECK(nearest_on(s, Vec2(14, -3)) == Vec2(10, 0));
}

TEST_CASE("a segment of no length is its point") {
  const Segment s{Vec2(2, 3), Vec2(2, 3)};
  CHECK(nearest_on(s, Vec2(9, 9)) == Vec2(2, 3));
  CHECK(nearest(s, {Vec2(2, 8), Vec2(9, 8)}).distance_mm == 5.0);
}

TEST_CASE("segments that cross are nought apart at their crossing point") {
  const Segment a{Vec2(0, 0), Vec2(10, 10)};
  const Segment b{Vec2(0, 10), Vec2(10, 0)};
  CHECK(cross_inside(a, b));
  const Nearest near = nearest(a, b);
  CHECK(near.distance_mm == 0.0);
  CHECK(near.on_first == Vec2(5, 5));
  CHECK(near.on_second == Vec2(5, 5));
}

TEST_CASE("segments that merely touch with an end do not cross") {
  const Segment a{Vec2(0, 0), Vec2(10, 0)};
  CHECK_FALSE(cross_inside(a, {Vec2(5, 0), Vec2(5, 7)}));
  CHECK_FALSE(cross_inside(a, {Vec2(10, 0), Vec2(15, 7)}));
  CHECK_FALSE(cross_inside(a, {Vec2(5, 1), Vec2(5, 7)}));
  CHECK_FALSE(cross_inside(a, {Vec2(2, 0), Vec2(8, 0)}));
  CHECK(cross_inside(a, {Vec2(5, -1e-9), Vec2(5, 7)}));
  CHECK(nearest(a, {Vec2(5, 0), Vec2(5, 7)}).distance_mm == 0.0);
}

TEST_CASE("segments apart are nearest at an end of one of them, either way round") {
  const Segment a{Vec2(0, 0), Vec2(10, 0)};
  const Segment b{Vec2(6, 4), Vec2(20, 9)};
  CHECK(nearest(a, b).distance_mm == 4.0);
  CHECK(nearest(a, b).on_first == Vec2(6, 0));
  CHECK(nearest(a, b).on_second == Vec2(6, 4));
  CHECK(nearest(b, a).on_first == Vec2(6, 4));
  CHECK(nearest({Vec2(0, 0), Vec2(10, 0)}, {Vec2(13, 4), Vec2(20, 9)}).distance_mm == 5.0);
}

TEST_CASE("the distance of two segments is that of their samples, to half a sample's length") {
  const std::uint64_t seed = 20260330;
  Random random(seed);
  for (int pair = 0; pair < 300; ++pair) {
    INFO("seed " << seed << ", pair " << pair);
    const auto point = [&random] {
      return Vec2{random.between(-10.0, 10.0), random.between(-10.0, 10.0)};
    };
    const Segment a{point(), point()};
    const Segment b{point(), point()};
    constexpr int kSamples = 200;
    double least = 1e300;
    for (int i = 0; i <= kSamples; ++i) {
      const Vec2 on_a = a.start_mm + (1.0 * i / kSamples) * a.along();
      for (int j = 0; j <= kSamples; ++j) {
        const Vec2 on_b = b.start_mm + (1.0 * j / kSamples) * b.along();
        least = std::min(least, (on_a - on_b).norm());
      }
    }
    const double half_step = 0.5 * (a.along().norm() + b.along().norm()) / kSamples;
    const double distance = nearest(a, b).distance_mm;
    REQUIRE(distance <= least + 1e-12);
    REQUIRE(distance >= least - half_step);
  }
}

TEST_CASE("an arc holds its directions and no others, in its own sense") {
  const auto deg = [](double d) { return Angle::degrees(d); };
  CHECK(in_arc(deg(30), deg(10), deg(90), 1));
  CHECK_FALSE(in_arc(deg(30), deg(10), deg(90), -1));
  CHECK(in_arc(deg(-30), deg(10), deg(90), -1));
  CHECK(in_arc(deg(190), deg(170), deg(40), 1));   // across the seam of atan2
  CHECK(in_arc(deg(-170), deg(170), deg(40), 1));  // the same direction
  CHECK_FALSE(in_arc(deg(-140), deg(170), deg(40), 1));
  CHECK(in_arc(deg(10), deg(10), deg(0), 1));
  CHECK(in_arc(deg(5), deg(10), deg(359), 1));
  CHECK_FALSE(in_arc(deg(9.5), deg(10), deg(359), 1));
}

TEST_CASE("an outline that crosses or retraces itself is not simple") {
  const std::vector<Vec2> square{Vec2(0, 0), Vec2(9, 0), Vec2(9, 9), Vec2(0, 9)};
  const std::vector<Vec2> bow_tie{Vec2(0, 0), Vec2(9, 9), Vec2(9, 0), Vec2(0, 9)};
  const std::vector<Vec2> there_and_back{Vec2(0, 0), Vec2(9, 0), Vec2(4, 0)};
  CHECK(is_simple(square, Outline::closed));
  CHECK(is_simple(square, Outline::open));
  CHECK_FALSE(is_simple(bow_tie, Outline::closed));
  CHECK_FALSE(is_simple(bow_tie, Outline::open));
  CHECK_FALSE(is_simple(there_and_back, Outline::open));
  CHECK_FALSE(is_simple(there_and_back, Outline::closed));
}

TEST_CASE("an open outline may be simple where its closing edge is not") {
  const std::vector<Vec2> hook{Vec2(0, 0), Vec2(10, 0), Vec2(10, 10), Vec2(5, 10), Vec2(5, -5)};
  const std::vector<Vec2> spiral{Vec2(0, 0), Vec2(10, 0), Vec2(10, 10), Vec2(3, 10),
                                 Vec2(3, 3), Vec2(6, 3),  Vec2(6, 7)};
  CHECK_FALSE(is_simple(hook, Outline::open));
  CHECK(is_simple(spiral, Outline::open));
  CHECK_FALSE(is_simple(spiral, Outline::closed));
}

TEST_CASE("an outline that touches itself, or goes through a corner of its own, is not simple") {
  const Outline open = Outline::open;
  const std::vector<Vec2> start{Vec2(0, 0), Vec2(9, 0), Vec2(9, 9), Vec2(4, 9)};
  const auto with_end = [&start](const std::vector<Vec2>& end) {
    std::vector<Vec2> line = start;
    line.insert(line.end(), end.begin(), end.end());
    return line;
  };
  CHECK(is_simple(with_end({Vec2(4, 1e-3)}), open));
  CHECK_FALSE(is_simple(with_end({Vec2(4, 0)}), open));
  CHECK_FALSE(is_simple(with_end({Vec2(4, 0), Vec2(3, -5)}), open));
  CHECK_FALSE(is_simple(with_end({Vec2(1, 0), Vec2(5, 0)}), open));
  CHECK_FALSE(is_simple({{Vec2(0, 0), Vec2(9, 0), Vec2(9, 9), Vec2(9, 0), Vec2(20, 0)}}, open));
}

TEST_CASE("a point twice in a row, or a line closed by hand, is still simple") {
  CHECK(is_simple({{Vec2(0, 0), Vec2(9, 0), Vec2(9, 0), Vec2(9, 9)}}, Outline::open));
  CHECK(is_simple({{Vec2(0, 0), Vec2(9, 0), Vec2(9, 9), Vec2(0, 0)}}, Outline::open));
}

TEST_CASE("one point is no outline") {
  CHECK_FALSE(is_simple({{Vec2(3, 4)}}, Outline::open));
  CHECK_FALSE(is_simple({{Vec2(3, 4), Vec2(3, 4)}}, Outline::open));
  CHECK_FALSE(is_simple({{Vec2(3, 4), Vec2(5, 4)}}, Outline::closed));
}

TEST_CASE("outlines of many points are judged as every pair of their edges says") {
  const std::uint64_t seed = 20260331;
  Random random(seed);
  int crossed = 0;
  constexpr int kOutlines = 2000;
  for (int outline = 0; outline < kOutlines; ++outline) {
    INFO("seed " << seed << ", outline " << outline);
    std::vector<Vec2> points;
    Vec2 place = Vec2::Zero();
    double heading = 0.0;
    const int count = random.whole(3, 80);
    for (int k = 0; k < count; ++k) {
      heading += random.between(-1.0, 1.0);
      place += random.between(0.5, 4.0) * Vec2(std::cos(heading), std::sin(heading));
      points.push_back(place);
    }
    bool open_crosses = false;
    bool closed_crosses = false;
    const std::size_t n = points.size();
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = i + 1; j < n; ++j) {
        const bool cross =
            cross_inside({points[i], points[(i + 1) % n]}, {points[j], points[(j + 1) % n]});
        closed_crosses |= cross;
        open_crosses |= cross && j + 1 < n;
      }
    }
    crossed += open_crosses ? 1 : 0;
    REQUIRE(is_simple(points, Outline::open) == !open_crosses);
    REQUIRE(is_simple(points, Outline::closed) == !closed_crosses);
  }
  CHECK(crossed > kOutlines / 20);
  CHECK(crossed < kOutlines / 20 * 19);
}

TEST_CASE("a clockwise outline is as simple as an anticlockwise one") {
  const std::vector<Vec2> clockwise{Vec2(0, 0), Vec2(0, 9), Vec2(9, 9), Vec2(9, 0)};
  CHECK(is_simple(clockwise, Outline::closed));
}

}  // namespace
}  // namespace twoturn::test
