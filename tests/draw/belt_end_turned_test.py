#!/usr/bin/env python3
"""What turns in the picture of the belt end: marks, pins, the teeth of belt and pulleys, at rest and
at other crank angles, against two turns by hand and arithmetic.

    belt_end_turned_test.py TWOTURN
"""

import cmath
import math

from cases import ODD_DEG, PLACE_MM, DriveCase, main
from drive_facts import Facts, Placed
from picture import turn


def tip_angle(group):
    """Where a mark's triangle points from its pulley's centre, and how far out its tip is."""
    out = group.paths()[0].points[0] - group.middle
    return cmath.phase(out), abs(out)


class Marks(DriveCase):
    def drawn_marks(self, view):
        return {group.title: group for group in view.groups("mark")}

    def test_marks_stand_where_two_turns_leave_them(self):
        for case, facts, view, placed, crank in self.each(0, 360, 720):
            with self.subTest(case):
                drawn = self.drawn_marks(view)
                met = 0
                for row in facts.turns["after_turns"]:
                    if row["turns"] * 360 != crank or row["mark_deg"] is None:
                        continue
                    group = drawn.get("mark of " + row["shaft"])
                    if row["shaft"] not in facts.names:
                        self.assertIsNone(group, "geared shafts are not at the belt end")
                        continue
                    met += 1
                    angle, radius = tip_angle(group)
                    self.near(turn(angle, placed.angle(row["mark_deg"])), 0, PLACE_MM / radius, row["shaft"])
                self.assertGreaterEqual(met, 2)

    def test_marks_turn_by_their_teeth(self):
        for case, facts, view, placed, crank in self.each(ODD_DEG, -90, 1000.5):
            with self.subTest(case):
                drawn = self.drawn_marks(view)
                for name, pulley in facts.listed.items():
                    if "mark_deg" not in pulley or not pulley.get("teeth"):
                        continue
                    row = [r for r in facts.turns["after_turns"] if r["turns"] == 0 and r["shaft"] == name]
                    start = row[0]["mark_deg"] if row else pulley["mark_deg"]
                    angle, radius = tip_angle(drawn["mark of " + name])
                    wanted = placed.angle(start) + math.radians(facts.own_turn_deg(name, crank))
                    self.near(turn(angle, wanted), 0, PLACE_MM / radius, name)

    def test_open_triangles_stand_where_marks_belong(self):
        for case, facts, view, placed, crank in self.each(0, 360, 720, ODD_DEG):
            with self.subTest(case):
                drawn = {group.title: group for group in view.groups("belongs")}
                for name in filter(facts.timed, facts.names):
                    if "mark_deg" not in facts.listed[name]:
                        continue
                    group = drawn[f"where the mark of {name} belongs"]
                    out = group.paths()[0].points[0] - placed.middles[name]
                    own = facts.shafts[name]["turns_per_crank"] * crank
                    wanted = placed.angle(facts.listed[name]["mark_deg"]) + facts.sense * math.radians(own)
                    self.near(turn(cmath.phase(out), wanted), 0, PLACE_MM / abs(out), name)

    def test_the_mark_is_ink_and_where_it_belongs_is_paper(self):
        for case, _, view, _, _ in self.each():
            with self.subTest(case):
                for kind, fill in (("mark", "#000"), ("belongs", "#fff")):
                    for group in view.groups(kind):
                        self.assertEqual(group.paths()[0].fill, fill)

    def test_further_marks_are_drawn_at_their_own_radius(self):
        text = self.drives.texts["hill-climb-saloon"][0].replace(
            'pin = { radius_mm = 55, play_mm = 0.1 }',
            'pin = { radius_mm = 55, play_mm = 0.1 }\n[[pulley.mark]]\nname = "damper"\nat_deg = 75\nradius_mm = 70', 1)
        facts = Facts(self.command, text)
        for crank in (0, ODD_DEG):
            view = self.command.pictures(text, "--crank", crank)[0].group("view")
            placed = Placed(facts, view)
            angle, radius = tip_angle(self.drawn_marks(view)["damper"])
            self.near(radius, 70 * placed.scale)
            wanted = placed.angle(75) + math.radians(facts.sense * crank)
            self.near(turn(angle, wanted), 0, PLACE_MM / radius)

    def test_pins_are_in_tight_or_out_as_two_turns_find_them(self):
        met = set()
        for case, facts, view, placed, crank in self.each(0, 720, ODD_DEG):
            with self.subTest(case):
                for group in view.groups("pin"):
                    name = group.title.split(" of ", 1)[1]
                    ((hole, _, fill, _),) = group.circles()
                    bars = len(group.paths())
                    state = facts.after(crank / 360, name)["pin"] if crank % 720 == 0 else "not due"
                    met.add(state)
                    self.assertEqual((fill == "#000", bars),
                                     {"in": (True, 0), "tight": (False, 1), "out": (False, 2), "not due": (False, 0)}[state],
                                     f"{name}: {state}")
                    pin = facts.listed[name]["pin"]
                    if "radius_mm" in pin:
                        self.near(abs(hole - placed.middles[name]), pin["radius_mm"] * placed.scale)
        self.assertEqual(met, {"in", "tight", "out", "not due"})


