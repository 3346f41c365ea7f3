#!/usr/bin/env python3
"""Whatever is left out of a profile, or other in it, every answer to every question is whole: an exit code that
says what is the matter, no number that is none, no hole in a sentence, nothing wider than a terminal, a document
that is JSON and a page that is closed.

    whole_test.py TWOTURN
"""

import json
import os
import random
import re
import subprocess
import sys
import unittest
from concurrent.futures import ThreadPoolExecutor

import answers

TWOTURN = ""
SEED = 20261201
EACH = 24 // int(os.environ.get("TWOTURN_EVERY_CUT", "1"))  # profiles from each demo; fewer for coverage.py
WIDE = "(A wide table.)"  # said of what is beyond 80 columns
HOLES = re.compile(r"\b(nan|inf|nullptr|std::)\b|\{\}|  +[.,;]|(?<!\.)\.\.(?!\.)|,,| ,|\( |\(\)|-0\.0+\b(?!\d)")
NUMBER = re.compile(r"(?<![\w\"#.-])-?\d+(?:\.\d+)?(?![\w\".-])")
# Words that stand for one another, as profiles/README.md lists them.
CHOICES = (
    ("clockwise", "anticlockwise"), ("measured", "manual", "assumed", "example"), ("locked", "sprung"),
    ("crankshaft", "camshaft", "injection pump", "balance shaft", "auxiliary shaft", "water pump", "oil pump", "idler"),
    ("tooth", "back"), ("keyed", "adjustable", "free until tightened"), ("as made", "tooth", "groove"),
    ("centres", "outside", "inside"), ("new", "reused"), ("dry", "oiled"), ("in", "tight", "out"),
    ("repeats", "wanders"), ("forwards", "backwards"), ("inlet", "exhaust"), ("valve", "cam"), ("pocket", "flat"),
    ("cycloidal", "harmonic", "3-4-5", "4-5-6-7", "modified sine"), ("H8M", "ZA", "L", "XL"),
)  # fmt: skip


class Changer:
    """Takes lines out of a profile, and puts other numbers and words into it."""

    def __init__(self, seed):
        self.random = random.Random(seed)

    def changed(self, text):
        for _ in range(self.random.randint(1, 3)):
            change = self.random.choice((self.line_out, self.key_out, self.number, self.word, self.word))
            text = change(text) or text
        return text

    def lines_with(self, text, wanted):
        lines = text.splitlines(keepends=True)
        places = [k for k, line in enumerate(lines) if not line.lstrip().startswith("#") and wanted(line)]
        return lines, self.random.choice(places) if places else None

    def line_out(self, text):
        lines, at = self.lines_with(text, lambda line: "=" in line)
        return None if at is None else "".join(lines[:at] + lines[at + 1:])

    def key_out(self, text):
        lines, at = self.lines_with(text, lambda line: re.search(r"\{.*,.*\}", line))
        if at is None:
            return None
        head, pairs, tail = re.match(r"(.*?\{)(.*)(\}.*)$", lines[at], re.S).groups()
        parts = pairs.split(",")
        del parts[self.random.randrange(len(parts))]
        lines[at] = head + ",".join(parts) + tail
        return "".join(lines)

    def number(self, text):
        lines, at = self.lines_with(text, lambda line: "=" in line and NUMBER.search(line.split("=", 1)[1]))
        if at is None:
            return None
        key, value = lines[at].split("=", 1)
        places = list(NUMBER.finditer(value))
        match = self.random.choice(places)
        was = float(match[0])
        other = self.random.choice((was * 0.5, was * 2, was + 1, was - 1, was * 1.02, was * 0.98, 0.0, -was))
        told = str(round(other)) if "." not in match[0] and self.random.random() < 0.9 else repr(round(other, 4))
        lines[at] = key + "=" + value[:match.start()] + told + value[match.end():]
        return "".join(lines)

    def word(self, text):
        lines, at = self.lines_with(text, lambda line: any(f'"{w}"' in line for words in CHOICES for w in words))
        if at is None:
            return None
        for words in self.random.sample(CHOICES, len(CHOICES)):
            for word in words:
                if f'"{word}"' in lines[at]:
                    other = self.random.choice([w for w in words if w != word])
                    lines[at] = lines[at].replace(f'"{word}"', f'"{other}"', 1)
                    return "".join(lines)
        return None

    def sights(self, text):
        """Options of `why`: what somebody may have seen of some shafts."""
        shafts = re.findall(r'^name = "([^"]+)"\s*\nrole = "(?:crankshaft|camshaft|injection pump)"', text, re.M)
        options = []
        for shaft in self.random.sample(shafts, min(len(shafts), 2)):
            options += ["--pin", f"{shaft}={self.random.choice(('in', 'tight', 'out'))}"]
            if self.random.random() < 0.7:
                way = self.random.choice(("early", "late"))
                size = self.random.choice((f"9 mm {way}", f"1 tooth {way}", f"6 crank deg {way}", "right"))
                options += ["--mark", f"{shaft}={size}"]
        for option in (["--after", "2"], ["--again", "repeats"], ["--again", "wanders"], ["--turned", "backwards"],
                       ["--stop-at", "60"], ["--rocks"], ["--not-seated"], ["--moved-when-tensioned"],
                       ["--right-forwards"], ["--pointer-stuck"], ["--differs-each-try"], ["--catalogue"],
                       ["--pointer", "3:30"]):  # fmt: skip
            if self.random.random() < 0.2 and option[0] not in options:
                options += option
        return options


