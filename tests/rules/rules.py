#!/usr/bin/env python3
"""Checks the house rules that a compiler does not: floors, includes, lengths, the top level.

    rules.py [ROOT]     one line for each violation; exit 1 if there is any

rules_test.py beside this file shows that every rule can fail.
"""

import functools
import re
import sys
from pathlib import Path

FLOORS = [
    "base", "geometry", "face", "engine", "drive", "timing", "load", "fault",
    "words", "study",
    "read", "write", "picture", "page", "cli",
]  # fmt: skip
# The wings stand side by side: each may use what is under them all, and these.
WINGS = {"read": set(), "write": set(), "picture": set(), "page": {"write", "picture"}}
TOP_LEVEL = {
    "CMakeLists.txt", "DEVELOPERS.md", "README.md",
    "cli", "examples", "lib", "profiles", "tests",
}  # fmt: skip
CODE_ROOTS = ["lib", "cli", "tests", "examples"]
LIMITS = {".hpp": 250, ".cpp": 500}  # a file has fewer lines than this
FUNCTION_LIMIT = 50

# Headers, then names, that a floor must leave to the floors from the one given upwards.
RESERVED = [
    ("read",
     {"iostream", "fstream", "filesystem", "print", "cstdio", "stdio.h"},
     r"std\s*::\s*(?:cout|cerr|clog|[io]?fstream|filesystem)\b"
     r"|\b(?:printf|fprintf|vprintf|puts|fputs|putchar)\s*\("
     r"|\bfmt\s*::\s*print\b"),
    ("cli",
     {"thread", "chrono", "csignal", "signal.h", "ctime", "time.h", "mutex", "future",
      "condition_variable", "stop_token", "semaphore"},
     r"std\s*::\s*(?:j?thread|chrono|signal|raise|async)\b"),
]  # fmt: skip
# An assertion that fails says so before it aborts; nothing else below the wings prints.
MAY_PRINT = {"lib/src/base/assert.cpp"}
# What builds a drive, its tensioner's curve or a fit, and the only files that may call it: all
# others ask a Fitted that was handed to them.
BUILDERS = {
    r"\bbuild_drive\s*\(": {
        "lib/include/twoturn/drive/build_drive.hpp", "lib/src/drive/build.cpp",
        "lib/src/drive/fitted.cpp", "lib/src/study/starter_example.cpp",
        "lib/src/drive/place_belt.cpp",  # before there is a drive: to know the way round it
    },
    r"\bTensionerCurve\s*(?:\w+\s*)?[({]|\bmake_\w+<TensionerCurve>|\bcurve\s*\.\s*emplace\b": {
        "lib/include/twoturn/drive/tensioner_curve.hpp", "lib/src/drive/tensioner_curve.cpp",
        "lib/src/drive/fitted.cpp", "lib/src/study/starter_example.cpp",
    },
    r"\bfitted_for\s*\(|\bboth_fits\s*\(|\bwarmed_fitted\s*\(": {
        "lib/include/twoturn/drive/build_drive.hpp", "lib/src/drive/fitted.cpp",
        "lib/src/study/check.cpp", "lib/src/study/skim.cpp", "lib/src/study/find_in_units.cpp",
        "lib/src/study/build_shares.cpp", "lib/src/study/warm.cpp",
        "lib/src/fault/base.cpp", "lib/src/fault/simulate.cpp",  # each fault is another drive
        "cli/common.cpp", "cli/turns.cpp",
    },
}  # fmt: skip
# What write, picture and page print is worked out before they see it: they may include none of
# these headers, nor call what these declare, however it comes to them. (Tangents of geometry are
# for all: the threading diagram lays its circles out by them.)
PRINTERS = {"write", "picture", "page"}
SOLVERS = [
    "geometry/belt_run", "geometry/survey", "face/zone", "face/contours", "face/face", "face/feelers",
    "engine/park", "engine/valve_room", "fault/lineup", "fault/look", "fault/rank", "load/elastic_belt", "load/pluck", "load/string", "engine/compression", "drive/build_drive", "drive/compare", "drive/place",
    "drive/refusal_known", "drive/route",
    "drive/teeth", "drive/tensioner_curve", "drive/working", "timing/assembly", "timing/marks",
    "timing/run", "timing/timing_spread", "timing/turns", "engine/spring_torque", "engine/bolts", "study/bolts", "study/build_shares", "study/check", "study/engine_curves", "study/motion",
    "study/pistons", "study/feel", "study/tension", "study/why", "study/warm", "study/report", "study/card", "study/sheet", "study/skim", "study/starter_example",
    "study/unused", "study/valves", "study/view",
]  # fmt: skip
# Values and solver in one header: these may be included for the values.
MIXED = {"geometry/survey", "face/zone", "face/face", "face/feelers", "engine/park"}
EIGEN_IN_PUBLIC = {"Eigen/Core", "Eigen/Geometry"}

