#!/usr/bin/env python3
"""Sentences keep their grammar whatever a profile calls its parts: every part of every demo is
renamed, every command run, and what it says looked through for words that a name has doubled.

    names_test.py TWOTURN
"""

import itertools
import json
import os
import re
import sys
import tempfile
import tomllib
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import said
from said import run, sentences, texts

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "profiles").glob("*.toml")) + sorted((ROOT / "tests/every").glob("*.toml"))

EVERY = int(os.environ.get("TWOTURN_EVERY_CUT", "1"))  # with sanitizers: every so many

NAMINGS = {
    "as they are": lambda name: name,
    "with an article": lambda name: f"the {name}",
    "with an article in capitals": lambda name: f"The {name.title()}",
    "in odd capitals": lambda name: "".join(
        c.upper() if i % 2 else c for i, c in enumerate(name)),
    "ending in s": lambda name: f"{name}s",
    "ending in cam": lambda name: f"{name} no cam",
    "ending in valve": lambda name: f"the {name} valve",
}  # fmt: skip

COMMANDS = [
    ["check"], ["check", "--by-the-book"], ["marks"], ["route"], ["route", "--working"], ["teeth"],
    ["tensioner"], ["turns"], ["turns", "--backwards"], ["valves"], ["park"], ["sheet"],
    ["sheet", "--phone"], ["sheet", "--job-card"], ["report"], ["bolts"], ["why"],
    ["exercise", "--answer"],
]  # fmt: skip
WITH_DOCUMENT = ["check", "marks", "route", "teeth", "tensioner", "turns", "valves", "park", "sheet", "bolts"]
FACE = ["face", str(ROOT / "examples/launch-head.csv"), "--skim", "0.3", "--profile"]

SMALL = "the|a|an|of|on|in|at|to|by|is|its|it|and|or|from|with|for|than|that|not|no|as"
WRONG = {
    "a word said twice": re.compile(rf"\b({SMALL})[ \n]+\1\b", re.I),
    "an article too many": re.compile(r"\b(?:the|an?|its|this|each|no) +(?:the|an?)\b", re.I),
    "a kind said twice": re.compile(r"\b(cam|valve|head|pulley|shaft|mark|pin) \1\b", re.I),
    "one of many": re.compile(r"(?<![\d.])1 (?:things|teeth|turns|numbers|parts|others|counts)\b"),
    "a sentence without its capital": re.compile(r"[a-z]{2}[.?!] (?:the|it|its|this)\b"),
    "a capital amid a sentence": re.compile(
        r"\b(?:of|on|at|whether|how|turn|than|makes|leaves|that|is|run) The\b"),
    "the genitive of an s": re.compile(r"s's\b"),
}  # fmt: skip


def renamed(profile, naming):
    """The profile with every part under another name, and every mention of it."""
    for kind in ("pulley", "geared", "head", "cover", "valve", "bolts", "access_hole", "tray"):
        for part in profile.get(kind, []):
            for key in ("name", "from", "mount", "cam", "holds"):
                if key in part:
                    part[key] = naming(part[key])
            pin = part.get("pin", {})
            if pin.get("access_hole", "none") != "none":
                pin["access_hole"] = naming(pin["access_hole"])
            for mark in part.get("mark", []):
                mark["name"] = naming(mark["name"])
    for measured in profile.get("measured", []):
        for key in ("from", "to"):
            if key in measured:
                measured[key] = naming(measured[key])
    tension = profile.get("tension", {})
    for key in ("from", "to"):
        if key in tension:
            tension[key] = naming(tension[key])
    build = profile.get("build", {})
    for key, value in build.items():
        if isinstance(value, dict) and key != "warm":
            build[key] = {naming(name): change for name, change in value.items()}
    seen = profile.get("seen", {})
    for key, value in seen.items():
        if key == "pin" or key.startswith("mark_"):
            seen[key] = {naming(name): sight for name, sight in value.items()}
    for count in seen.get("count", []):
        for key in ("from", "to"):
            count[key] = naming(count[key])
    origin = profile.get("origin", {})
    for key in list(origin):
        table, *rest = key.split(".")
        if table in ("pulley", "geared", "head", "valve", "cover", "bolts") and len(rest) > 1:
            rest[0] = naming(rest[0])
        elif table == "build" and rest[0] != "warm" and len(rest) > 1:
            rest[1] = naming(rest[1])
        origin[".".join([table, *rest])] = origin.pop(key)
    return profile


