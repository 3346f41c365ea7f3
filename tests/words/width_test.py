#!/usr/bin/env python3
"""Text stays within 80 columns, or a line above a table says that it is wide.

    width_test.py TWOTURN
"""

import sys
import unittest
from pathlib import Path

import said

PROFILES = Path(__file__).parents[2] / "profiles"
COMMANDS = [["check"], ["route"], ["route", "--working"], ["teeth"], ["tensioner"], ["turns"],
            ["turns", "--steps", "--step-deg", "90"], ["marks"], ["valves"], ["park"],
            ["sheet", "--phone"], ["sheet", "--job-card", "--phone"], ["bolts"], ["why"],
            ["exercise", "--answer"]]
WIDE = "(A wide table.)"


def too_wide(text):
    allowed = 80
    for line in text.splitlines():
        if not line:
            allowed = 80
        elif line == WIDE:
            allowed = 200
        elif len(line) > allowed:
            yield line


class Width(unittest.TestCase):
    def test_lines_stay_within_80_columns_or_say_that_they_are_wide(self):
        tried = 0
        for profile in sorted(PROFILES.glob("*.toml")):
            for command in COMMANDS:
                ran = said.run(command[0], str(profile), *command[1:])
                self.assertIn(ran.returncode, (0, 1), ran.stderr)
                tried += 1
                self.assertEqual(list(too_wide(ran.stdout)), [], f"{profile.name} {command}")
        self.assertGreater(tried, 80)

    def test_a_wide_line_would_be_heard(self):
        self.assertEqual(list(too_wide("x" * 81)), ["x" * 81])
        self.assertEqual(list(too_wide(f"{WIDE}\n" + "x" * 81)), [])
        self.assertEqual(len(list(too_wide(f"{WIDE}\nx\n\n" + "x" * 81))), 1)


if __name__ == "__main__":
    said.TWOTURN = sys.argv.pop(1)
    unittest.main()