def tooth_of(path):
    """(place on the pitch line, direction of the tooth) of a belt tooth's outline."""
    base = (path.points[0] + path.points[3]) / 2
    tip = (path.points[1] + path.points[2]) / 2
    return base, (tip - base) / abs(tip - base)


def grooves_of(group):
    """(angles of the grooves' middles, outside radius, floor radius) of a toothed pulley."""
    path = next(p for p in group.paths() if "tooth" in p.classes)
    out = [point - group.middle for point in path.points]
    radii = [abs(o) for o in out]
    between = (max(radii) + min(radii)) / 2
    floors = [k for k, r in enumerate(radii) if r < between]
    pairs = list(zip(floors[::2], floors[1::2]))
    assert all(b == a + 1 for a, b in pairs) and len(floors) == len(out) / 2
    return [cmath.phase(out[a] + out[b]) for a, b in pairs], max(radii), min(radii)


class Teeth(DriveCase):
    def teeth(self, view):
        return [tooth_of(path) for path in view.group("belt-teeth").paths()]

    def slack_mm(self, facts):
        """By how much the belt is longer than its way; on fixed centres it lies on the slack side."""
        return facts.teeth * facts.pitch - facts.belt.length

    def belt_mm(self, facts, along):
        """From mm along the way to mm of belt."""
        _, _, begun, length = facts.belt.pieces[1]
        longer = self.slack_mm(facts)
        return along + longer * min(max((along - begun) / length, 0), 1)

    def test_the_belt_has_its_teeth_on_its_pitch_line(self):
        for case, facts, view, placed, _ in self.each(0, ODD_DEG):
            with self.subTest(case):
                teeth = self.teeth(view)
                self.assertEqual(len(teeth), facts.marks["belt_teeth"])
                for place, _ in teeth:
                    off = facts.belt.off_and_along(placed.back(place))[0] * placed.scale
                    self.assertLessEqual(off, PLACE_MM)

    def test_neighbouring_teeth_are_a_pitch_apart(self):
        for case, facts, view, placed, _ in self.each(0, ODD_DEG):
            with self.subTest(case):
                seen = [(place, *facts.belt.off_and_along(placed.back(place))) for place, _ in self.teeth(view)]
                straight = bent = 0
                for (one, _, piece, at), (two, _, next_piece, next_at) in zip(seen, seen[1:] + seen[:1]):
                    on = self.belt_mm(facts, next_at) - self.belt_mm(facts, at)
                    on = on % (facts.teeth * facts.pitch)
                    self.near(on * placed.scale, facts.pitch * placed.scale, 2 * PLACE_MM, "along the belt")
                    if piece != next_piece:
                        continue
                    kind, i = piece[:2]
                    if kind == "run" and not (i == 0 and abs(self.slack_mm(facts)) > 1e-3):
                        straight += 1
                        self.near(abs(two - one), facts.pitch * placed.scale, 2 * PLACE_MM, "on a run")
                    if kind == "arc":
                        bent += 1
                        radius = facts.belt.wheels[i].radius
                        chord = 2 * radius * math.sin(facts.pitch / (2 * radius))
                        self.near(abs(two - one), chord * placed.scale, 2 * PLACE_MM, "on a pulley")
                self.assertGreater(straight, 20)
                self.assertGreater(bent, 8)

    def test_teeth_point_into_toothed_pulleys_and_away_from_backs(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                for place, ahead in self.teeth(view):
                    _, piece, at = facts.belt.off_and_along(placed.back(place))
                    kind, i, begun, length = piece
                    if kind == "arc":
                        wheel = facts.belt.wheels[i]
                        inwards = placed.middles[wheel.name] - place
                        inwards *= -1 if wheel.on_back else 1
                        self.assertGreater((ahead / (inwards / abs(inwards))).real, 0.99)
                    else:
                        start, end = facts.belt.runs[i]
                        along = placed.turned * (end - start)
                        # The crank lies on the tooth side, left of the belt where it turns anticlockwise.
                        self.assertGreater(facts.sense * (ahead / (along / abs(along))).imag, 0.99)

    def test_pulleys_have_their_teeth_evenly_and_at_true_pitch(self):
        for case, facts, view, placed, _ in self.each(0, ODD_DEG):
            with self.subTest(case):
                for wheel in facts.belt.wheels:
                    if not wheel.teeth:
                        continue
                    angles, outside, floor = grooves_of(view.group("pulley", wheel.name))
                    self.assertEqual(len(angles), wheel.teeth, wheel.name)
                    for one, two in zip(angles, angles[1:] + angles[:1]):
                        self.near(turn(one, two), 2 * math.pi / wheel.teeth, 2 * PLACE_MM / floor, wheel.name)
                    land = facts.section["land_to_pitch_line_mm"]
                    self.near(outside, (wheel.radius - land) * placed.scale, what=wheel.name)
                    # Of corners, each rounded both ways.
                    self.near(outside - floor, facts.section["tooth_height_mm"] * placed.scale,
                              1.5 * PLACE_MM, wheel.name)

    def test_belt_teeth_sit_in_grooves_where_they_are_in_mesh(self):
        for case, facts, view, placed, crank in self.each(0, ODD_DEG, 777):
            with self.subTest(case):
                in_mesh = dict.fromkeys(facts.names, 0)
                grooves = {w.name: grooves_of(view.group("pulley", w.name)) for w in facts.belt.wheels if w.teeth}
                for place, _ in self.teeth(view):
                    _, (kind, i, _, _), _ = facts.belt.off_and_along(placed.back(place))
                    name = facts.names[i]
                    if kind != "arc" or name not in grooves:
                        continue
                    in_mesh[name] += 1
                    angles, _, floor = grooves[name]
                    seen = cmath.phase(place - placed.middles[name])
                    off = min((turn(angle, seen) for angle in angles), key=abs)
                    radius = facts.belt.wheels[i].radius * placed.scale
                    self.near(off * radius, 0, 2 * PLACE_MM * radius / floor, f"{name} at crank {crank}")
                for i, wheel in enumerate(facts.belt.wheels):
                    if wheel.teeth:
                        exact = facts.belt.wraps[i] * wheel.radius / facts.pitch
                        self.assertIn(in_mesh[wheel.name], (math.floor(exact), math.ceil(exact), math.floor(exact) + 1))

    def test_the_first_tooth_lies_in_the_cranks_groove_nearest_its_mark(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                crank = facts.belt.wheels[0]
                mark = facts.listed[crank.name].get("mark_deg")
                if mark is None:
                    continue
                place, _ = self.teeth(view)[0]
                along = facts.belt.off_and_along(placed.back(place))[2]
                wanted = facts.belt.along_at(0, placed.angle(mark) - cmath.phase(placed.turned))
                off = math.remainder(self.belt_mm(facts, along) - wanted, facts.teeth * facts.pitch)
                self.assertLessEqual(abs(off), facts.pitch / 2 + PLACE_MM / placed.scale)

    def test_each_tooth_travels_with_the_crank(self):
        for case, facts, view, placed, crank in self.each(360, ODD_DEG, -90):
            with self.subTest(case):
                start = next(self.drives.view(n) for n, f in self.drives if f is facts)
                at_rest = Placed(facts, start)
                whole = facts.teeth * facts.pitch
                moved = math.radians(crank) * facts.belt.wheels[0].radius
                for (before, _), (after, _) in list(zip(self.teeth(start), self.teeth(view)))[::7]:
                    one = self.belt_mm(facts, facts.belt.off_and_along(at_rest.back(before))[2])
                    two = self.belt_mm(facts, facts.belt.off_and_along(placed.back(after))[2])
                    off = math.remainder(two - one - moved, whole)
                    self.near(off * placed.scale, 0, 2 * PLACE_MM)

    def test_teeth_between_marks_are_those_told(self):
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                words = " ".join(next(self.drives.picture(n) for n, f in self.drives if f is facts).words())
                for row in facts.turns["between_marks"]:
                    if not (row["from_in_mesh"] and row["to_in_mesh"]):
                        continue
                    for teeth in (row["teeth"], row["other_way_teeth"]):
                        told = f"{teeth:.0f}" if abs(teeth - round(teeth)) <= 0.05 else f"{teeth:.1f}"
                        self.assertRegex(words, rf"(?<![\d.]){told}(?![\d.])")


if __name__ == "__main__":
    main("__main__")
