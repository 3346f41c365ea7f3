#include "twoturn/picture/svg.hpp"

#include <algorithm>
#include <regex>

#include "support/catch.hpp"
#include "support/faces.hpp"
#include "twoturn/face/contours.hpp"
#include "twoturn/picture/face_picture.hpp"

using namespace twoturn;
using namespace twoturn::scene;

namespace {

Scene sheet() {
  Scene scene;
  scene.title = "A < B & \"C\"";
  scene.corner_mm = Vec2(-10, -5);
  scene.size_mm = Vec2(100, 50);
  return scene;
}

template <class Shape>
std::string svg_with(Shape shape) {
  Scene scene = sheet();
  scene.add(std::move(shape));
  return svg_of(scene);
}

int count(const std::string& text, const std::string& what) {
  int found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
    ++found;
  }
  return found;
}

FaceReport report_of(const faces::Points& points) {
  FaceReport report;
  report.title = "test face";
  report.heights = examine_face(points);
  report.verdict = judge_face(report.heights, std::nullopt, {});
  return report;
}

scene::Scene face_of(const std::vector<Vec3>& points, const FaceReport& report) {
  return face_scene(points, report, face_contours(points, report.heights->zone.slab));
}

}  // namespace

TEST_CASE("a sheet is true to size, with y turned and text escaped") {
  const std::string svg = svg_with(Line{Vec2(0, 0), Vec2(10, 20), Pen::outline, Arrow::none});
  CHECK_THAT(svg, ContainsSubstring("width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\""));
  CHECK_THAT(svg, ContainsSubstring("<title>A &lt; B &amp; &quot;C&quot;</title>"));
  // The corner is (-10, -5) and the top 45: (0, 0) lies 10 from the left and 45 below the top.
  CHECK_THAT(svg, ContainsSubstring("d=\"M10 45L20 25\""));
}

TEST_CASE("an arc goes the way its sweep says and ends where it should") {
  const std::string left =
      svg_with(Arc{Vec2(0, 0), 10, Angle::degrees(0), Angle::degrees(90), Pen::thin, Arrow::none});
  // From 3 o'clock anticlockwise to 12, by way of half past one.
  CHECK_THAT(left, ContainsSubstring("M20 45A10 10 0 0 0 17.071 37.929A10 10 0 0 0 10 35"));
  const std::string right =
      svg_with(Arc{Vec2(0, 0), 10, Angle::degrees(0), Angle::degrees(-90), Pen::thin, Arrow::none});
  CHECK_THAT(right, ContainsSubstring("A10 10 0 0 1 17.071 52.071A10 10 0 0 1 10 55"));
  const std::string whole =
      svg_with(Arc{Vec2(0, 0), 10, Angle::degrees(0), Angle::degrees(360), Pen::thin, Arrow::none});
  CHECK_THAT(whole, ContainsSubstring("<circle"));
}

TEST_CASE("a curve joins straight pieces and arcs in one path") {
  // A stadium: along the foot, half round, back, half round.
  Curve curve;
  curve.start_mm = Vec2(0, 0);
  curve.pieces = {{Vec2(40, 0), std::nullopt, 1},
                  {Vec2(40, 20), Vec2(40, 10), 1},
                  {Vec2(0, 20), std::nullopt, 1},
                  {Vec2(0, 0), Vec2(0, 10), 1}};
  curve.ends = Ends::joined;
  curve.pen = Pen::slack_run;
  const std::string svg = svg_with(curve);
  CHECK_THAT(svg, ContainsSubstring("M10 45L50 45A10 10 0 0 0 60 35A10 10 0 0 0 50 25L10 25A10 10 "
                                    "0 0 0 0 35A10 10 0 0 0 10 45Z"));
  CHECK_THAT(svg, ContainsSubstring("stroke-dasharray"));
}

