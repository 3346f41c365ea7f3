// Faces that few people measure: a row of spots, a wall, a face that is all spots; feelers that did
// not bind.
#include <optional>
#include <vector>

#include "support/catch.hpp"
#include "twoturn/face/face.hpp"
#include "twoturn/face/feelers.hpp"

using namespace twoturn;

namespace {

// 400 by 160 mm, its last corner up.
const std::vector<Vec3> kCorners{{0, 0, 0}, {400, 0, 0}, {0, 160, 0}, {400, 160, 0.1}};

FeelerLine felt(EdgeWay way, std::optional<double> goes, std::optional<double> stops) {
  FeelerLine line;
  line.way = way;
  line.goes_mm = goes;
  line.stops_mm = stops;
  return line;
}

}  // namespace

TEST_CASE("points along one edge show no shape, in whichever direction they run") {
  for (const bool along_x : {false, true}) {
    std::vector<Vec3> row;
    for (int k = 0; k < 6; ++k) {
      row.emplace_back(along_x ? 10.0 * k : 3.0, along_x ? 3.0 : 10.0 * k, 0.01 * k * k);
    }
    const FaceShape shape = face_shape(row);
    CHECK_FALSE(shape.bow_x_mm.has_value());
    CHECK_FALSE(shape.bow_y_mm.has_value());
    CHECK_FALSE(shape.twist_mm.has_value());
    REQUIRE(face_faults(row).size() == 1);
    CHECK(face_faults(row).front().kind == FaceFault::Kind::on_a_line);
  }
}

TEST_CASE("one spot measured again and again is told as that, and as no face") {
  const std::vector<Vec3> spot(4, Vec3(10, 20, 0.1));
  const std::vector<FaceFault> faults = face_faults(spot);
  REQUIRE(faults.size() == 4);
  for (int k = 0; k < 3; ++k)
    CHECK(faults[static_cast<std::size_t>(k)].kind == FaceFault::Kind::doubled);
  CHECK(faults.back().kind == FaceFault::Kind::on_a_line);
}

TEST_CASE("what may come off is told where both heights are, and what is left of it") {
  FaceQuestion question;
  const FaceAnswer neither = examine_face(kCorners, question);
  CHECK_FALSE(neither.may_come_off_mm.has_value());
  question.height_mm = 118.2;
  CHECK_FALSE(examine_face(kCorners, question).may_come_off_mm.has_value());
  question.height_mm.reset();
  question.least_height_mm = 118.0;
  CHECK_FALSE(examine_face(kCorners, question).may_come_off_mm.has_value());
  question.height_mm = 118.2;
  const FaceAnswer both = examine_face(kCorners, question);
  CHECK_THAT(both.may_come_off_mm.value(), WithinAbs(0.2, 1e-12));
  // A corner that is up by 0.1 mm: half of it is out of flat, to the slope's square.
  CHECK_THAT(both.flatness_mm(), WithinAbs(0.05, 1e-8));
  CHECK_THAT(both.left_after_skim_mm.value(), WithinAbs(0.15, 1e-8));
}

TEST_CASE("of a face that touches everywhere spots are counted, and only the first are named") {
  std::vector<Vec3> points;
  for (int i = 0; i < 40; ++i) {
    for (int k = 0; k < 40; ++k)
      points.emplace_back(10.0 * i, 4.0 * k, (i + k) % 2 == 0 ? 0.1 : 0.0);
  }
  const FaceAnswer answer = examine_face(points, {});
  CHECK_THAT(answer.flatness_mm(), WithinAbs(0.1, 1e-12));
  CHECK(answer.high_count == 800);
  CHECK(answer.low_count == 800);
  CHECK(answer.high.size() < 800);
  CHECK(answer.high.size() == answer.low.size());
}

TEST_CASE("a face stood on edge has no tilt a mm of width") {
  std::vector<Vec3> wall;
  for (int i = 0; i < 3; ++i) {
    for (int k = 0; k < 3; ++k) {
      wall.emplace_back(100.0 * i, i == 1 && k == 1 ? 0.05 : 0.0, 100.0 * k);
    }
  }
  wall.emplace_back(50, 0, 250);
  const FaceAnswer answer = examine_face(wall, {});
  CHECK_THAT(answer.flatness_mm(), WithinAbs(0.05, 1e-9));
  CHECK(answer.skim.tilt_x_mm == 0.0);
  CHECK(answer.skim.tilt_y_mm == 0.0);
}

TEST_CASE("a diagonal under which no feeler bound leaves the twist open, and so does one alone") {
  const FeelerLine bound = felt(EdgeWay::diagonal, 0.03, 0.04);
  const FeelerLine open = felt(EdgeWay::diagonal, 0.03, std::nullopt);
  const FeelerAnswer both = judge_feelers({bound, bound});
  CHECK_THAT(both.twist_at_most_mm.value(), WithinAbs(0.16, 1e-12));  // twice both gaps
  CHECK(both.most_on_a_line_mm == 0.04);
  for (const std::vector<FeelerLine>& lines :
       {std::vector{bound, open}, {open, bound}, {bound}, {bound, bound, bound}}) {
    CHECK_FALSE(judge_feelers(lines).twist_at_most_mm.has_value());
  }
  const FeelerAnswer none = judge_feelers({felt(EdgeWay::along, std::nullopt, 0.03)});
  CHECK(none.at_least_mm == 0.0);
  CHECK(none.along_felt);
  CHECK_FALSE(none.across_felt);
}
