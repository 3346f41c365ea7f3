#!/usr/bin/env python3
"""The JSON Schemas in profiles/ against what they describe, judged by python3-jsonschema: every
profile and every document passes, and each with something wrong in it fails.

    schemas_test.py TWOTURN
"""

import copy
import functools
import json
import subprocess
import sys
import tempfile
import tomllib
import unittest
from pathlib import Path

import jsonschema

ROOT = Path(__file__).parents[2]
PROFILES = sorted((ROOT / "profiles").glob("*.toml"))
OTHERS = sorted((ROOT / "tests/every").glob("*.toml"))
SCHEMAS = {
    path.name: json.loads(path.read_text(encoding="utf-8"))
    for path in sorted((ROOT / "profiles").glob("*.schema.json"))
}
TWOTURN = ""
STARTERS = [
    [], ["--cams", "2", "--idlers", "2", "--pump"],
    ["--cams", "2", "--injection-pump", "--geared-balance"],
    ["--cams", "4", "--tensioner", "slide"], ["--heads", "2", "--cams", "2", "--tensioner", "none"],
    ["--calliper", "--pump"],
]  # fmt: skip


def remembering(kind):
    """The same validator, but that it does not look again at a value that it has found good by
    the very same part of a schema: documents differ in one place from each other."""
    found_good = {}

    def once(keyword, check):
        def checked(validator, value, instance, schema):
            key = keyword, id(schema), id(instance)
            if key in found_good:
                return
            good = True
            for error in check(validator, value, instance, schema) or ():
                good = False
                yield error
            if good:
                found_good[key] = schema, instance  # kept, so that no other gets its id
        return checked

    slow = ("$ref", "allOf", "anyOf", "oneOf", "items", "properties", "unevaluatedProperties")
    checks = {word: once(word, kind.VALIDATORS[word]) for word in slow if word in kind.VALIDATORS}
    return jsonschema.validators.extend(kind, checks)


@functools.cache
def validator(name):
    kind = remembering(jsonschema.validators.validator_for(SCHEMAS[name]))
    # Without their "$schema", which would call for the validator that forgets.
    store = {other: {k: v for k, v in schema.items() if k != "$schema"} for other, schema in SCHEMAS.items()}
    return kind(store[name], resolver=jsonschema.RefResolver(name, store[name], store=store))


def faults(name, value):
    return [f"{'/'.join(map(str, error.absolute_path))}: {error.message[:200]}"
            for error in validator(name).iter_errors(value)]


def run(*arguments, stdin=""):
    return subprocess.run([TWOTURN, *map(str, arguments)], input=stdin, capture_output=True,
                          text=True, check=False).stdout


def schema_of(document):
    """The schema that a document says of itself it keeps to."""
    if "error" in document:
        return "document-error.schema.json"
    for other in ("none", "working", "compare"):
        if other in document:
            return f"document-{other}.schema.json"
    return f"document-{document['command']}.schema.json"


def objects(value, path=()):
    """The path of every object in a document; of a list the first and the last element stand for
    all."""
    if isinstance(value, dict):
        yield path
        for key, inner in value.items():
            yield from objects(inner, (*path, key))
    elif isinstance(value, list):
        for place in sorted({0, len(value) - 1}) if value else []:
            yield from objects(value[place], (*path, place))


def with_extra_key(value, path):
    """The document with a key too many in the object at a path; what lies beside the path is
    shared with the document."""
    if not path:
        return {**value, "no_such_key": 1}
    other = copy.copy(value)
    other[path[0]] = with_extra_key(value[path[0]], path[1:])
    return other


