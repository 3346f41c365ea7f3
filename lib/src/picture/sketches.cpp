#include "twoturn/picture/sketches.hpp"

#include <algorithm>

#include "draw_parts.hpp"
#include "sketch_parts.hpp"

namespace twoturn {

using namespace scene;

namespace {

// A centre of the example that distances are measured from or to.
struct Lettered {
  std::string letter;
  const PulleySpec* pulley = nullptr;
  Vec2 at_mm = Vec2::Zero();
};

std::vector<Lettered> lettered(const DriveSpec& example) {
  std::vector<Lettered> list;
  for (const PulleySpec& pulley : example.pulleys) {
    const bool crank = pulley.role == Role::crankshaft;
    if (!crank && !pulley.near_mm) continue;
    const char letter = static_cast<char>('A' + static_cast<int>(list.size()));
    list.push_back({std::string(1, letter), &pulley, crank ? Vec2::Zero() : *pulley.near_mm});
  }
  return list;
}

const Lettered* named(const std::vector<Lettered>& list, const std::string& name) {
  const auto found = std::find_if(list.begin(), list.end(),
                                  [&](const Lettered& one) { return one.pulley->name == name; });
  return found == list.end() ? nullptr : &*found;
}

// The example's centres as they lie, drawn so small that they go into a height.
void shrink(std::vector<Lettered>& list, double high_mm, double left_mm) {
  Vec2 least = list.front().at_mm;
  Vec2 most = least;
  for (const Lettered& one : list) {
    least = least.cwiseMin(one.at_mm);
    most = most.cwiseMax(one.at_mm);
  }
  const double scale = high_mm / std::max(1.0, (most - least).maxCoeff());
  constexpr double kUpMm = 8.0;
  for (Lettered& one : list) one.at_mm = Vec2(left_mm, kUpMm) + scale * (one.at_mm - least);
}

}  // namespace

std::optional<Scene> distances_sketch(const DriveSpec& example) {
  std::vector<Lettered> list = lettered(example);
  if (list.size() < 2) return std::nullopt;
  constexpr double kHighMm = 62.0;
  constexpr double kWordsMm = 92.0;
  constexpr double kLineMm = 5.6;
  shrink(list, kHighMm, 12.0);
  Scene scene;
  scene.title = "What to measure between centres; an example's belt end, not to scale";
  scene.size_mm = Vec2(186.0, kHighMm + 16.0);
  for (const MeasuredSpec& measured : example.measured) {
    const Lettered* from = named(list, measured.from);
    const Lettered* to = named(list, measured.to);
    if (from && to) scene.add(Line{from->at_mm, to->at_mm, Pen::guide, Arrow::none});
  }
  double y = scene.size_mm.y() - 5.0;
  for (const Lettered& one : list) {
    constexpr double kRingMm = 4.0;
    scene.add(Circle{one.at_mm, kRingMm, Pen::outline, Fill::paper});
    Label letter = draw::text_at(one.at_mm, one.letter, Across::middle);
    letter.upwards = Upwards::middle;
    letter.weight = Weight::bold;
    scene.add(std::move(letter));
    const std::string bolt = one.pulley->tensioner ? "'s bolt" : "";
    scene.add(draw::text_at(Vec2(kWordsMm, y), one.letter + "  " + one.pulley->name + bolt));
    y -= kLineMm;
  }
  for (const MeasuredSpec& measured : example.measured) {
    const Lettered* from = named(list, measured.from);
    const Lettered* to = named(list, measured.to);
    if (!from || !to) continue;
    const char* way = measured.bearing_deg ? "   and by the clock ________" : "";
    scene.add(draw::text_at(Vec2(kWordsMm, y),
                            from->letter + " to " + to->letter + "  ____________ mm" + way));
    y -= kLineMm;
  }
  return scene;
}

std::vector<MeasuringSketch> measuring_sketches() {
  std::vector<MeasuringSketch> all;
  for (const auto& some : {sketch::of_engine(), sketch::of_belt(), sketch::of_pulleys(),
                           sketch::of_shafts(), sketch::of_tensioners()}) {
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

}  // namespace twoturn
