#!/usr/bin/env python3
"""A hole in a profile never hides a fault: every demo with every fault that [build] can state, and
then without any one of its other lines or keys. It never agrees, and no shaft that was early
becomes late.

    deletion_test.py TWOTURN
"""

import itertools
import json
import os
import re
import subprocess
import sys
import tomllib
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

TWOTURN = ""
PROFILES = Path(__file__).parents[2] / "profiles"
EVERY = int(os.environ.get("TWOTURN_EVERY_CUT", "1"))  # with sanitizers: every so many
INLINE = re.compile(r"(\s*\w+ = \{)(.*)(\}.*)$")


def faults(spec):
    """All that [build] can say against a demo, a setting each."""
    for part in spec.get("pulley", []) + spec.get("geared", []):
        if part.get("role") in ("crankshaft", "camshaft", "injection pump", "balance shaft"):
            for teeth in ("1 late", "1 early", "2 late"):
                yield f"build.teeth_out.{part['name']}={teeth}"
    for part in spec.get("pulley", []):
        if "teeth" in part and part.get("role") != "crankshaft":
            teeth = part["teeth"] + 1
            yield f'build.renewed={{ "{part["name"]}" = {{ teeth = {teeth} }} }}'
    for head in spec.get("head", []):
        for change in ("skim_mm", "block_skim_mm", "gasket_change_mm"):
            yield f"build.{change}.{head['name']}=0.9"


def check(text, fault):
    ran = subprocess.run([TWOTURN, "check", "-", "--json", "--set", fault], input=text,
                         capture_output=True, text=True, check=False, cwd=PROFILES, timeout=300)
    return ran.returncode, json.loads(ran.stdout) if ran.returncode in (0, 1) else ran.stderr


def cuts(text):
    """Each with one line, or one key of a line, taken out: (line number, what was cut, the rest)."""
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        yield number + 1, line.strip(), "".join(lines[:number] + lines[number + 1:])
        inline = INLINE.match(line)
        pairs = inline[2].split(",") if inline else []
        for k, pair in enumerate(pairs):
            left = inline[1] + ",".join(pairs[:k] + pairs[k + 1:]) + inline[3] + "\n"
            yield number + 1, pair.strip(), "".join(lines[:number] + [left] + lines[number + 1:])


def sides(document):
    """Which shafts the findings call early, and which late."""
    said = {}
    for finding in document["findings"]:
        for side in ("early", "late"):
            if re.search(rf"crank deg {side}\b", finding.get("brief", finding["text"])):
                said[finding["about"]] = side
    return said


class Deletion(unittest.TestCase):
    def test_a_hole_in_a_profile_never_hides_a_fault(self):
        jobs = []
        for profile in sorted(PROFILES.glob("*.toml")):
            text = profile.read_text(encoding="utf-8")
            for fault in faults(tomllib.loads(text)):
                jobs += [(profile.name, fault, text, *cut) for cut in cuts(text)]
        whole = {}

        def outcome(job):
            name, fault, text, number, cut, left = job
            where = f"{name}:{number}: without {cut!r}, {fault}"
            code, got = check(left, fault)
            if code == 3:
                return None  # refused, with its own reason
            if code not in (0, 1):
                return f"{where}: ended in {code}: {got}"
            if got["verdict"] == "agrees":
                return f"{where}: agrees"
            for about, side in sides(got).items():
                if whole[name, fault].get(about, side) != side:
                    return f"{where}: {about} is called {side}"
            return None

        with ThreadPoolExecutor(os.cpu_count()) as pool:
            keys = dict.fromkeys((name, text, fault) for name, fault, text, *_ in jobs)
            for (name, text, fault), code, got in pool.map(
                    lambda key: (key, *check(key[1], key[2])), keys):
                if code == 3 or (code in (0, 1) and got["verdict"] == "agrees"):
                    continue  # no fault here: free till tightened, or a skim that no cam feels
                self.assertIn(code, (0, 1), f"{name} {fault}: {got}")
                whole[name, fault] = sides(got)
            wanted = [job for job in jobs if job[:2] in whole]
            self.assertGreater(len(whole), 60)
            found = [text for text in pool.map(outcome, itertools.islice(wanted, 0, None, EVERY))
                     if text]
        self.assertEqual(found, [], "\n" + "\n".join(found))


if __name__ == "__main__":
    TWOTURN = os.path.abspath(sys.argv.pop(1))
    unittest.main()
