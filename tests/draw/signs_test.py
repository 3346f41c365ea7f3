#!/usr/bin/env python3
"""The signs of the belt end: mark, place where it belongs, pin and paint never lie on one another,
at rest and turned; a mark that is out has an arrow to where it belongs; strokes have the widths of
ISO 128; the numbers are the order in which the belt goes on.

    signs_test.py TWOTURN
"""

import cmath
import math

from cases import ODD_DEG, DriveCase, main
from picture import styles

# ISO 128-20: each width the root of two times the one before, rounded as printed there (from memory).
ISO_128_MM = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}
HAIR_MM = 0.02
SEEN_MM = 1.0


def outline(group):
    """Corners round a sign: of a triangle its own, of a ring many."""
    points = []
    for middle, radius, _, _ in group.circles():
        points += [middle + cmath.rect(radius, 2 * math.pi * k / 24) for k in range(24)]
    if not points:
        points = group.paths()[0].points[:3]
    return points


def parted(one, two):
    """Whether a line parts two convex outlines, by a hair at least."""
    for a, b in ((one, two), (two, one)):
        for k, point in enumerate(a):
            side = a[(k + 1) % len(a)] - point
            if abs(side) == 0:
                continue
            normal = side * 1j / abs(side)
            across = [(z / normal).real for z in a]
            others = [(z / normal).real for z in b]
            if max(across) <= min(others) + HAIR_MM or max(others) <= min(across) + HAIR_MM:
                return True
    return False


class Signs(DriveCase):
    def test_no_sign_lies_on_another(self):
        met = 0
        for case, _, view, _, _ in self.each(0, ODD_DEG, 360, 720):
            with self.subTest(case):
                signs = [(f"{kind} {g.title}", outline(g)) for kind in ("mark", "belongs", "pin", "paint")
                         for g in view.groups(kind)]
                for k, (one, here) in enumerate(signs):
                    for two, there in signs[k + 1:]:
                        met += 1
                        self.assertTrue(parted(here, there), f"{one} lies on {two}")
        self.assertGreater(met, 500)

    def test_a_mark_that_is_out_has_an_arrow_to_where_it_belongs(self):
        met = set()
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                tips = {g.title.removeprefix("mark of "): g for g in view.groups("mark")}
                ends = {g.title.removeprefix("where the mark of ").removesuffix(" belongs"): g
                        for g in view.groups("belongs")}
                arrows = [next(p for p in g.paths() if p.classes == ["line", "outline"]).points
                          for g in view.groups("way-back")]
                for name, end in ends.items():
                    tip, place = tips[name].paths()[0].points[0], end.paths()[0].points[0]
                    mine = [a for a in arrows if abs(a[0] - tip) < SEEN_MM and abs(a[-1] - place) < SEEN_MM]
                    centre = placed.middles[name]
                    out = abs(cmath.phase((tip - centre) / (place - centre))) * abs(place - centre)
                    if out > SEEN_MM:
                        self.assertEqual(len(mine), 1, name)
                    met.add(out > SEEN_MM)
        self.assertEqual(met, {True, False})

    def test_strokes_have_the_widths_of_the_standard(self):
        for name, _ in self.drives:
            with self.subTest(name):
                for pen, style in styles(self.drives.picture(name)).items():
                    if "stroke-width" in style and pen != "cleared":
                        self.assertIn(float(style["stroke-width"]), ISO_128_MM, pen)

    def test_numbers_are_the_order_in_which_the_belt_goes_on(self):
        on_its_pulley = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                # Tight side first: from the crank against the belt's travel.
                order = [facts.names[0], *reversed(facts.names[1:])]
                words = [(int(text), at) for text, at, _ in view.group("labels").texts() if text.isdigit()]
                ringed = {}
                for middle, radius, _, _ in view.group("labels").circles():
                    ringed.update((number, middle) for number, at in words if abs(at - middle) < radius)
                self.assertEqual(sorted(ringed), list(range(1, len(order) + 1)))
                for number, middle in ringed.items():
                    for name, wheel in zip(facts.names, facts.belt.wheels):
                        # One that stands on no pulley has a line to its own: tests/browser/names_test.
                        if abs(middle - placed.middles[name]) < 0.8 * wheel.radius * placed.scale:
                            self.assertEqual(order[number - 1], name)
                            on_its_pulley += 1
        self.assertGreater(on_its_pulley, 30)


if __name__ == "__main__":
    main("__main__")
