"""What other commands say of a drive, and the same drive's belt worked out anew from it."""

import cmath
import json
import math
import subprocess
import tomllib
from pathlib import Path

from belt import TIMED, Belt, Wheel
from picture import on_clock, pictures

ROOT = Path(__file__).parents[2]
PROFILES = sorted((ROOT / "profiles").glob("*.toml"))


class Command:
    def __init__(self, path):
        self.path = path

    def run(self, *arguments, text=""):
        return subprocess.run([self.path, *map(str, arguments)], input=text, capture_output=True,
                              text=True, check=False, cwd=ROOT / "profiles")

    def document(self, name, text, *options):
        return json.loads(self.run(name, "-", "--json", *options, text=text).stdout)

    def pictures(self, text, *options):
        ran = self.run("draw", "-", *options, text=text)
        assert ran.returncode in (0, 1), f"exit {ran.returncode}: {ran.stderr}"
        return pictures(ran.stdout)


class Facts:
    """A drive as fitted with its belt on."""

    def __init__(self, command, text, *options):
        self.profile = tomllib.loads(text)
        self.route = command.document("route", text, *options)
        self.turns = command.document("turns", text, *options)
        self.tensioner = command.document("tensioner", text, *options)
        self.marks = command.document("marks", text, *options)
        sections = json.loads(command.run("sections", "--json").stdout)["sections"]
        self.section = next((s for s in sections if s["name"] == self.profile["belt"].get("section")), None)
        self.pitch = self.turns["pitch_mm"]
        self.teeth = self.turns["belt_teeth"]
        self.sense = -1 if self.turns["crank_turns"] == "clockwise" else 1
        self.listed = {pulley["name"]: pulley for pulley in self.profile["pulley"]}
        # Of a profile without coordinates its own command says where the pivot stands.
        for centre in command.document("place", text)["centres"]:
            if centre["pivot"]:
                self.listed[centre["pulley"]]["tensioner"].setdefault("pivot_mm", centre["at_mm"])
        self.lean_deg = float(self.profile.get("lean_deg", 0))
        self.names = [pulley["name"] for pulley in self.route["pulleys"]]
        self.belt = Belt([self.wheel(pulley) for pulley in self.route["pulleys"]])
        self.shafts = {shaft["shaft"]: shaft for shaft in self.turns["shafts"]}

    def wheel(self, pulley):
        centre = complex(*pulley["centre_mm"])
        if pulley["name"] == self.moving() and self.turns["setting"]:
            centre = complex(*self.turns["setting"]["centre_mm"])
        teeth = pulley["teeth"] or 0
        on_back = pulley["face"] == "back"
        radius = teeth * self.pitch / (2 * math.pi) if teeth else pulley["pitch_radius_mm"]
        return Wheel(pulley["name"], centre, radius, -self.sense if on_back else self.sense, teeth, on_back)

    def moving(self):
        return self.tensioner.get("pulley")

    def role(self, name):
        return self.listed[name].get("role")

    def timed(self, name):
        return self.role(name) in TIMED

    def after(self, turns, shaft):
        return next(row for row in self.turns["after_turns"]
                    if row["turns"] == turns and row["shaft"] == shaft)

    def furthest_out(self):
        """The timed pulley, not the crank's, whose mark is furthest out before any turn."""
        return max((n for n in self.names[1:] if self.timed(n)),
                   key=lambda n: abs(self.after(0, n)["error_crank_deg"]))

    def tight_from(self):
        """The wheel at which the way that arrives at the crank begins."""
        return max(i for i, name in enumerate(self.names) if i > 0 and self.timed(name))

    def slack_to(self):
        return min(i for i, name in enumerate(self.names) if i > 0 and self.timed(name))

    def own_turn_deg(self, name, crank_deg):
        """How far a toothed pulley turns by its teeth, anticlockwise."""
        wheel = self.belt.wheels[self.names.index(name)]
        return wheel.sense * crank_deg * self.belt.wheels[0].teeth / wheel.teeth


class Placed:
    """Where the drive lies on a paper: solved from the crank and the pulley farthest from it."""

    def __init__(self, facts, view, scale=None):
        middles = {group.title: group.middle for group in view.groups("pulley")}
        crank = facts.belt.wheels[0]
        far = max(facts.belt.wheels[1:], key=lambda wheel: abs(wheel.centre - crank.centre))
        self.middles = middles
        self.engine, self.paper = crank.centre, middles[crank.name]
        self.turned = (middles[far.name] - self.paper) / (far.centre - crank.centre)
        if scale:
            self.turned *= scale / abs(self.turned)
        self.scale = abs(self.turned)

    def point(self, engine):
        return self.paper + self.turned * (engine - self.engine)

    def back(self, paper):
        return self.engine + (paper - self.paper) / self.turned

    def angle(self, clock_deg):
        """A clock angle of the engine as a direction on paper."""
        return on_clock(clock_deg) + cmath.phase(self.turned)
