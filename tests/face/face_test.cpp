#include "twoturn/face/face.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "support/catch.hpp"
#include "support/faces.hpp"
#include "twoturn/face/feelers.hpp"

using namespace twoturn;

namespace {

// Sums over few points of numbers of the size of the heights.
constexpr double kRoundingMm = 1e-14;

std::vector<FaceFault::Kind> kinds(const faces::Points& points) {
  std::vector<FaceFault::Kind> found;
  for (const FaceFault& fault : face_faults(points)) found.push_back(fault.kind);
  return found;
}

double across(const faces::Points& points, const Vec3& normal) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Vec3& p : points) {
    low = std::min(low, normal.dot(p - points.front()));
    high = std::max(high, normal.dot(p - points.front()));
  }
  return (high - low) / normal.norm();
}

// The thinnest slab touches three points with one plane, or two with each: its normal is square to
// two edges between points, and all of those are tried.
double zone_by_hand(const faces::Points& points) {
  std::vector<Vec3> edges;
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j) edges.push_back(points[j] - points[i]);
  }
  double best = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < edges.size(); ++i) {
    for (std::size_t j = i + 1; j < edges.size(); ++j) {
      const Vec3 normal = edges[i].cross(edges[j]);
      if (normal.norm() <= 1e-9 * edges[i].norm() * edges[j].norm()) continue;
      best = std::min(best, across(points, normal));
    }
  }
  return best;
}

// Every square whose left and lower edges touch a point, looked at one by one.
double local_by_hand(const faces::Points& points, double side) {
  double worst = 0.0;
  for (const Vec3& left : points) {
    for (const Vec3& bottom : points) {
      faces::Points inside;
      for (const Vec3& p : points) {
        if (p.x() >= left.x() && p.x() <= left.x() + side && p.y() >= bottom.y() &&
            p.y() <= bottom.y() + side) {
          inside.push_back(p);
        }
      }
      if (inside.size() >= 4) worst = std::max(worst, zone_by_hand(inside));
    }
  }
  return worst;
}

FeelerLine line(std::string name, EdgeWay way, std::optional<double> goes,
                std::optional<double> stops) {
  return {std::move(name), way, goes, stops, false};
}

}  // namespace

TEST_CASE("twist by its definition: the fourth corner stands off the other three") {
  const FaceShape shape = face_shape(faces::twisted());  // exact: 0.2
  CHECK_THAT(shape.twist_mm.value(), WithinAbs(0.2, kRoundingMm));
  CHECK_THAT(shape.bow_x_mm.value(), WithinAbs(0.0, kRoundingMm));
  CHECK_THAT(shape.bow_y_mm.value(), WithinAbs(0.0, kRoundingMm));
}

TEST_CASE("bow by its definition, whatever the tilt and the place") {
  faces::Points points;
  for (int i = 0; i <= 4; ++i) {
    for (int j = 0; j <= 2; ++j) {
      const double x = 100.0 * i, y = 80.0 * j;
      const double u = x / 200 - 1, v = y / 80 - 1;
      // Ends 0.06 above the middle along x, 0.02 below it along y, on a tilted plane.
      points.emplace_back(1000 + x, y - 300,
                          7 + 0.003 * x + 0.001 * y + 0.06 * u * u - 0.02 * v * v);
    }
  }
  const FaceShape shape = face_shape(points);
  constexpr double kOffsetRounding = 1e-13;  // heights around 7 mm
  CHECK_THAT(shape.bow_x_mm.value(), WithinAbs(0.06, kOffsetRounding));
  CHECK_THAT(shape.bow_y_mm.value(), WithinAbs(-0.02, kOffsetRounding));
  CHECK_THAT(shape.twist_mm.value(), WithinAbs(0.0, kOffsetRounding));
}

TEST_CASE("what the points do not show of the shape stays open") {
  faces::Points two_rows;
  for (int i = 0; i < 5; ++i) {
    for (int j = 0; j < 2; ++j)
      two_rows.emplace_back(100.0 * i, 80.0 * j, 0.01 * (i - 2) * (i - 2));
  }
  const FaceShape rows = face_shape(two_rows);
  CHECK(rows.bow_x_mm.has_value());
  CHECK(rows.twist_mm.has_value());
  CHECK_FALSE(rows.bow_y_mm.has_value());
  const FaceShape corners = face_shape(faces::Points{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0.1}});
  CHECK_FALSE(corners.bow_x_mm.has_value());
  CHECK_FALSE(corners.bow_y_mm.has_value());
  CHECK_THAT(corners.twist_mm.value(), WithinAbs(0.1, kRoundingMm));
}

