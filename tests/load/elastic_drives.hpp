#pragma once

// Drives for the tests of the elastic belt: loads of springs, a drive as one stands, a line of
// JSON.

#include <cmath>
#include <iomanip>
#include <numbers>
#include <optional>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "twoturn/geometry/path.hpp"
#include "twoturn/load/elastic_belt.hpp"

namespace twoturn::test {

// amplitude sin(count a + phase): a load that only springs make.
struct Wave {
  double nmm = 0.0;
  double count = 0.0;
  double phase = 0.0;
};

// Springs on top of a torque that never changes.
struct Springs {
  double steady_nmm = 0.0;
  std::vector<Wave> waves;

  ShaftTorque torque(double a) const {
    ShaftTorque sum{steady_nmm, 0.0};
    for (const Wave& wave : waves) {
      sum.nmm += wave.nmm * std::sin(wave.count * a + wave.phase);
      sum.rate_nmm_per_rad += wave.nmm * wave.count * std::cos(wave.count * a + wave.phase);
    }
    return sum;
  }
  double energy_nmm(double a) const {
    double sum = steady_nmm * a;
    for (const Wave& wave : waves) {
      sum -= wave.nmm / wave.count * std::cos(wave.count * a + wave.phase);
    }
    return sum;
  }
  ShaftLoad load() const {
    return [*this](double a) { return torque(a); };
  }
};

struct Drive5 {
  ElasticBelt belt;
  std::vector<Springs> springs;

  std::vector<ShaftLoad> loads() const {
    std::vector<ShaftLoad> all;
    for (const Springs& one : springs) all.push_back(one.load());
    return all;
  }
  std::vector<double> rigid(double crank_rad) const {
    std::vector<double> all;
    for (const double radius : belt.radius_mm) {
      all.push_back(crank_rad * belt.radius_mm.front() / radius);
    }
    return all;
  }
  double energy_nmm(const ElasticState& state, double crank_rad) const {
    double sum = state.belt_energy_nmm + state.arm_energy_nmm;
    const std::vector<double> at = rigid(crank_rad);
    for (std::size_t k = 0; k < at.size(); ++k) {
      sum += springs[k].energy_nmm(at[k] + state.ahead_rad[k]);
    }
    return sum;
  }
};

inline double draw(std::mt19937& random, double low, double high) {
  return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
}

// A drive as one stands: crank, a sprung roller on the belt's back, pump, two camshafts, injection
// pump, a plain roller on the back. Wheels 1 and 6 are plain.
struct Laid {
  std::vector<Wheel> wheels;
  Vec2 pivot_mm = Vec2::Zero();
  double arm_mm = 20.0;
  double arm_rad = 0.985;  // where the roller stands, seen from the pivot, at q 0

  std::optional<LengthAt> at(double q) const {
    std::vector<Wheel> placed = wheels;
    const Vec2 arm(std::cos(arm_rad + q), std::sin(arm_rad + q));
    placed[1].centre_mm = pivot_mm + arm_mm * arm;
    TangentPath path;
    const PathResult result = solve_path(placed, path);
    if (!result.solved()) return std::nullopt;
    return LengthAt{path.length_mm, arm_mm * centre_gradient(path, 1).dot(Vec2(-arm.y(), arm.x()))};
  }
};

inline Laid laid_out(std::mt19937& random, double shake_mm) {
  Laid laid;
  laid.wheels = {{{0.0, 0.0}, 30.0, 1},    {{0.0, 0.0}, 25.0, -1},    {{95.0, 150.0}, 35.0, 1},
                 {{70.0, 360.0}, 60.0, 1}, {{-70.0, 360.0}, 60.0, 1}, {{-100.0, 170.0}, 40.0, 1},
                 {{-78.0, 52.0}, 22.0, -1}};
  for (std::size_t k = 2; k < laid.wheels.size(); ++k) {
    const double x = draw(random, -shake_mm, shake_mm);
    const double y = draw(random, -shake_mm, shake_mm);
    laid.wheels[k].centre_mm += Vec2(x, y);
  }
  const double x = draw(random, -shake_mm, shake_mm);
  const double y = draw(random, -shake_mm, shake_mm);
  laid.pivot_mm = Vec2(64.5 + x, 25.4 + y);
  laid.wheels[1].centre_mm =
      laid.pivot_mm + laid.arm_mm * Vec2(std::cos(laid.arm_rad), std::sin(laid.arm_rad));
  return laid;
}

inline ElasticBelt belt_on(const Laid& laid, double ea_n, double tension_n) {
  TangentPath path;
  [[maybe_unused]] const PathResult length = solve_path(laid.wheels, path);
  ElasticBelt belt;
  belt.static_tension_n = tension_n;
  double run_mm = 0.0;
  for (std::size_t k = 0; k < laid.wheels.size(); ++k) {
    const bool plain = laid.wheels[k].sense < 0;
    if (plain) {
      run_mm += path.wraps[k].radians() * laid.wheels[k].radius_mm;
    } else {
      belt.radius_mm.push_back(laid.wheels[k].radius_mm);
      if (k > 0) belt.run_stiffness_n_mm.push_back(ea_n / run_mm);
      run_mm = 0.0;
    }
    run_mm += path.spans[k].length_mm;
  }
  belt.run_stiffness_n_mm.push_back(ea_n / run_mm);
  return belt;
}

inline SprungTensioner arm_of(const Laid& laid, double stiffness) {
  return {0, 0.0, stiffness, -0.5, 0.9, [laid](double q) { return laid.at(q); }};
}

// Two camshafts of eight lobes each, as harmonics of a lobe; a pump that only brakes; an injection
// pump of four strokes.
inline Drive5 cam_drive(double ea_n, double share) {
  std::mt19937 random(5);
  Drive5 drive;
  drive.belt = belt_on(laid_out(random, 0.0), ea_n, 250.0);
  drive.springs.resize(5);
  drive.springs[1].steady_nmm = share * 1500.0;
  for (std::size_t cam = 2; cam <= 3; ++cam) {
    for (int lobe = 0; lobe < 8; ++lobe) {
      const double at = lobe * std::numbers::pi / 4.0 + 0.3 * static_cast<double>(cam);
      for (int harmonic = 1; harmonic <= 4; ++harmonic) {
        drive.springs[cam].waves.push_back(
            {share * 1200.0 / harmonic, 1.0 * harmonic, -harmonic * at + 0.2 * lobe});
      }
    }
  }
  drive.springs[4].waves.push_back({share * 6000.0, 4.0, 0.4});
  return drive;
}

// One line of JSON: named lists of numbers, and lists of such lists.
class Line {
 public:
  void values(const std::string& name, const std::vector<double>& numbers) {
    begin(name);
    put(numbers);
  }
  template <typename Row>
  void list(const std::string& name, std::size_t count, const Row& row) {
    begin(name);
    out_ << "[";
    for (std::size_t k = 0; k < count; ++k) {
      out_ << (k > 0 ? ", " : "");
      put(row(k));
    }
    out_ << "]";
  }
  std::string text() const { return out_.str() + "}"; }

 private:
  void begin(const std::string& name) {
    out_ << (out_.tellp() > 0 ? ", " : "{") << "\"" << name << "\": ";
  }
  void put(const std::vector<double>& numbers) {
    out_ << std::setprecision(17) << "[";
    for (std::size_t k = 0; k < numbers.size(); ++k) out_ << (k > 0 ? ", " : "") << numbers[k];
    out_ << "]";
  }
  std::ostringstream out_;
};

}  // namespace twoturn::test