class Profiles(unittest.TestCase):
    NAME = "profile.schema.json"

    def texts(self):
        for path in PROFILES + OTHERS:
            yield path.name, path.read_text(encoding="utf-8")
        for options in STARTERS:
            yield "starter " + " ".join(options), run("starter", *options)

    def test_every_profile_and_starter_passes(self):
        for name, text in self.texts():
            with self.subTest(name):
                self.assertEqual(faults(self.NAME, tomllib.loads(text)), [])

    def test_an_extra_key_fails_in_every_table(self):
        for name, text in self.texts():
            tree = tomllib.loads(text)
            for path in objects(tree):
                goes_by_names = path and (path[0] in ("example", "origin")
                                          or path[:-1] in (("build",), ("seen",)))
                if goes_by_names:
                    continue
                other = with_extra_key(tree, path)
                with self.subTest(f"{name}: {path}"):
                    self.assertNotEqual(faults(self.NAME, other), [])

    def test_what_the_reader_takes_passes(self):
        for text in (
            'crank_turns = "counterclockwise"',
            "[belt]\nover_10_teeth_in = 3.75",
            '[[head]]\nname = "h"\ndeck_deg = "4:30"',
            '[[head]]\nname = "h"\ndeck_deg = "9 o\'clock"',
            '[[pulley]]\nname = "p"\nat_thou = [1, 2.5]',
            '[[cover]]\nname = "c"\npoints_in = [[1, 2], [3, 4]]\nclosed = true',
            "[build]\nskim_thou = 12",
            '[build]\nteeth_out = { cam = "1 late", pump = -1 }\nadjusted_deg = { cam = "2.5 early" }',
            '[build]\nrenewed = { "water pump" = { teeth = 20, at_mm = [1, 2] } }',
            '[origin]\n"belt.teeth" = "manual"\nbelt.pitch_mm = { from = "measured" }',
            '[engine]\ncylinders = 4\nstroke_in = 3.4\ncrank_pins_deg = [0, 180, 180, 0]',
            '[[valve]]\nname = "v"\nside = "intake"\nlift_thou = 350\ntable = "v.csv"',
            '[[bolts]]\nname = "b"\npitch_thou = 49\n[[bolts.stage]]\ntorque_lbf_ft = 30',
            '[[tray]]\nname = "caps"\ncolumns = 5',
            '[origin]\n"pulley.cam" = { give_or_take = 0.1 }',
            '[build]\nteeth_out = { cam = "right" }',
            '[seen]\npin = { "inlet cam" = "tight", crank = "in" }\nmark_mm = { cam = "9.5 mm late" }',
            '[seen]\nmark_in = { cam = 0.3 }\nmark_thou = { damper = "right" }',
            '[seen]\nmark_teeth = { cam = "1 late" }\nmark_crank_deg = { pump = "18 crank deg early" }',
            '[seen]\npointer_deg = "4:30"\nafter_turns = 4\nprior = { "tooth-out" = 3 }\nstops = false',
            '[seen]\nturned = "backwards"\n[[seen.count]]\nfrom = "crank"\nto = "cam"\nteeth = 41',
            "[example]\nbelt.teeth = 111\n\"pulley.cam.at_mm\" = [0, 375]",
        ):  # fmt: skip
            with self.subTest(text):
                self.assertEqual(faults(self.NAME, tomllib.loads(text)), [])

    def test_slips_fail(self):
        for text in (
            "tittle = 'misspelt'",
            "[belt]\nteehs = 111",
            "[belt]\nteeth = '111'",
            "[belt]\nteeth = 111.5",
            "[belt]\nteeth = 0",
            "[belt]\nsection = 'no such section'",
            "[belt]\npitch = 8",
            "[belt]\npitch_mm = 8\npitch_in = 0.3",
            "[belt]\ndouble_sided = 'yes'",
            "[[belt]]\nteeth = 111",
            "[pulley]\nname = 'once'",
            "[[pulley]]\nteeth = 20",
            "[[pulley]]\nname = 'p'\nrole = 'camshift'",
            "[[pulley]]\nname = 'p'\nat_mm = [1]",
            "[[pulley]]\nname = 'p'\nat_mm = [1, 2, 3]",
            "[[pulley]]\nname = 'p'\nat_mm = 62.5",
            "[[pulley]]\nname = 'p'\nface = 'front'",
            "[[pulley]]\nname = 'p'\nmark_deg = 'noon'",
            "[[pulley]]\nname = 'p'\nmark_deg = '13:00'",
            "[[pulley]]\nname = 'p'\n[pulley.tensioner]\narm_mm = '6'",
            "[[pulley]]\nname = 'p'\n[pulley.pin]\nradius_cm = 6",
            "[[geared]]\nname = 'g'\nratio = -2",
            "[[cover]]\nname = 'c'\npoints_mm = [1, 2]",
            "[build]\nteeth_out = { cam = '1 somehow' }",
            "[build]\nteeth_out = { cam = 1.5 }",
            "[build]\nskim_mm = '0.2'",
            "[build]\nskim_mm = 0.2\nskim_thou = 8",
            "[limits]\nnear = 2",
            "[[bolts]]\nname = 'b'\ncondition = 'old'",
            "[[bolts]]\nname = 'b'\n[[bolts.stage]]\ntorque_nm = 30\ntorque_lbf_ft = 22",
            "[[bolts]]\nname = 'b'\norder = 1",
            "[[access_hole]]\nclosed_by = 'plug'",
            "[seen]\npin = { cam = 'inside' }",
            "[seen]\npin = 'out'",
            "[seen]\nmark_mm = 9.5",
            "[seen]\nmark_mm = { cam = '9.5 teeth late' }",
            "[seen]\nafter_turns = 3",
            "[seen]\nagain = 'sometimes'",
            "[seen]\ngive_mm = 1\ngive_in = 0.04",
            "[seen]\nprior = { 'tooth out' = 3 }",
            "[seen]\nprior = { 'tooth-out' = -1 }",
            "[seen]\nrocks = 'yes'",
            "[seen]\n[[seen.count]]\nfrom = 'crank'\nto = 'cam'",
            "[engine]\ninterference = 'maybe'",
            "[engine]\ncylinders = 4.5",
            "[engine]\nfiring_order = 1342",
            "[engine]\nchamber_cc = 40\ncompression_ratio = 9",
            "[[valve]]\nside = 'inlet'",
            "[[valve]]\nname = 'v'\nlaw = 'polynomial'",
            "[[valve]]\nname = 'v'\nlift_mm = 9\nlift_thou = 350",
            "[origin]\ndefault = 'guessed'",
            "[origin]\n'belt.teeth' = { from = 'measured', give_or_take = -1 }",
            "[origin]\n'belt.teeth' = 3",
            "[example]\n'belt.teeth' = '111'",
        ):  # fmt: skip
            with self.subTest(text):
                self.assertNotEqual(faults(self.NAME, tomllib.loads(text)), [])


