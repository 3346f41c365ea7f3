#include "twoturn/study/unused.hpp"

#include <algorithm>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

namespace {

bool unused(const std::string& demo, const std::string& key,
            const std::vector<Override>& overrides = {}, Fit fit = Fit::as_fitted) {
  const CheckAnswer answer = check_drive(demos::spec_of(demo, overrides), fit);
  return std::any_of(answer.unused.begin(), answer.unused.end(),
                     [&](const UnusedKey& entry) { return entry.key == key; });
}

}  // namespace

TEST_CASE("A head's direction is used once its height changes, and only then") {
  CHECK(unused("hill-climb-saloon", "head.head.deck_deg"));
  CHECK_FALSE(unused("hill-climb-saloon", "head.head.deck_deg", {{"build.skim_mm.head", "0.1"}}));
  CHECK_FALSE(unused("harbour-launch", "head.head.deck_deg"));
  CHECK(unused("harbour-launch", "head.head.deck_deg", {}, Fit::by_the_book));
  CHECK(unused("harbour-launch", "build.skim_mm.head", {}, Fit::by_the_book));
}

TEST_CASE("A gasket face is used once a part of its head lies below it") {
  const std::string key = "head.head.deck_from_crank_mm";
  CHECK(unused("harbour-launch", key));
  CHECK_FALSE(unused("harbour-launch", key, {{key, "400"}}));
}

TEST_CASE("What waits for two turns is told while they cannot be had") {
  const std::vector<Override> no_count{{"belt.teeth", "112"}, {"pulley.cam.at_mm", "[4, 500]"}};
  CHECK_FALSE(unused("harbour-launch", "pulley.cam.pin.play_mm"));
  CHECK(unused("harbour-launch", "pulley.cam.pin.play_mm", no_count));
  CHECK_FALSE(unused("harbour-launch", "pulley.cam.at_mm", no_count));
}

TEST_CASE("A limit counts as used although nothing comes near it") {
  CHECK_FALSE(unused("harbour-launch", "limits.near_mm", {{"limits.near_mm", "1.5"}}));
}

TEST_CASE("What was seen counts as used, with and without the belt's route") {
  const std::vector<Override> late{{"seen.mark_mm.cam", "9.5 late"}, {"seen.after_turns", "2"}};
  for (const std::string demo : {"harbour-launch", "roadside-counts"}) {
    INFO(demo);
    CHECK_FALSE(unused(demo, "seen.mark_mm.cam", late));
    CHECK_FALSE(unused(demo, "seen.after_turns", late));
  }
}

TEST_CASE("Every unused key is given, and stands once") {
  for (const std::string& name : demos::names()) {
    const CheckAnswer answer = check_drive(demos::spec_of(name));
    for (const UnusedKey& entry : answer.unused) {
      INFO(name << ": " << entry.key);
      CHECK_FALSE(entry.why.empty());
      CHECK(std::count(answer.unused.begin(), answer.unused.end(), entry) == 1);
    }
  }
}
