// Pictures of what is hardly known: a drive without a title, a way or teeth; a face of thousands of
// points; shapes that come to nothing.
#include <regex>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/faces.hpp"
#include "support/texts.hpp"
#include "twoturn/face/contours.hpp"
#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/engine_picture.hpp"
#include "twoturn/picture/face_picture.hpp"
#include "twoturn/picture/svg.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/view.hpp"

using namespace twoturn;
using namespace twoturn::scene;

namespace {

// A demo with its check and what it looks like.
struct Looked {
  DriveSpec spec;
  CheckAnswer check;
  BeltView view;
};

Looked looked(const std::string& demo) {
  Looked all;
  all.spec = demos::spec_of(demo);
  all.check = check_drive(all.spec);
  all.view = view_of(all.spec, all.check, 0.0).value();
  return all;
}

// All the letters of a picture in their order, lines joined.
std::string words_of(const Scene& scene) {
  const std::string svg = svg_of(scene);
  std::string words;
  const std::regex text("<text[^>]*>([^<]*)</text>");
  for (std::sregex_iterator at(svg.begin(), svg.end(), text), end; at != end; ++at) {
    words += (*at)[1].str() + ' ';
  }
  return words;
}

std::string svg_of_one(const Item& item) {
  Scene scene;
  scene.title = "one";
  scene.size_mm = Vec2(100, 50);
  scene.items.push_back(item);
  return svg_of(scene);
}

int times_in(const std::string& text, const std::string& what) {
  int found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
    ++found;
  }
  return found;
}

Scene map_of(const faces::Points& points, FaceReport report) {
  report.heights = examine_face(points);
  return face_scene(points, report, face_contours(points, report.heights->zone.slab));
}

}  // namespace

TEST_CASE("What XML cannot hold becomes a question mark, once each") {
  Label label;
  label.text =
      "a\xEF\xBF\xBE"
      "b\xEF\xBF\xBF"
      "c\x01"
      "d\xEF\xBF\xBD";
  CHECK_THAT(svg_of_one({label}), ContainsSubstring(">a?b?c?d\xEF\xBF\xBD<"));
}

TEST_CASE("A shape of too few points draws nothing, and an arrow of no length has no head") {
  const std::string nothing = svg_of_one({Polyline{{}, Pen::thin, Ends::open}});
  CHECK(svg_of_one({Polyline{{Vec2(1, 1)}, Pen::thin, Ends::open}}) == nothing);
  CHECK(svg_of_one({Area{{{Vec2(1, 1), Vec2(2, 2)}}, Fill::ink, std::nullopt}}) == nothing);
  const Vec2 here(5, 5);
  CHECK(times_in(svg_of_one({Line{here, here, Pen::thin, Arrow::at_both}}), "<path") == 1);
  CHECK(times_in(svg_of_one({Line{here, Vec2(9, 5), Pen::thin, Arrow::at_both}}), "<path") == 3);
}

TEST_CASE("A curve is moved whole: start, ends and the centres of its arcs") {
  Curve curve;
  curve.start_mm = Vec2(0, 0);
  curve.pieces = {{Vec2(40, 0), std::nullopt, 1}, {Vec2(40, 20), Vec2(40, 10), 1}};
  Item item{curve};
  shift(item, Vec2(3, 4));
  const Curve& moved = std::get<Curve>(item.shape);
  CHECK(moved.start_mm == Vec2(3, 4));
  CHECK(moved.pieces[0].end_mm == Vec2(43, 4));
  CHECK_FALSE(moved.pieces[0].centre_mm);
  CHECK(moved.pieces[1].end_mm == Vec2(43, 24));
  CHECK(moved.pieces[1].centre_mm.value() == Vec2(43, 14));
}

TEST_CASE("The belt end says what it had to take: the way, the teeth's place, their height") {
  Looked launch = looked("harbour-launch");
  const std::string known = words_of(drawing_of(launch.view, launch.check));
  CHECK_THAT(known, !ContainsSubstring("not known"));

  launch.view.direction = Direction::assumed;
  launch.view.phase_known = false;
  launch.view.tooth_height_mm.reset();
  launch.view.refused = {"the belt would cross itself"};
  launch.view.title.clear();
  launch.check.title.clear();
  const Scene scene = drawing_of(launch.view, launch.check);
  CHECK(scene.title == "Belt drive");
  const std::string words = words_of(scene);
  CHECK_THAT(words, StartsWith("Belt drive "));
  CHECK_THAT(words, ContainsSubstring("Not a belt: the belt would cross itself"));
  CHECK_THAT(words, ContainsSubstring("way the crank turns is not known: drawn clockwise."));
  CHECK_THAT(words, ContainsSubstring("Where the teeth stand is not known"));
  CHECK_THAT(words, ContainsSubstring("height of the teeth is not known: drawn, not measured."));
  // Which pulley the belt goes on next hangs on the way.
  CHECK_THAT(known, ContainsSubstring("the order in which the belt goes on"));
  CHECK_THAT(words, !ContainsSubstring("the order in which the belt goes on"));
}

