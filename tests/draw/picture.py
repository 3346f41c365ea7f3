"""Reads a picture back from its SVG: groups by class, and in each its lines, outlines, circles and
texts as numbers. Places are complex, mm on paper with y up from the foot of the page."""

import cmath
import math
import re
import xml.etree.ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"
ROUNDED_MM = 0.0005  # places are written to a thousandth


class Path:
    """One `d`: its corners, its arcs and whether it closes."""

    def __init__(self, element, height):
        self.classes = element.get("class", "").split()
        self.fill = element.get("fill")
        self.points, self.arcs = [], []
        words = re.findall(r"[A-Za-z]|-?[\d.]+(?:e-?\d+)?", element.get("d"))
        self.closed = words[-1] == "Z"
        at, command = 0, ""
        while at < len(words):
            if words[at].isalpha():
                command = words[at]
                at += 1
                continue
            count = 7 if command == "A" else 2
            numbers = [float(word) for word in words[at : at + count]]
            at += count
            here = complex(numbers[-2], height - numbers[-1])
            if command == "A":
                # Sweep 1 is clockwise on paper.
                self.arcs.append((numbers[0], -1 if numbers[4] else 1, self.points[-1], here))
            self.points.append(here)


class Group:
    """A <g>, or the whole picture."""

    def __init__(self, element, height):
        self.element, self.height = element, height
        self.kind = element.get("class", "")
        title = element.find(SVG + "title")
        self.title = "" if title is None else title.text
        self.middle = None
        if element.get("data-x"):
            self.middle = complex(float(element.get("data-x")), height - float(element.get("data-y")))

    def groups(self, kind):
        found = (g for g in self.element.iter(SVG + "g") if g is not self.element)
        return [Group(g, self.height) for g in found if g.get("class") == kind]

    def group(self, kind, title=None):
        found = [g for g in self.groups(kind) if title is None or g.title == title]
        assert len(found) == 1, f"{len(found)} groups of {kind} {title or ''}"
        return found[0]

    def paths(self):
        """Its own, not those of groups inside."""
        return [Path(p, self.height) for p in self.element.findall(SVG + "path")]

    def circles(self):
        return [(complex(float(c.get("cx")), self.height - float(c.get("cy"))), float(c.get("r")),
                 c.get("fill"), c.get("class", "").split())
                for c in self.element.findall(SVG + "circle")]

    def arrows(self):
        """(line, tip, direction) of every line that ends in a head; the head follows its line."""
        paths, found = self.paths(), []
        for line, head in zip(paths, paths[1:]):
            if not line.classes or head.classes or not head.closed or len(head.points) != 3:
                continue
            tip, one, other = head.points
            ahead = tip - (one + other) / 2
            found.append((line, tip, ahead / abs(ahead)))
        return found

    def words(self):
        return ["".join(t.itertext()) for t in self.element.iter(SVG + "text")]

    def texts(self):
        """(words, place, turned) with the place where the text is anchored."""
        found = []
        for text in self.element.iter(SVG + "text"):
            moved = re.match(r"translate\(([-\d.]+) ([-\d.]+)\) rotate\(([-\d.]+)\)",
                             text.get("transform", ""))
            if moved:
                x, y, turned = map(float, moved.groups())
            else:
                x, y, turned = float(text.get("x")), float(text.get("y")), 0.0
            found.append(("".join(text.itertext()), complex(x, self.height - y), turned))
        return found


def pictures(text):
    """Every SVG of a file's text, in order."""
    found = []
    for part in re.findall(r"<svg .*?</svg>", text, re.DOTALL):
        root = ET.fromstring(part)
        box = [float(word) for word in root.get("viewBox").split()]
        whole = Group(root, box[3])
        whole.width, whole.box, whole.root = box[2], box, root
        found.append(whole)
    return found


def styles(whole):
    """{class: {property: value}} of a picture."""
    css = whole.root.find(SVG + "style").text
    return {name: dict(re.findall(r"([\w-]+): ([^;]+?)\s*(?:;|$)", body))
            for name, body in re.findall(r"\.([\w-]+) \{ (.*?) \}", css)}


def turn(angle_from, angle_to):
    """Radians from one to the other, anticlockwise, in (-pi, pi]."""
    return cmath.phase(cmath.rect(1, angle_to - angle_from))


def on_clock(deg):
    """A clock angle as radians anticlockwise from 3 o'clock."""
    return math.pi / 2 - math.radians(deg)
