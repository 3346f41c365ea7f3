#!/usr/bin/env python3
"""Is everything back in? A record that is filled in as the job asks agrees; without any one tick,
number or answer of it, or with any one of them wrong, it never does, and what is missing is named.

    record_test.py TWOTURN
"""

import json
import math
import os
import re
import subprocess
import sys
import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

TWOTURN = ""
PROFILES = Path(__file__).parents[2] / "profiles"
DEMOS = ["harbour-launch", "hill-climb-saloon"]
# What a job need not have: an edge's reading of a mark that came back, who and when, and the other
# two ways to read a tension.
FREE = {"by", "date", "off_mm", "read_n", "give_mm", "push_n"}


def run(*arguments, cwd=PROFILES):
    return subprocess.run([TWOTURN, *map(str, arguments)], capture_output=True, text=True,
                          check=False, cwd=cwd, timeout=300)


def told(profile, text, *options):
    with tempfile.TemporaryDirectory() as folder:
        record = Path(folder) / "record.toml"
        record.write_text(text, encoding="utf-8")
        ran = run("check", PROFILES / f"{profile}.toml", "--record", record, *options)
    return ran.returncode, ran.stdout


def judged(profile, text):
    code, document = told(profile, text, "--json")
    return code, json.loads(document)


def blank(profile):
    with tempfile.TemporaryDirectory() as folder:
        record = Path(folder) / "record.toml"
        ran = run("sheet", PROFILES / f"{profile}.toml", "--record", record)
        assert ran.returncode in (0, 1), ran.stderr
        return record.read_text(encoding="utf-8")


def filled(profile):
    """The blank record with everything done, from what the check has on paper."""
    paper = json.loads(run("check", f"{profile}.toml", "--json").stdout)
    card = json.loads(run("sheet", f"{profile}.toml", "--json").stdout)["job_card"]
    setting = paper["turns"]["setting"] if paper.get("turns") else None
    setting = setting or paper["tensioner"]["meant"]
    pins, holes = len(card["pins"]), len(card["access_holes"])
    values = {
        "out_of_flat_mm": 0.03, "turns": 2, "back": '"yes"', "pin_in": '"yes"', "out": '"yes"',
        "closed": '"yes"', "pins_in": pins, "pins_out": pins, "holes_opened": holes,
        "holes_closed": holes, "pointer_deg": setting.get("pointer_deg"),
        "roller_deg": setting.get("at_deg"), "roller_mm": setting.get("at_mm"),
    }  # fmt: skip
    if paper["tension"]:
        values["read_hz"] = next(run["note_hz"] for run in paper["tension"]["runs"] if run["measure_here"])
    lines, tray = [], None
    for line in blank(profile).splitlines():
        key = line.split(" = ")[0]
        if line.startswith("[["):
            tray = line == "[[tray]]"
        if key == "done":
            count = int(re.search(r"bolts 1 to (\d+)", line)[1])
            line = f"done = {list(range(1, count + 1))}"
        elif key == "back" and tray:
            line = "back = " + re.search(r"of (\d+)", line)[1]
        elif '= ""' in line and values.get(key) is not None:
            line = f"{key} = {values[key]}"
        lines.append(line)
    return "\n".join(lines) + "\n"


def words(document):
    return document["headline"] + "\n" + "\n".join(finding["text"] for finding in document["findings"])