TEST_CASE("what scatters more than it bows is not shown to bow") {
  // Five by three with a true bow of 0.03 along x, and readings that scatter by a given amount.
  const auto with_scatter = [](double mm) {
    faces::Random random(5);
    faces::Points points;
    for (int i = 0; i < 5; ++i) {
      for (int j = 0; j < 3; ++j) {
        const double u = i / 2.0 - 1.0;
        points.emplace_back(100.0 * i, 80.0 * j, 0.03 * u * u + mm * faces::uniform(random, -1, 1));
      }
    }
    return face_shape(points);
  };
  CHECK_THAT(with_scatter(0.002).bow_x_mm.value(), WithinAbs(0.03, 0.002));
  CHECK_FALSE(with_scatter(0.2).bow_y_mm.has_value());
  // A ring shows no bow, for round it a dish and a plane differ by nothing; a hair off it neither.
  for (const double off : {0.0, 1e-4}) {
    faces::Points ring;
    for (int k = 0; k < 24; ++k) {
      const double angle = 2 * kPi * k / 24;
      const double radius = 100 * (1 + (k % 2) * off);
      ring.emplace_back(radius * std::cos(angle), radius * std::sin(angle),
                        k % 3 == 0 ? 0.01 : 0.0);
    }
    CHECK_FALSE(face_shape(ring).bow_x_mm.has_value());
    CHECK_FALSE(face_shape(ring).bow_y_mm.has_value());
  }
}

TEST_CASE("points in one row are no square of a face") {
  faces::Points points;
  for (int k = 0; k < 5; ++k) {
    points.emplace_back(20.0 * k, 0.0, 0.05 * (1 - (k - 2) * (k - 2) / 4.0));  // bowed by 0.05
  }
  points.emplace_back(0, 400, 0);
  points.emplace_back(400, 400, 0);
  points.emplace_back(400, 0, 0);
  CHECK(local_flatness(points, 100.0, Vec3::UnitZ()).points == 0);
  points.emplace_back(40, 60, 0);  // a sixth beside them, and they are one
  CHECK(local_flatness(points, 100.0, Vec3::UnitZ()).points == 6);
  CHECK(local_flatness(points, 100.0, Vec3::UnitZ()).width_mm > 0.04);
}

TEST_CASE("local flatness is the worst of all squares that touch points") {
  faces::Random random(11);
  for (int round = 0; round < 20; ++round) {
    faces::Points points = faces::random_face(random, 40);
    if (round % 2 == 1) {
      for (Vec3& p : points) {
        p.x() = 20 * std::round(p.x() / 20);
        p.y() = 20 * std::round(p.y() / 20);
      }
    }
    const LocalFlatness local = local_flatness(points, 100.0, Vec3::UnitZ());
    CHECK(local.exact);
    CHECK_THAT(local.width_mm, WithinAbs(local_by_hand(points, 100.0), 2e-12));
    CHECK(local.width_mm <= minimum_zone(points).slab.width_mm() + kRoundingMm);
  }
}

TEST_CASE("a square larger than the face sees the whole face") {
  const LocalFlatness local = local_flatness(faces::one_corner_up(), 250.0, Vec3::UnitZ());
  CHECK_THAT(local.width_mm, WithinAbs(0.0374999994141, 0.5e-13));
  CHECK(local.points == 9);
}

TEST_CASE("squares that hold fewer than four points say nothing") {
  CHECK(local_flatness(faces::grid(), 90.0, Vec3::UnitZ()).points == 0);
  CHECK(local_flatness(faces::grid(), 100.0, Vec3::UnitZ()).points == 4);
}

TEST_CASE("many points are looked at in steps of a tenth of the side, which is said") {
  faces::Random random(12);
  const faces::Points points = faces::random_face(random, 2500);
  const LocalFlatness steps = local_flatness(points, 100.0, Vec3::UnitZ());
  CHECK_FALSE(steps.exact);
  CHECK(steps.step_mm == 10.0);
  faces::Points inside;
  for (const Vec3& p : points) {
    const Vec2 off = p.head<2>() - steps.corner_mm;
    if (off.minCoeff() >= 0.0 && off.maxCoeff() <= 100.0) inside.push_back(p);
  }
  CHECK(static_cast<int>(inside.size()) == steps.points);
  CHECK_THAT(minimum_zone(inside).slab.width_mm(), WithinAbs(steps.width_mm, kRoundingMm));
}

