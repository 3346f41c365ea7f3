#!/usr/bin/env python3
"""Pages that are true to size: the drive over several sheets, the degree wheel, the belt strip; each
read back and held against the drive worked out anew.

    pages_test.py TWOTURN
"""

import cmath
import math
import re

from cases import PLACE_MM, DriveCase, main

from picture import ROUNDED_MM, turn

A4 = (210.0, 297.0)
# The frame of a page lies this far inside the paper, and neighbouring frames overlap.
WHITE_MM, OVERLAP_MM = 10.0, 10.0
SIGN = {"clockwise": -1, "anticlockwise": 1}


def crosses(group):
    """Where the two lines of each cross meet."""
    paths = [p for p in group.paths() if len(p.points) == 2]
    return [(one.points[0] + one.points[1]) / 2 for one in paths[::2]]


class TrueSize(DriveCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.sheets = {}
        for name in cls.drives.texts:
            text, options = cls.drives.texts[name]
            pages = cls.command.pictures(text, *options, "--true-size")
            cls.sheets[name] = [(page, *cls.place_of(page, len(pages))) for page in pages]

    @classmethod
    def place_of(cls, page, count):
        """(number, where the page's lower left corner lies on the whole sheet), from its map."""
        page_map = page.group("page-map")
        cells = [p for p in page_map.paths() if p.classes]
        assert len(cells) >= count, "the map has a cell a page"
        corners = [min(p.points, key=lambda z: (z.real, z.imag)) for p in cells]
        columns = sorted({round(z.real, 3) for z in corners})
        rows = sorted({round(z.imag, 3) for z in corners}, reverse=True)
        dark = [k for k, p in enumerate(cells) if p.fill == "#000"]
        assert len(dark) == 1, "one cell is dark"
        column, row = columns.index(round(corners[dark[0]].real, 3)), rows.index(round(corners[dark[0]].imag, 3))
        # Pages that would show nothing are not printed: numbers run on over them.
        (number,) = [int(found[1]) for words in page_map.words()
                     if (found := re.fullmatch(rf"page (\d+) of {count}", words))]
        step = complex(A4[0] - 2 * WHITE_MM - OVERLAP_MM, A4[1] - 2 * WHITE_MM - OVERLAP_MM)
        return number, complex(column * step.real, -row * step.imag)

    def each_sheet(self):
        for name, facts in self.drives:
            yield name, facts, self.sheets[name]

    def test_every_page_is_a4_at_full_size_and_comes_once(self):
        for name, _, pages in self.each_sheet():
            with self.subTest(name):
                for page, _, _ in pages:
                    self.assertEqual(page.box, [0, 0, *A4])
                    self.assertEqual((page.root.get("width"), page.root.get("height")), ("210mm", "297mm"))
                numbers = [number for _, number, _ in pages]
                self.assertEqual(numbers, list(range(1, len(pages) + 1)))
                corners = [corner for _, _, corner in pages]
                read = sorted(corners, key=lambda corner: (-corner.imag, corner.real))
                self.assertEqual(corners, read, "in the order of reading")

    def test_pulleys_are_at_full_size_over_all_pages(self):
        for name, facts, pages in self.each_sheet():
            with self.subTest(name):
                seen = {}
                for page, _, corner in pages:
                    for pulley in page.groups("pulley"):
                        seen.setdefault(pulley.title, []).append(pulley.middle + corner)
                self.assertEqual(sorted(seen), sorted(facts.names))
                crank = facts.belt.wheels[0]
                turned = cmath.rect(1, math.radians(-facts.lean_deg))
                for wheel in facts.belt.wheels:
                    for place in seen[wheel.name]:
                        wanted = seen[crank.name][0] + turned * (wheel.centre - crank.centre)
                        self.near(place, wanted, 2 * PLACE_MM, wheel.name)

    def test_belt_teeth_lie_at_their_places_and_each_in_some_frame(self):
        for name, facts, pages in self.each_sheet():
            with self.subTest(name):
                turned = cmath.rect(1, math.radians(-facts.lean_deg))
                first = next((g.middle + corner for page, _, corner in pages for g in page.groups("pulley")
                              if g.title == facts.names[0]))
                framed = []
                for page, _, corner in pages:
                    for path in (p for g in page.groups("belt-teeth") for p in g.paths()):
                        base = (path.points[0] + path.points[3]) / 2
                        engine = facts.belt.wheels[0].centre + (base + corner - first) / turned
                        self.assertLessEqual(facts.belt.off_and_along(engine)[0], 2 * PLACE_MM)
                        if WHITE_MM <= base.real <= A4[0] - WHITE_MM and WHITE_MM <= base.imag <= A4[1] - WHITE_MM:
                            framed.append(base + corner)
                apart = []
                for place in framed:
                    if all(abs(place - other) > facts.pitch / 2 for other in apart):
                        apart.append(place)
                self.assertEqual(len(apart), facts.teeth)

    def test_crosses_of_neighbours_coincide_in_the_middle_of_the_overlap(self):
        for name, _, pages in self.each_sheet():
            with self.subTest(name):
                corners = [corner for _, _, corner in pages]
                for page, number, corner in pages:
                    own = crosses(page.group("crosses"))
                    for other, _, there in pages:
                        apart = there - corner
                        beside = apart.imag == 0 and 0 < apart.real < A4[0]
                        below = apart.real == 0 and -A4[1] < apart.imag < 0
                        if not (beside or below):
                            continue
                        others = [z + apart for z in crosses(other.group("crosses"))]
                        shared = [z for z in own if any(abs(z - w) <= PLACE_MM for w in others)]
                        self.assertGreaterEqual(len(shared), 2, f"pages {number} and its neighbour")
                        edge = A4[0] - WHITE_MM if beside else WHITE_MM
                        for z in shared:
                            inside = abs(edge - (z.real if beside else z.imag))
                            self.near(inside, OVERLAP_MM / 2, PLACE_MM, "in the middle of the overlap")
                self.assertEqual(len(set(corners)), len(corners))

    def test_the_bar_is_100_mm(self):
        for name, _, pages in self.each_sheet():
            with self.subTest(name):
                for page, _, _ in pages:
                    (bar,) = [p for p in page.group("check-bar").paths() if "outline" in p.classes]
                    self.near(abs(bar.points[1] - bar.points[0]), 100, 2 * ROUNDED_MM)
                    for z in bar.points:
                        self.assertTrue(WHITE_MM <= z.real <= A4[0] - WHITE_MM and z.imag >= WHITE_MM)

    def test_every_name_is_on_some_page(self):
        for name, facts, pages in self.each_sheet():
            with self.subTest(name):
                for pulley in facts.names:
                    whole = [number for page, number, _ in pages
                             if pulley.replace(" ", "") in "".join(page.words()).replace(" ", "")]
                    self.assertTrue(whole, pulley)

    def test_smooth_pulleys_and_contacts_have_their_own_size(self):
        for name, facts, pages in self.each_sheet():
            with self.subTest(name):
                for page, _, _ in pages:
                    for group in page.groups("pulley"):
                        listed = facts.listed[group.title]
                        if "diameter_mm" in listed:
                            radii = [circle[1] for circle in group.circles()]
                            self.assertTrue(any(abs(r - listed["diameter_mm"] / 2) <= 2 * ROUNDED_MM for r in radii))


class DegreeWheel(DriveCase):
    def wheel(self, way):
        text = self.drives.texts["cam-bench"][0].replace('crank_turns = "clockwise"', f'crank_turns = "{way}"')
        (page,) = self.command.pictures(text, "--degree-wheel")
        return page

    def test_a_fixed_pointer_counts_up_as_the_crank_turns(self):
        for way, sign in SIGN.items():
            with self.subTest(way):
                group = self.wheel(way).group("degree-wheel")
                figures = {int(words): place for words, place, _ in group.texts()}
                self.assertEqual(sorted(figures), list(range(0, 360, 10)))
                pointer = cmath.phase(figures[0] - group.middle)
                for crank in range(0, 1440, 10):
                    # What of the wheel has come under the pointer once it has turned so far.
                    under = pointer - sign * math.radians(crank)
                    read = min(figures, key=lambda deg: abs(turn(cmath.phase(figures[deg] - group.middle), under)))
                    self.assertEqual(read, crank % 360)
                    off = abs(turn(cmath.phase(figures[read] - group.middle), under))
                    self.assertLess(math.degrees(off), 0.05)

    def test_every_degree_has_its_line_and_the_tens_are_longest(self):
        for way in SIGN:
            with self.subTest(way):
                group = self.wheel(way).group("degree-wheel")
                lengths = {}
                for path in group.paths():
                    one, two = (point - group.middle for point in path.points)
                    if min(abs(one), abs(two)) < 40:
                        continue  # the cross in the middle
                    self.near(turn(cmath.phase(one), cmath.phase(two)), 0, 1e-3)
                    deg = math.degrees(cmath.phase(two)) % 360
                    self.near(math.remainder(deg, 1), 0, 0.002, "degrees")
                    lengths[round(deg) % 360] = abs(two - one)
                self.assertEqual(sorted(lengths), list(range(360)))
                for deg in range(360):
                    for less in (9, 5, 1):
                        if deg % 10 == 0 and less != 9 or deg % 5 == 0 and less == 1:
                            near = lengths[(deg + 1) % 360]
                            self.assertGreater(lengths[deg], near)
                self.assertGreater(lengths[0], lengths[5])

    def test_figures_stand_at_their_own_lines_and_read_from_outside(self):
        for way in SIGN:
            with self.subTest(way):
                group = self.wheel(way).group("degree-wheel")
                for words, place, turned in group.texts():
                    out = math.degrees(cmath.phase(place - group.middle))
                    self.near(math.remainder(out, 10), 0, 0.02)
                    # Upright where it stands at 12 o'clock; SVG turns clockwise.
                    self.near(math.remainder(90 - out - turned, 360), 0, 0.02, words)

    def test_the_way_it_is_for_is_told(self):
        for way in SIGN:
            with self.subTest(way):
                self.assertIn(f"Degree wheel for a crank that turns {way}", self.wheel(way).words())


class Strip(DriveCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.strips = {name: cls.command.pictures(text, *options, "--belt-strip")
                      for name, (text, options) in cls.drives.texts.items()}

    def strips_of(self, name):
        """[(group, first, last)]"""
        found = []
        for page in self.strips[name]:
            for group in page.groups("strip"):
                first, last = map(int, re.fullmatch(r"teeth (\d+) to (\d+)", group.title).groups())
                found.append((group, first, last))
        return found

    def teeth_of(self, group):
        """Middles of its teeth, left to right."""
        outlines = [p for p in group.paths() if len(p.points) == 4]
        return [(p.points[0] + p.points[3]) / 2 for p in outlines]

    def test_teeth_lie_at_true_pitch(self):
        for name, facts in self.drives:
            with self.subTest(name):
                for group, first, last in self.strips_of(name):
                    teeth = self.teeth_of(group)
                    self.assertEqual(len(teeth), last - first + 1)
                    for k, place in enumerate(teeth):
                        self.near(place - teeth[0], k * facts.pitch, 3 * ROUNDED_MM)

    def test_strips_go_on_where_the_last_one_ended_and_make_the_whole_belt(self):
        for name, facts in self.drives:
            with self.subTest(name):
                at = 0
                for _, first, last in self.strips_of(name):
                    self.assertEqual(first, at)
                    at = last
                self.assertEqual(at, facts.teeth)

    def test_the_numbers_are_over_their_teeth(self):
        for name, facts in self.drives:
            with self.subTest(name):
                met = set()
                for group, first, _ in self.strips_of(name):
                    teeth = self.teeth_of(group)
                    for words, place, _ in group.texts():
                        if not words.isdigit():
                            continue
                        number = int(words)
                        met.add(number)
                        k = min(range(len(teeth)), key=lambda t: abs(teeth[t].real - place.real))
                        self.near(teeth[k].real, place.real, 2 * ROUNDED_MM)
                        self.assertEqual(number, (first + k) % facts.teeth)
                self.assertTrue(set(range(0, facts.teeth, 10)) <= met, "every tenth at least")

    def marks_of(self, name, facts):
        """{pulley: teeth from tooth 0} of the triangles, each with the words nearest to it."""
        found = {}
        for group, first, last in self.strips_of(name):
            teeth = self.teeth_of(group)
            named = [(w[len("mark of "):], z) for w, z, _ in group.texts() if w.startswith("mark of ")]
            triangles = [p.points[0] for p in group.paths() if len(p.points) == 3 and p.fill == "#000"]
            self.assertEqual(len(triangles), len(named))
            for tip, (words, _) in zip(triangles, named):
                self.assertNotIn(words, found)
                found[words] = first + (tip - teeth[0]).real / facts.pitch
        return found

    def test_marks_stand_where_the_teeth_between_them_say(self):
        for name, facts in self.drives:
            with self.subTest(name):
                rows = [r for r in facts.turns["between_marks"] if r["from_in_mesh"] and r["to_in_mesh"]]
                drawn = self.marks_of(name, facts)
                marked = {r[end] for r in rows for end in ("from", "to")}
                self.assertEqual(set(drawn), marked)
                for row in rows:
                    apart = (drawn[row["to"]] - drawn[row["from"]]) % facts.teeth
                    off = min(abs(math.remainder(apart - teeth, facts.teeth))
                              for teeth in (row["teeth"], row["other_way_teeth"]))
                    self.assertLess(off, 0.001, f"{row['from']} to {row['to']}: {apart}")

    def test_marks_stand_along_the_travel_as_the_belts_way_has_them(self):
        for name, facts in self.drives:
            with self.subTest(name):
                drawn = self.marks_of(name, facts)
                belt, names = facts.belt, facts.names
                slack = facts.teeth * facts.pitch - belt.length

                def along(pulley):
                    i = names.index(pulley)
                    angle = math.pi / 2 - math.radians(facts.listed[pulley]["mark_deg"])
                    return belt.along_at(i, angle) + (slack if i > 0 else 0)

                for pulley, teeth in drawn.items():
                    wanted = (along(pulley) - along(names[0])) / facts.pitch
                    apart = teeth - drawn[names[0]]
                    self.near(math.remainder(apart - wanted, facts.teeth), 0, 0.002, pulley)

    def test_a_mark_lies_on_the_strip_over_the_same_tooth_as_in_the_picture(self):
        met = 0
        for case, facts, view, placed, _ in self.each():
            with self.subTest(case):
                name = case.split(", crank")[0]
                drawn = self.marks_of(name, facts)
                first = view.group("belt-teeth").paths()[0]
                tooth = facts.belt.off_and_along(placed.back((first.points[0] + first.points[3]) / 2))[2]
                crank = facts.names[0]
                if crank not in drawn:
                    continue
                met += 1
                angle = math.pi / 2 - math.radians(facts.listed[crank]["mark_deg"])
                wanted = math.remainder(facts.belt.along_at(0, angle) - tooth, facts.teeth * facts.pitch)
                self.near(drawn[crank] * facts.pitch, wanted, 0.02, "the crank's mark, mm from tooth 0")
        self.assertGreater(met, 8)

    def test_the_bar_is_100_mm(self):
        for name, _ in self.drives:
            with self.subTest(name):
                for page in self.strips[name]:
                    (bar,) = [p for p in page.group("check-bar").paths() if "outline" in p.classes]
                    self.near(abs(bar.points[1] - bar.points[0]), 100, 2 * ROUNDED_MM)


if __name__ == "__main__":
    main("__main__")
