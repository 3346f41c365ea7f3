#!/usr/bin/env python3
"""One wrong word never goes unseen: every demo that agrees, with any one of its words changed to
another that its key allows, or two of its pulleys in another order. What still agrees stands in
FITS, with the reason why the drive truly is as good that way.

    word_test.py TWOTURN
"""

import itertools
import json
import os
import re
import subprocess
import sys
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

TWOTURN = ""
PROFILES = Path(__file__).parents[2] / "profiles"
EVERY = int(os.environ.get("TWOTURN_EVERY_CUT", "1"))  # with sanitizers: every so many
WORD = re.compile(r'(?P<key>\w+) = "(?P<word>[^"]*)"')

SAME = {"counterclockwise": "anticlockwise", "intake": "inlet"}  # two words for one thing

UNTIMED = "water pump|oil pump|idler|auxiliary shaft"

# Demo, part, what was changed; and why the drive is as good that way.
FITS = [
    (r"cam-bench|harbour-launch|hill-climb-saloon|mill-generator|weir-keeper", "belt",
     "section: (H8M|ZA|YH) -> (L|S8M|YH|YS|ZB)",
     "one pitch: the form of teeth is named as outside the check"),
    ("cam-bench", "profile", "crank_turns: .*",
     "two pulleys on fixed centres are their own mirror image"),
    ("cam-bench", "hand wheel", "order: .*",
     "two pulleys stand in one order only, wherever the list begins"),
    ("harbour-launch|weir-keeper", "crank|tensioner", "order: .*",
     "the same four the other way round: a belt can take one of the two ways only"),
    ("cam-bench|mill-generator|weir-keeper", "cam|cam spindle", "role: camshaft -> injection pump",
     "both turn at half the crank's speed, by the same marks, to the same limit"),
    (".*", "tensioner|water pump|oil pump|back idler", f"role: ({UNTIMED}) -> ({UNTIMED})",
     "none of these is timed, nothing of one is judged otherwise than of another"),
    ("mill-generator", "injection pump|oil pump", "fixing: .*",
     "within the limit however it is fixed: its pins go in"),
    ("mill-generator", "balance shaft", "from: oil pump -> crank",
     "22 teeth on both: it turns as it did"),
    ("hill-climb-saloon|weir-keeper", "inlet cam|exhaust cam|cam", "mount: head -> block",
     "no head has changed its height, so what is on it stands where it did"),
    ("harbour-launch|hill-climb-saloon", "inlet|exhaust", "law: .*|crown: .*",
     "the room is above its limit by each law and on each crown"),
    ("harbour-launch|hill-climb-saloon", ".* bolts", "threads: .*|condition: .*",
     "whether the bolts are tight is named as outside the check on paper; the job card tells"),
]


def run(*arguments, text=""):
    ran = subprocess.run([TWOTURN, *arguments, "--json"], input=text, capture_output=True,
                         text=True, check=False, cwd=PROFILES, timeout=300)
    return ran.returncode, json.loads(ran.stdout) if ran.returncode in (0, 1) else ran.stderr


def allowed(text):
    """By key: the words that it may hold in this profile."""
    schema = json.loads((PROFILES / "profile.schema.json").read_text(encoding="utf-8"))
    words = {}

    def walk(node):
        if isinstance(node, dict):
            for key, value in node.items():
                if isinstance(value, dict) and "enum" in value:
                    words.setdefault(key, set()).update(
                        word for word in value["enum"] if isinstance(word, str))
                walk(value)
        elif isinstance(node, list):
            for value in node:
                walk(value)

    walk(schema)
    words["mount"] = {"block", *re.findall(r'^\[\[head\]\]\nname = "([^"]*)"', text, re.M)}
    words["head"] = words["mount"] - {"block"}
    pulleys = re.findall(r'^\[\[pulley\]\]\nname = "([^"]*)"', text, re.M)
    words["cam"] = set(pulleys)
    words["from"] = set(pulleys)
    words["section"] = {section["name"] for section in run("sections")[1]["sections"]}
    return words


def changes(text):
    """(part, what was changed, the text with it)."""
    words = allowed(text)
    part = "profile"
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if line.startswith("["):
            part = line.strip().strip("[]")
        if line.startswith("name = "):
            part = WORD.match(line)["word"]
            continue
        for word in WORD.finditer(line):
            same = {word["word"], SAME.get(word["word"])}
            for other in sorted(words.get(word["key"], set()) - same - SAME.keys()):
                new = line[:word.start("word")] + other + line[word.end("word"):]
                yield (part, f"{word['key']}: {word['word']} -> {other}",
                       "".join(lines[:number] + [new] + lines[number + 1:]))
    blocks = re.split(r"(?m)^(?=\[\[)|^(?=\[(?!pulley\.))", text)
    pulleys = [k for k, block in enumerate(blocks) if block.startswith("[[pulley]]")]
    names = {k: WORD.search(blocks[k])["word"] for k in pulleys}
    for one, other in itertools.combinations(pulleys, 2):
        swapped = list(blocks)
        swapped[one], swapped[other] = swapped[other], swapped[one]
        yield names[one], f"order: before {names[other]} -> after it", "".join(swapped)


class OneWord(unittest.TestCase):
    def test_one_wrong_word_never_agrees_unless_the_drive_is_as_good_that_way(self):
        jobs = []
        for profile in sorted(PROFILES.glob("*.toml")):
            text = profile.read_text(encoding="utf-8")
            if run("check", "-", text=text)[1]["verdict"] == "agrees":
                jobs += [(profile.stem, *change) for change in changes(text)]
        self.assertGreater(len(jobs), 300)

        def agrees(job):
            code, got = run("check", "-", text=job[3])
            self.assertIn(code, (0, 1, 3), f"{job[:3]}: {got}")
            return code == 0 and got["verdict"] == "agrees"

        tried = list(itertools.islice(jobs, 0, None, EVERY))
        with ThreadPoolExecutor(os.cpu_count()) as pool:
            fits = [job[:3] for job, good in zip(tried, pool.map(agrees, tried)) if good]

        def listed(change, row):
            return all(re.fullmatch(wanted, word) for wanted, word in zip(row, change))

        unseen = [change for change in fits if not any(listed(change, row) for row in FITS)]
        self.assertEqual(unseen, [], "\n" + "\n".join(map(str, unseen)))
        gone = [row for row in FITS if not any(listed(change, row) for change in fits)]
        if EVERY == 1:
            self.assertEqual(gone, [], "no longer agrees: strike it out")


if __name__ == "__main__":
    TWOTURN = os.path.abspath(sys.argv.pop(1))
    unittest.main()
