#!/usr/bin/env python3
"""The picture of the belt end, read back from its SVG and held against what the other commands say
and against the belt's way worked out anew: pulleys, runs, arrows, tensioner, close-ups.

    belt_end_test.py TWOTURN
"""

import cmath
import math
import re

from cases import ODD_DEG, PLACE_MM, DriveCase, main
from drive_facts import Facts, Placed
from picture import styles, turn

TOO_LARGE = re.compile(r"drawn (\d+) times larger")


class BeltEnd(DriveCase):
    def test_pulleys_stand_where_the_route_has_them(self):
        for case, facts, _, placed, _ in self.each(0, ODD_DEG):
            with self.subTest(case):
                self.assertEqual(sorted(placed.middles), sorted(facts.names))
                for wheel in facts.belt.wheels:
                    self.near(placed.middles[wheel.name], placed.point(wheel.centre), what=wheel.name)

    def test_the_view_is_turned_by_the_lean_and_never_mirrored(self):
        for case, facts, _, placed, _ in self.each():
            with self.subTest(case):
                off = turn(cmath.phase(placed.turned), math.radians(-facts.lean_deg))
                self.near(off, 0, 4 * PLACE_MM / 100, "radians off the lean")

    def test_the_scale_told_is_the_scale_drawn(self):
        for name, facts in self.drives:
            with self.subTest(name):
                whole = self.drives.picture(name)
                placed = Placed(facts, whole.group("view"))
                told = re.findall(r"1 mm drawn is (\d+\.\d\d) mm on the engine",
                                  " ".join(whole.words()))
                self.assertEqual(len(told), 1, told)
                # Half of its last digit, and what places read back from the picture leave open.
                self.near(float(told[0]), 1 / placed.scale, 0.005 + 0.001, "mm a mm")

    def test_smooth_pulleys_have_their_diameter(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                for name in facts.names:
                    if facts.listed[name].get("teeth"):
                        continue
                    radii = [circle[1] for circle in view.group("pulley", name).circles()]
                    wanted = facts.listed[name]["diameter_mm"] / 2 * placed.scale
                    self.assertTrue(any(abs(r - wanted) <= PLACE_MM for r in radii), f"{name}: {radii}, {wanted}")

    def test_runs_go_from_contact_to_contact(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                runs = view.group("belt").groups("run")
                self.assertEqual(len(runs), len(facts.names))
                for run, (start, end) in zip(runs, facts.belt.runs):
                    (line,) = run.paths()
                    self.near(line.points[0], placed.point(start), what=run.title)
                    self.near(line.points[-1], placed.point(end), what=run.title)

    def test_runs_are_the_routes_own_where_the_setting_is_the_same(self):
        met = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                setting = facts.turns["setting"]
                if setting and abs(setting["length_mm"] - facts.route["length_mm"]) > 1e-6:
                    continue
                met += 1
                for run, span in zip(view.group("belt").groups("run"), facts.route["spans"]):
                    (line,) = run.paths()
                    self.near(line.points[0], placed.point(complex(*span["start_mm"])))
                    self.near(line.points[-1], placed.point(complex(*span["end_mm"])))
        self.assertGreaterEqual(met, 3)

    def test_the_belt_lies_on_its_pulleys(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                arcs = view.group("belt").groups("contact")
                for i, (group, wheel) in enumerate(zip(arcs, facts.belt.wheels)):
                    (path,) = group.paths()
                    start, middle = path.points[0], path.points[1]
                    self.near(start, placed.point(facts.belt.runs[i - 1][1]), what=group.title)
                    self.near(path.points[-1], placed.point(facts.belt.runs[i][0]), what=group.title)
                    half = cmath.rect(wheel.radius, facts.belt.entries[i] + wheel.sense * facts.belt.wraps[i] / 2)
                    self.near(middle, placed.point(wheel.centre + half), what=group.title)
                    for radius, sense, _, _ in path.arcs:
                        self.near(radius, wheel.radius * placed.scale, what=group.title)
                        self.assertEqual(sense, wheel.sense, group.title)

    def test_the_tight_runs_arrive_at_the_crank_and_the_slack_ones_leave_it(self):
        for case, facts, view, _, _ in self.each():
            with self.subTest(case):
                last, first = facts.tight_from(), facts.slack_to()
                for i, run in enumerate(view.group("belt").groups("run")):
                    (line,) = run.paths()
                    wanted = "tight-run" if i >= last else "slack-run" if i < first else "belt"
                    self.assertEqual(line.classes, ["line", wanted], run.title)

    def test_tight_is_thick_and_slack_is_dashed(self):
        for name, facts in self.drives:
            with self.subTest(name):
                css = styles(self.drives.picture(name))
                thick = {key: float(style["stroke-width"]) for key, style in css.items() if "stroke-width" in style}
                self.assertEqual(max((v, k) for k, v in thick.items() if k != "cleared")[1], "tight-run")
                self.assertIn("stroke-dasharray", css["slack-run"])
                self.assertNotIn("stroke-dasharray", css["tight-run"])

    def test_two_arrows_run_with_the_belt_one_on_each_side(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                sides = []
                for _, tip, ahead in view.group("labels").arrows():
                    runs = view.group("belt").groups("run")
                    lines = [run.paths()[0] for run in runs]
                    def off(line):
                        along = line.points[-1] - line.points[0]
                        return abs(((tip - line.points[0]) / along).imag) * abs(along)
                    beside = [line for line in lines if 0 < ((tip - line.points[0]) / (line.points[-1] - line.points[0])).real < 1]
                    line = min(beside, key=off)
                    along = line.points[-1] - line.points[0]
                    self.assertGreater((ahead / (along / abs(along))).real, 0.999)
                    sides.append(line.classes[-1])
                # A drive of two has both sides too: one way arrives, the other leaves.
                self.assertEqual(sorted(sides), ["slack-run", "tight-run"])

    def test_the_rotation_arrow_goes_the_cranks_way(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                rotation = view.group("rotation")
                ((line, tip, ahead),) = rotation.arrows()
                centre = placed.middles[facts.names[0]]
                self.assertGreater(facts.sense * (ahead / (tip - centre)).imag, 0)
                ((_, sense, start, _), *_) = line.arcs
                self.assertEqual(sense, facts.sense)
                self.near(abs(start - centre), abs(tip - centre))

    def test_a_crank_whose_way_is_not_known_has_arrows_both_ways(self):
        text = "".join(line for line in self.drives.texts["cam-bench"][0].splitlines(keepends=True)
                       if not line.startswith("crank_turns"))
        (whole,) = self.command.pictures(text)
        heads = [p for p in whole.group("view").group("rotation").paths() if not p.classes]
        self.assertEqual(len(heads), 2)
        self.assertIn("Which way the crank turns is not known", " ".join(whole.words()))


class Tensioner(DriveCase):
    def test_the_other_settings_are_drawn_where_they_would_be(self):
        met = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                if "meant" not in facts.tensioner:
                    continue
                meant = facts.tensioner["meant"]
                others = [s for s in facts.tensioner["settings"] if abs(s["travel"] - meant["travel"]) > 1e-6]
                ghosts = view.groups("other-setting")
                self.assertEqual(len(ghosts), len(others))
                for other in others:
                    met += 1
                    wanted = placed.point(complex(*other["centre_mm"]))
                    off = min(abs(g.circles()[0][0] - wanted) for g in ghosts)
                    self.assertLessEqual(off, PLACE_MM)
                    for ghost in ghosts:
                        self.assertIn("hidden", ghost.circles()[0][3])
        self.assertGreater(met, 5)

    def test_the_pointer_points_where_the_tensioner_says(self):
        met = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                pointer = facts.tensioner.get("meant", {}).get("pointer_deg")
                if pointer is None:
                    continue
                met += 1
                ((line, _, ahead),) = view.group("tensioner").arrows()
                self.near(line.points[0], placed.point(complex(*facts.listed[facts.moving()]["tensioner"]["pivot_mm"])))
                self.near(turn(cmath.phase(ahead), placed.angle(pointer)), 0, 0.002)
        self.assertGreater(met, 4)

    def test_the_travel_ends_at_the_slack_and_tight_ends(self):
        met = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                if not facts.tensioner.get("rows"):
                    continue
                met += 1
                path = next(p for p in view.group("tensioner").paths() if "guide" in p.classes)
                for point, row in ((path.points[0], facts.tensioner["rows"][0]), (path.points[-1], facts.tensioner["rows"][-1])):
                    self.near(point, placed.point(complex(*row["centre_mm"])))
        self.assertGreater(met, 5)

    def test_the_spanner_goes_the_way_that_tightens(self):
        met = 0
        for name, facts in self.drives:
            with self.subTest(name):
                found = self.drives.picture(name).groups("eccentric")
                if not found:
                    continue
                met += 1
                (group,) = found
                (arrow,) = [a for a in group.arrows() if a[0].arcs]
                sense = 1 if facts.tensioner["tightens"] == "anticlockwise" else -1
                self.assertEqual({arc[1] for arc in arrow[0].arcs}, {sense})
        self.assertGreater(met, 5)

    def test_covers_have_their_points(self):
        met = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                for point in facts.route["cover_points"]:
                    met += 1
                    path = view.group("cover", point["cover"]).paths()[0]
                    self.near(path.points[point["point"] - 1], placed.point(complex(*point["at_mm"])))
        self.assertGreater(met, 10)


class CloseUps(DriveCase):
    def test_late_and_early_marks_stand_behind_and_ahead_by_half_a_tooth_and_a_tooth(self):
        for name, facts in self.drives:
            with self.subTest(name):
                whole = self.drives.picture(name)
                cases = {g.title: g for g in whole.groups("mark-case")}
                self.assertEqual(set(cases), {"right"} | {f"{size} {way}" for size in ("half a tooth", "one tooth")
                                                          for way in ("late", "early")})
                shown = facts.furthest_out()
                tooth = 2 * math.pi / facts.listed[shown]["teeth"]
                offs = {}
                for title, group in cases.items():
                    mark, belongs = [p for p in group.paths() if p.fill in ("#000", "#fff")]
                    offs[title] = (mark.points[0] - belongs.points[0]).real
                self.near(offs["right"], 0)
                # At 12 o'clock an anticlockwise pulley moves left, so late is to the right.
                self.assertGreater(facts.sense * offs["one tooth late"], 0)
                for size in ("half a tooth", "one tooth"):
                    self.near(offs[f"{size} late"], -offs[f"{size} early"])
                self.near(offs["half a tooth late"] / offs["one tooth late"], math.sin(tooth / 2) / math.sin(tooth), 0.002)

    def test_the_case_that_is_this_drive_is_framed(self):
        met = set()
        for name, facts in self.drives:
            with self.subTest(name):
                whole = self.drives.picture(name)
                shown = facts.furthest_out()
                per_tooth = 360 / facts.listed[shown]["teeth"] / facts.shafts[shown]["turns_per_crank"]
                teeth = facts.after(0, shown)["error_crank_deg"] / per_tooth
                nearest = round(2 * teeth) / 2
                frames = whole.groups("this-drive")
                if abs(nearest) > 1:
                    self.assertEqual(frames, [])
                    continue
                ((frame,),) = [g.paths() for g in frames]
                framed = [g.title for g in whole.groups("mark-case")
                          if all(min(p.real for p in frame.points) < z.real < max(p.real for p in frame.points) and
                                 min(p.imag for p in frame.points) < z.imag < max(p.imag for p in frame.points)
                                 for path in g.paths() for z in path.points)]
                wanted = {0: "right", 0.5: "half a tooth early", -0.5: "half a tooth late", 1: "one tooth early",
                          -1: "one tooth late"}[nearest]
                met.add(wanted)
                self.assertEqual(framed, [wanted])
        self.assertGreaterEqual(len(met), 2)

    def test_the_numbers_of_a_tooth_out_are_the_marks_own(self):
        for name, facts in self.drives:
            with self.subTest(name):
                words = " ".join(self.drives.picture(name).words())
                shown = facts.furthest_out()
                row = next(p for p in facts.marks["pulleys"] if p["name"] == shown)
                per_turn = facts.shafts[shown]["turns_per_crank"]
                own = 360 / facts.listed[shown]["teeth"]
                for share in (0.5, 1):
                    self.assertIn(f"{share * own:.2f} deg of its own", words)
                    self.assertIn(f"{share * own / per_turn:.2f} crank deg", words)
                self.near(row["tooth_own_deg"], own, 1e-9)

    def test_the_change_is_drawn_as_many_times_too_large_as_it_says(self):
        met = 0
        for name, facts in self.drives:
            with self.subTest(name):
                whole = self.drives.picture(name)
                if not whole.groups("before"):
                    continue
                met += 1
                text, options = self.drives.texts[name]
                book = Facts(self.command, text, *options, "--by-the-book")
                before, after = (whole.group(kind).circles() for kind in ("before", "after"))
                times = next(int(m[1]) for m in map(TOO_LARGE.search, whole.words()) if m)
                books = [wheel.centre for wheel in book.belt.wheels]
                far = max(range(len(books)), key=lambda k: abs(books[k] - books[0]))
                turned = (before[far][0] - before[0][0]) / (books[far] - books[0])
                all_alike = not any("the tensioner as it is" in w for w in whole.words())
                for k, wheel in enumerate(facts.belt.wheels):
                    larger = times if all_alike or wheel.name != facts.moving() else 1
                    wanted = turned * larger * (wheel.centre - books[k])
                    self.near(after[k][0] - before[k][0], wanted, 2 * PLACE_MM + 1e-4 * abs(wanted), wheel.name)
        self.assertGreaterEqual(met, 4)


if __name__ == "__main__":
    main("__main__")