# What precompiled headers hide: whoever uses a name includes one of its headers, itself or through a
# header of ours. A header that ends in / stands for all of that library.
ALGORITHMS = """adjacent_find all_of any_of binary_search clamp copy copy_if copy_n count count_if equal equal_range
fill fill_n find find_if find_if_not for_each generate is_sorted lower_bound max max_element merge min min_element
minmax minmax_element mismatch next_permutation none_of nth_element partial_sort partition remove remove_if replace
replace_if reverse rotate search shuffle sort stable_partition stable_sort transform unique upper_bound"""
MATHS = """abs acos asin atan atan2 cbrt ceil copysign cos cosh exp fabs floor fma fmod hypot isfinite isinf isnan log
log10 log2 lround modf nextafter pow remainder round signbit sin sinh sqrt tan tanh trunc"""
USES = {
    ("algorithm",): ALGORITHMS, ("cmath",): MATHS, ("array",): "array", ("functional",): "function", ("limits",):
    "numeric_limits", ("map",): "map multimap", ("memory",): "make_shared make_unique shared_ptr unique_ptr weak_ptr",
    ("optional",): "make_optional nullopt optional", ("span",): "span", ("string",): "string to_string",
    ("string_view", "string"): "string_view", ("variant",): "get_if holds_alternative monostate variant visit",
    ("vector",): "vector",
}  # fmt: skip
USES = {headers: re.compile(rf"\bstd\s*::\s*(?:ranges\s*::\s*)?(?:{'|'.join(names.split())})\b")
        for headers, names in USES.items()}
USES |= {("Eigen/",): re.compile(r"\bEigen\s*::"), ("fmt/",): re.compile(r"\bfmt\s*::")}

INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*(?P<open>[<"])(?P<path>[^>"\n]+)[>"]', re.M)
PREPROCESSOR = re.compile(r"^[ \t]*#(?:[^\n]*\\\n)*[^\n]*", re.M)
# A comment, a raw string, a string, a character or a number with digit separators.
NOT_CODE = re.compile(
    r"//[^\n]*|/\*.*?\*/"
    r'|R"(?P<mark>[^()\\\s]{0,16})\(.*?\)(?P=mark)"'
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|\b[0-9][0-9a-zA-Z_.]*(?:'[0-9a-zA-Z_.]+)+"
    r"|'(?:[^'\\\n]|\\.)+'",
    re.S,
)


def blanked(text, keep_strings):
    """The text with comments, and strings unless kept, blank; lines stay where they were."""

    def blank(match):
        token = match.group()
        if keep_strings and not token.startswith(("//", "/*")):
            return token
        return re.sub(r"[^\n]", " ", token)

    return NOT_CODE.sub(blank, text)


class File:
    def __init__(self, root, path):
        self.path = path
        self.name = path.relative_to(root).as_posix()
        self.text = path.read_text(encoding="utf-8")
        self.code = blanked(self.text, keep_strings=False)
        self.public = self.name.startswith("lib/include/")
        self.floor = floor_of(self.name)

    def includes(self):
        """(line, included path, whether in quotes) of every #include that is not commented out."""
        text = blanked(self.text, keep_strings=True)
        for match in INCLUDE.finditer(text):
            yield line_at(text, match.start("path")), match["path"], match["open"] == '"'


def line_at(text, position):
    return text.count("\n", 0, position) + 1


def floor_of(name):
    """The floor a file of the tree is on; None outside the floors."""
    match = re.match(r"lib/(?:include/twoturn|src)/([^/]+)/|(cli)/", name)
    return match and (match[1] or match[2])


def floor_included(file, included, quoted, root):
    """The floor that an included header is on; None if it is none of ours; "" if above them all."""
    if included.startswith("twoturn/"):
        parts = included.split("/")
        return parts[1] if len(parts) > 2 else ""
    if not quoted:
        return None
    for base in (file.path.parent, root / "lib/src"):
        found = Path(base, included).resolve()
        if found.is_file() and found.is_relative_to(root):
            return floor_of(found.relative_to(root).as_posix())
    return None


def check_floors(file, root):
    if file.floor is None:
        return
    if file.floor not in FLOORS:
        yield 1, f'"{file.floor}" is not a floor; they are {", ".join(FLOORS)}'
        return
    for line, included, quoted in file.includes():
        floor = floor_included(file, included, quoted, root)
        if floor is None:
            continue
        if floor not in FLOORS:
            yield line, f"floor {file.floor} includes {included}, which is on no floor"
        elif FLOORS.index(floor) > FLOORS.index(file.floor):
            yield line, f"floor {file.floor} includes {included} of floor {floor} above it"
        elif file.floor in WINGS and floor in WINGS and floor not in {file.floor, *WINGS[file.floor]}:
            yield line, f"floor {file.floor} includes {included} of floor {floor} beside it"


def check_public_headers(file, root):
    if not file.public:
        return
    for line, included, _ in file.includes():
        standard = "/" not in included and "." not in included
        if not (standard or included.startswith("twoturn/") or included in EIGEN_IN_PUBLIC):
            yield line, (
                f"a public header includes {included}; only the standard library, twoturn/, "
                f"{' and '.join(sorted(EIGEN_IN_PUBLIC))} may appear there"
            )


def check_reserved(file, root):
    if file.floor not in FLOORS:
        return
    for lowest, headers, names in RESERVED:
        if lowest == "read" and file.name in MAY_PRINT:
            continue
        if FLOORS.index(file.floor) >= FLOORS.index(lowest):
            continue
        for line, included, _ in file.includes():
            if included in headers:
                yield line, f"floor {file.floor} includes <{included}>, kept for {lowest} upwards"
        for match in re.finditer(names, file.code):
            used = re.sub(r"[\s(]", "", match.group())
            yield (
                line_at(file.code, match.start()),
                f"floor {file.floor} uses {used}, kept for {lowest} upwards",
            )


def check_lengths(file, root):
    limit = LIMITS[file.path.suffix]
    lines = file.text.count("\n") + (not file.text.endswith("\n"))
    if lines >= limit:
        yield lines, f"{lines} lines; a {file.path.suffix} has under {limit}"
    if file.floor is None:
        return
    for first, last, name in functions(file.code):
        if last - first + 1 >= FUNCTION_LIMIT:
            yield first, f"{name} has {last - first + 1} lines; a function has under {FUNCTION_LIMIT}"


def functions(code):
    """(first line, last line, name) of every function body, braces included, outside functions.

    A brace opens a function when what stands before it has a closed parameter list. Of a
    constructor with braces in its initialisers, those count as bodies too; they are short.
    """
    code = PREPROCESSOR.sub(lambda line: re.sub(r"[^\n]", " ", line.group()), code)
    stack = []  # of (name or None, line) for every open brace
    inside = 0  # how many of them are functions
    start = 0
    for match in re.finditer(r"[{};]", code):
        if match.group() == "{":
            name = None if inside else function_name(code[start : match.start()])
            stack.append((name, line_at(code, match.start())))
            inside += name is not None
        elif match.group() == "}" and stack:
            name, line = stack.pop()
            if name is not None:
                inside -= 1
                yield line, line_at(code, match.start()), name
        start = match.end()


def function_name(before):
    """The name in what stands before an opening brace, or None if it opens no function."""
    if re.search(r"\b(?:namespace|extern)\b[^()]*$", before):
        return None
    if re.match(r"\s*(?:template\s*<.*>\s*)?(?:class|struct|union|enum)\b[^()]*$", before, re.S):
        return None
    if before.count("(") != before.count(")") or "(" not in before or re.search(r"=\s*$", before):
        return None
    name = re.search(r"((?:\w+::)*(?:operator\s*\S+?|~?\w+))\s*\(", before)
    return name[1] if name else "a function"


def check_oracle(file, root):
    """An independent computation stays independent, also through what it includes."""
    if not (file.name.startswith("tests/") and file.path.name.startswith("oracle")):
        return
    seen = set()

    def reached(current):
        for line, included, quoted in current.includes():
            if re.match(r"twoturn\b", included):
                yield line, included
            for base in (current.path.parent, root / "tests", root / "lib/src"):
                found = Path(base, included).resolve()
                if quoted and found.is_file() and found not in seen:
                    seen.add(found)
                    for _, deeper in reached(File(root, found)):
                        yield line, f"{included}, and so {deeper}"

    for line, included in reached(file):
        yield line, f"an oracle includes {included}"


def check_builders(file, root):
    if file.floor is None:
        return
    for pattern, allowed in BUILDERS.items():
        if file.name in allowed:
            continue
        for match in re.finditer(pattern, file.code):
            called = re.search(r"\w+", match.group())[0]
            yield (
                line_at(file.code, match.start()),
                f"{called} builds a drive again; ask the Fitted that is there",
            )


def check_flags(file, root):
    """A bool beside other parameters says nothing where it is passed: an enum, or two functions."""
    if file.floor is None:
        return
    for match in re.finditer(r"(?:\(\s*(?:const )?bool \w+\s*,|,\s*(?:const )?bool \w+\s*[,)=])", file.code):
        flag = re.search(r"bool (\w+)", match.group())[1]
        line = line_at(file.code, match.start() + match.group().index("bool"))
        yield line, f"the parameter {flag} is a bool beside others; what would a caller read in true?"


def solver_calls(root):
    """What the solvers' headers declare at namespace scope, by name, with its header."""
    calls = {}
    for name in SOLVERS:
        path = root / f"lib/include/twoturn/{name}.hpp"
        if not path.is_file():
            continue
        code = blanked(path.read_text(encoding="utf-8"), keep_strings=False)
        for match in re.finditer(r"^(?:\[\[nodiscard\]\] )?(?!struct|class|enum|using)\w[\w:<>, ]*[ &](\w+)\(", code, re.M):
            calls[match[1]] = name
    return calls


def check_printers(file, root):
    """A writer computes nothing."""
    if file.floor not in PRINTERS:
        return
    for line, included, _ in file.includes():
        name = included.removeprefix("twoturn/").removesuffix(".hpp")
        if name in SOLVERS and name not in MIXED:
            yield line, f"floor {file.floor} includes {included}, a solver: print an answer of study"
    calls = solver_calls(root)
    for match in re.finditer(r"(?<![\w.>:])(\w+)\(", file.code):
        if match[1] in calls:
            yield (
                line_at(file.code, match.start()),
                f"floor {file.floor} calls {match[1]} of {calls[match[1]]}: print an answer of study",
            )


@functools.cache
def headers_of(path, root):
    """Headers of other libraries that a file includes, itself or through files of ours."""
    headers = set()
    for match in INCLUDE.finditer(blanked(path.read_text(encoding="utf-8"), keep_strings=True)):
        if match["open"] == "<":
            headers.add(match["path"])
        for base in (path.parent, *(root / folder for folder in ("lib/include", "lib/src", "tests", "cli"))):
            ours = (base / match["path"]).resolve()
            if ours.is_file() and ours.is_relative_to(root):
                headers |= headers_of(ours, root)
                break
    return frozenset(headers)


def check_uses(file, root):
    included = headers_of(file.path.resolve(), root)
    for headers, names in USES.items():
        used = names.search(file.code)
        known = any(one == header or (header[-1] == "/" and one.startswith(header))
                    for one in included for header in headers)
        if used and not known:
            yield line_at(file.code, used.start()), f"uses {used.group()} without <{headers[0].rstrip('/')}>"


RULES = [check_uses, check_printers, check_builders, check_flags, check_floors, check_public_headers, check_reserved, check_lengths, check_oracle]


def check_top_level(root):
    for path in sorted(root.iterdir()):
        ignored = path.name.startswith(".") or (path.is_dir() and path.name.startswith("build"))
        if not ignored and path.name not in TOP_LEVEL:
            yield path.name, "not one of the names agreed for the top level"


def code_files(root):
    for top in CODE_ROOTS:
        for path in sorted((root / top).rglob("*")):
            if path.suffix in LIMITS and path.is_file():
                yield File(root, path)


def violations(root):
    root = Path(root).resolve()
    for name, message in check_top_level(root):
        yield f"{name}: {message}"
    for file in code_files(root):
        for rule in RULES:
            for line, message in rule(file, root):
                yield f"{file.name}:{line}: {message}"


def main(arguments):
    root = Path(arguments[0] if arguments else Path(__file__).parents[2])
    found = list(violations(root))
    print("\n".join(found) if found else "every rule is kept")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
