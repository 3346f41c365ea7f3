#!/usr/bin/env python3
"""Obeyed advice puts a drive right and never leads round in a circle: on every demo, every fault that
teeth can make, alone and two together, the moves advised are made and the drive is asked again.

    cure_test.py TWOTURN
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
TOLD = re.compile(r"turn the (.+?)(?:, off which the .+? is geared,)? "
                  r"(?:half a turn, )?(\d+) (?:tooth|teeth),? (on|back) \(")
ROUND = re.compile(r"turn the (.+?) once round \((?:anti)?clockwise\) with the belt off and every "
                   r"other shaft at its pin")


def run(command, profile, teeth, others):
    settings = [f"build.teeth_out.{name}={count}" for name, count in teeth.items()]
    options = [part for setting in [*settings, *others] for part in ("--set", setting)]
    ran = subprocess.run([TWOTURN, command, str(profile), "--json", *options], check=False,
                         capture_output=True, text=True, timeout=120)
    assert ran.returncode in (0, 1), (profile.name, teeth, others, ran.stderr)
    return json.loads(ran.stdout)


def out_by(turns):
    """Teeth in all that the timed shafts stand out by."""
    return sum(abs(seen["error_teeth"]) for seen in turns["after_turns"] if seen["turns"] == 2)


def obey(turns, teeth, belt):
    """The build after the moves that `turns` advises; empty where it advises none."""
    after = dict(teeth)
    if turns["crank_once_round"]:
        # Told of the others, for no pulley may be a whole turn out: half a turn of half-speed ones.
        for name, pulley in belt.items():
            if pulley["half_speed"]:
                after[name] = after.get(name, 0) + pulley["teeth"] // 2
    elif turns["cure_at_crank_teeth"] is not None:
        crank = turns["shafts"][0]["shaft"]
        after[crank] = after.get(crank, 0) + turns["cure_at_crank_teeth"]
    else:
        moved = set()
        for cure in turns["cures"]:
            if cure["teeth_on"] and cure["moved"] not in moved:
                moved.add(cure["moved"])
                after[cure["moved"]] = after.get(cure["moved"], 0) + cure["teeth_on"]
    if after == teeth:
        return None
    for name in after:
        if name != turns["shafts"][0]["shaft"]:  # a whole turn of any other pulley is none
            size = belt[name]["teeth"]
            after[name] = (after[name] + size // 2) % size - size // 2
    return after


def belt_of(profile):
    spec = tomllib.loads(profile.read_text(encoding="utf-8"))
    carried = {geared["from"] for geared in spec.get("geared", [])}
    timed = ("crankshaft", "camshaft", "injection pump")
    return {pulley["name"]: {"teeth": pulley["teeth"],
                             "half_speed": pulley.get("role") in timed[1:]}
            for pulley in spec["pulley"]
            if "teeth" in pulley and pulley.get("fixing") != "free until tightened" and
            (pulley.get("role") in timed or pulley["name"] in carried)}


def faults(belt):
    singles = [{name: teeth} for name, pulley in belt.items()
               for teeth in (-3, -2, -1, 1, 2, pulley["teeth"] // 2)]
    yield from singles
    for first, second in itertools.combinations(singles, 2):
        if first.keys() != second.keys() and max(map(abs, [*first.values(), *second.values()])) < 3:
            yield first | second
    half_speed = [name for name, pulley in belt.items() if pulley["half_speed"]]
    for teeth in (-2, -1, 1):
        yield {name: teeth for name in half_speed}  # the crank's fault, or each cam's
    yield {name: belt[name]["teeth"] // 2 for name in half_speed}  # the crank a turn out


class Cures(unittest.TestCase):
    def jobs(self):
        for profile in sorted(PROFILES.glob("*.toml")):
            if "cures" not in run("turns", profile, {}, []):
                continue  # counts alone: no belt to move
            belt = belt_of(profile)
            spec = tomllib.loads(profile.read_text(encoding="utf-8"))
            given = {name: int(teeth.split()[0]) * (-1 if "late" in teeth else 1)
                     for name, teeth in spec.get("build", {}).get("teeth_out", {}).items()}
            skims = [[], *[[f"build.skim_mm.{head['name']}=0.4"]
                           for head in spec.get("head", [])[:1]]]
            for fault in (given | fault for fault in faults(belt)):
                for skim in skims:
                    if "cures" not in run("turns", profile, fault, skim):
                        continue  # so much off that the belt does not go on
                    yield profile, belt, fault, skim

    def follow(self, job):
        """What went wrong on the way, or nothing."""
        profile, belt, teeth, skim = job
        turns = run("turns", profile, teeth, skim)
        for _ in range(3):
            after = obey(turns, teeth, belt)
            if after is None:
                break
            told = run("check", profile, teeth, skim)
            heard = self.heard(told["headline"], turns, belt)
            if heard:
                return f"{job}: {heard}: {told['headline']}"
            then = run("turns", profile, after, skim)
            if not out_by(then) < out_by(turns) - 1e-6:
                return f"{job}: {out_by(turns)} teeth out, then {out_by(then)} by {after}"
            teeth, turns = after, then
        if obey(turns, teeth, belt) is not None:
            return f"{job}: still advises {turns['cures']}"
        left = [seen for seen in turns["after_turns"] if abs(seen["error_teeth"]) > 0.5 + 1e-6]
        return f"{job}: {left}" if left else None

    def heard(self, headline, turns, belt):
        """The verdict's own line names a move that the turns advise."""
        if ROUND.search(headline):
            return None if turns["crank_once_round"] else "once round, unasked"
        told = TOLD.search(headline)
        if not told:
            return None
        name, count = told[1], int(told[2]) * (1 if told[3] == "on" else -1)
        if turns["cure_at_crank_teeth"] is not None:
            crank = (turns["shafts"][0]["shaft"], turns["cure_at_crank_teeth"])
            return None if (name, count) == crank else "not the crank"
        moves = {(cure["moved"], cure["teeth_on"]) for cure in turns["cures"]}
        return None if (name, count) in moves else f"none of {moves}"

    def test_advice_obeyed_puts_the_drive_right(self):
        jobs = list(self.jobs())[::EVERY]
        self.assertGreater(len(jobs), 600 // EVERY)
        with ThreadPoolExecutor(os.cpu_count()) as pool:
            wrong = [fault for fault in pool.map(self.follow, jobs) if fault]
        self.assertEqual(wrong, [], "\n" + "\n".join(wrong[:10]))


if __name__ == "__main__":
    TWOTURN = sys.argv.pop(1)
    unittest.main(verbosity=2)
