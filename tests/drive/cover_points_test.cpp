#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/route.hpp"

using namespace twoturn;

TEST_CASE("Each point of a cover has its own gap to the belt, whichever of them is nearest") {
  DriveSpec spec = drives::worked_example();
  const RouteAnswer bare = route_of(drives::fitted(spec, Fit::as_fitted));
  CHECK(bare.cover_points.empty());
  // The right-hand run between cam and pump; the belt's back is on its outside.
  const RouteSpan& run = bare.spans[2];
  const Vec2 middle = (run.start_mm + run.end_mm) / 2.0;
  const Vec2 along = (run.end_mm - run.start_mm).normalized();
  const Vec2 outwards(-along.y(), along.x());
  const double back_mm = 4.1 - 1.91 - 0.686;  // ZA: thickness less tooth height less a
  CoverSpec cover;
  cover.name = "lip";
  for (const double gap_mm : {7.0, 3.0, 12.5}) {
    cover.points_mm.push_back(middle + (back_mm + gap_mm) * outwards);
  }
  spec.covers = {cover};
  const RouteAnswer route = route_of(drives::fitted(spec, Fit::as_fitted));
  REQUIRE(route.cover_points.size() == 3);
  const double expected_mm[] = {7.0, 3.0, 12.5};
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(route.cover_points[k].cover == "lip");
    CHECK(route.cover_points[k].point == static_cast<int>(k) + 1);
    CHECK_THAT(route.cover_points[k].gap_mm, WithinAbs(expected_mm[k], 1e-9));  // rounding
  }
}
