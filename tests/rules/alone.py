#!/usr/bin/env python3
"""Reads every source of lib and cli by itself: batches hide that a file lacks an include, or shares a name.

    alone.py BUILD      of a build of clang with TWOTURN_BATCHES; one line for each that fails; exit 1
"""

import concurrent.futures
import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path


def commands(build):
    """(source, words of the command that reads it alone, folder to run it in)."""
    ours = tuple(str(Path(__file__).resolve().parents[2] / folder) + "/" for folder in ("lib/src", "cli"))
    for entry in json.loads((build / "compile_commands.json").read_text()):
        words = shlex.split(entry["command"])
        compiled = entry["file"]
        first = next(i for i, word in enumerate(words) if "clang++" in word and not word.endswith("ccache"))
        out = words.index("-o")
        words = words[first:out] + words[out + 2:]
        sources = [compiled]
        if "/Unity/" in compiled:
            sources = re.findall(r'#include "(.*\.cpp)"', Path(compiled).read_text())
        for source in (one for one in sources if one.startswith(ours)):
            alone = [source if word == compiled else word for word in words if word != "-Wno-shadow"]
            yield source, [*alone, "-fsyntax-only"], entry["directory"]


def read(job):
    source, words, folder = job
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    return source, done.returncode, done.stderr


def main():
    build = Path(sys.argv[1]).resolve()
    jobs = list(commands(build))
    assert len(jobs) > 200, f"only {len(jobs)} sources"
    failed = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for source, code, said in pool.map(read, jobs):
            if code != 0:
                failed += 1
                print(f"{source} cannot be read by itself:\n{said}")
    print(f"{len(jobs) - failed} of {len(jobs)} sources stand by themselves")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
