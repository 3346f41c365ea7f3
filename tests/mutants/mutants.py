"""Mutants of the floors that compute: which wrong operators do a floor's own tests not notice?

mutants.py BUILD [--count N] [--seed N] [--floors F,...] [--files x.cpp,...] [--in-files N] [--most-alive N] [--list]

BUILD is a build folder with the tests built (Ninja). A seeded sample of operators (arithmetic, comparison, sign,
and, or) is made switchable, all in one build: each goes through a function that asks TWOTURN_MUTANT.
A mutant is tried on its floor's own tests that come to it, and is killed by the first that fails or
hangs. Those that live and are not judged in judged/ are listed; more than --most-alive of them fail.

Needs libclang's Python bindings (python3-clang-14) to find the operators."""

import argparse
import concurrent.futures
import json
import os
import pathlib
import random
import re
import shlex
import subprocess
import sys
import time

import clang.cindex
from clang.cindex import CursorKind, TypeKind

ROOT = pathlib.Path(__file__).resolve().parents[2]
HEADER = pathlib.Path(__file__).with_name("switch.hpp")
JUDGED = pathlib.Path(__file__).with_name("judged")  # a file for each floor
FLOORS = ("geometry", "drive", "timing", "engine")

# An operator, the function that stands for it, and what each of its mutants does in its place.
BINARY = {
    "+": ("sum", ["-"]), "-": ("difference", ["+"]), "*": ("product", ["/"]), "/": ("quotient", ["*"]),
    "<": ("less", ["<=", ">="]), "<=": ("at_most", ["<", ">"]),
    ">": ("more", [">=", "<="]), ">=": ("at_least", [">", "<"]),
    "==": ("same", ["!="]), "!=": ("other", ["=="]),
}
LOGIC = {"&&": "||", "||": "&&"}
ASSIGNING = {"+=": ("add", ["-="]), "-=": ("take", ["+="]), "*=": ("scale", ["/="]), "/=": ("divide", ["*="])}
ARITHMETIC = {
    TypeKind.BOOL, TypeKind.CHAR_S, TypeKind.SCHAR, TypeKind.UCHAR, TypeKind.SHORT, TypeKind.USHORT, TypeKind.INT,
    TypeKind.UINT, TypeKind.LONG, TypeKind.ULONG, TypeKind.LONGLONG, TypeKind.ULONGLONG, TypeKind.FLOAT,
    TypeKind.DOUBLE, TypeKind.LONGDOUBLE,
}
COMPARABLE = ARITHMETIC | {TypeKind.ENUM, TypeKind.POINTER, TypeKind.NULLPTR}


class Site:
    """An operator in a source, with its mutants: the ids from `first` on."""

    def __init__(self, source, offset, line, operator, instead, edits):
        self.source, self.offset, self.line = source, offset, line
        self.operator, self.instead, self.edits = operator, instead, edits
        self.first = None  # given out once all sites are known


def run(command, **how):
    return subprocess.run(command, capture_output=True, text=True, check=False, **how)


def compile_commands(build, floor):
    """source -> (words of its compile command, object) of a floor's library."""
    listed = run(["ninja", "-C", str(build), "-t", "compdb"])
    commands = {}
    for entry in json.loads(listed.stdout):
        words = shlex.split(entry["command"])
        if entry["file"].endswith(("cxx", "cpp")) and f"lib/CMakeFiles/twoturn_{floor}.dir/" in entry["output"]:
            at = next(i for i, word in enumerate(words) if word.endswith(("g++", "clang++", "c++", "clang++-14")))
            commands[entry["file"]] = (words[at:], entry["output"])
    assert commands, f"{build} has no twoturn_{floor}"
    return commands


def link_command(build, program):
    """Words of the command that links a program, run in BUILD."""
    listed = run(["ninja", "-C", str(build), "-t", "commands", "-s", f"tests/{program}"])
    line = listed.stdout.strip().splitlines()[-1]
    line = line.removeprefix(": && ").removesuffix(" && :")
    return shlex.split(line)


def sources_in(compiled):
    """The sources a compiled file stands for: itself, or those that a batch includes."""
    if "/Unity/" not in compiled:
        return [compiled]
    return re.findall(r'#include "(.*\.cpp)"', pathlib.Path(compiled).read_text())


