// What a route says of each pulley, each part near it and each reason against it. Evidence: two
// equal pulleys by hand, the drive solved and judged anew along its travel.
#include "twoturn/drive/route.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/refusal_known.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "twoturn/drive/working.hpp"

using namespace twoturn;

namespace {

DriveSpec pair(int crank, int cam) {
  DriveSpec spec = drives::two_pulleys(8.0, crank, cam, 300.0, 100);
  BeltSpec belt;
  belt.section = "H8M";
  belt.teeth = 100;
  spec.belt = belt;
  return spec;
}

CoverSpec cover(std::string name, std::vector<Vec2> points) {
  CoverSpec cover;
  cover.name = std::move(name);
  cover.points_mm = std::move(points);
  return cover;
}

NamedRefusal only_refusal(const DriveSpec& spec) {
  const RouteAnswer route = route_of(drives::fitted(spec));
  CHECK_FALSE(route.is_belt);
  REQUIRE_FALSE(route.refused.empty());
  return route.refused.front();
}

}  // namespace

TEST_CASE("Half the teeth of two equal pulleys are in mesh, whole ones counted") {
  for (const int teeth : {22, 23}) {
    const RouteAnswer route = route_of(drives::fitted(pair(teeth, teeth)));
    REQUIRE(route.pulleys.size() == 2);
    CHECK(route.choice == SettingChoice::fixed_centres);
    CHECK(route.is_belt);
    CHECK_THAT(route.length_mm, WithinAbs(600.0 + 8.0 * teeth, 1e-9));
    CHECK_THAT(route.teeth_exact, WithinAbs(75.0 + teeth, 1e-9));
    for (const RoutePulley& pulley : route.pulleys) {
      CHECK_THAT(pulley.wrap_deg, WithinAbs(180.0, 1e-9));
      CHECK_THAT(*pulley.mesh_exact, WithinAbs(teeth / 2.0, 1e-9));
      CHECK(pulley.teeth_in_mesh == 11);
      CHECK_THAT(pulley.pitch_radius_mm, WithinAbs(teeth * 8.0 / kFullTurn, 1e-12));
    }
    // The cam moved away: 2 mm a mm; the crank towards it: two less.
    CHECK((route.pulleys[1].gradient - Vec2(0, 2)).norm() < 1e-12);
    CHECK((route.pulleys[0].gradient - Vec2(0, -2)).norm() < 1e-12);
    CHECK(route.spans[0].from == "crank");
    CHECK(route.spans[0].to == "cam");
    CHECK(route.spans[1].to == "crank");
  }
}

TEST_CASE("Without an interfering half of a belt a roller has no mesh") {
  const RouteAnswer route = route_of(drives::fitted(drives::worked_example()));
  CHECK_FALSE(route.pulleys[1].mesh_exact.has_value());
  CHECK(route.pulleys[0].mesh_exact.has_value());
}

TEST_CASE("A tensioner stands where asked, else at its marks, else where the belt has it") {
  DriveSpec spec = drives::worked_example();
  const Fitted marked = drives::fitted(spec);
  const auto stands = [](const RouteAnswer& route) { return route.setting->reading.value; };
  RouteAnswer route = route_of(marked);
  CHECK(route.choice == SettingChoice::maker_marks);
  CHECK_THAT(stands(route), WithinAbs(346.0, 1e-9));
  route = route_of(marked, 10.0);
  CHECK(route.choice == SettingChoice::as_asked);
  CHECK_THAT(stands(route), WithinAbs(10.0, 1e-9));
  drives::named(spec, "tensioner").tensioner->set_deg.reset();
  const Fitted bare = drives::fitted(spec);
  route = route_of(bare);
  CHECK(route.choice == SettingChoice::belt_length);
  CHECK_THAT(route.length_mm, WithinAbs(111 * 9.525, 1e-9));
  CHECK(route.setting->over_centre == OverCentre::before);
  CHECK(choose_setting(bare.drive(), nullptr).choice == SettingChoice::mid_travel);
  spec.belt.teeth = 115;
  route = route_of(drives::fitted(spec));
  CHECK(route.choice == SettingChoice::mid_travel);
  CHECK_THAT(stands(route), WithinAbs(70.0, 1e-9));  // 130 deg on from 300
  spec.belt.teeth.reset();
  CHECK(route_of(drives::fitted(spec)).choice == SettingChoice::mid_travel);
  CHECK(route_of(drives::fitted(pair(22, 22)), 10.0).choice == SettingChoice::fixed_centres);
}