TEST_CASE("the least skim is the range of heights square to the cut") {
  FaceQuestion question;
  question.datum = {Vec3(0, 0, 0), Vec3(100, 0, 0.1), Vec3(0, 100, 0)};
  question.height_mm = 118.2;
  question.least_height_mm = 118.0;
  const FaceAnswer answer = examine_face(faces::one_corner_up(), question);
  CHECK(answer.skim.to_best_plane_mm == answer.flatness_mm());
  CHECK_THAT(answer.skim.to_readings_mm, WithinAbs(0.05, kRoundingMm));
  // Against z = 0.001 x the level face ranges over 0.2 mm; the raised corner lies within that.
  const double tilt = std::cos(std::atan(0.001));
  CHECK_THAT(answer.skim.to_datum_mm.value(), WithinAbs(0.2 * tilt, kRoundingMm));
  CHECK_THAT(answer.may_come_off_mm.value(), WithinAbs(0.2, 1e-13));
  CHECK_THAT(answer.left_after_skim_mm.value(), WithinAbs(0.2 - answer.flatness_mm(), 1e-13));
  // The best plane climbs towards the raised corner, so the cut takes less there.
  CHECK_THAT(answer.skim.tilt_x_mm, WithinAbs(-0.025, 1e-9));
}

TEST_CASE("high and low spots are what the two planes touch") {
  const FaceAnswer answer = examine_face(faces::centre_up());
  REQUIRE(answer.high.size() == 1);
  CHECK(answer.high[0].point == 4);
  CHECK(answer.high_count == 1);
  CHECK(answer.low_count == 8);
  CHECK_THAT(answer.high[0].height_mm, WithinAbs(0.05, kRoundingMm));
}

TEST_CASE("faults of readings are all named") {
  using Kind = FaceFault::Kind;
  CHECK(kinds(faces::grid()).empty());
  CHECK(kinds({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}) == std::vector{Kind::too_few});
  CHECK(kinds({{0, 0, 0}, {1, 1, 5}, {2, 2, 0}, {3, 3, 1}}) == std::vector{Kind::on_a_line});
  CHECK(kinds({{0, 0, 0}, {1, 0, std::nan("")}, {0, 1, 0}, {1, 1, 0}}) ==
        std::vector{Kind::not_finite});
  faces::Points doubled = faces::grid();
  doubled.push_back(doubled[2]);
  doubled.back().z() = 0.1;
  const std::vector<FaceFault> faults = face_faults(doubled);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].kind == Kind::doubled);
  CHECK(faults[0].first == 2);
  CHECK(faults[0].second == 9);
}

TEST_CASE("feelers give a least value, and no most but for the lines themselves") {
  const FeelerAnswer answer = judge_feelers({line("along", EdgeWay::along, 0.04, 0.05),
                                             line("across", EdgeWay::across, std::nullopt, 0.03)});
  CHECK(answer.at_least_mm == 0.04);
  CHECK(answer.decisive == 0);
  CHECK(answer.most_on_a_line_mm == 0.05);
  CHECK_FALSE(answer.twist_at_most_mm.has_value());
  const FeelerAnswer open = judge_feelers({line("along", EdgeWay::along, 0.2, std::nullopt)});
  CHECK(open.at_least_mm == 0.2);
  CHECK_FALSE(open.most_on_a_line_mm.has_value());
}

TEST_CASE("an edge that rocks shows twice the gap; two diagonals bound the twist") {
  FeelerLine rocking = line("along", EdgeWay::along, 0.08, 0.10);
  rocking.rocks = true;
  CHECK(judge_feelers({rocking}).at_least_mm == 0.04);
  // The twisted face of the table: 0.05 under one diagonal, the other rocks; the twist is 0.2.
  const FeelerAnswer twisted = judge_feelers(
      {line("one", EdgeWay::diagonal, 0.05, 0.05), line("other", EdgeWay::diagonal, 0.05, 0.05)});
  CHECK_THAT(twisted.twist_at_most_mm.value(), WithinAbs(0.2, kRoundingMm));
}
