// Faults hidden on every demo, and on a drive that nothing was tuned on, are found again: what they
// are called beforehand alike is fixed by how far their benches are apart, before any noise.
#include <algorithm>
#include <cstdio>
#include <map>

#include "fault/apart.hpp"
#include "fault/drawn.hpp"
#include "support/catch.hpp"
#include "twoturn/drive/choice_words.hpp"

namespace {

using namespace drawn;

constexpr double kAlikeSigmas = 2.0;
constexpr int kRemedies = static_cast<int>(Remedy::clear_the_way) + 1;
constexpr const char* kShort[kRemedies] = {"look", "belt",  "slack", "count", "tens",
                                           "head", "part",  "seat",  "mark",  "pin",
                                           "forw", "relse", "sit",   "inner", "clear"};

struct Tally {
  int draws = 0;
  int right = 0;
  int right_within_noise = 0;  // classes by the sigma of the noise drawn
  int not_on = 0;              // the belt does not go on
  int confused[kRemedies][kRemedies]{};

  void add(const Tally& other) {
    draws += other.draws;
    right += other.right;
    right_within_noise += other.right_within_noise;
    not_on += other.not_on;
    for (int i = 0; i < kRemedies; ++i) {
      for (int k = 0; k < kRemedies; ++k) confused[i][k] += other.confused[i][k];
    }
  }
  double share() const { return static_cast<double>(right) / draws; }
};

int remedy(const FaultCase& suspect) { return static_cast<int>(remedy_of(suspect.first())); }

// kind of truth -> kind alike -> how many draws; "" counts the draws
using Classes = std::map<std::string, std::map<std::string, int>>;

class Recovery {
 public:
  Recovery(const Bed& drive, Extent extent)
      : drive_(drive), extent_(extent), apart_(drive, extent) {}

  Tally of(const Noise& noise, std::size_t faults, int draws, Classes* classes = nullptr) {
    Random random(20260714);
    std::vector<int> suspects;
    for (std::size_t i = 0; i < drive_.suspects.size(); ++i) {
      if (drive_.suspects[i].faults.size() == faults) suspects.push_back(static_cast<int>(i));
    }
    Tally tally;
    for (int k = 0; k < draws && !suspects.empty(); ++k) {
      const int suspect = suspects[static_cast<std::size_t>(k) % suspects.size()];
      const std::optional<Truth> truth = truth_of(drive_, suspect, random);
      if (!truth) {
        ++tally.not_on;
        continue;
      }
      draw(*truth, noise, random, tally, classes);
    }
    return tally;
  }

 private:
  std::set<std::string> remedies(const Truth& truth, double sigmas, Classes* classes) const {
    const FaultCase& suspect = drive_.suspects[static_cast<std::size_t>(truth.suspect)];
    std::set<std::string> keys{remedy_key(suspect)};
    std::set<std::string> kinds;
    for (const int alike : apart_.alike(truth.bench, sigmas)) {
      const FaultCase& other = drive_.lineups[static_cast<std::size_t>(alike)].suspect;
      keys.insert(remedy_key(other));
      if (other.faults.size() == 1) kinds.insert(std::string(word(other.first().kind)));
    }
    if (classes != nullptr) {
      const std::string own(word(suspect.first().kind));
      ++(*classes)[own][""];
      for (const std::string& kind : kinds) {
        if (kind != own) ++(*classes)[own][kind];
      }
    }
    return keys;
  }

  void draw(const Truth& truth, const Noise& noise, Random& random, Tally& tally,
            Classes* classes) const {
    const std::set<std::string> alike = remedies(truth, kAlikeSigmas, classes);
    const std::set<std::string> within =
        noise.wide == 1.0 ? alike : remedies(truth, kAlikeSigmas * noise.wide, nullptr);
    const BenchLayout& layout = drive_.base.layout;
    const SeenSpec seen = Eye(layout, noise, random).at(truth.bench, extent_);
    const Ranking ranking = rank(layout, drive_.lineups, sights_of(seen, layout));
    const int leader =
        ranking.ranked[static_cast<std::size_t>(ranking.groups.front().members.front())].suspect;
    const FaultCase& found = drive_.lineups[static_cast<std::size_t>(leader)].suspect;
    const std::string key = remedy_key(found);
    ++tally.draws;
    tally.right += alike.count(key) > 0 ? 1 : 0;
    tally.right_within_noise += within.count(key) > 0 ? 1 : 0;
    const FaultCase& suspect = drive_.suspects[static_cast<std::size_t>(truth.suspect)];
    ++tally.confused[remedy(suspect)][remedy(found)];
  }