TEST_CASE("Of two places that both tighten neither is taken") {
  // From over centre on all round: before it again only past the slackest place.
  DriveSpec spec = drives::worked_example();
  TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
  tensioner = drives::swing(Vec2(-40, 170), 6.0, 100.0, 80.0, Turn::clockwise);
  const RouteAnswer one = route_of(drives::fitted(spec));
  CHECK(one.choice == SettingChoice::belt_length);
  CHECK(one.setting->over_centre == OverCentre::before);
  // A travel that ends before the place that tightens, with that place itself still ahead.
  tensioner = drives::swing(Vec2(-40, 170), 6.0, 100.0, 330.0, Turn::clockwise);
  CHECK(route_of(drives::fitted(spec)).choice == SettingChoice::mid_travel);
}

TEST_CASE("The least gap over the travel is the least of many looks, however it is rooted") {
  for (const double x : {-60.0, -75.0, 25.0}) {
    for (const double y : {110.0, 190.0, 250.0}) {
      DriveSpec spec = drives::worked_example();
      spec.covers = {cover("stud", {Vec2(x, y), Vec2(x - 1, y + 1)})};
      const Fitted fitted = drives::fitted(spec);
      const Drive& drive = fitted.drive();
      const RouteAnswer route = route_of(fitted);
      constexpr int kLooks = 800;
      for (const NamedApproach& near : route.approaches) {
        double least = 1e9;
        for (const UsableTravel& range : fitted.curve()->usable()) {
          for (int k = 0; k <= kLooks; ++k) {
            const double q = range.from_q + (range.to_q - range.from_q) * k / kLooks;
            const std::vector<Wheel> wheels = placed_wheels(drive, q);
            TangentPath path;
            REQUIRE(solve_path(wheels, path).solved());
            for (const Approach& here : judge_run(wheels, path, drive.around).approaches) {
              if (here.kind != near.approach.kind) continue;
              if (here.kind != Neighbour::own_run && here.other != near.approach.other) continue;
              least = std::min(least, here.gap_mm);
            }
          }
        }
        if (fitted.curve()->usable().empty()) continue;
        CAPTURE(x, y, near.to);
        REQUIRE(near.least_in_travel_mm.has_value());
        // Sixteen looks alone could miss it by 6 mm times 1 - cos 8 deg, 0.06; one at each
        // parabola's foot by its third order.
        CHECK(*near.least_in_travel_mm >= least - 1e-3);
        CHECK(*near.least_in_travel_mm <= least + 0.004);
        const RouteAnswer there = route_at_setting(fitted, near.least_at_reading->value);
        const auto same =
            std::find_if(there.approaches.begin(), there.approaches.end(),
                         [&](const NamedApproach& other) { return other.to == near.to; });
        REQUIRE(same != there.approaches.end());
        CHECK_THAT(same->approach.gap_mm, WithinAbs(*near.least_in_travel_mm, 1e-6));
      }
    }
  }
}

TEST_CASE("What comes near is named, and the run or arc of belt that it comes near to") {
  DriveSpec spec = drives::worked_example();
  // Under the crank, and right of the run from pump to crank.
  spec.covers = {cover("sump", {Vec2(-5, -45), Vec2(5, -45)}),
                 cover("post", {Vec2(90, 60), Vec2(95, 60)})};
  const RouteAnswer route = route_of(drives::fitted(spec));
  const auto piece = [&](const char* to) {
    for (const NamedApproach& near : route.approaches) {
      if (near.to == to) return near.piece;
    }
    return std::string("none");
  };
  CHECK(piece("sump") == "the belt on crank");
  CHECK(piece("post") == "the run from water pump to crank");
}

TEST_CASE("A skimmed head takes the cover on it along, whose gap stays") {
  DriveSpec spec = drives::worked_example();
  CoverSpec top = cover("top", {Vec2(-10, 450), Vec2(10, 450)});  // above the cam
  top.mount = "head";
  spec.covers = {top, cover("still", {Vec2(-10, 450), Vec2(10, 450)})};
  spec.build.skim_mm["head"] = 0.3;
  const BothFits both = both_fits(spec, Fit::as_fitted);
  const auto gap = [](const Fitted& fitted, std::size_t which) {
    return route_of(fitted).cover_points.at(which).gap_mm;
  };
  // Points 0 and 1 are of the head's, 2 and 3 of the block's.
  CHECK_THAT(gap(*both.asked.fitted, 0), WithinAbs(gap(*both.book.fitted, 0), 0.02));
  CHECK_THAT(gap(*both.asked.fitted, 2) - gap(*both.book.fitted, 2), WithinAbs(0.3, 0.02));
}

