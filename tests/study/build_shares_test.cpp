// What each part of [build] does alone. Evidence: a tooth of 40 is 9 deg of the cam and 18 of the
// crank; small causes add, and go with their size (common practice); what undoes itself is nothing.
#include "twoturn/study/build_shares.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"

using namespace twoturn;

namespace {

DriveSpec by_the_book() {
  DriveSpec spec = drives::worked_example();
  spec.build = {};
  return spec;
}

BuildShares shares_of(const DriveSpec& spec) {
  return build_shares(spec, fitted_for(spec, Fit::by_the_book));
}

}  // namespace

TEST_CASE("Nothing under [build] has no parts") {
  const BuildShares shares = shares_of(by_the_book());
  CHECK(shares.parts.empty());
  CHECK_FALSE(shares.together.has_value());
}

TEST_CASE("Skim and gasket alone and together add up, a tooth is a tooth") {
  DriveSpec spec = by_the_book();
  spec.build.skim_mm["head"] = 0.3;
  spec.build.gasket_change_mm["head"] = 0.1;
  spec.build.teeth_out["cam"] = -1;
  spec.given = {drives::measured("build.skim_mm.head", 0.03)};
  const BuildShares shares = shares_of(spec);
  REQUIRE(shares.parts.size() == 3);
  REQUIRE(shares.together.has_value());
  REQUIRE(shares.shafts.size() == 1);
  CHECK(shares.shafts[0] == "cam");
  const double skimmed = shares.parts[0].error_crank_deg[0];
  const double gasket = shares.parts[1].error_crank_deg[0];
  const double tooth = shares.parts[2].error_crank_deg[0];
  CHECK(shares.parts[0].key == "build.skim_mm.head");
  CHECK(skimmed * gasket < 0.0);
  // A third of the way, the other way; to second order in 0.3 mm over some 100 mm of run.
  CHECK_THAT(gasket / skimmed, WithinAbs(-1.0 / 3.0, 1e-3));
  CHECK_THAT(tooth, WithinAbs(-360.0 / 40.0 * 2.0, 1e-9));  // 40 teeth, twice the crank deg
  CHECK_THAT(shares.together->error_crank_deg[0], WithinAbs(skimmed + gasket + tooth, 1e-3));
  // A tenth of the skim is a tenth of what it does, and nothing else here may be off.
  CHECK_THAT(shares.parts[0].give_or_take_crank_deg[0], WithinRel(std::abs(skimmed) / 10.0, 1e-12));
  CHECK(shares.parts[1].give_or_take_crank_deg[0] == 0.0);
  CHECK_THAT(shares.together->give_or_take_crank_deg[0],
             WithinRel(std::abs(skimmed) / 10.0, 1e-12));
}

TEST_CASE("A part that alone cannot be put together says so") {
  DriveSpec spec = by_the_book();
  spec.build.gasket_change_mm["head"] = 40.0;
  spec.build.skim_mm["head"] = 40.0;
  const BuildShares shares = shares_of(spec);
  REQUIRE(shares.parts.size() == 2);
  CHECK_FALSE(shares.parts[1].told);
  REQUIRE(shares.together.has_value());
  CHECK(shares.together->told);
  CHECK_THAT(shares.together->error_crank_deg[0], WithinAbs(0.0, 1e-9));
}