def inline(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {inline(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(inline, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def toml(profile):
    return "".join(f"{json.dumps(key)} = {inline(value)}\n" for key, value in profile.items())


def faults(text):
    return [f"{what}: ...{text[max(0, found.start() - 60):found.end() + 40]}..."
            for what, pattern in WRONG.items() for found in pattern.finditer(text)]


def heard(path):
    """What is wrong in all that the command says about a profile."""
    found = set()
    for command, *options in COMMANDS:
        ran = run(command, path, *options)
        for text in sentences(ran.stdout):
            found |= {f"{command} {' '.join(options)}: {fault}" for fault in faults(text)}
    for text in sentences(run(*FACE, path).stdout):
        found |= {f"face: {fault}" for fault in faults(text)}
    for command in WITH_DOCUMENT:
        ran = run(command, path, "--json")
        for text in texts(json.loads(ran.stdout)):
            wrong = faults(text) + ([f"two spaces: {text}"] if "  " in text else [])
            found |= {f"{command} --json: {fault}" for fault in wrong}
    return found


class Names(unittest.TestCase):
    maxDiff = None

    def test_a_renamed_profile_is_the_same_drive(self):
        """The verdict hangs on no name, so the renaming itself is sound."""
        for demo in DEMOS:
            verdicts = {naming: self.on(demo, naming, lambda path: run("check", path).returncode)
                        for naming in NAMINGS}
            self.assertEqual(len(set(verdicts.values())), 1, f"{demo.name}: {verdicts}")
            self.assertIn(verdicts["as they are"], (0, 1), demo.name)

    def test_no_name_spoils_a_sentence(self):
        pairs = itertools.islice(itertools.product(DEMOS, NAMINGS), 0, None, EVERY)
        with ThreadPoolExecutor(2) as pool:
            jobs = {(demo.name, naming): pool.submit(self.on, demo, naming, heard)
                    for demo, naming in pairs}
        for (demo, naming), job in jobs.items():
            with self.subTest(demo=demo, naming=naming):
                self.assertEqual("\n".join(sorted(job.result())), "")

    def test_each_fault_is_heard(self):
        spoilt = {
            "a word said twice": "The belt lies 1 tooth further on on it.",
            "an article too many": "The the cam is late.",
            "a kind said twice": "The inlet valve valve touches.",
            "one of many": "1 things still to measure.",
            "a sentence without its capital": "It is late. the cam is not.",
            "a capital amid a sentence": "turn The cam on",
            "the genitive of an s": "at the cams's edge",
        }
        self.assertEqual(set(spoilt), set(WRONG))
        for what, text in spoilt.items():
            self.assertTrue(any(fault.startswith(what) for fault in faults(text)), text)
        self.assertEqual(faults("The cam is 1 tooth late. Turn it 1 tooth on."), [])

    @staticmethod
    def on(demo, naming, ask):
        with tempfile.TemporaryDirectory() as folder:
            for table in demo.parent.glob("*.csv"):
                (Path(folder) / table.name).write_bytes(table.read_bytes())
            path = Path(folder) / demo.name
            profile = renamed(tomllib.loads(demo.read_text(encoding="utf-8")), NAMINGS[naming])
            path.write_text(toml(profile), encoding="utf-8")
            return ask(str(path))


if __name__ == "__main__":
    said.TWOTURN = sys.argv.pop(1)
    unittest.main(verbosity=2)