TEST_CASE("What a view does not hold its pictures leave out, or say that it is not given") {
  Looked launch = looked("harbour-launch");
  BeltView& view = launch.view;
  const auto words = [&] { return words_of(drawing_of(view, launch.check)); };
  view.crank_deg = -90.5;
  CHECK_THAT(words(), ContainsSubstring("crank turned 90.5 deg backwards from there."));
  view.crank_deg = 0.0;
  view.fit = Fit::by_the_book;
  CHECK_THAT(words(), ContainsSubstring("By the book, at the timing position."));
  REQUIRE(eccentric_scene(view, 0.2));
  CHECK_THAT(words(), ContainsSubstring("pointer at clock 57.0 (1:54); roller's centre at"));
  view.tensioner->setting.pointer_deg.reset();
  CHECK_THAT(words(), ContainsSubstring("Tensioner: roller's centre at clock 345.0 (11:30)"));
  view.tensioner.reset();
  CHECK_THAT(words(), ContainsSubstring("Tensioner: none: fixed centres"));
  CHECK_FALSE(eccentric_scene(view, 0.2));

  REQUIRE(marks_scene(view));
  REQUIRE(moved_scene(view));
  view.tooth_out.reset();
  view.moved.reset();
  CHECK_FALSE(marks_scene(view));
  CHECK_FALSE(moved_scene(view));
  CHECK_FALSE(move_scene(view));
  view.counts.clear();
  CHECK_THAT(words(), ContainsSubstring("no two marks are given"));
  view.pins.clear();
  CHECK_THAT(words(), ContainsSubstring("mark on the pulley"));
  CHECK_THAT(words(), !ContainsSubstring("pin goes in"));
  view.marks.clear();
  CHECK_THAT(words(), !ContainsSubstring("mark on the pulley"));
  CHECK_FALSE(belt_strip(view).empty());
  CHECK_THAT(words_of(true_size_pages(view).front()), ContainsSubstring("full size, by the book."));
}

TEST_CASE("Rings round measured centres are told with how much larger than life they are") {
  Looked weir = looked("weir-keeper");
  REQUIRE_FALSE(weir.view.rings.empty());
  const auto words = [&] { return words_of(drawing_of(weir.view, weir.check)); };
  CHECK(std::regex_search(words(), std::regex("lies 95 times in 100, [0-9]+ times as\\s+large")));
  for (SeenRing& ring : weir.view.rings) {
    ring.ellipse.longer_mm = 40.0;
    ring.ellipse.shorter_mm = 30.0;
  }
  CHECK(std::regex_search(words(), std::regex("lies 95 times in\\s+100\\.")));
  weir.view.rings.clear();
  CHECK_THAT(words(), !ContainsSubstring("Rings round measured centres"));
}

TEST_CASE("A pin's hole for which there is no clear place round its shaft is drawn all the same") {
  Looked launch = looked("harbour-launch");
  REQUIRE(launch.view.pins.front().pulley == 0);
  launch.view.pins.front().radius_mm = 0.0;
  const std::string svg = svg_of(drawing_of(launch.view, launch.check));
  // Of no radius: on the centre about which it turns.
  std::smatch hole;
  REQUIRE(
      std::regex_search(svg, hole,
                        std::regex("data-x=\"([0-9.]+)\" data-y=\"([0-9.]+)\">\\s*<title>pin of "
                                   "crank</title>\\s*<circle[^>]*cx=\"([0-9.]+)\" "
                                   "cy=\"([0-9.]+)\"")));
  CHECK(hole[1].str() == hole[3].str());
  CHECK(hole[2].str() == hole[4].str());
}

TEST_CASE("A belt with teeth on both faces is drawn so: each tooth has two corners more") {
  Looked launch = looked("harbour-launch");
  const auto corners = [&] {
    int all = 0;
    const std::string svg = svg_of(drawing_of(launch.view, launch.check));
    const std::size_t from = svg.find("<title>belt teeth");
    REQUIRE(from != std::string::npos);
    for (std::size_t at = from; at < svg.find("</g>", from); ++at) all += svg[at] == 'L' ? 1 : 0;
    return all;
  };
  const int one_face = corners();
  launch.view.double_sided = true;
  CHECK(corners() == one_face + 2 * static_cast<int>(launch.view.teeth.size()));
}