class Sketches(unittest.TestCase):
    def knows(self, node, keys):
        """Whether a part of the profile's schema has such keys below it."""
        if "$ref" in node:
            node = SCHEMAS[Profiles.NAME]["definitions"][node["$ref"].rsplit("/", 1)[1]]
        if not keys:
            return True
        below = [part for word in ("allOf", "anyOf", "oneOf") for part in node.get(word, [])]
        below += [node["items"]] if "items" in node else []
        first = node.get("properties", {}).get(keys[0])
        return (first is not None and self.knows(first, keys[1:])) or any(
            self.knows(part, keys) for part in below)

    def test_every_key_of_a_sketch_is_the_profiles(self):
        sketches = json.loads(run("starter", "--json"))["sketches"]
        self.assertGreater(len(sketches), 15)
        for sketch in sketches:
            for key in sketch["keys"]:
                with self.subTest(f"{sketch['title']}: {key}"):
                    self.assertTrue(self.knows(SCHEMAS[Profiles.NAME], key.split(".")))
        self.assertFalse(self.knows(SCHEMAS[Profiles.NAME], ["pulley", "pin", "playing_mm"]))


# Whole parts that a document has only in some cases.
OPTIONAL = {
    "document-turns.schema.json": {"setting_moved_deg", "setting_moved_mm"},
    "document-face.schema.json": {"verdict", "stands", "headline", "findings", "limits"},
}


