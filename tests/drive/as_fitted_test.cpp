// What [build] does to a drive, worked by hand: a head that lifts along its deck, parts that are
// renewed, block and head that grow as they warm.
#include "twoturn/drive/fitted_spec.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"

using namespace twoturn;

namespace {

constexpr double kRoundingMm = 1e-12;

// A head whose deck leans 30 deg to the right, and one upright; parts of every kind on the first.
DriveSpec leaning() {
  DriveSpec spec = drives::worked_example();
  spec.heads = {drives::head("left", 30.0), drives::head("right", 0.0)};
  drives::named(spec, "cam").mount = "left";
  drives::named(spec, "tensioner").mount = "left";
  drives::named(spec, "water pump").mount = "block";
  spec.covers = {{"on the head", {Vec2(1, 2), Vec2(3, 4)}, Outline::open, "left"},
                 {"on the block", {Vec2(1, 2), Vec2(3, 4)}, Outline::open, {}}};
  spec.build.gasket_change_mm["left"] = 0.4;
  spec.build.skim_mm["left"] = 0.3;
  spec.build.block_skim_mm["left"] = 0.2;
  return spec;
}

// 0.4 - 0.3 - 0.2 along 30 deg of a clock.
const Vec2 kLift = -0.1 * Vec2(0.5, std::sqrt(3.0) / 2.0);

void check_at(const Vec2& place, const Vec2& expected) {
  CAPTURE(place.x(), place.y(), expected.x(), expected.y());
  CHECK((place - expected).norm() <= kRoundingMm);
}

TensionerSpec slide(const Vec2& slack, const Vec2& tight) {
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{slack, tight};
  return tensioner;
}

}  // namespace

TEST_CASE("A thicker gasket lifts a head, a skim of it or of its block lowers it") {
  BuildSpec build;
  CHECK(head_lift_mm(build, "head") == 0.0);
  build.gasket_change_mm["head"] = 0.4;
  CHECK(head_lift_mm(build, "head") == 0.4);
  CHECK(head_lift_mm(build, "other") == 0.0);
  build.skim_mm["head"] = 0.25;
  build.block_skim_mm["head"] = 0.5;
  CHECK_THAT(head_lift_mm(build, "head"), WithinAbs(-0.35, 1e-15));
}

TEST_CASE("All that is mounted on a head moves along its deck, and nothing else does") {
  const DriveSpec spec = leaning();
  DriveSpec moved = spec_for(spec, Fit::as_fitted).spec();
  check_at(*drives::named(moved, "cam").at_mm, Vec2(0, 375) + kLift);
  check_at(*drives::named(moved, "water pump").at_mm, Vec2(62, 150));
  check_at(*drives::named(moved, "crank").at_mm, Vec2(0, 0));
  const auto& swing = std::get<SwingSpec>(drives::named(moved, "tensioner").tensioner->path);
  check_at(*swing.pivot_mm, Vec2(-40, 170) + kLift);
  check_at(moved.covers[0].points_mm[0], Vec2(1, 2) + kLift);
  check_at(moved.covers[0].points_mm[1], Vec2(3, 4) + kLift);
  check_at(moved.covers[1].points_mm[0], Vec2(1, 2));
  CHECK_FALSE(drives::named(moved, "tensioner").at_mm.has_value());

  DriveSpec sliding = spec;
  drives::named(sliding, "tensioner").tensioner = slide(Vec2(-40, 160), Vec2(-30, 180));
  DriveSpec slid = spec_for(sliding, Fit::as_fitted).spec();
  const auto& path = std::get<SlideSpec>(drives::named(slid, "tensioner").tensioner->path);
  check_at(*path.slack_at_mm, Vec2(-40, 160) + kLift);
  check_at(*path.tight_at_mm, Vec2(-30, 180) + kLift);
}

TEST_CASE("A skim of the only head moves nothing where nobody says which way it lifts") {
  DriveSpec spec = leaning();
  spec.heads[0].deck_deg.reset();
  DriveSpec moved = spec_for(spec, Fit::as_fitted).spec();
  check_at(*drives::named(moved, "cam").at_mm, Vec2(0, 375));
}

TEST_CASE("By the book nothing of [build] is done") {
  DriveSpec spec = leaning();
  spec.build.renewed["cam"].teeth = 42;
  DriveSpec book = spec_for(spec, Fit::by_the_book).spec();
  check_at(*drives::named(book, "cam").at_mm, Vec2(0, 375));
  CHECK(drives::named(book, "cam").teeth == 40);
  CHECK(book.build == BuildSpec{});
  CHECK(spec_for(spec, Fit::as_fitted).spec().build == spec.build);
}

TEST_CASE("A renewed part brings what is said of it and keeps the rest") {
  DriveSpec spec = drives::worked_example();
  spec.build.renewed["cam"].teeth = 42;
  spec.build.renewed["water pump"].at_mm = Vec2(60, 151);
  spec.build.renewed["tensioner"].diameter_mm = 61.0;
  DriveSpec fitted = spec_for(spec, Fit::as_fitted).spec();
  CHECK(drives::named(fitted, "cam").teeth == 42);
  check_at(*drives::named(fitted, "cam").at_mm, Vec2(0, 375));
  CHECK(drives::named(fitted, "water pump").teeth == 19);
  check_at(*drives::named(fitted, "water pump").at_mm, Vec2(60, 151));
  CHECK(drives::named(fitted, "tensioner").diameter_mm == 61.0);
  CHECK(teeth_for(spec, drives::named(spec, "cam"), Fit::as_fitted) == 42);
  CHECK(teeth_for(spec, drives::named(spec, "cam"), Fit::by_the_book) == 40);
  CHECK(teeth_for(spec, drives::named(spec, "water pump"), Fit::as_fitted) == 19);
  CHECK(teeth_for(spec, drives::named(spec, "crank"), Fit::as_fitted) == 20);
}

