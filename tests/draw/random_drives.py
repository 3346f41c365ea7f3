#!/usr/bin/env python3
"""Random drives that really close, as profiles: 2 to 9 pulleys round a star-shaped outline, smooth
ones pressing on the back between toothed ones, names of 40 letters, engines that lean.

    random_drives.py TWOTURN FOLDER COUNT    writes COUNT profiles, the same ones every time
"""

import cmath
import json
import math
import random
import subprocess
import sys
from pathlib import Path

from belt import Belt, Wheel

SECTIONS = {"ZA": (9.525, 4.1, 1.91, 0.686), "H8M": (8.0, 6.0, 3.38, 0.686), "H5M": (5.0, 3.81, 2.08, 0.572)}
LETTERS = 40
ROLES = ["camshaft", "camshaft", "injection pump", "water pump", "oil pump"]


def long_name(text):
    return (text + " of the drive with the long-winded names")[:LETTERS].rstrip().ljust(LETTERS, "s")


class Try:
    """One attempt at a drive: places first, then all of it scaled until a whole tooth count fits."""

    def __init__(self, source):
        self.source = source
        self.section = source.choice(list(SECTIONS))
        self.pitch, self.thick, self.height, self.land = SECTIONS[self.section]
        self.sense = source.choice([-1, 1])
        self.parts = []
        toothed = source.choice([2, 2, 3, 3, 4, 5, 6])
        turns = [2 * math.pi * (k + source.uniform(-0.15, 0.15)) / toothed for k in range(toothed)]
        reach = source.uniform(90, 160) * max(1.0, toothed / 4) * self.pitch / 8
        for k, angle in enumerate(turns):
            teeth = source.choice([19, 20, 22, 24]) if k == 0 else source.choice([20, 23, 36, 40, 44])
            place = cmath.rect(reach * source.uniform(0.8, 1.2), self.sense * angle - math.pi / 2)
            self.add(k, teeth, place)
        self.press_in_rollers(min(source.randint(0, toothed), 9 - toothed))

    def add(self, k, teeth, place):
        role = "crankshaft" if k == 0 else ROLES[(k - 1) % len(ROLES)]
        if role == "camshaft":
            teeth = 2 * self.parts[0]["teeth"]
        radius = teeth * self.pitch / (2 * math.pi)
        self.parts.append({"role": role, "teeth": teeth, "place": place, "radius": radius, "back": False})

    def press_in_rollers(self, count):
        gaps = sorted(self.source.sample(range(len(self.parts)), count), reverse=True)
        for gap in gaps:
            one, two = self.parts[gap], self.parts[(gap + 1) % len(self.parts)]
            middle = one["place"] + (two["place"] - one["place"]) * self.source.uniform(0.4, 0.6)
            diameter = self.source.choice([45, 55, 60]) * self.pitch / 8
            radius = diameter / 2 + self.thick - self.height - self.land
            outwards = (two["place"] - one["place"]) / abs(two["place"] - one["place"]) * -1j * self.sense
            deep = max(one["radius"], two["radius"]) + radius * self.source.uniform(0.1, 0.5)
            self.parts.insert(gap + 1, {"role": "idler", "diameter": diameter, "teeth": 0, "back": True,
                                        "place": middle + outwards * deep, "radius": radius,
                                        "press": -outwards})

    def belt(self, scale):
        base = self.parts[0]["place"]
        wheels = [Wheel("", (p["place"] - base) * scale, p["radius"], -self.sense if p["back"] else self.sense,
                        p["teeth"], p["back"]) for p in self.parts]
        return Belt(wheels)

    def solve(self):
        """Scales the places so that a whole number of teeth goes round. False: no tangents."""
        try:
            self.teeth = round(self.belt(1.0).length / self.pitch)
            low, high = 0.9, 1.1
            for _ in range(80):
                self.scale = (low + high) / 2
                longer = self.belt(self.scale).length > self.teeth * self.pitch
                low, high = (low, self.scale) if longer else (self.scale, high)
        except (ValueError, ZeroDivisionError):
            return False
        return abs(self.belt(self.scale).length - self.teeth * self.pitch) < 0.01

    def profile(self, number):
        source = self.source
        turns = "anticlockwise" if self.sense > 0 else "clockwise"
        lines = [f'title = "Random drive {number}"', f'crank_turns = "{turns}"',
                 f"lean_deg = {source.choice([0, 0, 5, -20, 45])}", "[belt]", f'section = "{self.section}"',
                 f"teeth = {self.teeth}"]
        rollers = [k for k, part in enumerate(self.parts) if part["back"]]
        tensioner = source.choice(rollers) if rollers else None
        belt = self.belt(self.scale)
        short = source.random() < 0.5
        for k, part in enumerate(self.parts):
            place = (part["place"] - self.parts[0]["place"]) * self.scale
            name = f"{part['role']} {k}" if short and k % 2 == 0 else long_name(f"{part['role']} {k}")
            lines += ["[[pulley]]", f'name = "{name}"', f'role = "{part["role"]}"']
            lines += [f"teeth = {part['teeth']}"] if part["teeth"] else [f"diameter_mm = {part['diameter']}"]
            if part["back"]:
                lines.append('face = "back"')
            if part["role"] in ("crankshaft", "camshaft", "injection pump"):
                on_arc = belt.entries[k] + belt.wheels[k].sense * belt.wraps[k] * source.uniform(0.3, 0.7)
                lines.append(f"mark_deg = {(90 - math.degrees(on_arc)) % 360:.0f}")
                lines.append("pin = { radius_mm = 25, play_mm = 0.1 }")
            if k == tensioner:
                arm = part["press"] * 1j
                middle = 90 - math.degrees(cmath.phase(arm))
                pivot = place - 6 * arm
                lines += ["[pulley.tensioner]", f"pivot_mm = [{pivot.real:.3f}, {pivot.imag:.3f}]",
                          "arm_mm = 6", f"slack_deg = {(middle - 60) % 360:.2f}",
                          f"tight_deg = {(middle + 70) % 360:.2f}", 'tightens = "clockwise"']
            else:
                lines.append(f"at_mm = [{place.real:.3f}, {place.imag:.3f}]")
        if source.random() < 0.6:
            out = min(p["place"].real for p in self.parts) - self.parts[0]["place"].real - 130
            lines += ["[[cover]]", f'name = "{source.choice(["inner cover", long_name("outer cover")])}"',
                      f"points_mm = [[{out:.1f}, 0], [{out - 10:.1f}, 200]]"]
        return "\n".join(lines) + "\n"


def goes(command, text):
    """The route is a belt's, and two turns can be followed."""
    for name, key in (("route", "is_belt"), ("turns", "after_turns")):
        ran = subprocess.run([command, name, "-", "--json"], input=text, capture_output=True, text=True, check=False)
        if ran.returncode not in (0, 1) or not json.loads(ran.stdout).get(key):
            return False
    return True


def drives(command, count):
    """[(pulleys, profile)]: every size from 2 to 9 comes up."""
    found, number = [], 0
    sizes = [2 + k % 8 for k in range(count)]
    while sizes:
        number += 1
        assert number < 4000, f"no drive of {sizes[0]} pulleys closes"
        one = Try(random.Random(number))
        if len(one.parts) != sizes[0] or not one.solve():
            continue
        text = one.profile(number)
        if goes(command, text):
            found.append((len(one.parts), text))
            sizes.pop(0)
    return found


if __name__ == "__main__":
    folder = Path(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    for place, (pulleys, profile) in enumerate(drives(sys.argv[1], int(sys.argv[3]))):
        (folder / f"random-{place:02}-of-{pulleys}.toml").write_text(profile, encoding="utf-8")
