"""What the tests of this folder ask: every command about every demo, as document and as text or page."""

import json
import math
import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DEMOS = sorted((ROOT / "profiles").glob("*.toml"))
HEAD = ROOT / "examples/launch-head.csv"
OF_A_PROFILE = (
    "check", "marks", "route", "teeth", "tensioner", "place", "turns", "valves", "park", "feel", "tension", "bolts",
    "why", "exercise",
)  # fmt: skip
PAGES = (["report"], ["draw"], ["sheet"], ["sheet", "--json"], ["sheet", "--card"])
PICTURED = ("night-bakery-van", "roadside-counts", "valley-rescue-v6")  # pages take longest


def questions(demos=None):
    """Command lines; "--json" among them where the answer is a document."""
    for demo in DEMOS if demos is None else demos:
        for command in OF_A_PROFILE:
            yield [command, str(demo), "--json"]
            yield [command, str(demo)]
        for command, *options in PAGES if demo.stem in PICTURED else ():
            yield [command, str(demo), *options]
        yield ["spread", str(demo), "--samples", "1000", "--json"]
        yield ["spread", str(demo), "--samples", "1000"]
    yield ["face", str(HEAD), "--json"]
    yield ["face", str(HEAD)]
    for command in ("sections", "starter", "commands"):
        yield [command, "--json"]


def answer(program, question, **how):
    how["env"] = {**os.environ, **how.get("env", {})}
    done = subprocess.run([program, *question], capture_output=True, check=False, stdin=subprocess.DEVNULL, **how)
    assert done.returncode in (0, 1), (question, done.returncode, done.stderr)
    return done.stdout, done.returncode


def differences(one, other, digits=12, where=""):
    """Where two documents differ: numbers by more than so many significant digits (those below 10, which may be
    what is left of larger ones, to as many places of 10), everything else at all. Angles go round."""
    if isinstance(one, bool) or isinstance(other, bool) or one is None or other is None:
        if one is not other:
            yield f"{where}: {one} and {other}"
    elif isinstance(one, (int, float)) and isinstance(other, (int, float)):
        apart = abs(one - other)
        if where.endswith("_deg"):
            apart = min(apart, abs(360 - apart))
        scale = max(abs(one), abs(other), 10.0)
        if not math.isfinite(apart) or apart > 10.0**-digits * scale:
            yield f"{where}: {one!r} and {other!r}"
    elif isinstance(one, dict) and isinstance(other, dict):
        if list(one) != list(other):
            yield f"{where}: keys {list(one)} and {list(other)}"
        for key in one.keys() & other.keys():
            yield from differences(one[key], other[key], digits, f"{where}.{key}")
    elif isinstance(one, list) and isinstance(other, list):
        if len(one) != len(other):
            yield f"{where}: {len(one)} and {len(other)} of them"
        for k, (a, b) in enumerate(zip(one, other)):
            yield from differences(a, b, digits, f"{where}[{k}]")
    elif one != other:
        yield f"{where}: {one!r} and {other!r}"


def compared(question, one, other):
    """Where two answers to the same question differ."""
    if one[1] != other[1]:
        return [f"exit codes {one[1]} and {other[1]}"]
    if "--json" in question:
        return list(differences(json.loads(one[0]), json.loads(other[0])))
    if one[0] == other[0]:
        return []
    lines = zip(one[0].splitlines(), other[0].splitlines())
    first = next(((a, b) for a, b in lines if a != b), ("", "one is longer"))
    return [f"{first[0]!r} and {first[1]!r}"]
