// The key under a picture of the belt end.
#include "draw_parts.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

template <class Shape>
Item item(Shape shape) {
  return Item{std::move(shape)};
}

Item ringed_number() {
  Words one;
  one.lines = {{"1", Weight::bold}};
  one.ringed = true;
  Group group;
  group.items = one.around(Vec2::Zero());
  return Item{std::move(group)};
}

// Belt as it is drawn: a solid band, an open one, an open one with dashed edges.
std::vector<Sign> belt_signs(const BeltView& view) {
  const Vec2 left(-5.0, 0.0);
  const Vec2 right(5.0, 0.0);
  std::vector<Sign> signs;
  signs.push_back({{item(Line{left, right, Pen::tight_run})}, "tight side: to the crank"});
  signs.push_back({{item(Line{left, right, Pen::slack_run}), item(Line{left, right, Pen::inside})},
                   "slack side: from the crank"});
  std::vector<Item> toothed;
  for (const double x : {-3.6, -1.2, 1.2, 3.6}) {
    toothed.push_back(
        item(Area{{{{x - 0.7, 0.0}, {x - 0.4, -1.8}, {x + 0.4, -1.8}, {x + 0.7, 0.0}}},
                  Fill::ink,
                  std::nullopt}));
  }
  toothed.push_back(item(Line{left, right, Pen::belt}));
  toothed.push_back(item(Line{left, right, Pen::inside}));
  signs.push_back({std::move(toothed), "the belt's tooth side"});
  signs.push_back({{ringed_number()},
                   view.direction == Direction::given ? "the order in which the belt goes on"
                                                      : "a pulley's number in the list"});
  return signs;
}

Sign pin_sign(std::string_view words, Fill fill, int bars) {
  Sign sign{{item(Circle{Vec2::Zero(), 1.3, Pen::thin, fill})}, words};
  if (bars > 0) sign.items.push_back(item(Line{Vec2(-1.3, -1.3), Vec2(1.3, 1.3)}));
  if (bars > 1) sign.items.push_back(item(Line{Vec2(-1.3, 1.3), Vec2(1.3, -1.3)}));
  return sign;
}

void add_mark_signs(const BeltView& view, std::vector<Sign>& signs) {
  if (!view.marks.empty()) {
    signs.push_back({{item(triangle(Vec2(0.0, 1.6), Angle::degrees(90.0), 3.2, Fill::ink))},
                     "mark on the pulley"});
    signs.push_back({{item(triangle(Vec2(0.0, -1.6), Angle::degrees(-90.0), 3.2, Fill::paper))},
                     "where the mark belongs"});
  }
  if (view.pins.empty()) return;
  signs.push_back(pin_sign("pin goes in", Fill::ink, 0));
  signs.push_back(pin_sign("pin does not go in", Fill::paper, 2));
  signs.push_back(pin_sign("pin is tight", Fill::paper, 1));
}

}  // namespace

std::vector<Sign> signs_of(const BeltView& view) {
  std::vector<Sign> signs = belt_signs(view);
  add_mark_signs(view, signs);
  if (view.crank_deg != 0.0) {
    signs.push_back({{item(Circle{Vec2::Zero(), 0.9, Pen::thin, Fill::ink}),
                      item(Line{Vec2::Zero(), Vec2(1.9, 0.0), Pen::outline})},
                     "paint put on the belt"});
  }
  if (view.tensioner && !view.tensioner->others.empty()) {
    signs.push_back({{item(Arc{Vec2(0.0, -3.0), 5.0, Angle::degrees(30.0), Angle::degrees(120.0),
                               Pen::hidden, Arrow::none})},
                     "the other setting, not to be used"});
  }
  if (!view.gaskets.empty()) {
    signs.push_back(
        {{item(Line{Vec2(-6.0, 0.0), Vec2(6.0, 0.0), Pen::guide})}, "where head and block meet"});
  }
  if (!view.covers.empty()) {
    signs.push_back({{item(Polyline{{Vec2(-5.0, 0.0), Vec2(5.0, 0.0)}, Pen::hidden, Ends::open})},
                     "cover or bracket"});
  }
  return signs;
}

}  // namespace twoturn::draw
