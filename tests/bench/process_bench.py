"""Processor time of `twoturn check` on every demo, as a whole process, against an empty program that
loads the same shared libraries; the two take turns, and the median of the pairs' ratios counts.

process_bench.py TWOTURN EMPTY [MOST]: fails where a demo's ratio is above MOST (2.5)."""

import pathlib
import resource
import statistics
import subprocess
import sys

PAIRS = 40
TRIES = 3  # a machine that others use too: the best of three medians is held against the most

twoturn, empty = sys.argv[1:3]
most = float(sys.argv[3]) if len(sys.argv) > 3 else 2.5
demos = sorted((pathlib.Path(__file__).parents[2] / "profiles").glob("*.toml"))
assert len(demos) >= 8, demos


def seconds(*command):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def libraries(program):
    listed = subprocess.run(["ldd", program], capture_output=True, text=True, check=True).stdout
    return sorted(line.split()[0] for line in listed.splitlines())


assert libraries(twoturn) == libraries(empty), (libraries(twoturn), libraries(empty))

too_slow = []
print(f"{'check, processor time':28}  {'ms':>6}  {'empty':>6}  ratio")
for demo in demos:
    tries = []
    while len(tries) < TRIES and (not tries or min(tries)[0] > most):
        pairs = [(seconds(twoturn, "check", str(demo)), seconds(empty)) for _ in range(PAIRS)]
        ours, floor = (statistics.median(times) for times in zip(*pairs))
        tries.append((statistics.median(a / b for a, b in pairs), ours, floor))
    ratio, ours, floor = min(tries)
    print(f"{demo.name:28}  {1e3 * ours:6.2f}  {1e3 * floor:6.2f}  {ratio:5.2f}")
    if ratio > most:
        too_slow.append(demo.name)

if too_slow:
    sys.exit(f"more than {most} times an empty program: {', '.join(too_slow)}")