def profile_documents():
    for path in PROFILES + OTHERS:
        for command in (["check"], ["check", "--by-the-book"], ["route"], ["route", "--working"],
                        ["teeth"], ["tensioner"], ["turns", "--steps", "--step-deg", "90"],
                        ["why"], ["marks"], ["sheet"], ["sheet", "--by-the-book", "--phone"], ["valves"],
                        ["valves", "--crank", "33"], ["park"], ["feel"],
                        ["tension"], ["tension", "--hz", "80"],
                        ["place"], ["bolts"], ["sheet", "--job-card"]):  # fmt: skip
            yield f"{path.name} {' '.join(command)}", run(*command, path, "--json")


def other_documents(folder):
    yield "sections", run("sections", "--json")
    yield "commands", run("commands", "--json")
    for options in STARTERS:
        yield f"starter {options}", run("starter", *options, "--json")
    yield "starter -o", run("starter", "--paper", "--json", "-o", folder / "sheet.txt")
    yield "not written", run("starter", "--json", "-o", folder)
    yield "no file", run("check", folder / "none.toml", "--json")
    yield "usage", run("rout", "--json")
    yield "bad profile", run("check", "-", "--json", stdin="[belt]\nteehs = 1\npitch_mm = '8'\n")
    yield "no toml", run("check", "-", "--json", stdin="[belt\nteeth = 0,3\n")
    yield "marks alone", run("marks", "--belt", 111, "--crank", 20, "--cam", 40, "--pitch", 9.525,
                             "--centre", 375, "--skim", 0.3, "--json")  # fmt: skip
    for demo in ("weir-keeper", "cam-bench", "night-bakery-van", "mill-generator"):
        yield f"spread {demo}", run("spread", ROOT / f"profiles/{demo}.toml", "--samples", 1000, "--json")
    yield "spread, laws", run("spread", ROOT / "profiles/harbour-launch.toml", "--samples", 1000, "--json",
                              "--law-of", "build.skim_mm.head=uniform")  # fmt: skip
    for demo, counts in (("hill-climb-saloon", "164,165"), ("cam-bench", "119,120"), ("harbour-launch", "90")):
        yield f"compare {counts}", run("teeth", ROOT / f"profiles/{demo}.toml", "--compare", counts, "--json")
    yield "park, counts", run("park", "--cylinders", 4, "--json")
    yield "park, none", run("park", "--cylinders", 5, "--json")
    yield "park, V", run("park", "--cylinders", 6, "--layout", "v", "--bank", 90, "--json")
    launch = ROOT / "profiles/harbour-launch.toml"
    yield "park asked", run("park", launch, "--crank", "12.5", "--margin", "1", "--json")
    yield "park, none clear", run("park", launch, "--margin", "49", "--json")
    yield "valves touch", run("valves", launch, "--set", "build.teeth_out.cam=4 early", "--json")
    yield "firing order", run("valves", launch, "--set", "engine.firing_order=[1, 4, 2, 3]", "--json")
    for change in ("belt.teeth=90", "pulley.cam.at_mm=[4, 80]", "pulley.water pump.at_mm=[10, 150]"):
        for command in ("check", "route", "teeth", "tensioner", "turns", "sheet"):
            yield f"{command} {change}", run(command, launch, "--set", change, "--json")
    bakery = ROOT / "profiles/night-bakery-van.toml"
    for kind in ([], ["--true-size"], ["--degree-wheel"], ["--belt-strip"], ["--crank", "90"]):
        yield f"draw {kind}", run("draw", bakery, *kind, "--force", "--json", "-o",
                                  folder / "picture.html")  # fmt: skip
    yield "threading", run("draw", ROOT / "profiles/roadside-counts.toml", "--json", "-o",
                           folder / "threading.svg")  # fmt: skip
    yield "bolts, next", run("bolts", launch, "--reached", "2,2,1", "--json")
    yield "record", run("sheet", launch, "--record", folder / "record.toml", "--json")
    yield "by record", run("check", launch, "--record", folder / "record.toml", "--json")
    yield "why, seen", run("why", launch, "--pin", "crank=in", "--pin", "cam=out", "--mark",
                           "cam=1 tooth late", "--again", "repeats", "--after", "2", "--json")  # fmt: skip
    yield "why, a stop", run("why", bakery, "--pin", "inlet cam=tight", "--pointer", "4:30", "--stop-at", "212",
                             "--turned", "backwards", "--json")  # fmt: skip
    for options in ([], ["--answer"], ["--answer", "--seed", "7"]):
        yield f"exercise {options}", run("exercise", launch, *options, "--json")
    yield "report", run("report", bakery, "--json", "-o", folder / "report.html")
    yield "sheet -o", run("sheet", launch, "--json", "-o", folder / "sheet.html")
    yield "card", run("sheet", launch, "--card", "--json")
    yield "card, phone", run("sheet", bakery, "--card", "--phone", "--json")
    readings = ROOT / "examples/launch-head.csv"
    yield "face", run("face", readings, "--json")
    yield "face and skim", run("face", readings, "--json", "--profile", launch)
    yield "skim asked", run("face", readings, "--json", "--profile", launch, "--skim", "0.1")
    yield "skim, counts", run("face", readings, "--json", "--profile",
                              ROOT / "tests/every/rough.toml", "--skim", "0.1")  # fmt: skip
    yield "feelers", run("face", "--json", "--along", "0.03..0.04", "--diagonal", "0.05..0.06")
    yield "no face", run("face", folder / "none.csv", "--json")


