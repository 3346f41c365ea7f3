// Against another library's inverse error function, and values of any printed table.
#include "twoturn/base/normal.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <cmath>

#include "support/catch.hpp"

using namespace twoturn;

TEST_CASE("The normal law's quantiles are those of the inverse error function") {
  // By the complement, which keeps its digits far out; 1e-12 has the far branch.
  const auto below = [](double tail) {
    return -std::sqrt(2.0) * boost::math::erfc_inv(2.0 * tail);
  };
  constexpr double kRounding = 1e-14;
  for (int k = 1; k < 10000; ++k) {
    const double tail = k / 20000.0;
    CAPTURE(tail);
    CHECK_THAT(normal_quantile(tail), WithinRel(below(tail), kRounding));
    CHECK_THAT(normal_quantile(1.0 - tail), WithinRel(-below(1.0 - (1.0 - tail)), kRounding));
  }
  for (const double tail : {1e-6, 1e-9, 1e-12, 1e-15}) {
    CAPTURE(tail);
    CHECK_THAT(normal_quantile(tail), WithinRel(below(tail), kRounding));
  }
}

TEST_CASE("95 in 100 lie within 1.96 deviations, and the ends stay finite") {
  CHECK_THAT(normal_quantile(0.975), WithinAbs(1.959963984540054, 1e-14));
  CHECK(normal_quantile(0.5) == 0.0);
  CHECK(std::isfinite(normal_quantile(0.0)));
  CHECK(normal_quantile(0.0) == -normal_quantile(1.0));
}
