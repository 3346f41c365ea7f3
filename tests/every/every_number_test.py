#!/usr/bin/env python3
"""every_number.py finds what it is there to find: stand-ins for the command that do wrong are caught."""

import sys
import tempfile
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import every_number as every

PROFILE = """
[belt]
teeth = 111
[[pulley]]
name = "cam"
at_mm = [4, 0]
[build]
teeth_out = { cam = "1 late" }
"""
STAND_IN = """#!/usr/bin/env python3
import json, sys, tomllib
tree = tomllib.loads(sys.stdin.read())
document = {{"given": [], "unused": [{{"key": key, "why": ""}} for key in {unused}]}}
document.update({said})
print(json.dumps(document))
"""


def faults(unused, said):
    with tempfile.TemporaryDirectory() as folder:
        command = Path(folder, "command")
        command.write_text(STAND_IN.format(unused=unused, said=said), encoding="utf-8")
        command.chmod(0o755)
        profile = Path(folder, "profile.toml")
        profile.write_text(PROFILE, encoding="utf-8")
        return list(every.faults(str(command), profile))


class Numbers(unittest.TestCase):
    def test_a_command_that_uses_everything_is_right(self):
        self.assertEqual(faults([], '{"all": tree}'), [])

    def test_a_number_that_changes_nothing_is_found(self):
        found = faults([], '{"belt": tree["belt"], "build": tree["build"]}')
        self.assertEqual([fault.split(" ")[0] for fault in found],
                         ["pulley.cam.at_mm[0]", "pulley.cam.at_mm[1]"])

    def test_a_number_that_changes_nothing_and_is_said_to_be_unused_is_right(self):
        self.assertEqual(faults(["pulley.cam.at_mm"],
                                '{"belt": tree["belt"], "build": tree["build"]}'), [])

    def test_a_number_said_to_be_unused_that_changes_something_is_found(self):
        found = faults(["belt.teeth"], '{"all": tree}')
        self.assertEqual(len(found), 1)
        self.assertIn("yet an answer changes", found[0])

    def test_a_key_said_to_be_unused_that_is_not_given_is_found(self):
        found = faults(["lean_deg"], '{"all": tree}')
        self.assertEqual(len(found), 1)
        self.assertIn("no such number is given", found[0])

    def test_words_that_hold_a_number_count(self):
        found = faults([], '{"belt": tree["belt"], "pulley": tree["pulley"]}')
        self.assertEqual([fault.split(" ")[0] for fault in found], ["build.teeth_out.cam"])


if __name__ == "__main__":
    unittest.main()
