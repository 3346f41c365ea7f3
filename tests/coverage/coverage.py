#!/usr/bin/env python3
"""Which branches of lib the tests take: builds without optimising, runs the tests, asks gcovr.

    coverage.py BUILD [--list N] [-- ctest arguments...]

Branches that only a throw takes are left out (gcovr's --exclude-throw-branches), and so is what is the
compiler's and not the source's: both ways of a branch that was never come to although its line ran (the
clean-up after a throw; or what stands behind a condition that is counted itself), a closing bracket, the way
of a switch for none of its enum's names and the return behind it, a line that ran and has no condition (its
lists are taken down after a throw), and the lines of assertions, which nothing that is right can take. --list tells the lines with the most left that left/ does not explain: a file for each
floor, "file | line || reason".

BUILD keeps what earlier runs counted, so tests may be run a few at a time; --counted runs none."""

import argparse
import collections
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

LEFT = pathlib.Path(__file__).with_name("left")
ROOT = pathlib.Path(__file__).resolve().parents[2]
# What times the command, or builds anew: nothing of lib that others do not run.
NOT_RUN = "^bench|consumer|surroundings"


def counted(build, ctest):
    arguments = ["-G", "Ninja", "-DTWOTURN_BATCHES=ON", "-DTWOTURN_BROWSER_TESTS=OFF", "-DCMAKE_BUILD_TYPE=Debug",
                 "-DCMAKE_CXX_FLAGS_DEBUG=-O0 --coverage", "-DCMAKE_CXX_COMPILER=g++"]  # fmt: skip
    subprocess.run(["cmake", "-S", ROOT, "-B", build, *arguments], check=True, stdout=subprocess.DEVNULL)
    subprocess.run(["cmake", "--build", build], check=True)
    slow = {**os.environ, "TWOTURN_EVERY_CUT": "6", "TWOTURN_RANDOM_DRIVES": "2"}  # thirty times as slow
    subprocess.run(["ctest", "--test-dir", build, "--output-on-failure", "-j", str(os.cpu_count()), "-E", NOT_RUN,
                    *ctest], check=False, env=slow)  # fmt: skip


def lines_of(build):
    with tempfile.NamedTemporaryFile(suffix=".json") as out:
        # Threads count into the same places: g++ then writes numbers below 0, which gcovr does not read.
        subprocess.run(["gcovr", "-r", ROOT, "-f", f"{ROOT}/lib/", "--gcov-ignore-parse-errors", "--json", out.name,
                        build / "lib"], check=True, stderr=subprocess.DEVNULL)  # fmt: skip
        return json.load(open(out.name, encoding="utf-8"))["files"]


def branches(line, source):
    """(branches, taken) of a line that are the source's own."""
    if "TWOTURN_ASSERT" in source or "= default" in source or not source.strip("{}();, "):
        return 0, 0
    ways = [way["count"] > 0 for way in line["branches"] if not way.get("throw")]
    pairs = [ways[k:k + 2] for k in range(0, len(ways), 2)]
    if line["count"] > 0:
        pairs = [pair for pair in pairs if any(pair)]
    count, taken = sum(map(len, pairs)), sum(map(sum, pairs))
    return count - (source.lstrip().startswith("switch (") and taken < count), taken


CONDITION = re.compile(r"\b(if|for|while|switch|case)\b|[?:]|&&|\|\||(any|all|none)_of|value_or")


def has_condition(sources, at):
    """Whether a line is, or goes on with, a condition of the source's own."""
    beside = [sources[k].strip() if 0 <= k < len(sources) else "" for k in (at - 1, at, at + 1)]
    before, own, behind = (line.replace("::", "") for line in beside)
    return bool(CONDITION.search(own)) or before.endswith(("&&", "||", "?", ":")) or behind.startswith(("?", ":"))


def behind_switch(sources, at):
    """Whether a line is the return that a compiler wants behind a switch over all names of an enum."""
    indent = len(sources[at]) - len(sources[at].lstrip())
    if not sources[at].lstrip().startswith("return") or at == 0 or sources[at - 1] != " " * indent + "}":
        return False
    above = next(line for line in reversed(sources[:at - 1]) if len(line) - len(line.lstrip()) <= indent and line.strip())
    return above.lstrip().startswith("switch (")


def explained(folder=LEFT):
    """(file, source line) -> why it is left."""
    reasons = {}
    for path in sorted(folder.glob("*.txt")):
        for entry in path.read_text(encoding="utf-8").splitlines():
            if entry and not entry.startswith("#"):
                file, rest = entry.split(" | ", 1)
                source, why = rest.rsplit(" || ", 1)
                reasons["lib/" + file, source] = why
    return reasons


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("--list", type=int, default=0)
    parser.add_argument("--counted", action="store_true")
    parser.add_argument("ctest", nargs="*")
    options = parser.parse_args()
    if not options.counted:
        counted(options.build, options.ctest)
    reasons = explained()
    floors, left, told, needed = collections.defaultdict(lambda: [0, 0]), [], 0, set()
    for file in lines_of(options.build):
        sources = (ROOT / file["file"]).read_text(encoding="utf-8").splitlines()
        for line in file["lines"]:
            source = sources[line["line_number"] - 1]
            count, taken = branches(line, source)
            at = line["line_number"] - 1
            if behind_switch(sources, at) or (line["count"] > 0 and not has_condition(sources, at)):
                count = taken
            floor = floors["/".join(file["file"].split("/")[:3])]
            floor[0] += count
            floor[1] += taken
            if taken < count and (file["file"], source.strip()) in reasons:
                told += count - taken
                needed.add((file["file"], source.strip()))
            elif taken < count:
                left.append((count - taken, file["file"], line["line_number"], line["count"], source.strip()))
    for name, (count, taken) in sorted(floors.items()):
        print(f"{100 * taken / max(count, 1):6.1f} %  {count - taken:5} of {count:6} left  {name}")
    count, taken = (sum(floor[k] for floor in floors.values()) for k in (0, 1))
    print(f"{100 * taken / count:6.1f} %  {count - taken:5} of {count:6} left  in all, {told} of them explained")
    for missing, file, number, ran, source in sorted(left, reverse=True)[:options.list]:
        print(f"{missing:4}  {file}:{number}  (run {ran} times)  {source}")
    for file, source in sorted(set(reasons) - needed)[:options.list]:
        print(f"taken by now, or another line: its reason can go: {file}  {source}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