TEST_CASE("Full size without a title is called so, and without teeth there is no strip") {
  Looked launch = looked("harbour-launch");
  launch.view.title.clear();
  CHECK_THAT(words_of(true_size_pages(launch.view).front()),
             ContainsSubstring("Full size, as fitted. The engine maker's manual comes first."));
  CHECK_FALSE(belt_strip(launch.view).empty());
  launch.view.belt_teeth.reset();
  CHECK(belt_strip(launch.view).empty());
  launch.view.belt_teeth = 112;
  launch.view.pitch_mm = 0.0;
  CHECK(belt_strip(launch.view).empty());
}

TEST_CASE("A degree wheel for a crank of no known way says which it took") {
  DriveSpec spec = demos::spec_of("harbour-launch");
  CHECK_THAT(words_of(degree_wheel(spec)), !ContainsSubstring("not known"));
  spec.crank_turns.reset();
  spec.title.clear();
  const std::string words = words_of(degree_wheel(spec));
  CHECK_THAT(words, ContainsSubstring("Degree wheel for a crank that turns clockwise"));
  CHECK_THAT(words, ContainsSubstring("Which way this crank turns is not known: clockwise is "
                                      "taken. Fix it to"));
}

TEST_CASE("One pulley alone is no way round: the order says that no belt is drawn") {
  DriveSpec spec = demos::spec_of("roadside-counts");
  const CheckAnswer check = check_drive(spec);
  CHECK_THAT(words_of(threading_diagram(spec, check)), !ContainsSubstring("No belt is drawn"));
  spec.title.clear();
  spec.pulleys.resize(1);
  CheckAnswer untitled = check;
  untitled.title.clear();
  const Scene scene = threading_diagram(spec, untitled);
  CHECK(scene.title == "Belt drive");
  CHECK_THAT(words_of(scene), ContainsSubstring("NOT TO SCALE"));
  CHECK_THAT(words_of(scene), ContainsSubstring("No belt is drawn: too few pulleys are listed."));
  spec.pulleys.clear();
  CHECK(threading_sizes(spec).empty());
}

TEST_CASE("A face of thousands of points is drawn from some and measured by all") {
  faces::Random random(3);
  FaceReport report;
  const Scene few = map_of(faces::random_face(random, 300), report);
  const Scene more = map_of(faces::random_face(random, 500), report);
  const Scene most = map_of(faces::random_face(random, kMostContourPoints + 500), report);
  CHECK_THAT(words_of(few), !ContainsSubstring("Drawn from"));
  CHECK(std::regex_search(words_of(most),
                          std::regex("Drawn from [0-9]+ of 3500 points; measured by all of them")));
  CHECK_THAT(words_of(most), ContainsSubstring("Out of flat by 0.0"));
  CHECK_THAT(words_of(most), ContainsSubstring("3500 points, "));
  CHECK_THAT(words_of(most), !ContainsSubstring(": 3500 points"));
  // Rings, dots, nothing.
  CHECK(times_in(svg_of(few), "<circle") >= 300);
  CHECK(times_in(svg_of(more), "<circle") >= 500);
  CHECK(times_in(svg_of(most), "<circle") < 500);
  report.title = "after the skim";
  CHECK_THAT(words_of(map_of(faces::centre_up(), report)),
             ContainsSubstring("after the skim: 9 points, 200 x 200 mm, seen from above."));
}

TEST_CASE("Rings over two turns need the engine's place, springs that push and humps of a valve") {
  const CrankMark mark{Angle::clock(30.0), -1};
  EngineCurves curves;
  CHECK_FALSE(room_round(curves, mark));
  curves.cylinder = 2;
  curves.crank_deg = {0.0, 360.0, 720.0};
  curves.valves = {{"inlet", ValveSide::inlet, {0, 8, 0}, {5, 2, 5}, {5, 2, 5}}};
  CHECK_FALSE(room_round(curves, mark));
  curves.at_pins_deg = 90.0;
  REQUIRE(room_round(curves, mark));
  CHECK(room_round(curves, mark)->title == "Valves and piston of cylinder 2");

  FeelAnswer feel;
  CHECK_FALSE(torque_round(feel, curves, mark));
  for (const double deg : {0.0, 200.0, 400.0, 600.0}) feel.steps.push_back({deg, 5.0});
  CHECK_FALSE(torque_round(feel, curves, mark));
  feel.at_engine_place = true;
  CHECK_FALSE(torque_round(feel, curves, mark));
  feel.greatest.nm = 12.0;
  feel.humps.resize(2);
  feel.humps[0].crank_deg = 200.0;
  feel.humps[0].pull = HandPull{12.0, 9.0, 40.0};
  feel.humps[0].parts = {{"inlet", 1, 1.0}};
  REQUIRE(torque_round(feel, curves, mark));
  const TwoTurns round = *torque_round(feel, curves, mark);
  REQUIRE(round.words.size() == 1);
  CHECK(round.words[0].words == "inlet 1: 12 Nm");
}