TEST_CASE("Reasons against a path name their parts and their numbers") {
  DriveSpec spec = pair(22, 22);
  drives::named(spec, "cam").at_mm = Vec2(0, 50);
  // Radii 28.01 each, less the 0.686 that the belt's land lies inside: 54.65 of 50.
  NamedRefusal refusal = only_refusal(spec);
  CHECK(refusal.about == "crank and cam");
  CHECK_THAT(refusal.text, ContainsSubstring("Crank and cam overlap by 4.65 mm"));

  spec = pair(22, 66);
  drives::named(spec, "cam").at_mm = Vec2(0, 50);
  // 44 teeth more are 56.02 mm of radius.
  refusal = only_refusal(spec);
  CHECK(refusal.refusal.reason == Refused::no_tangent);
  CHECK_THAT(refusal.text, ContainsSubstring("50.00 mm apart"));
  CHECK_THAT(refusal.text, ContainsSubstring("more than 56.02 mm"));

  spec = pair(22, 22);
  spec.covers = {cover("rail", {Vec2(20, 150), Vec2(40, 150)})};
  refusal = only_refusal(spec);
  CHECK(refusal.about == "rail");
  CHECK_THAT(refusal.text, ContainsSubstring("The belt touches the rail"));

  spec.covers = {cover("lid", {Vec2(-6, 300), Vec2(6, 300)})};
  refusal = only_refusal(spec);
  CHECK(refusal.about == "cam and lid");
  CHECK_THAT(refusal.text, StartsWith("Cam and lid overlap by"));
}

TEST_CASE("Whatever is against a path is said of the parts that it is about") {
  const Refusal crossing{Refused::spans_cross, 0, 2, 0.0, 0.0};
  const Drive drive = drives::built(drives::worked_example());
  CHECK(describe_refusal(drive, crossing).about ==
        "the run from crank to tensioner and the run from cam to water pump");
  // The run from the last pulley goes to the first.
  const Refusal last{Refused::spans_cross, 1, 3, 0.0, 0.0};
  CHECK(describe_refusal(drive, last).about ==
        "the run from tensioner to cam and the run from water pump to crank");
  const auto text = [&](Refused reason, double value) {
    return describe_refusal(drive, {reason, 1, 2, value, 0.0}).text;
  };
  CHECK_THAT(text(Refused::not_one_turn, 2.0), ContainsSubstring("turns 2.00 times"));
  CHECK_THAT(text(Refused::not_one_turn, -1.0), ContainsSubstring("inside out"));
  CHECK_THAT(text(Refused::not_one_turn, 0.0), ContainsSubstring("turns 0.00 times"));
  CHECK_THAT(text(Refused::rubs_pulley, -1.25), ContainsSubstring("rubs on the cam"));
  CHECK_THAT(text(Refused::rubs_pulley, -1.25), ContainsSubstring("overlap by 1.25 mm"));
  CHECK_THAT(text(Refused::rubs_itself, -0.5), ContainsSubstring("overlap 0.50 mm"));
  CHECK(describe_refusal(drive, {Refused::rubs_itself, 1, 2, -0.5, 0.0}).about == "belt");
  CHECK(describe_refusal(drive, {Refused::not_one_turn, 1, 2, 2.0, 0.0}).about == "order");
  CHECK_THAT(text(Refused::pulley_missed, 200.0), ContainsSubstring("200.0 deg round"));
}