class Documents(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.documents = []
        with tempfile.TemporaryDirectory() as folder:
            for made in (profile_documents(), other_documents(Path(folder))):
                for name, text in made:
                    document = json.loads(text)
                    cls.documents.append((name, schema_of(document), document))

    def test_the_schemas_are_schemas(self):
        for name, schema in SCHEMAS.items():
            with self.subTest(name):
                jsonschema.validators.validator_for(schema).check_schema(schema)

    def test_every_document_passes(self):
        for name, schema, document in self.documents:
            with self.subTest(name):
                self.assertEqual(faults(schema, document), [])

    def test_every_schema_of_a_document_has_met_one(self):
        met = {schema for _, schema, _ in self.documents}
        there = {name for name in SCHEMAS if name.startswith("document-")}
        self.assertEqual(met, there - {"document-common.schema.json"})

    def examples(self):
        """One document or two of each schema: the first and the largest."""
        by_schema = {}
        for name, schema, document in self.documents:
            by_schema.setdefault(schema, []).append((len(json.dumps(document)), name, document))
        for schema, all_of_it in by_schema.items():
            largest = max(all_of_it, key=lambda one: one[0])
            chosen = {name: document for _, name, document in (all_of_it[0], largest)}
            for name, document in chosen.items():
                yield name, schema, document

    def test_an_extra_key_fails_in_every_object(self):
        for name, schema, document in self.examples():
            for path in objects(document):
                other = with_extra_key(document, path)
                with self.subTest(f"{name}: {path}"):
                    self.assertFalse(validator(schema).is_valid(other))

    def test_a_key_left_out_fails(self):
        for name, schema, document in self.examples():
            for key in set(document) - OPTIONAL.get(schema, set()):
                other = {k: v for k, v in document.items() if k != key}
                with self.subTest(f"{name} without {key}"):
                    self.assertFalse(validator(schema).is_valid(other))

    def test_a_wrong_type_fails(self):
        for name, schema, document in self.examples():
            for key, value in document.items():
                other = dict(document)
                other[key] = {"of": "another kind"} if not isinstance(value, dict) else "text"
                with self.subTest(f"{name}: {key}"):
                    self.assertFalse(validator(schema).is_valid(other))


if __name__ == "__main__":
    TWOTURN = sys.argv.pop(1)
    unittest.main()
