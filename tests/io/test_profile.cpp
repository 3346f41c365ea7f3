#include "support/catch.hpp"

#include "io/profile_samples.hpp"
#include "twoturn/io/profile.hpp"

using namespace twoturn;

TEST_CASE("The launch's profile reads without a problem") {
  CHECK_NOTHROW(read_profile({"launch.toml", samples::kLaunch, {}}));
  CHECK_NOTHROW(read_profile({"x.toml", samples::kCounts, {}}));
  CHECK_NOTHROW(read_profile({"x.toml", samples::kEverything, {}}));
}