  const Bed& drive_;
  Extent extent_;
  Apart apart_;
};

void print(const char* what, const Noise& noise, const Tally& tally) {
  std::printf(
      "\n%s, noise %s: remedy first %d of %d = %.1f %% (within that noise's own 2 sigma "
      "%.1f %%)\n%6s",
      what, noise.name, tally.right, tally.draws, 100.0 * tally.share(),
      100.0 * tally.right_within_noise / tally.draws, "");
  for (const char* name : kShort) std::printf("%6s", name);
  std::printf("\n");
  for (int i = 0; i < kRemedies; ++i) {
    std::printf("%6s", kShort[i]);
    for (const int count : tally.confused[i]) std::printf("%6d", count);
    std::printf("\n");
  }
}

void print(const std::string& name, const Classes& classes) {
  std::printf("%s: not told apart in at least a tenth of sizes\n", name.c_str());
  for (const auto& [kind, alike] : classes) {
    const int draws = alike.at("");
    std::string line;
    for (const auto& [other, count] : alike) {
      if (other.empty() || count * 10 < draws) continue;
      line += ' ' + other + ' ' + std::to_string(100 * count / draws) + '%';
    }
    if (!line.empty()) std::printf("  %-14s%s\n", kind.c_str(), line.c_str());
  }
}

// A person's eye half as wide again, and far worse now and then.
constexpr Noise kHeavy{"Student t, 3 degrees, 1.5 wide", 1.5, true, 0.0};

}  // namespace

TEST_CASE("with pins and marks the right remedy is first") {
  constexpr int kDraws = so_many(2000);
  constexpr int kMore = so_many(400);  // of what is reported beside it
  const Noise assumed;
  Tally all;
  Tally pairs;
  Tally heavy;
  Tally told;
  Tally told_heavy;
  for (const Bed& drive : drives()) {
    CAPTURE(drive.name);
    Classes classes;
    Recovery recovery(drive, Extent::pins_and_marks);
    const Tally tally = recovery.of(assumed, 1, kDraws, &classes);
    const Tally two = recovery.of(assumed, 2, kMore);
    const Tally wide = recovery.of(kHeavy, 1, kMore);
    Recovery asked(drive, Extent::all);
    const Tally yes_or_no = asked.of(assumed, 1, kMore);
    const Tally yes_or_no_wide = asked.of(kHeavy, 1, kMore);
    print(drive.name, classes);
    std::printf(
        "%-20s remedy first %.1f %% of %d (belt does not go on: %d); two faults %.1f %%; "
        "heavy noise %.1f %%; all looks %.1f %%, heavy %.1f %%\n",
        drive.name.c_str(), 100.0 * tally.share(), tally.draws, tally.not_on,
        two.draws > 0 ? 100.0 * two.share() : 100.0, 100.0 * wide.share(),
        100.0 * yes_or_no.share(), 100.0 * yes_or_no_wide.share());
    std::fflush(stdout);
    CHECK(tally.draws + tally.not_on == kDraws);
    if (kAllDraws) CHECK(tally.share() >= 0.95);
    all.add(tally);
    pairs.add(two);
    heavy.add(wide);
    told.add(yes_or_no);
    told_heavy.add(yes_or_no_wide);
  }
  print("Pins, marks, pointer", assumed, all);
  print("The same, two faults at once", assumed, pairs);
  print("Pins, marks, pointer", kHeavy, heavy);
  print("All looks", assumed, told);
  print("All looks", kHeavy, told_heavy);
  if (!kAllDraws) return;
  CHECK(all.share() >= 0.95);
  CHECK(told.share() >= 0.95);
}

TEST_CASE("this test's own distance between benches is the library's") {
  const Bed drive = drive_of("saw-mill", holdout::spec()).value();
  const BenchLayout& layout = drive.base.layout;
  Random random(3);
  for (const Extent extent : {Extent::pins_and_marks, Extent::all}) {
    const Apart apart(drive, extent);
    for (std::size_t i = 0; i + 1 < drive.lineups.size(); i += 3) {
      const Bench& a = drive.lineups[i].benches.front();
      const Bench& b = drive.lineups[i + 1].benches.back();
      const SeenSpec seen = Eye(layout, Noise{}, random).at(a, extent);
      CHECK_THAT(apart.between(a, b),
                 WithinRel(apart_sigmas(layout, a, b, sights_of(seen, layout)), 1e-9) ||
                     WithinAbs(0.0, 1e-6));
    }
  }
}