TEST_CASE("What is warm is no other drive when cold") {
  BuildSpec build;
  CHECK_FALSE(changes_the_drive(build));
  build.warm.emplace().cold_c = 20.0;
  CHECK_FALSE(changes_the_drive(build));
  build.teeth_out["cam"] = 1;
  CHECK(changes_the_drive(build));
}

TEST_CASE("Both fits are one drive where nothing is built otherwise, else two") {
  DriveSpec spec = drives::worked_example();
  const BothFits same = both_fits(spec, Fit::as_fitted);
  CHECK(&same.book.fitted->drive() == &same.asked.fitted->drive());
  CHECK(same.book.fitted->fit() == Fit::by_the_book);
  CHECK(same.asked.fitted->fit() == Fit::as_fitted);
  spec.build.skim_mm["head"] = 0.3;
  const BothFits two = both_fits(spec, Fit::as_fitted);
  CHECK(two.book.fitted->drive().pulleys[2].wheel.centre_mm.y() == 375.0);
  CHECK(two.asked.fitted->drive().pulleys[2].wheel.centre_mm.y() == 375.0 - 0.3);
  const BothFits book = both_fits(spec, Fit::by_the_book);
  CHECK(&book.book.fitted->drive() == &book.asked.fitted->drive());
}

TEST_CASE("A part grows by its expansion for each degree that it is warmer") {
  // Cast iron and aluminium (Callister, table B.6: 11.4 and 21.5), a belt of glass cords.
  WarmSpec warm;
  warm.cold_c = 20.0;
  warm.block_c = 90.0;
  warm.head_c = 110.0;
  warm.belt_c = 60.0;
  warm.block_ppm_per_c = 11.4;
  warm.head_ppm_per_c = 21.5;
  warm.belt_ppm_per_c = 5.0;
  const Growth growth = growth_of(warm);
  CHECK_THAT(growth.block, WithinRel(70 * 11.4e-6, 1e-12));
  CHECK_THAT(growth.head, WithinRel(90 * 21.5e-6, 1e-12));
  CHECK_THAT(growth.belt, WithinRel(40 * 5.0e-6, 1e-12));
}

TEST_CASE("Block and head grow away from the crank, the head from its face on") {
  constexpr double kBlock = 0.001;
  constexpr double kHead = 0.003;
  DriveSpec spec = leaning();
  spec.build = {};
  const Vec2 crank(10, 20);
  drives::named(spec, "crank").at_mm = crank;
  spec.heads[0].deck_from_crank_mm = 200.0;
  const Vec2 face = 200.0 * Vec2(0.5, std::sqrt(3.0) / 2.0);
  const auto on_head = [&](const Vec2& at) {
    return Vec2(at + kBlock * face + kHead * (at - crank - face));
  };
  const auto on_block = [&](const Vec2& at) { return Vec2(at + kBlock * (at - crank)); };
  const auto warmed = [&](const DriveSpec& cold) {
    return warmed_spec(spec_for(cold, Fit::as_fitted), {kBlock, kHead, 0.0}, 0.0005).spec();
  };
  DriveSpec warm = warmed(spec);
  check_at(*drives::named(warm, "cam").at_mm, on_head(Vec2(0, 375)));
  check_at(*drives::named(warm, "water pump").at_mm, on_block(Vec2(62, 150)));
  check_at(*drives::named(warm, "crank").at_mm, crank);
  const auto& swing = std::get<SwingSpec>(drives::named(warm, "tensioner").tensioner->path);
  check_at(*swing.pivot_mm, on_head(Vec2(-40, 170)));
  CHECK(swing.arm_mm == 6.0);
  check_at(warm.covers[0].points_mm[1], on_head(Vec2(3, 4)));
  check_at(warm.covers[1].points_mm[1], on_block(Vec2(3, 4)));
  CHECK_THAT(*warm.build.stretch_percent, WithinRel(0.05, 1e-12));
  CHECK(drives::fitted(warm, Fit::as_fitted).drive().belt.stretch == 0.0005);

  DriveSpec sliding = spec;
  drives::named(sliding, "tensioner").tensioner = slide(Vec2(-40, 160), Vec2(-30, 180));
  DriveSpec slid = warmed(sliding);
  const auto& path = std::get<SlideSpec>(drives::named(slid, "tensioner").tensioner->path);
  check_at(*path.slack_at_mm, on_head(Vec2(-40, 160)));
  check_at(*path.tight_at_mm, on_head(Vec2(-30, 180)));

  for (const bool deck : {true, false}) {
    DriveSpec less = spec;
    if (deck) less.heads[0].deck_deg.reset();
    if (!deck) less.heads[0].deck_from_crank_mm.reset();
    DriveSpec grown = warmed(less);
    check_at(*drives::named(grown, "cam").at_mm, on_block(Vec2(0, 375)));
  }
}