TEST_CASE("arrow heads stand at the tips") {
  CHECK(count(svg_with(Line{Vec2(0, 0), Vec2(10, 0), Pen::thin, Arrow::none}), "Z\"/>") == 0);
  const std::string one = svg_with(Line{Vec2(0, 0), Vec2(10, 0), Pen::thin, Arrow::at_end});
  CHECK_THAT(one, ContainsSubstring("d=\"M20 45L17.6 44.28L17.6 45.72Z\""));
  CHECK(count(svg_with(Line{Vec2(0, 0), Vec2(10, 0), Pen::thin, Arrow::at_both}), "Z\"/>") == 2);
}

TEST_CASE("no text is smaller than can be read; turned text turns the other way in the file") {
  Label label;
  label.at_mm = Vec2(0, 0);
  label.text = "a<b";
  label.height_mm = 1.0;
  const std::string size = "font-size=\"3.472\"";  // 2.5 mm capitals
  CHECK_THAT(svg_with(label), ContainsSubstring(size));
  CHECK_THAT(svg_with(label), ContainsSubstring(">a&lt;b</text>"));
  label.turned = Angle::degrees(90);
  CHECK_THAT(svg_with(label), ContainsSubstring("translate(10 45) rotate(-90)"));
}

TEST_CASE("hatches are named once and only where used, with the page's prefix") {
  Scene scene = sheet();
  const std::vector<Vec2> box{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  scene.add(Area{{box}, Fill::dots, std::nullopt});
  scene.add(Area{{box}, Fill::dots, Pen::thin});
  const std::string svg = svg_of(scene, "face-");
  CHECK(count(svg, "<pattern id=\"face-dots\"") == 1);
  CHECK(count(svg, "url(#face-dots)") == 2);
  CHECK(count(svg, "hatch") == 0);
}

TEST_CASE("groups carry words for those who cannot see them") {
  Group group;
  group.title = "tight run";
  group.items.push_back(Item{Circle{Vec2(0, 0), 3, Pen::outline, Fill::paper}});
  CHECK_THAT(svg_with(group), ContainsSubstring("<g>\n    <title>tight run</title>\n    <circle"));
}

TEST_CASE("the same face gives the same bytes, and all of it lies on the sheet") {
  faces::Random random(3);
  const faces::Points points = faces::random_face(random, 120);
  const FaceReport report = report_of(points);
  const std::string svg = svg_of(face_of(points, report));
  CHECK(svg == svg_of(face_of(points, report)));
  std::smatch box;
  REQUIRE(std::regex_search(svg, box, std::regex("viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"")));
  const double width = std::stod(box[1]), height = std::stod(box[2]);
  const std::regex corner("[ML](-?[0-9.]+) (-?[0-9.]+)");
  const std::string body = svg.substr(svg.find("</defs>"));
  for (std::sregex_iterator it(body.begin(), body.end(), corner), end; it != end; ++it) {
    const double x = std::stod((*it)[1]), y = std::stod((*it)[2]);
    CHECK((x >= 0 && x <= width && y >= 0 && y <= height));
  }
}

TEST_CASE("a face's picture marks its high and low spots and names them in words") {
  const faces::Points points = faces::one_corner_up();
  const std::string svg = svg_of(face_of(points, report_of(points)));
  CHECK_THAT(svg, ContainsSubstring("<title>Out of flat by 0.037 mm"));
  CHECK_THAT(svg, ContainsSubstring("High spots at"));
  CHECK(count(svg, "class=\"line contour\"") > 2);
  CHECK_THAT(svg, ContainsSubstring("light-hatch"));
  CHECK_THAT(svg, ContainsSubstring("dots"));
  // Black on white: no other colour anywhere.
  const std::regex colour("#[0-9a-f]{3,6}");
  for (std::sregex_iterator it(svg.begin(), svg.end(), colour), end; it != end; ++it) {
    const std::string found = it->str();
    CHECK((found == "#000" || found == "#fff"));
  }
  const faces::Points flat = faces::plane();
  CHECK_THAT(svg_of(face_of(flat, report_of(flat))), ContainsSubstring("Too flat"));
}
