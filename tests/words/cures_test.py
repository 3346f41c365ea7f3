#!/usr/bin/env python3
"""One voice: what would put a drive right is said with the same words wherever it is said, and
nothing is advised on that prints as nothing.

    cures_test.py TWOTURN
"""

import json
import re
import sys
import unittest
from pathlib import Path

import said

PROFILES = Path(__file__).parents[2] / "profiles"
EVERYWHERE = [["check"], ["turns"], ["sheet"], ["sheet", "--phone"], ["report"]]
SKIM = ["face", "--along", "0.03", "--skim", "0.000001", "--profile"]  # less than anybody can cut

MOVE = re.compile(
    r"turn the [a-z ]+ \d+ (?:tooth|teeth) (?:on|back) \((?:anti)?clockwise\) with the belt off "
    r"its pulley")
ANY_MOVE = re.compile(r"\d+ (?:tooth|teeth) (?:on|back)\b(?! the pulley)")
REST = re.compile(r"no whole tooth takes out [\d.]+ (?:cam deg|deg of [a-z ]+) \([\d.]+ crank deg\); "
                  r".*?(?:would|pulley|short of it|for an offset key)(?=[.;,]|$)")
NOUGHT = re.compile(
    r"(?:takes out|key of|thicker by|thinner by|takes up|turn it|late by|early by) 0\.0+\b.{,40}"
    r"|\b0\.0+ (?:cam|crank) deg (?:early|late|on|back)\b")


def says(demo, command, settings):
    path = str(PROFILES / f"{demo}.toml")
    options = [option for setting in settings for option in ("--set", setting)]
    ran = said.run(command[0], *command[1:], path, *options)
    return "\n".join(said.sentences(ran.stdout))


class Cures(unittest.TestCase):
    def test_a_move_is_told_with_one_sentence_everywhere(self):
        """By the demos' own words: what is late goes on, the way the crank runs; early goes back."""
        off = "with the belt off its pulley"
        for demo, settings, move in [
            ("night-bakery-van", [], f"turn the inlet cam 1 tooth on (clockwise) {off}"),
            ("harbour-launch", ["build.teeth_out.cam=2 early"],
             f"turn the cam 2 teeth back (anticlockwise) {off}"),
            ("hill-climb-saloon", ["build.teeth_out.exhaust cam=1 late"],
             f"turn the exhaust cam 1 tooth on (clockwise) {off}"),
            ("harbour-launch", ["build.teeth_out.crank=1 late"],
             f"turn the cam 1 tooth back (anticlockwise) {off}"),
        ]:
            for command in [*EVERYWHERE, SKIM]:
                with self.subTest(demo=demo, settings=settings, command=command):
                    text = says(demo, command, settings)
                    self.assertEqual(set(MOVE.findall(text)), {move}, text)
                    self.assertEqual(len(ANY_MOVE.findall(text)), len(MOVE.findall(text)), text)

    def test_what_no_tooth_takes_out_is_told_with_one_sentence_too(self):
        for demo, told_by in [("harbour-launch", [["turns"], SKIM]),
                              ("orchard-sprayer", [["check"], ["turns"], ["report"], SKIM]),
                              ("hill-climb-saloon", [["check"], ["turns"], ["report"], SKIM])]:
            settings = ["build.skim_mm.head=0.5"]
            rests = {" ".join(command[:1]): set(REST.findall(says(demo, command, settings)))
                     for command in told_by}
            with self.subTest(demo=demo, rests=rests):
                self.assertTrue(rests["turns"])
                self.assertEqual(len(set(map(frozenset, rests.values()))), 1)

    def test_a_tooth_is_advised_on_and_a_thousandth_skimmed_is_not(self):
        for demo in ("harbour-launch", "orchard-sprayer", "mill-generator"):
            for teeth in ("1 early", "1 late"):
                settings = ["build.skim_mm.head=0.001", f"build.teeth_out.cam={teeth}"]
                for command in [*EVERYWHERE, SKIM]:
                    with self.subTest(demo=demo, teeth=teeth, command=command):
                        text = says(demo, command, settings)
                        self.assertEqual(len(set(MOVE.findall(text))), 1, text)
                        self.assertEqual(REST.findall(text), [])
                        self.assertEqual(NOUGHT.findall(text), [])

    def test_a_geared_shaft_is_out_by_the_same_teeth_in_every_form_and_by_no_edge(self):
        """A tooth at the pump that drives it; its mark's radius is not given."""
        path, settings = str(PROFILES / "mill-generator.toml"), ["--set", "build.teeth_out.oil pump=1"]
        self.assertIn("balance shaft is 1.00 tooth", " ".join(
            said.run("check", path, *settings).stdout.split()))
        document = json.loads(said.run("turns", path, *settings, "--json").stdout)
        after = [seen for seen in document["after_turns"]
                 if seen["shaft"] == "balance shaft" and seen["turns"] == 2]
        self.assertAlmostEqual(after[0]["error_teeth"], 1.0, places=9)
        self.assertIsNone(after[0]["error_edge_mm"])
        rows = [line for line in said.run("turns", path, *settings).stdout.splitlines()
                if line.startswith("balance shaft")]
        self.assertTrue(rows)
        for row in rows:
            self.assertEqual(row.split()[4:6], ["1.00", "-"], row)
        for command in EVERYWHERE:
            text = says("mill-generator", command, settings[1:])
            self.assertFalse(re.findall(r"\b0\.00 mm(?: at the (?:edge|mark))?\)", text), text)

    def test_what_prints_as_nothing_would_be_heard(self):
        for text in ("no whole tooth takes out 0.00 cam deg (0.00 crank deg)",
                     "an offset key of 0.00 mm", "a gasket thicker by 0.000 mm",
                     "leaves the cam late by 0.00 cam deg", "0.00 crank deg late"):
            self.assertTrue(NOUGHT.search(text), text)
        self.assertFalse(NOUGHT.search("back in its place: 0.00 crank deg out"))


if __name__ == "__main__":
    said.TWOTURN = sys.argv.pop(1)
    unittest.main(verbosity=2)