class Finder:
    def __init__(self, source):
        self.source = source
        self.text = pathlib.Path(source).read_bytes()
        self.sites = []
        self.asserted = list(self.assertions())

    def assertions(self):
        """Ranges of TWOTURN_ASSERT(...): a changed assertion is no changed program."""
        for match in re.finditer(rb"\b(TWOTURN_\w+|assert)\(", self.text):
            depth, at = 1, match.end()
            while depth and at < len(self.text):
                depth += {40: 1, 41: -1}.get(self.text[at], 0)
                at += 1
            yield match.start(), at

    def find(self):
        flags = ["-std=c++20", f"-I{ROOT}/lib/include", f"-I{ROOT}/lib/src", "-isystem/usr/include/eigen3", "-w"]
        unit = clang.cindex.Index.create().parse(self.source, args=flags)
        worst = [d for d in unit.diagnostics if d.severity >= clang.cindex.Diagnostic.Error]
        assert not worst, f"{self.source}: {worst[0]}"
        self.walk(unit.cursor)
        return self.sites

    def walk(self, cursor):
        for child in cursor.get_children():
            where = child.location.file
            if where is not None and where.name != self.source:
                continue
            if child.kind in (CursorKind.STATIC_ASSERT, CursorKind.FUNCTION_TEMPLATE, CursorKind.CLASS_TEMPLATE,
                              CursorKind.ENUM_DECL):
                continue
            if child.kind in (CursorKind.VAR_DECL, CursorKind.FUNCTION_DECL, CursorKind.CXX_METHOD):
                before = self.text[child.extent.start.offset:child.location.offset]
                if re.search(rb"\bconst(expr|eval)\b", before):
                    continue
            self.look_at(child)
            self.walk(child)

    def look_at(self, cursor):
        begin, end = cursor.extent.start.offset, cursor.extent.end.offset
        if any(a <= begin < b for a, b in self.asserted):
            return
        kind = cursor.kind
        if kind in (CursorKind.BINARY_OPERATOR, CursorKind.COMPOUND_ASSIGNMENT_OPERATOR):
            parts = list(cursor.get_children())
            if len(parts) == 2:
                self.between(cursor, *parts)
        elif kind == CursorKind.UNARY_OPERATOR:
            (operand,) = list(cursor.get_children())[:1] or [None]
            sign = self.text[begin:begin + 1]
            if operand is None or operand.extent.start.offset <= begin:
                return
            if sign == b"-" and self.text[begin + 1:begin + 2] != b"-" and self.kind_of(operand) in ARITHMETIC:
                self.add(begin, "-", ["+"], [(begin, begin + 1, "twoturn_mutants::minus(@, "), (end, end, ")")])
            elif sign == b"!" and self.text[begin + 1:begin + 2] != b"=":  # != of C++20 is ! of an ==
                self.add(begin, "!", [""], [(begin, begin + 1, "twoturn_mutants::no(@, "), (end, end, ")")])
        elif kind == CursorKind.CALL_EXPR and cursor.spelling.startswith("operator"):
            parts = list(cursor.get_arguments())
            if len(parts) == 2 and all(p is not None for p in parts) and "Eigen" in cursor.type.get_canonical().spelling:
                self.between(cursor, *parts, prefix="matrix_")

    @staticmethod
    def kind_of(cursor):
        return cursor.type.get_canonical().kind

    def between(self, cursor, left, right, prefix=""):
        begin, end = cursor.extent.start.offset, cursor.extent.end.offset
        a, b = left.extent.end.offset, right.extent.start.offset
        if left.extent.start.offset != begin or right.extent.end.offset != end or not begin < a <= b < end:
            return
        operator = self.text[a:b].decode().strip()
        if not prefix:
            kinds = {self.kind_of(left), self.kind_of(right)}
            if operator in LOGIC:
                turn = "twoturn_mutants::is(@)"
                self.add(a, operator, [LOGIC[operator]], [
                    (begin, begin, "(((static_cast<bool>("), (a, a, f") != {turn})"),
                    (b, b, "(static_cast<bool>("), (end, end, f") != {turn})) != {turn})")])
                return
            if not kinds <= (COMPARABLE if operator[:1] in "=!<>" else ARITHMETIC):
                return
        table = ASSIGNING if operator in ASSIGNING else BINARY
        if operator not in table or (prefix and operator not in "+ - * += -=".split()):
            return
        name, instead = table[operator]
        self.add(a, operator, instead, [
            (begin, begin, f"twoturn_mutants::{prefix}{name}(@, "), (a, b, ", "), (end, end, ")")])

    def add(self, offset, operator, instead, edits):
        line = self.text.count(b"\n", 0, offset) + 1
        self.sites.append(Site(self.source, offset, line, operator, instead, edits))


