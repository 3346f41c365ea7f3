// Pieces that the pictures of the belt end are put together from.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "label_placer.hpp"
#include "twoturn/picture/scene.hpp"
#include "twoturn/study/belt_view.hpp"

namespace twoturn::draw {

/// Where the drive lies on the paper: turned by its lean, scaled and moved.
struct Placing {
  double scale = 1.0;  ///< mm of paper a mm of engine
  Angle lean;
  Vec2 origin_mm = Vec2::Zero();  ///< of the drive's coordinates, on paper

  Vec2 point(const Vec2& engine_mm) const;
  Angle angle(Angle on_engine) const { return on_engine + lean; }
  double length(double engine_mm) const { return scale * engine_mm; }
};

/// How the belt is drawn: as its pitch line, or with its back as well, at full size.
enum class BeltLook { line, body };

Vec2 towards(Angle angle);

/// A point turned about the origin.
Vec2 turned(const Vec2& point, Angle by);

/// The engine's own extent with belt, pulleys and covers, unscaled but leaning.
scene::Box extent_mm(const BeltView& view);

/// Depth of the teeth, as given or as drawn where no section says.
double tooth_height_mm(const BeltView& view);

scene::Group pulley(const BeltView& view, int index, const Placing& placing);
scene::Group mark(const BeltView& view, const SeenMark& mark, const Placing& placing);
/// Where a mark has to stand: an open triangle on the engine, its tip towards the pulley.
scene::Group belongs(const BeltView& view, const SeenMark& mark, const Placing& placing);
/// An arrow from where a mark stands to where it has to; empty where that is too near to show.
std::optional<scene::Group> way_back(const BeltView& view, const SeenMark& mark,
                                     const Placing& placing);
scene::Group pin(const SeenPin& pin, const BeltView& view, const Placing& placing);
scene::Group belt(const BeltView& view, const Placing& placing, BeltLook look);
scene::Group belt_teeth(const BeltView& view, const Placing& placing);
/// Paint on paper: a dot so far out on the belt's back.
inline constexpr double kPaintMm = 1.9;
inline constexpr double kPaintDotMm = 0.9;
/// One group a painted tooth, in the order of the teeth.
std::vector<scene::Group> paint(const BeltView& view, const Placing& placing);
/// The pitch line in one piece, from where the belt meets the crank, along its travel.
scene::Group belt_path(const BeltView& view, const Placing& placing);
scene::Group tensioner(const BeltView& view, const Placing& placing);
/// Where a measured centre lies, so many times as large.
scene::Group ring(const SeenRing& ring, const Placing& placing, double times);
/// How many times as large rings are drawn at a scale: the most that keeps them apart.
double ring_times(const BeltView& view, double scale);
scene::Group cover(const CoverSpec& cover, const Placing& placing);
/// The face between block and head.
scene::Group gasket(const SeenGasket& seen, const Placing& placing);
scene::Group rotation(const BeltView& view, const Placing& placing);

/// A solid or open triangle with its tip at a place, pointing along a direction.
scene::Area triangle(const Vec2& tip, Angle pointing, double height_mm, scene::Fill fill);

/// How much is said beside the parts; little where there is no room for more.
enum class Said {
  all,
  some,  ///< no sizes, no counts
  few    ///< nor how far marks are out
};
/// Every pulley has its number, the order in which the belt goes on. Then either all have their
/// names beside them, or none has and a list tells them.
enum class Naming { names, numbers };
/// Whether a name is too wide to stand beside a part.
bool too_wide(const std::string& name);
Naming naming_for(const BeltView& view);  ///< what to try first
/// A cover stands under a letter.
std::string cover_letter(std::size_t cover);
bool by_letter(Naming naming, const std::string& name);
/// "2 water pump, 22 teeth": what numbers and letters stand for, in the order of fitting.
std::vector<std::string> list_lines(const BeltView& view, Naming naming, Said said);
/// "44 teeth", "smooth, 62.0 mm".
std::string size_words(const SeenPulley& pulley);
/// "mark 17.1 crank deg late" of a pulley whose own mark is out; else empty.
std::string off_words(const BeltView& view, int pulley);
/// "81", "21.3": belt teeth between marks one way, whole where a person can count them.
std::string teeth_words(const SeenCount& count, double teeth);

/// Half a tooth and half a groove, as shares of the pitch; a groove is the wider.
inline constexpr double kToothFoot = 0.26;
inline constexpr double kToothTip = 0.17;
inline constexpr double kGrooveMouth = 0.29;
inline constexpr double kGrooveFloor = 0.18;
/// One groove's outline, mouth to mouth against the clock, to be joined to the next one's.
void add_groove(std::vector<Vec2>& outline, const Vec2& centre, Angle middle, Angle pitch,
                double outside_mm, double floor_mm);

/// Marks of a pulley drawn so wide can be read at arm's length.
inline constexpr double kLegibleMm = 12.0;
/// The view with toothed pulleys that a scale makes smaller than that drawn larger, as far as they
/// keep clear of each other, and the belt led round them: for small pictures at rest. Teeth stand
/// in the grooves; how many there are means nothing any more.
BeltView enlarged(const BeltView& view, double scale);
/// Whether all toothed pulleys of a view can be read at a scale.
bool is_legible(const BeltView& view, double scale);

/// Names, counts and sides, found room for round the parts.
struct Labels {
  scene::Group group;
  bool all_named = false;  ///< and nobody takes one for another part's
};
Labels labels_of(const BeltView& view, const Placing& placing, LabelPlacer& placer, Said said,
                 Naming naming);

/// A part of a page that is moved to its place as a whole.
struct Panel {
  std::vector<scene::Item> items;
  scene::Box box;

