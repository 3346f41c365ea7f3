#!/usr/bin/env python3
"""Exit codes are alike in every command: what check calls a stop ends the command that judges it
in 1 as well, and with --strict a look does; on every demo with every fault of [build].

    codes_test.py TWOTURN
"""

import itertools
import json
import os
import subprocess
import sys
import tomllib
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from deletion_test import faults

TWOTURN = ""
PROFILES = Path(__file__).parents[2] / "profiles"
EVERY = int(os.environ.get("TWOTURN_EVERY_CUT", "1"))  # with sanitizers: every so many

# Of the findings of check, those that each command judges too.
JUDGES = {
    "turns": {"phase", "pin", "wrong-ratio", "datum-play", "reference-run", "drawn-remainder"},
    "valves": {"valve-touches", "valve-room", "valves-touch", "valve-to-valve"},
    "teeth": {"belt-fit", "fixed-mismatch"},
    "tensioner": {"belt-fit", "over-centre", "tightens-contradicted"},
    "route": {"path-refused"},
}
STRICT = {"turns", "valves", "face"}
ANSWERS_ALL = ("sheet", "report")  # these carry the whole check


def run(*arguments):
    ran = subprocess.run([TWOTURN, *arguments], capture_output=True, text=True, check=False,
                         timeout=300)
    return ran.returncode, ran.stdout


class Codes(unittest.TestCase):
    def test_what_check_calls_a_stop_ends_every_command_that_judges_it_in_1(self):
        jobs = []
        for profile in sorted(PROFILES.glob("*.toml")):
            settings = [None, *faults(tomllib.loads(profile.read_text(encoding="utf-8")))]
            jobs += [(str(profile), setting) for setting in settings]
        jobs = list(itertools.islice(jobs, 0, None, EVERY))
        seen = {}

        def wrong(job):
            path, setting = job
            options = ["--set", setting] if setting else []
            code, text = run("check", path, "--json", *options)
            if code == 3:
                return []
            check = json.loads(text)
            found = []

            def hold(command, wanted, *more):
                got, _ = run(command, path, *options, *more)
                seen.setdefault((command, *more[:1]), set()).add(wanted)
                if got != wanted:
                    found.append(f"{' '.join([command, path, *options, *more])}: {got}, not {wanted}")

            hold("check", int(check["verdict"] == "stop"))
            hold("check", int(check["verdict"] != "agrees"), "--strict")
            for command in ANSWERS_ALL:
                hold(command, int(check["verdict"] == "stop"))
            for command, codes in JUDGES.items():
                got, answer = run(command, path, "--json", *options)
                if got == 1 and "none" in json.loads(answer):
                    continue  # no answer at all
                mine = {finding["level"] for finding in check["findings"]
                        if finding["code"] in codes}
                hold(command, int("stop" in mine))
                if command in STRICT:
                    hold(command, int(bool(mine & {"stop", "look"})), "--strict")
            return found

        with ThreadPoolExecutor(os.cpu_count()) as pool:
            found = [line for lines in pool.map(wrong, jobs) for line in lines]
        self.assertEqual(found, [], "\n" + "\n".join(found))
        if EVERY == 1:  # each code has been wanted, so that none is held by chance
            for command in ("check", "turns", "valves", "sheet"):
                self.assertEqual(seen[(command,)], {0, 1}, command)


if __name__ == "__main__":
    TWOTURN = os.path.abspath(sys.argv.pop(1))
    unittest.main()