TEST_CASE("An overlap is sure where it is more than its numbers leave open") {
  // Two rims of 27.33 mm: 54.65 mm, and a centre distance known to one sigma of 0.1 mm.
  const auto known = [](double centre_mm, double give) {
    DriveSpec spec = pair(22, 22);
    drives::named(spec, "cam").at_mm = Vec2(0, centre_mm);
    spec.given = {drives::measured("pulley.cam.at_mm[1]", give)};
    const Fitted fitted = drives::fitted(spec);
    const RouteAnswer route = route_of(fitted);
    REQUIRE_FALSE(route.refused.empty());
    REQUIRE(route.refused[0].refusal.reason == Refused::pulleys_overlap);
    return how_surely_refused(fitted, 0.0, route.refused[0].refusal);
  };
  const double rims = 2.0 * (22 * 8.0 / kFullTurn - 0.686);
  const double give = 0.1 * kSigmas95;
  CHECK(known(rims - 0.17, give).sure);  // 1.645 sigmas, one side
  CHECK_FALSE(known(rims - 0.16, give).sure);
  CHECK_THAT(known(rims - 0.16, give).unsure.give_or_take, WithinRel(give, 1e-6));
  CHECK(known(rims - 0.16, give).unsure.most == "pulley.cam.at_mm");
  // Sideways no distance feels it, to first order.
  DriveSpec spec = pair(22, 22);
  drives::named(spec, "cam").at_mm = Vec2(0, rims - 0.01);
  CHECK(how_surely_refused(drives::fitted(spec), 0.0, {Refused::pulleys_overlap, 0, 1, -0.01, 0})
            .sure);
}

TEST_CASE("A missing tangent is as sure as its centres are known") {
  const auto known = [](double centre_mm) {
    DriveSpec spec = pair(22, 66);
    drives::named(spec, "cam").at_mm = Vec2(0, centre_mm);
    spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.1 * kSigmas95)};
    const Fitted fitted = drives::fitted(spec);
    const RouteAnswer route = route_of(fitted);
    REQUIRE(route.refused.front().refusal.reason == Refused::no_tangent);
    return how_surely_refused(fitted, 0.0, route.refused.front().refusal);
  };
  const double needed = 44 * 8.0 / kFullTurn;
  CHECK(known(needed - 0.17).sure);
  CHECK_FALSE(known(needed - 0.16).sure);
}

TEST_CASE("What the belt touches is as sure as where that stands to it") {
  // The run stands at 24 x 8 / 2 pi; its back 1.934 mm further out (6.0 - 3.38 - 0.686).
  const double back = 24 * 8.0 / kFullTurn + 6.0 - 3.38 - 0.686;
  const auto known = [&](double overlap) {
    DriveSpec spec = pair(24, 24);
    spec.covers = {cover("far", {Vec2(-90, 150), Vec2(-95, 150)}),
                   cover("rail", {Vec2(back - overlap, 150), Vec2(back + 20, 150)})};
    spec.given = {drives::measured("belt.pitch_mm", 0.01)};
    const Fitted fitted = drives::fitted(spec);
    const RouteAnswer route = route_of(fitted);
    REQUIRE_FALSE(route.refused.empty());
    return how_surely_refused(fitted, 0.0, route.refused.front().refusal);
  };
  // Both radii grow by 24 / 2 pi of a pitch.
  const double give = 0.01 * 24 / kFullTurn;
  CHECK_THAT(known(0.5).unsure.give_or_take, WithinRel(give, 1e-6));
  CHECK(known(0.5).sure);
  CHECK(known(give).sure);
  CHECK_FALSE(known(0.8 * give).sure);
}

TEST_CASE("A rim that meets a part is as sure as the two stand to each other") {
  // The cam's rim, 27.33 mm; the lid across below it, where no belt is; another part and the crank.
  const double rim = 22 * 8.0 / kFullTurn - 0.686;
  const auto known = [&](double overlap, double give) {
    DriveSpec spec = pair(22, 22);
    spec.covers = {cover("far", {Vec2(-1, 150), Vec2(1, 150)}),
                   cover("lid", {Vec2(-1, 300 - rim + overlap), Vec2(1, 300 - rim + overlap)})};
    spec.given = {drives::measured("pulley.cam.at_mm[1]", give)};
    const Fitted fitted = drives::fitted(spec);
    const RouteAnswer route = route_of(fitted);
    REQUIRE(route.refused.size() == 1);
    REQUIRE(route.refused[0].refusal.reason == Refused::pulley_meets_obstacle);
    REQUIRE(route.refused[0].refusal.second == 1);
    return how_surely_refused(fitted, 0.0, route.refused[0].refusal);
  };
  const double give = 0.1 * kSigmas95;
  CHECK(known(0.17, give).sure);  // 1.645 sigmas, one side
  CHECK_FALSE(known(0.16, give).sure);
  CHECK_THAT(known(0.16, give).unsure.give_or_take, WithinRel(give, 1e-6));
}

