// Correct engines measured with a rule are not stopped, wrong ones do not agree. Each demo that
// agrees is taken as the truth, every place in it thrown by what is said of it, and checked anew.
#include <cmath>
#include <random>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

namespace {

constexpr double kPlaceGive = 0.5;  // with a rule, shaft to shaft

bool is_place(const std::string& key) {
  return key.find(".at_mm[") != std::string::npos || key.find(".pivot_mm[") != std::string::npos;
}

// The same drive with every place measured to half a mm, and each of them off by chance.
class Measured {
 public:
  Measured(DriveSpec truth, std::uint64_t seed) : truth_(std::move(truth)), random_(seed) {
    std::vector<GivenValue> values(truth_.given.begin(), truth_.given.end());
    for (GivenValue& value : values) {
      if (!is_place(value.key)) continue;
      value.origin = Origin::measured;
      value.give_or_take = kPlaceGive;
    }
    truth_.given = values;
  }

  DriveSpec next() {
    DriveSpec seen = truth_;
    if (!seen.measured.empty()) return measured_anew(std::move(seen));
    for (PulleySpec& pulley : seen.pulleys) {
      if (pulley.role == Role::crankshaft) continue;
      if (pulley.at_mm) throw_off(*pulley.at_mm);
      if (!pulley.tensioner) continue;
      if (auto* swing = std::get_if<SwingSpec>(&pulley.tensioner->path)) {
        if (swing->pivot_mm) throw_off(*swing->pivot_mm);
      } else {
        auto& slide = std::get<SlideSpec>(pulley.tensioner->path);
        if (slide.slack_at_mm) throw_off(*slide.slack_at_mm);
        if (slide.tight_at_mm) throw_off(*slide.tight_at_mm);
      }
    }
    return seen;
  }

  // Distances thrown in place of coordinates, from what they truly are.
  DriveSpec measured_anew(DriveSpec seen) {
    for (std::size_t k = 0; k < seen.measured.size(); ++k) {
      for (const MeasuredRow& row : truth_.places->rows) {
        if (row.number != static_cast<int>(k) + 1) continue;
        const double off = sigma_of(row.give_or_take.value) * normal_(random_);
        if (row.kind == MeasuredKind::distance) *seen.measured[k].distance_mm += off;
        if (row.kind == MeasuredKind::bearing) *seen.measured[k].bearing_deg += off;
      }
    }
    for (PulleySpec& pulley : seen.pulleys) {
      pulley.at_mm.reset();
      if (pulley.tensioner) std::get<SwingSpec>(pulley.tensioner->path).pivot_mm.reset();
    }
    seen.places.reset();
    return with_places(std::move(seen));
  }

 private:
  void throw_off(Vec2& place) {
    const double right = normal_(random_);
    const double up = normal_(random_);
    place += sigma_of(kPlaceGive) * Vec2(right, up);
  }

  DriveSpec truth_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
};

struct Tally {
  int agrees = 0;
  int look = 0;
  int stop = 0;
  std::map<std::string, int> why;
};

Tally tally(const DriveSpec& truth, int times) {
  Measured measured(truth, 4711);
  Tally tally;
  for (int k = 0; k < times; ++k) {
    const CheckAnswer answer = check_drive(measured.next(), Fit::as_fitted);
    if (answer.verdict == Verdict::agrees) {
      ++tally.agrees;
      continue;
    }
    ++(answer.verdict == Verdict::stop ? tally.stop : tally.look);
    ++tally.why[answer.findings.empty() ? "none" : answer.findings.front().code];
  }
  return tally;
}

std::string told(const Tally& tally) {
  std::string text = std::to_string(tally.agrees) + " agree, " + std::to_string(tally.look) +
                     " look, " + std::to_string(tally.stop) + " stop:";
  for (const auto& [code, count] : tally.why) text += " " + code + " " + std::to_string(count);
  return text;
}

std::vector<std::string> agreeing() {
  std::vector<std::string> names;
  for (const std::string& name : demos::names()) {
    if (check_drive(demos::spec_of(name), Fit::as_fitted).verdict == Verdict::agrees) {
      names.push_back(name);
    }
  }
  return names;
}

}  // namespace

TEST_CASE("Correct drives measured with a rule are not stopped, and four of five agree") {
  constexpr int kTimes = 1000;
  for (const std::string& name : agreeing()) {
    const Tally found = tally(demos::spec_of(name), kTimes);
    INFO(name << ": " << told(found));
    CHECK(found.stop <= kTimes / 100);
    CHECK(found.agrees >= kTimes * 4 / 5);
  }
}

TEST_CASE("Wrong drives measured with a rule do not agree") {
  constexpr int kTimes = 200;
  for (const std::string& name : agreeing()) {
    const DriveSpec truth = demos::spec_of(name);
    const auto none_agree = [&](const DriveSpec& wrong, const std::string& fault) {
      const Tally found = tally(wrong, kTimes);
      INFO(name << ", " << fault << ": " << told(found));
      CHECK(found.agrees <= kTimes / 100);
    };
    for (const int teeth : {-1, 1}) {
      DriveSpec count = truth;
      *count.belt.teeth += teeth;
      none_agree(count, "belt " + std::to_string(teeth));
      for (std::size_t k = 0; k < truth.pulleys.size(); ++k) {
        if (truth.pulleys[k].role != Role::camshaft) continue;
        DriveSpec out = truth;
        out.build.teeth_out[truth.pulleys[k].name] = teeth;
        none_agree(out, truth.pulleys[k].name + " out " + std::to_string(teeth));
        DriveSpec ratio = truth;
        *ratio.pulleys[k].teeth += teeth;
        none_agree(ratio, truth.pulleys[k].name + " teeth " + std::to_string(teeth));
      }
    }
  }
}