def questions(changer, text):
    for command in answers.OF_A_PROFILE:
        yield [command, "-"]
        yield [command, "-", "--json"]
    yield ["check", "-", "--by-the-book"]
    for page in random.Random(len(text)).sample(answers.PAGES, 2):
        yield [page[0], "-", *page[1:]]
    yield ["why", "-", *changer.sights(text)]
    yield ["sheet", "-", "--card", "--phone"]
    yield ["sheet", "-", "--job-card", "--phone"]
    yield ["sheet", "-", "--phone"]
    yield ["spread", "-", "--samples", "200"]


def no_number(word):
    raise ValueError(word)


def faults(question, text, code, out, err):
    """What is wrong with an answer; None where nothing is."""
    if code not in (0, 1, 2, 3):
        return f"exit code {code}: {err[-300:]}"
    if code == 2 and question[0] not in ("why", "draw", "sheet"):  # of these some ask for what a profile has not
        return f"asked wrongly: {err}"
    if code in (2, 3) and "--json" not in question:
        return None if err and not out else "a refusal without a word"
    if "--json" in question:
        document = json.loads(out, parse_constant=no_number)
        said = document.get("error", {"text": "an answer"})["text"]
        return None if ("error" in document) == (code > 1) and said else f"exit code {code} of another document"
    if out.lstrip().startswith("<"):
        return None if re.search(r"</(html|svg)>\s*$", out) and not re.search(r"\bnan\b|\binf\b", out) else "a page with holes"
    for line in out.splitlines():
        hole = HOLES.search(line)
        if hole and hole[0] not in text:
            return f"a hole {hole[0]!r} in: {line}"
        if len(line) > 80 and WIDE not in out and question[0] != "sheet":
            return f"too wide: {line}"
    return None if out.strip() else "nothing at all"


def asked(job):
    question, text = job
    ran = subprocess.run([TWOTURN, *question], input=text, capture_output=True, text=True, check=False,
                         cwd=answers.ROOT / "profiles", timeout=300)
    try:
        return ran.returncode, faults(question, text, ran.returncode, ran.stdout, ran.stderr), question, text
    except ValueError as error:
        return ran.returncode, f"no document: {error}", question, text


class Whole(unittest.TestCase):
    def test_every_answer_about_a_changed_profile_is_whole(self):
        changer = Changer(SEED)
        jobs = []
        for demo in answers.DEMOS:
            whole = demo.read_text(encoding="utf-8")
            for text in [whole] + [changer.changed(whole) for _ in range(EACH)]:
                jobs += [(question, text) for question in questions(changer, text)]
        with ThreadPoolExecutor(os.cpu_count()) as pool:
            done = list(pool.map(asked, jobs))
        codes = [code for code, *_ in done]
        wrong = [rest for _, *rest in done if rest[0]]
        answered = sum(1 for code in codes if code in (0, 1))
        self.assertGreater(answered, len(jobs) / 3)  # else it would try one end alone
        self.assertLess(answered, len(jobs))
        for why, question, text in wrong[:3]:
            print(f"{why}\n{' '.join(question)}\n{text}\n", file=sys.stderr)
        self.assertEqual(len(wrong), 0, sorted({why.split(":")[0] for why, *_ in wrong}))

    def test_a_hole_is_seen(self):
        for line in ("it is nan mm", "turn  .", "the , cam", "{} deg", "()", "-0.0 mm", "twice.."):
            self.assertIsNotNone(faults(["check"], "", 0, line, ""), line)
        for line in ("it is 0.0 mm", "the cam, late.", "and so on...", "-0.02 mm"):
            self.assertIsNone(faults(["check"], "", 0, line, ""), line)
        self.assertIsNotNone(faults(["check"], "", 0, 81 * "x", ""))
        self.assertIsNotNone(faults(["check"], "", -11, "", ""))
        self.assertIsNotNone(faults(["report"], "", 0, "<!doctype html><p>", ""))


if __name__ == "__main__":
    TWOTURN = sys.argv.pop(1)
    unittest.main()
