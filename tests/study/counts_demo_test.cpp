#include <set>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

TEST_CASE("Tooth counts alone answer the paint question and leave the rest open") {
  const CheckAnswer answer = check_drive(demos::spec_of("roadside-counts"));
  CHECK_THAT(answer.headline, StartsWith("On paper: look again: not enough given"));
  REQUIRE(answer.paint.has_value());
  CHECK(answer.paint->teeth_further_on == 40);  // common practice: two turns of a crank of 20
  CHECK(answer.paint->all_meet_turns == 222);   // lcm(111, 20, 40) / 20
  CHECK_FALSE(answer.judged.drive());
  CHECK(answer.unused.empty());
}

TEST_CASE("Each line that is open names a key of its own and one measurement") {
  const CheckAnswer answer = check_drive(demos::spec_of("roadside-counts"));
  std::set<std::string> keys;
  CHECK(answer.not_checked.size() > 5);
  for (const Missing& missing : answer.not_checked) {
    INFO(missing.key);
    CHECK(keys.insert(missing.key).second);
    CHECK_FALSE(missing.measure.empty());
  }
}
