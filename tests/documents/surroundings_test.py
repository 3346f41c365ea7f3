#!/usr/bin/env python3
"""No locale, time zone, language, width of the terminal or working folder changes a byte of an answer; nor does
how often it was asked. And alike.py's comparison sees what it should.

    surroundings_test.py TWOTURN
"""

import subprocess
import sys
import tempfile
import unittest

import answers

TWOTURN = ""
SURROUNDINGS = (
    {"env": {"LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8", "LANGUAGE": "de"}},
    {"env": {"LC_ALL": "C", "TZ": "Pacific/Chatham"}},
    {"env": {"COLUMNS": "40", "TERM": "dumb", "LC_ALL": "", "LC_NUMERIC": "fr_FR.UTF-8"}},
    {"cwd": "/"},
)


class Surroundings(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        # A machine need not have them: made here, where the library then looks for them.
        cls.locales = cls.enterClassContext(tempfile.TemporaryDirectory())
        for name in ("de_DE", "fr_FR"):
            subprocess.run(["localedef", "-i", name, "-f", "UTF-8", f"{cls.locales}/{name}.UTF-8"], check=True)
        point = subprocess.run(["locale", "decimal_point"], capture_output=True, text=True, check=True,
                               env={"LC_ALL": "de_DE.UTF-8", "LOCPATH": cls.locales, "PATH": "/usr/bin:/bin"})
        assert point.stdout.strip() == ",", "the locale is not what it is called"

    def test_nothing_around_the_command_changes_a_byte(self):
        demos = [demo for demo in answers.DEMOS if demo.stem in ("night-bakery-van", "valley-rescue-v6")]
        self.assertEqual(len(demos), 2)
        for question in answers.questions(demos):
            here = answers.answer(TWOTURN, question)
            for around in SURROUNDINGS:
                around = {**around, "env": {**around.get("env", {}), "LOCPATH": self.locales}}
                self.assertEqual(answers.answer(TWOTURN, question, **around), here, (question, around))

    def test_a_difference_is_seen_and_rounding_is_none(self):
        one = {"a_mm": 1.5, "at_deg": 0.0, "of": [1, {"b": "c"}], "n": None}
        for other in ({**one, "a_mm": 1.5 + 2e-11}, {**one, "of": [1, {"b": "d"}]}, {**one, "of": [1]},
                      {**one, "n": 0}, {**one, "at_deg": 1e-10}, {"at_deg": 0.0}, {**one, "a_mm": float("nan")}):
            self.assertTrue(list(answers.differences(one, other)), other)
        for other in (one, {**one, "a_mm": 1.5 + 1e-13}, {**one, "at_deg": 360.0 - 1e-12}):
            self.assertEqual(list(answers.differences(one, other)), [])
        self.assertTrue(answers.compared(["check"], (b"a\nb", 0), (b"a\nc", 0)))
        self.assertTrue(answers.compared(["check"], (b"a", 0), (b"a", 1)))


if __name__ == "__main__":
    TWOTURN = sys.argv.pop(1)
    unittest.main()