def changed(source, sites):
    """The source with its sites switchable. Edits at one place: ends before begins, inner ends first, outer begins first."""
    text = pathlib.Path(source).read_bytes()
    pieces = []
    for site in sites:
        span = site.edits[-1][1] - site.edits[0][0]
        for start, stop, new in site.edits:
            closing = new.startswith(")")
            pieces.append((start, 0 if closing else 1, span if closing else -span, stop, new.replace("@", str(site.first))))
    out, at = [b'#include "%s"\n#line 1 "%s"\n' % (str(HEADER).encode(), source.encode())], 0
    for start, _, _, stop, new in sorted(pieces):
        out += [text[at:start], new.encode()]
        at = max(at, stop)
    return b"".join(out + [text[at:]])


def place(site):
    text = pathlib.Path(site.source).read_text().splitlines()[site.line - 1].strip()
    return f"{pathlib.Path(site.source).relative_to(ROOT / 'lib/src')}:{site.line}", text


class Mutant:
    def __init__(self, site, which):
        self.site, self.instead, self.number = site, site.instead[which], site.first + which
        self.where, self.text = place(site)
        self.floor = self.where.split("/")[0]

    def key(self):
        return f"{self.where.split(':')[0]} | {self.site.operator} -> {self.instead} | {self.text}"


def judged():
    """key -> why no test can or need tell it from the program as it is."""
    known = {}
    for file in sorted(JUDGED.glob("*.txt")):
        for line in file.read_text().splitlines():
            if line.strip() and not line.startswith("#"):
                key, _, why = line.rpartition(" || ")
                assert why, line
                known[key] = why
    return known


def make(build, work, floor, sites):
    """Compiles the floor with its sites switchable and links its tests to it."""
    objects, jobs = [], []
    for compiled, (words, made) in compile_commands(build, floor).items():
        parts = sources_in(compiled)
        here = [s for s in sites if s.source in parts]
        if not here:
            objects.append(made)
            continue
        written = {}
        for source in parts:
            mine = [s for s in here if s.source == source]
            if mine:
                copy = work / f"{floor}_{pathlib.Path(source).name}"
                copy.write_bytes(changed(source, mine))
                written[source] = str(copy)
        if compiled in written:
            changed_file = written[compiled]
        else:
            batch = pathlib.Path(compiled).read_text()
            for source, copy in written.items():
                batch = batch.replace(f'"{source}"', f'"{copy}"')
            changed_file = str(work / f"{floor}_{pathlib.Path(compiled).name}")
            pathlib.Path(changed_file).write_text(batch)
        out = changed_file + ".o"
        command = [changed_file if w == compiled else out if w == made else w for w in words] 
        command += ["-w", "-iquote", str(ROOT / "lib/src" / floor)]
        jobs.append(command)
        objects.append(out)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for command, done in zip(jobs, pool.map(lambda c: run(c, cwd=build), jobs)):
            assert done.returncode == 0, shlex.join(command) + "\n" + done.stderr[-4000:]
    program = f"test_{floor}"
    words = link_command(build, program)
    words[words.index("-o") + 1] = str(work / program)
    library = f"lib/libtwoturn_{floor}.a"
    first = words.index(library)
    words[first:first + 1] = objects
    linked = run([w for w in words if w != library], cwd=build)
    assert linked.returncode == 0, linked.stderr[-4000:]
    return work / program


def tried(program, tags, number, seconds):
    env = dict(os.environ, TWOTURN_MUTANT=str(number))
    try:
        return run([program, tags, "--abort"], env=env, timeout=seconds, cwd=program.parent).returncode
    except (subprocess.TimeoutExpired, UnicodeDecodeError):
        return "hangs"