  template <class Shape>
  void add(Shape shape) {
    items.push_back(scene::Item{std::move(shape)});
  }
  void move(const Vec2& by_mm);
  /// Makes the box the one that holds everything in it.
  void crop();
  scene::Group group(const std::string& kind, const std::string& title) const;
};

/// Paper that printers leave white round a page.
inline constexpr double kMarginMm = 10.0;
/// Words from a height on down over the width between the margins of A4; the height reached.
double put_words(scene::Scene& scene, double top_mm, const std::string& words,
                 double height_mm = scene::kLeastTextMm,
                 scene::Weight weight = scene::Weight::plain);

scene::Label text_at(const Vec2& at, const std::string& text,
                     scene::Across across = scene::Across::left);

/// The belt end within a box of this size, its lower left corner at the origin.
struct ViewPanel {
  Panel panel;
  Placing placing;
  bool all_named = false;
};
/// The scale that fits the drive into a box of this size, with room for words.
double view_scale(const BeltView& view, const Vec2& size_mm, Said said, Naming naming);
/// The room that takes at a scale.
Vec2 view_size_mm(const BeltView& view, double scale, Said said, Naming naming);
ViewPanel view_panel(const BeltView& view, const Vec2& size_mm, double scale, Said said,
                     Naming naming);

/// The view with names if all of them find room, else with numbers, which want a list.
template <class Draw>
ViewPanel named_view(const BeltView& view, Naming& naming, const Draw& draw_it) {
  naming = naming_for(view);
  ViewPanel drawn = draw_it(naming);
  if (naming == Naming::names && !drawn.all_named) {
    naming = Naming::numbers;
    drawn = draw_it(naming);
  }
  return drawn;
}

/// A sign and what it says; the sign's box is 12 by 4 mm round the origin.
struct Sign {
  std::vector<scene::Item> items;
  std::string_view words;
};
/// The signs that a view uses.
std::vector<Sign> signs_of(const BeltView& view);

/// Close-ups. Each empty where it would show nothing.
struct SizedPanel {
  Panel panel;
  double times = 3.0;  ///< the size of the view; less than asked where that is too large
};
std::optional<SizedPanel> eccentric_panel(const BeltView& view, double view_scale,
                                          double most_times);
std::optional<Panel> marks_panel(const BeltView& view);
std::optional<Panel> moved_panel(const BeltView& view);

}  // namespace twoturn::draw
