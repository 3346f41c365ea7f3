"""The drives that the pictures are tested with, and how a test asks for each."""

import os
import sys
import unittest

from drive_facts import PROFILES, Command, Facts, Placed
from picture import ROUNDED_MM
from random_drives import drives

# A place read back, through a placing that comes from two more of them: all three are rounded.
PLACE_MM = 5 * ROUNDED_MM
ODD_DEG = 137.3
NO_PLACES = {"roadside-counts"}
RANDOM_DRIVES = int(os.environ.get("TWOTURN_RANDOM_DRIVES", "16"))


class Drives:
    """Every demo with places, some of them changed, and random drives; each asked for once."""

    def __init__(self, command):
        self.command = command
        self.texts = {path.stem: (path.read_text(encoding="utf-8"), ()) for path in PROFILES
                      if path.stem not in NO_PLACES}
        for name in ("harbour-launch", "valley-rescue-v6"):
            text = self.texts[name][0]
            self.texts[name + " the other way round"] = (
                text.replace('crank_turns = "clockwise"', 'crank_turns = "anticlockwise"'), ())
            self.texts[name + " leaning"] = (text, ("--set", "lean_deg=33.5"))
            self.texts[name + " by the book"] = (text, ("--by-the-book",))
        self.texts["mark on a tooth"] = (
            self.texts["harbour-launch"][0].replace("mark_deg = 184", 'mark_deg = 184\nmark_on = "tooth"'), ())
        self.texts["wrong pulley"] = (self.texts["night-bakery-van"][0].replace("teeth = 42", "teeth = 41", 1), ())
        for number, (_, text) in enumerate(drives(self.command.path, RANDOM_DRIVES)):
            self.texts[f"random {number}"] = (text, ())
        self.kept = {}

    def __iter__(self):
        for name in self.texts:
            yield name, self.facts(name)

    def facts(self, name):
        if ("facts", name) not in self.kept:
            text, options = self.texts[name]
            facts = Facts(self.command, text, *options)
            if options[:1] == ("--set",):
                facts.lean_deg = float(options[1].split("=")[1])
            self.kept["facts", name] = facts
        return self.kept["facts", name]

    def picture(self, name, crank_deg=0):
        key = (name, crank_deg)
        if key not in self.kept:
            text, options = self.texts[name]
            self.kept[key] = self.command.pictures(text, *options, "--crank", crank_deg)[0]
        return self.kept[key]

    def view(self, name, crank_deg=0):
        return self.picture(name, crank_deg).group("view")


class DriveCase(unittest.TestCase):
    """Tests that look at every drive."""

    command = None

    @classmethod
    def setUpClass(cls):
        cls.drives = Drives.shared = getattr(Drives, "shared", None) or Drives(cls.command)

    def each(self, *cranks):
        for name, facts in self.drives:
            for crank in cranks or (0,):
                view = self.drives.view(name, crank)
                yield f"{name}, crank {crank}", facts, view, Placed(facts, view), crank

    def near(self, got, wanted, off=PLACE_MM, what=""):
        self.assertLessEqual(abs(got - wanted), off, f"{what}: {got} is not {wanted}")


def main(module):
    DriveCase.command = Command(sys.argv.pop(1))
    unittest.main(module)
