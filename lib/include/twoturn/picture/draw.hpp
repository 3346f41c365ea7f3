#pragma once

#include <string>
#include <vector>

#include "twoturn/picture/scene.hpp"
#include "twoturn/study/belt_view.hpp"

namespace twoturn {

/// Pictures of the belt end as scenes, all from a view's places and numbers. Paper is A4 upright
/// unless said; mm on paper.
inline constexpr double kA4WidthMm = 210.0;
inline constexpr double kA4HeightMm = 297.0;

/// The whole picture: verdict, view, close-ups, key. A4, or longer where the key needs it.
scene::Scene drawing_of(const BeltView& view, const CheckAnswer& answer);

/// Whether a list tells how far each mark is out, or something else on the page does.
enum class Errors { told, told_elsewhere };
/// The view alone, with numbers and a list beside or under it, within a width and a height. Pulleys
/// too small for their marks are drawn larger.
scene::Scene view_scene(const BeltView& view, const Vec2& size_mm, Errors errors);
/// Sizes for it, the largest first: as long as every toothed pulley is
/// 12 mm wide or can be drawn so.
std::vector<Vec2> view_sizes(const BeltView& view);
/// The one pulley that has to be moved, its mark and where that belongs; empty where none is half
/// a tooth out.
std::optional<scene::Scene> move_scene(const BeltView& view);

/// The view for a page that moves it, no larger than this: besides, the belt's path and the paint
/// on its teeth (groups "belt-path" and "paint", in the order of the view's teeth).
struct MovingView {
  scene::Scene scene;
  double scale = 1.0;  ///< mm of paper a mm of engine
};
MovingView moving_view(const BeltView& view, const Vec2& most_mm);

/// The eccentric three times the size of a view of that scale; empty where there is none.
std::optional<scene::Scene> eccentric_scene(const BeltView& view, double view_scale);
/// A mark right, half a tooth out and a tooth out; empty where no shaft is timed.
std::optional<scene::Scene> marks_scene(const BeltView& view);
/// Before and after a skim or gasket, the change drawn larger; empty where nothing moved.
std::optional<scene::Scene> moved_scene(const BeltView& view);

/// The order in which the belt is threaded, from order and faces alone, stamped NOT TO SCALE.
scene::Scene threading_diagram(const DriveSpec& spec, const CheckAnswer& answer);

/// The same for a page that shows more, no larger than this, with its list.
scene::Scene threading_scene(const DriveSpec& spec, const Vec2& most_mm);
/// Sizes for it, the largest first.
std::vector<Vec2> threading_sizes(const DriveSpec& spec);

/// The drive at full size over as many A4 pages as it takes, to lay against the engine: 10 mm
/// overlap, crosses to lay page on page, a map of the pages and a bar of 100 mm on each.
std::vector<scene::Scene> true_size_pages(const BeltView& view);

/// A degree wheel for the crank's nose, counted in its running direction.
scene::Scene degree_wheel(const DriveSpec& spec);

/// The belt's teeth at true pitch, numbered from the crank's mark along the belt's travel, in
/// strips to cut out. Needs the belt's teeth and pitch: empty without.
std::vector<scene::Scene> belt_strip(const BeltView& view);

/// Several pages as one HTML file that prints each on a sheet of its own.
std::string pages_html(const std::string& title, const std::vector<scene::Scene>& pages);

}  // namespace twoturn
