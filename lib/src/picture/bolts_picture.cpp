#include "twoturn/picture/bolts_picture.hpp"

#include <algorithm>

#include "words/sentences.hpp"

namespace twoturn {
namespace {

constexpr double kBoltMm = 3.6;  // radius of a head, room for two figures

struct BoltsBox {
  Vec2 least;
  Vec2 most;
};

BoltsBox box_of_bolts(const BoltGroup& group) {
  BoltsBox box{*group.bolts.front().at_mm, *group.bolts.front().at_mm};
  for (const BoltPlace& bolt : group.bolts) {
    box.least = box.least.cwiseMin(*bolt.at_mm);
    box.most = box.most.cwiseMax(*bolt.at_mm);
  }
  return box;
}

}  // namespace

scene::Scene bolts_scene(const BoltGroup& group, const Vec2& room_mm) {
  constexpr double kEdgeMm = kBoltMm + 1.4;
  constexpr double kLeastSizeMm = 1e-6;
  const BoltsBox box = box_of_bolts(group);
  const Vec2 size = (box.most - box.least).cwiseMax(kLeastSizeMm);
  const Vec2 inside = room_mm - Vec2::Constant(2.0 * kEdgeMm);
  const double scale = std::min(inside.x() / size.x(), inside.y() / size.y());
  const auto place = [&](const BoltPlace& bolt) -> Vec2 {
    return Vec2::Constant(kEdgeMm) + scale * (*bolt.at_mm - box.least);
  };
  scene::Scene drawn;
  drawn.title = "The order of tightening, looking down on the bolt heads: " + group.name;
  drawn.description = "Each bolt where it stands, with its number.";
  drawn.size_mm = scale * (box.most - box.least) + Vec2::Constant(2.0 * kEdgeMm);
  scene::Polyline way;
  way.pen = scene::Pen::guide;
  for (const BoltPlace& bolt : group.bolts) way.points_mm.push_back(place(bolt));
  if (way.points_mm.size() > 1) drawn.add(way);
  for (const BoltPlace& bolt : group.bolts) {
    scene::Group one;
    one.title = "Bolt " + std::to_string(bolt.number);
    one.kind = "bolt";
    one.items.push_back(
        {scene::Circle{place(bolt), kBoltMm, scene::Pen::outline, scene::Fill::paper}});
    scene::Label number;
    number.at_mm = place(bolt);
    number.text = std::to_string(bolt.number);
    number.height_mm = 2.6;
    number.across = scene::Across::middle;
    number.upwards = scene::Upwards::middle;
    number.weight = scene::Weight::bold;
    one.items.push_back({number});
    drawn.add(std::move(one));
  }
  return drawn;
}

}  // namespace twoturn
