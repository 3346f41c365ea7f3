#!/usr/bin/env python3
"""Every number counts: changing any one number of a profile changes some answer, or the check says
that nothing uses it; and what is said to be unused really changes nothing.

    every_number.py TWOTURN PROFILE...

Counts change by one, zeros by 1 mm or 1 deg, all else by 1 %, or by 0.1 % where that is refused: a
refusal is no answer. The answers are the documents of
check, which holds those of route, teeth, tensioner and turns, of marks, and of turns itself where
the drive is looked at warm; without the echo of what was given.
"""

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

COMMANDS = ["check", "marks"]
COUNTS = {"teeth", "least_teeth", "teeth_out", "cylinders", "firing_order", "count", "order", "rows", "columns"}
# What findings are judged by: they may all stay clear of it, and it is used all the same.
# A hint only tells which of two mirrored places is meant. What was seen is weighed, not checked.
JUDGED_BY = re.compile(r"^limits\.|^belt\.least_|\.set_give_(deg|mm)$|^pulley\..*\.near_mm\[|^seen\.")


def answers(twoturn, text, folder):
    """What each command makes of a profile, without what only repeats or lists the given. Tables
    that it names lie in the folder."""
    made = {}
    warm = "warm" in tomllib.loads(text).get("build", {})
    bolted = "bolts" in tomllib.loads(text)
    trayed = "tray" in tomllib.loads(text)
    felt = any("spring_n" in valve for valve in tomllib.loads(text).get("valve", []))
    for command in COMMANDS + ["turns"] * warm + ["feel"] * felt + ["tension"] * ("tension" in tomllib.loads(text)) + ["bolts"] * bolted + ["sheet"] * trayed:
        run = subprocess.run([twoturn, command, "-", "--json"], input=text, capture_output=True,
                             text=True, check=False, cwd=folder)
        if run.returncode not in (0, 1, 3):
            raise SystemExit(f"{command} ended with {run.returncode}: {run.stderr}")
        document = json.loads(run.stdout)
        if run.returncode == 3:
            return {"refused": [problem["rule"] for problem in document["error"]["problems"]]}
        made[command] = document["job_card"]["trays"] if command == "sheet" else document
    made["check"].pop("given")
    return made


def picture(twoturn, text, folder):
    """What is drawn of a profile."""
    return subprocess.run([twoturn, "draw", "-"], input=text, capture_output=True, text=True,
                          check=False, cwd=folder).stdout


# Told by the picture alone.
DRAWN = {"lean_deg"}


def numbers(value, path=()):
    """(path, number) of every number below a table; a path holds keys and places in lists."""
    if isinstance(value, bool):
        return
    if isinstance(value, (int, float)):
        yield path, value
    elif isinstance(value, str) and re.fullmatch(r"[\d.]+ (early|late|advanced|retarded)", value):
        yield path, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers(inner, (*path, key))
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            yield from numbers(inner, (*path, place))


def changed(path, number, share=0.01):
    if isinstance(number, str):  # "1 late"
        count, way = number.split(" ")
        return f"{float(count) + 1:g} {way}"
    if COUNTS.intersection(path):
        return number + 1
    return 1.0 if number == 0 else number * (1.0 + share)


def put(tree, path, value):
    for key in path[:-1]:
        tree = tree[key]
    tree[path[-1]] = value


def changed_answers(twoturn, tree, place, number, folder):
    """The profile with one number changed, and its answers."""
    for share in (0.01, 0.001):
        other = tomllib.loads(written(tree))
        put(other, place, changed(place, number, share))
        made = answers(twoturn, written(other), folder)
        if "refused" not in made:
            break
    return other, made


def toml(value):
    """A value as TOML on one line; good for all that a profile holds."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(toml(inner) for inner in value) + "]"
    return json.dumps(value)


def written(tree):
    return "".join(f"{json.dumps(key)} = {toml(value)}\n" for key, value in tree.items())


def key_of(tree, path):
    """The path as the command writes it: parts by name, places in brackets, lengths in mm."""
    key, node = "", tree
    for step in path:
        if isinstance(step, int) and isinstance(node[step], dict):
            key += f".{node[step].get('name', step + 1)}"
        elif isinstance(step, int):
            key += f"[{step}]"
        else:
            key += f".{step}" if key else step
        node = node[step]
    return key


def covers(unused, key):
    """Whether an unused key stands for this number: itself, or the list that holds it."""
    return key == unused or key.startswith(unused + "[")


def faults(twoturn, path):
    tree = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    folder = Path(path).resolve().parent
    before = answers(twoturn, written(tree), folder)
    unused = [entry["key"] for entry in before["check"]["unused"]]
    told = set()
    for place, number in numbers(tree):
        key = key_of(tree, place)
        other, after = changed_answers(twoturn, tree, place, number, folder)
        same = after == before
        if same and key in DRAWN:
            same = picture(twoturn, written(other), folder) == picture(twoturn, written(tree), folder)
        mine = [entry for entry in unused if covers(entry, key)]
        told.update(mine)
        if same and not mine and not JUDGED_BY.search(key):
            yield f"{key} = {number}: nothing changes, and nothing says that it is unused"
        if mine and not same:
            yield f"{key} = {number}: said to be unused, yet an answer changes"
    for entry in unused:
        if entry not in told:
            yield f"{entry}: said to be unused, but no such number is given"


def main(arguments):
    twoturn, *profiles = arguments
    count = 0
    for profile in profiles:
        for fault in faults(twoturn, profile):
            count += 1
            print(f"{Path(profile).name}: {fault}")
    print(f"{len(profiles)} profiles, {count} faults")
    return 1 if count or not profiles else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