class Record(unittest.TestCase):
    def test_a_record_with_all_done_agrees_and_says_that_it_is_no_leave_to_start(self):
        for demo in DEMOS:
            code, document = judged(demo, filled(demo))
            self.assertEqual((code, document["verdict"]), (0, "agrees"), f"{demo}: {words(document)}")
            self.assertEqual(document["basis"], "record")
            self.assertTrue(document["record"]["complete"])
            self.assertRegex(document["headline"], "^By paper and record: geometry and record agree; "
                                                   "this is not leave to start")

    def test_a_blank_record_is_read_for_what_it_holds_and_names_all_that_is_open(self):
        for demo in DEMOS:
            code, document = judged(demo, blank(demo))
            self.assertEqual((code, document["verdict"]), (0, "look again"))
            self.assertIn("NOT DONE", document["headline"])
            record = document["record"]
            self.assertEqual(record["open"], len(record["items"]))
            self.assertEqual(record["bolt_ticks"], 0)

    def test_every_missing_tick_turns_the_verdict_and_is_named(self):
        """One bolt of one stage, one answer, one number at a time."""
        jobs = []
        for demo in DEMOS:
            text = filled(demo)
            lines = text.splitlines(keepends=True)
            group = table = about = ""
            for number, line in enumerate(lines):
                key, _, value = line.partition(" = ")
                if line.startswith("["):
                    table = line.strip().strip("[]")
                if key in ("name", "shaft"):
                    about = json.loads(value.split(" #")[0].strip())
                    group = about if table == "bolts" else group
                if key == "done":
                    stage = int(re.match(r"stage = (\d+)", lines[number - 1])[1])
                    done = json.loads(value)
                    for bolt in done:
                        left = f"done = {[other for other in done if other != bolt]}\n"
                        jobs.append((demo, lines, number, left, [f"bolt {bolt} ", f"stage {stage}", group]))
                elif (key not in FREE | {"name", "shaft", "stage", "profile", "fingerprint"}
                      and value and '""' not in value):
                    named = about if table in ("mark", "pin", "access_hole", "tray", "head") else ""
                    jobs.append((demo, lines, number, f'{key} = ""\n', [named]))
                    jobs.append((demo, lines, number, "", [named]))
        self.assertGreater(len(jobs), 80)

        def outcome(job):
            demo, lines, number, left, named = job
            code, document = judged(demo, "".join(lines[:number] + [left] + lines[number + 1:]))
            where = f"{demo}:{number + 1}: {lines[number].strip()} -> {left.strip()}"
            if document.get("verdict") != "look again" or code != 0:
                return f"{where}: {code} {document.get('verdict', document)}"
            if "NOT DONE" not in document["headline"]:
                return f"{where}: {document['headline']}"
            absent = [word for word in named if word not in words(document)]
            return f"{where}: not named: {absent}" if absent else None

        with ThreadPoolExecutor(os.cpu_count()) as pool:
            found = [text for text in pool.map(outcome, jobs) if text]
        self.assertEqual(found, [], "\n" + "\n".join(found))

    def test_every_answer_that_says_no_or_another_number_turns_the_verdict(self):
        jobs = []
        for demo in DEMOS:
            lines = filled(demo).splitlines(keepends=True)
            for number, line in enumerate(lines):
                key, _, value = line.partition(" = ")
                other = None
                if value.strip() == '"yes"':
                    other = '"no"'
                elif key in ("turns", "pins_out", "holes_closed", "back") and re.fullmatch("[1-9][0-9]*", value.strip()):
                    other = str(int(value) - 1)
                elif key in ("pins_in", "holes_opened"):
                    other = str(int(value) + 1)
                elif key == "out_of_flat_mm":
                    other = "0.07"
                elif key in ("pointer_deg", "roller_deg", "roller_mm"):
                    other = str((float(value) + 60) % 360)
                elif key == "read_hz" and '""' not in value:
                    other = str(float(value) * 1.4)
                elif key == "done" and len(json.loads(value)) > 1:
                    done = json.loads(value)
                    other = str([done[1], done[0], *done[2:]])
                if other is not None:
                    jobs.append((demo, lines, number, f"{key} = {other}\n"))
        self.assertGreater(len(jobs), 25)
        for demo, lines, number, left in jobs:
            _, document = judged(demo, "".join(lines[:number] + [left] + lines[number + 1:]))
            with self.subTest(f"{demo}: {lines[number].strip()} -> {left.strip()}"):
                self.assertIn(document.get("verdict"), ("look again", "stop"), document)
                self.assertTrue(document["record"]["wrong"] > 0)

    def test_the_text_tells_who_did_what_and_what_is_not_done(self):
        whole = filled("harbour-launch").replace('by = ""', 'by = "the apprentice"', 1)
        code, text = told("harbour-launch", whole.replace('date = ""', 'date = "2 May"', 1))
        self.assertEqual(code, 0)
        part = text[text.index("By the record of the apprentice, 2 May:"):]
        self.assertRegex(part, r"- \d+ of \d+ ticks at bolts\.")
        self.assertGreater(part.count("\n- done: "), 5)
        self.assertNotIn("NOT DONE", part)
        code, text = told("harbour-launch", blank("harbour-launch"))
        self.assertIn("By the record:", text)
        self.assertIn("NOT DONE", text)
        self.assertNotIn("- done: ", text)

    def test_a_mark_half_a_tooth_out_at_its_own_edge_is_a_stop(self):
        """A mark stands on a radius of its own: half a tooth of 40 is 4.5 deg of it."""
        launch = (PROFILES / "harbour-launch.toml").read_text(encoding="utf-8")
        for radius in (12.0, 40.0, 90.0):
            self.assertIn("mark_deg = 352\n", launch)
            text = launch.replace("mark_deg = 352\n", f"mark_deg = 352\nmark_radius_mm = {radius}\n")
            half_mm = math.radians(360 / 40 / 2) * radius
            for off, stops in ((half_mm - 0.01, False), (half_mm + 0.01, True)):
                with tempfile.TemporaryDirectory() as folder:
                    profile, record = Path(folder) / "p.toml", Path(folder) / "r.toml"
                    profile.write_text(text, encoding="utf-8")
                    run("sheet", profile, "--record", record)
                    asked = re.sub(r'(shaft = "cam"\nback = )""(.*\noff_mm = )""', rf'\g<1>"no"\g<2>{off:.4f}',
                                   record.read_text(encoding="utf-8"))
                    record.write_text(asked, encoding="utf-8")
                    document = json.loads(run("check", profile, "--record", record, "--json").stdout)
                levels = [f["level"] for f in document["findings"]
                          if f["code"] == "record-wrong" and f["about"] == "cam"]
                self.assertEqual(levels, ["stop" if stops else "look"], (radius, off))
                self.assertNotEqual("turn twice again" in words(document), stops)

    def test_loosened_limits_are_told_also_where_all_agrees(self):
        text = (PROFILES / "harbour-launch.toml").read_text(encoding="utf-8") + "\n[limits]\nstop_teeth = 0.6\n"
        with tempfile.TemporaryDirectory() as folder:
            profile, record = Path(folder) / "p.toml", Path(folder) / "r.toml"
            profile.write_text(text, encoding="utf-8")
            own = json.loads(run("sheet", profile, "--json").stdout)["job_card"]["fingerprint"]
            done = re.sub(r'(?m)^fingerprint = "\S+"', f'fingerprint = "{own}"', filled("harbour-launch"))
            record.write_text(done, encoding="utf-8")
            document = json.loads(run("check", profile, "--record", record, "--json").stdout)
        self.assertEqual(document["verdict"], "agrees", words(document))
        self.assertIn("Judged by loosened limits", document["headline"])

    def test_stages_of_bolts_that_nobody_counted_are_not_done(self):
        text = re.sub(r"(?m)^positions_mm = .*\n", "", (PROFILES / "harbour-launch.toml").read_text(encoding="utf-8"))
        with tempfile.TemporaryDirectory() as folder:
            profile, record = Path(folder) / "p.toml", Path(folder) / "r.toml"
            profile.write_text(text, encoding="utf-8")
            self.assertIn(run("sheet", profile, "--record", record).returncode, (0, 1))
            document = json.loads(run("check", profile, "--record", record, "--json").stdout)
        bolts = [item["state"] for item in document["record"]["items"] if item["what"] == "bolts"]
        self.assertEqual(set(bolts), {"open"})

    def test_a_pin_still_in_or_a_hole_left_open_is_a_stop_and_counted(self):
        text = filled("harbour-launch")
        for key, count in (("out", "1 pin out of 2"), ("closed", "1 plug closed of 2")):
            changed = re.sub(rf'(?m)^{key} = "yes"', f'{key} = "no"', text, count=1)
            code, document = judged("harbour-launch", changed)
            self.assertEqual((code, document["verdict"]), (1, "stop"))
            self.assertIn(count, document["headline"])
            self.assertIn("NOT DONE", document["headline"])

    def test_a_tension_that_is_off_says_which_way_to_turn(self):
        text = filled("night-bakery-van")  # a stop on paper
        (hz,) = re.findall(r"(?m)^read_hz = (\S+)", text)
        for share, state, said in (
            (0.8, "wrong", "too slack: move the tensioner on towards tight, turn twice by hand, and read it again."),
            (1.25, "wrong", "too tight: let the tensioner back, turn twice by hand, and read it again."),
            (2.0, "open", "pluck again in the middle."),
        ):  # fmt: skip
            changed = text.replace(f"read_hz = {hz}", f"read_hz = {share * float(hz):.1f}")
            _, document = judged("night-bakery-van", changed)
            self.assertIn(said, words(document))
            states = [item["state"] for item in document["record"]["items"] if item["what"] == "tension"]
            self.assertEqual(states, [state])

    def test_a_hole_that_is_not_ticked_is_not_done(self):
        text = re.sub(r'(?m)^closed = "yes"', 'closed = ""', filled("harbour-launch"), count=1)
        _, document = judged("harbour-launch", text)
        self.assertIn("2 pins out of 2, 1 plug closed of 2: NOT DONE", document["headline"])

    def test_a_stop_on_paper_stays_one_whatever_the_record_says(self):
        code, document = judged("night-bakery-van", filled("night-bakery-van"))
        self.assertEqual((code, document["verdict"], document["basis"]), (1, "stop", "record"))
        self.assertRegex(document["headline"], "^By paper and record: STOP")

    def test_the_record_of_another_profile_is_refused(self):
        text = filled("harbour-launch")
        code, document = judged("hill-climb-saloon", text)
        self.assertEqual(code, 3)
        self.assertIn("another profile", document["error"]["problems"][0]["rule"])
        for change in (r'^fingerprint = ".*$', r"^profile = .*$"):
            code, document = judged("harbour-launch", re.sub(rf"(?m){change}",
                                    change[1:change.index(" ")] + ' = "other"', text))
            self.assertEqual(code, 3, document)
        code, document = judged("harbour-launch", re.sub(r"(?m)^fingerprint.*\n", "", text))
        self.assertEqual(code, 3)
        code, document = judged("harbour-launch", "[[mark]]\nshaft = 'cam'\n")
        self.assertEqual(code, 3)

    def test_slips_are_refused_with_their_place_and_the_nearest_name(self):
        text = filled("harbour-launch")
        for old, new, said in (
            ('shaft = "cam"', 'shaft = "cm"', "cam"),
            ('back = "yes"', 'back = "maybe"', '"yes", "no"'),
            ("turns = 2", 'turns = "2"', "without the quotes"),
            ("done = [1, 2,", "done = [1, 1,", "twice"),
            ("done = [1, 2,", "done = [1, 20,", "from 1 to 10"),
            ("pins_in = 2", "pins_inn = 2", "pins_in"),
            ("stage = 2", "stage = 9", "from 1 to 3"),
            ("pins_out = 2", "pins_out = -1", "0 or more"),
            ("out_of_flat_mm = 0.03", "out_of_flat_mm = -0.03", "0 or more"),
            ("done = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]", "done = 10", "list of bolts"),
            ("stage = 2", "stage = 1", "keep one"),
            ("stage = 2 ", "# ", "needs stage"),
            ('shaft = "cam"', 'shaft = "crank"', "keep one"),
            ('shaft = "cam"', "", "needs shaft"),
            ("[two_turns]", "[tension]\nread_n = 300\nread_hz = 90\n[two_turns]", "one reading is enough"),
            ("[two_turns]", "[tension]\nread_hz = 0\n[two_turns]", "more than 0"),
            ("[two_turns]", "[tension]\ngive_mm = 5\npush_n = 0\n[two_turns]", "more than 0"),
        ):  # fmt: skip
            self.assertIn(old, text)
            code, document = judged("harbour-launch", text.replace(old, new, 1))
            with self.subTest(new):
                self.assertEqual(code, 3, document.get("headline"))
                problem = document["error"]["problems"][0]
                self.assertTrue(problem["line"] > 0)
                self.assertIn(said, problem["rule"] + (problem.get("nearest") or ""))

    def test_a_record_is_never_written_over(self):
        with tempfile.TemporaryDirectory() as folder:
            record = Path(folder) / "record.toml"
            record.write_text("mine\n", encoding="utf-8")
            ran = run("sheet", "harbour-launch.toml", "--record", record)
            self.assertEqual(ran.returncode, 4, ran.stdout)
            self.assertIn("never written over", ran.stderr)
            ran = run("sheet", "harbour-launch.toml", "--record", record, "--force")
            self.assertEqual(ran.returncode, 2, ran.stdout)
            self.assertEqual(record.read_text(encoding="utf-8"), "mine\n")
            self.assertEqual([path.name for path in Path(folder).iterdir()], ["record.toml"])

    def test_the_fingerprint_is_of_the_meaning(self):
        """The same for other words of the same profile; another for any other number."""
        text = (PROFILES / "harbour-launch.toml").read_text(encoding="utf-8")

        def print_of(text, *options):
            with tempfile.TemporaryDirectory() as folder:
                (Path(folder) / "p.toml").write_text(text, encoding="utf-8")
                return json.loads(run("sheet", "p.toml", "--json", *options,
                                      cwd=folder).stdout)["job_card"]["fingerprint"]

        own = print_of(text)
        alike = re.sub(r"(?m)^#.*\n", "", text).replace("teeth = 112", "teeth   =  112 # counted")
        alike = alike.replace("diameter_mm = 60", "diameter_thou = 2362.2047244094488")
        alike = alike.replace('default = "manual"', 'default = "measured"')
        alike = alike.replace("arm_mm = 6\nslack_deg = 285", "slack_deg = 285.0\narm_mm = 6.0")
        self.assertEqual(print_of(alike), own)
        for other in (text.replace("teeth = 112", "teeth = 111"),
                      text.replace("torque_nm = 60", "torque_nm = 61"),
                      text.replace('closed_by = "plug, M8"', 'closed_by = "plug, M10"'),
                      text.replace('fixing = "keyed"', 'fixing = "adjustable"')):  # fmt: skip
            self.assertNotEqual(other, text)
            self.assertNotEqual(print_of(other), own)
        self.assertNotEqual(print_of(text, "--set", "belt.teeth=111"), own)


if __name__ == "__main__":
    TWOTURN = os.path.abspath(sys.argv.pop(1))
    unittest.main(verbosity=2)