TEST_CASE("A pulley that is missed is sure where no number two sigmas off has the belt reach it") {
  const auto known = [](double short_mm, double give) {
    DriveSpec spec;
    spec.crank_turns = Turn::clockwise;
    BeltSpec belt;
    belt.section = "H8M";
    spec.belt = belt;
    PulleySpec crank = drives::toothed("crank", 24, 0, 0);
    crank.role = Role::crankshaft;
    // The belt's back stands 32.49 mm out: 24 x 8 / 2 pi and 1.934. A roller of 60 just beside it.
    const double back = 24 * 8.0 / kFullTurn + 1.934;
    spec.pulleys = {crank, drives::toothed("cam", 24, 0, 240),
                    drives::back_roller("idler", 60, back + 30.0 + short_mm, 120)};
    spec.given = {drives::measured("pulley.idler.at_mm[0]", give)};
    const Fitted fitted = drives::fitted(spec);
    for (const NamedRefusal& refusal : route_of(fitted).refused) {
      if (refusal.refusal.reason != Refused::pulley_missed) continue;
      return how_surely_refused(fitted, 0.0, refusal.refusal);
    }
    FAIL("not missed");
    throw 0;
  };
  CHECK(known(0.3, 0.1 * kSigmas95).sure);  // two sigmas are 0.2
  CHECK_FALSE(known(0.15, 0.1 * kSigmas95).sure);
  CHECK(known(0.15, 0.1 * kSigmas95).unsure.most == "pulley.idler.at_mm");
}

TEST_CASE("The sums of a run and an arc are the textbook's, signs and all") {
  // An open and a crossed run: k = s_j r_j - s_i r_i, l = sqrt(D^2 - k^2).
  const Fitted fitted = drives::fitted(drives::worked_example());
  const WorkingAnswer working = work_route(fitted.drive(), route_of(fitted)).value();
  CHECK_THAT(working.pitch_mm, WithinAbs(9.525, 1e-12));
  for (const WorkingRun& run : working.runs) {
    const double k =
        run.to.sense * run.to.pitch_radius_mm - run.from.sense * run.from.pitch_radius_mm;
    CHECK_THAT(run.k_mm, WithinAbs(k, 1e-12));
    CHECK_THAT(run.distance_mm, WithinAbs((run.to.centre_mm - run.from.centre_mm).norm(), 1e-12));
    CHECK_THAT(run.length_mm,
               WithinAbs(std::sqrt(run.distance_mm * run.distance_mm - k * k), 1e-9));
    CHECK_THAT(run.direction.norm(), WithinAbs(1.0, 1e-12));
    CHECK(((run.meets_mm - run.leaves_mm) - run.length_mm * run.direction).norm() < 1e-9);
  }
  // Plain: 60 mm measured, and 1.504 to the pitch line; toothed 20 x 9.525 / 2 pi.
  CHECK(working.runs[0].to.diameter_mm == 60.0);
  CHECK_THAT(working.runs[0].to.to_pitch_line_mm, WithinAbs(1.504, 1e-12));
  CHECK(working.runs[0].to.teeth == 0);
  CHECK(working.runs[0].to.sense == -working.runs[0].from.sense);
  CHECK_THAT(working.runs[0].from.pitch_radius_mm, WithinAbs(20 * 9.525 / kFullTurn, 1e-12));
  double arcs = 0.0;
  double runs = 0.0;
  for (const WorkingArc& arc : working.arcs) {
    CHECK_THAT(arc.length_mm, WithinAbs(arc.pitch_radius_mm * arc.wrap_deg * kRadPerDeg, 1e-9));
    arcs += arc.length_mm;
  }
  for (const WorkingRun& run : working.runs) runs += run.length_mm;
  CHECK_THAT(working.arcs_mm, WithinAbs(arcs, 1e-9));
  CHECK_THAT(working.runs_mm, WithinAbs(runs, 1e-9));
  CHECK_FALSE(work_route(fitted.drive(), RouteAnswer{}).has_value());
}

TEST_CASE("Both ways round of a double-sided belt's list are two belts, and refused") {
  DriveSpec spec = pair(24, 24);
  spec.pulleys.push_back(drives::toothed("pump", 20, 120, 150));
  CHECK_FALSE(drives::built(spec).both_orders_run);
  spec.belt.double_sided = true;
  const Drive drive = drives::built(spec);
  const RouteAnswer route = route_of(drives::fitted(spec));
  CHECK(drive.both_orders_run == (route.refused.size() == 1 && route.refused[0].about == "order"));
}