class Tests:
    """The tests of a floor, a file at a time: what each takes and which mutants it comes to."""

    def __init__(self, program, floor):
        self.program = program
        self.files = []
        for source in sorted((ROOT / "tests" / floor).glob("*_test.cpp")):
            tag = f"[#{source.stem}]"
            listed = program.parent / f"reached_{floor}_{source.stem}"
            begun = time.monotonic()
            done = run([program, tag], env=dict(os.environ, TWOTURN_MUTANTS_REACHED=str(listed)), timeout=600)
            assert done.returncode == 0, f"{floor}/{source.stem} fails without a mutant\n{done.stdout[-2000:]}"
            reached = {int(word) for word in listed.read_text().split()}
            self.files.append((time.monotonic() - begun, tag, reached))
        self.files.sort(key=lambda file: file[0])

    def killer(self, mutant):
        """The file that kills it; None where it lives, "" where no test comes to it."""
        reaching = [f for f in self.files if mutant.site.first in f[2]]
        if not reaching:
            return ""
        for seconds, tag, _ in reaching:
            if tried(self.program, tag, mutant.number, 5 + 10 * seconds) != 0:
                return tag
        return None


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--floors", default=",".join(FLOORS))
    parser.add_argument("--files", default="")
    parser.add_argument("--in-files", type=int, default=0, help="sources to take, drawn by the seed; 0: all")
    parser.add_argument("--most-alive", type=int, default=0)
    parser.add_argument("--at", default="", help="only those at these lines: drive/teeth.cpp:12,...")
    parser.add_argument("--list", action="store_true", help="list the operators, try nothing")
    given = parser.parse_args()
    build = given.build.resolve()
    wanted_files = set(filter(None, given.files.split(",")))

    sources = [str(s) for floor in given.floors.split(",") for s in sorted((ROOT / "lib/src" / floor).glob("*.cpp"))]
    if wanted_files:
        sources = [s for s in sources if pathlib.Path(s).name in wanted_files]
    if given.in_files:
        sources = sorted(random.Random(given.seed).sample(sources, given.in_files))
    with concurrent.futures.ProcessPoolExecutor(os.cpu_count()) as pool:
        sites = [site for found in pool.map(found_in, sources) for site in found]
    number = 1
    for site in sites:
        site.first = number
        number += len(site.instead)
    mutants = [Mutant(site, which) for site in sites for which in range(len(site.instead))]
    print(f"{len(sites)} operators, {len(mutants)} mutants in {len(sources)} files", flush=True)
    known = judged()
    read = {str(pathlib.Path(source).relative_to(ROOT / "lib/src")) for source in sources}
    stale = {key for key in known if key.split(" | ")[0] in read} - {mutant.key() for mutant in mutants}
    if stale:
        sys.exit("judged, but no such mutant is there any more:\n" + "\n".join(sorted(stale)))
    if given.list:
        for mutant in mutants:
            print(f"{mutant.where}  {mutant.site.operator} -> {mutant.instead}  {mutant.text}")
        return
    if given.at:
        mutants = [mutant for mutant in mutants if mutant.where in given.at.split(",")]
    chosen = random.Random(given.seed).sample(mutants, min(given.count, len(mutants)))

    work = build / "mutants"
    work.mkdir(exist_ok=True)
    killed, alive, excused = [], [], []
    for floor in given.floors.split(","):
        mine = [m for m in chosen if m.floor == floor]
        if not mine:
            continue
        begun = time.monotonic()
        program = make(build, work, floor, sorted({m.site for m in mine}, key=lambda s: s.first))
        tests = Tests(program, floor)
        print(f"{floor}: made and counted in {time.monotonic() - begun:.0f} s", flush=True)
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            for mutant, killer in zip(mine, pool.map(tests.killer, mine)):
                if killer:
                    killed.append(mutant)
                elif mutant.key() in known:
                    excused.append(mutant)
                else:
                    alive.append(mutant)
                    how = "lives" if killer is None else "is reached by no test"
                    print(f"  {mutant.where}  {mutant.site.operator} -> {mutant.instead or 'nothing'}  {how}\n"
                          f"      {mutant.text}", flush=True)
        of = [m for m in mine if m not in excused]
        dead = sum(m in killed for m in of)
        print(f"{floor}: {dead} of {len(of)} killed by its own tests; {len(mine) - len(of)} more are judged", flush=True)
    total = len(killed) + len(alive)
    share = 100 * len(killed) / total if total else 100
    print(f"seed {given.seed}: {len(chosen)} mutants, {len(killed)} of {total} killed ({share:.1f} %), {len(excused)} judged")
    if len(alive) > given.most_alive:
        sys.exit(f"{len(alive)} live, at most {given.most_alive} may")


def found_in(source):
    return Finder(source).find()


if __name__ == "__main__":
    main()
