#!/usr/bin/env python3
"""The files that draw writes: the same bytes each time, whole or not at all, told truly in its
document, and names that are markup shown as text.

    files_test.py TWOTURN
"""

import html
import json
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ET
from pathlib import Path

from drive_facts import PROFILES, Command
from picture import SVG, pictures

LAUNCH = next(path for path in PROFILES if path.stem == "harbour-launch")
BAKERY = next(path for path in PROFILES if path.stem == "night-bakery-van")
KINDS = ((), ("--true-size",), ("--degree-wheel",), ("--belt-strip",), ("--crank", "137.3"))
HOSTILE = {
    "markup": "<b>bold</b>",
    "entity": "&amp; &#60; &nosuch;",
    "ends the picture": "</svg><script>alert(1)</script>",
    "ends the title": "</title><script>alert(1)</script>",
    "quotes": "\"double\" 'single' onload=\"alert(1)\"",
    "cdata": "]]><![CDATA[x]]>",
    "comment": "--><!--",
    "template": "{{title}} {{{svg}}} {{#pages}}",
    "right to left": "גלגל שיניים ציר",
    "cjk": "曲轴正时带轮 張力輪",
    "turned about": "abc\u202edef",
    "forty letters": "w" * 40,
}  # fmt: skip


def toml(text):
    return json.dumps(text)


def renamed(pump, title):
    """The launch with another title and another name for its pump."""
    text = LAUNCH.read_text(encoding="utf-8")
    text = re.sub(r"^title = .*$", lambda _: f"title = {toml(title)}", text, flags=re.MULTILINE)
    text = text.replace('name = "water pump"', f"name = {toml(pump)}")
    return re.sub(r'^"pulley\.water pump.*\n', "", text, flags=re.MULTILINE)


class Files(unittest.TestCase):
    command = None

    def draw(self, *arguments, text=""):
        return subprocess.run([self.command.path, "draw", *map(str, arguments)], input=text.encode(),
                              capture_output=True, check=False)

    def setUp(self):
        self.folder = Path(self.enterContext(tempfile.TemporaryDirectory()))

    def there(self):
        return sorted(path.name for path in self.folder.iterdir())

    def test_the_same_input_gives_the_same_bytes(self):
        for path in PROFILES:
            for kind in KINDS:
                if path.stem == "roadside-counts" and kind not in ((), ("--degree-wheel",)):
                    continue
                with self.subTest(f"{path.stem} {kind}"):
                    one, two = self.draw(path, *kind), self.draw(path, *kind)
                    self.assertIn(one.returncode, (0, 1), one.stderr)
                    self.assertEqual(one.stdout, two.stdout)
                    self.assertGreater(len(one.stdout), 1000)

    def test_a_dash_and_nothing_and_a_file_get_the_same_bytes(self):
        for kind, end in ((), "svg"), (("--true-size",), "html"), (("--degree-wheel",), "svg"):
            with self.subTest(kind):
                file = self.folder / f"picture{len(kind)}{kind[:1]}.{end}"
                bare = self.draw(LAUNCH, *kind)
                dash = self.draw(LAUNCH, *kind, "-o", "-")
                written = self.draw(LAUNCH, *kind, "-o", file)
                self.assertEqual(bare.stdout, dash.stdout)
                self.assertEqual(file.read_bytes(), bare.stdout)
                self.assertEqual([bare.returncode, dash.returncode, written.returncode], [0, 0, 0])
                self.assertEqual((bare.stderr, dash.stderr), (b"", b""))

    def test_a_file_that_is_there_is_kept_unless_forced(self):
        file = self.folder / "kept.svg"
        file.write_text("mine")
        refused = self.draw(LAUNCH, "-o", file)
        self.assertEqual((refused.returncode, file.read_text()), (4, "mine"))
        self.assertIn(b"--force", refused.stderr)
        self.assertEqual(refused.stdout, b"")
        self.assertEqual(self.draw(LAUNCH, "-o", file, "--force").returncode, 0)
        self.assertTrue(file.read_text().startswith("<svg "))
        self.assertEqual(self.there(), ["kept.svg"])

    def test_other_names_are_wrong_usage(self):
        for name in ("picture", "picture.png", "picture.svg.txt", "picture.SVGZ", "svg"):
            with self.subTest(name):
                ran = self.draw(LAUNCH, "-o", self.folder / name)
                self.assertEqual(ran.returncode, 2)
                self.assertEqual(self.there(), [])

    def test_several_pages_do_not_go_into_one_svg(self):
        ran = self.draw(LAUNCH, "--true-size", "-o", self.folder / "big.svg")
        self.assertEqual((ran.returncode, self.there()), (2, []))
        self.assertIn(b".html", ran.stderr)

    def test_kinds_do_not_mix(self):
        for one in ("--true-size", "--degree-wheel", "--belt-strip"):
            for two in ("--true-size", "--degree-wheel", "--belt-strip"):
                if one != two:
                    self.assertEqual(self.draw(LAUNCH, one, two).returncode, 2, (one, two))

    def test_what_cannot_be_written_leaves_nothing(self):
        (self.folder / "folder.svg").mkdir()
        for name in ("no such folder/picture.svg", "folder.svg"):
            with self.subTest(name):
                ran = self.draw(LAUNCH, "-o", self.folder / name, "--force")
                self.assertEqual(ran.returncode, 4, ran.stderr)
                self.assertEqual(self.there(), ["folder.svg"])
                self.assertEqual(list((self.folder / "folder.svg").iterdir()), [])
        with Path("/dev/full").open("wb") as full:
            ran = subprocess.run([self.command.path, "draw", LAUNCH], stdout=full, check=False,
                                 stderr=subprocess.PIPE)
        self.assertEqual(ran.returncode, 4, "standard output that is full")

    def test_the_document_tells_path_size_pages_and_findings(self):
        for path in PROFILES:
            for kind, end in ((), "svg"), ((), "html"), (("--true-size",), "html"):
                if path.stem == "roadside-counts" and kind:
                    continue
                with self.subTest(f"{path.stem} {kind} {end}"):
                    file = self.folder / f"{path.stem}-{len(kind)}.{end}"
                    ran = self.draw(path, *kind, "-o", file, "--json")
                    document = json.loads(ran.stdout)
                    self.assertEqual((document["command"], document["path"]), ("draw", str(file)))
                    self.assertEqual(document["bytes"], file.stat().st_size)
                    self.assertEqual(document["pages"], len(pictures(file.read_text(encoding="utf-8"))))
                    check = json.loads(self.command.run("check", path, "--json").stdout)
                    self.assertEqual(document["findings"], check["findings"])
                    self.assertEqual(document["verdict"], check["verdict"])
                    stops = any(finding["level"] == "stop" for finding in check["findings"])
                    self.assertEqual(ran.returncode, 1 if stops else 0)

    def test_the_document_needs_a_file(self):
        self.assertEqual(self.draw(LAUNCH, "--json").returncode, 2)

    def test_a_stop_ends_with_1_and_the_picture_is_there(self):
        file = self.folder / "stop.svg"
        ran = self.draw(BAKERY, "-o", file)
        self.assertEqual(ran.returncode, 1)
        self.assertIn("STOP", "".join(pictures(file.read_text(encoding="utf-8"))[0].words()))

    def test_a_profile_that_cannot_be_used_is_3_and_writes_nothing(self):
        ran = self.draw("-", "-o", self.folder / "none.svg", text="[[pulley]]\nname = 3\n")
        self.assertEqual((ran.returncode, self.there()), (3, []))

    def test_names_that_are_markup_show_as_text(self):
        for what, name in HOSTILE.items():
            text = renamed(name, f"{name} launch")
            for kind in KINDS:
                with self.subTest(f"{what} {kind}"):
                    ran = self.draw("-", *kind, text=text)
                    self.assertEqual(ran.returncode, 0, ran.stderr)
                    out = ran.stdout.decode("utf-8")
                    for whole in pictures(out) if "<!DOCTYPE" in out else [ET.fromstring(out)]:
                        root = getattr(whole, "root", whole)
                        known = {"svg", "g", "path", "circle", "rect", "text", "title", "desc", "style", "defs",
                                 "pattern"}
                        self.assertLessEqual({e.tag.removeprefix(SVG) for e in root.iter()}, known)
                        for element in root.iter():
                            self.assertFalse([k for k in element.attrib if k.startswith("on") or "href" in k])
                    if kind in ((), ("--crank", "137.3"), ("--true-size",)):
                        titles = {t.text for page in pictures(out) for t in page.root.iter(SVG + "title")}
                        self.assertIn(name, titles, "the pump by its name")
                    if kind == ():
                        words = "".join(pictures(out)[0].words()).replace(" ", "")
                        self.assertIn(f"{name} launch".replace(" ", ""), words)
                        self.assertIn(name.replace(" ", ""), words)

    def test_a_title_that_is_markup_is_the_title_of_the_html_page(self):
        for what, name in HOSTILE.items():
            with self.subTest(what):
                file = self.folder / "page.html"
                self.assertEqual(self.draw("-", "-o", file, "--force", text=renamed("pump", name)).returncode, 0)
                page = file.read_text(encoding="utf-8")
                head = page[: page.index("<svg")]
                self.assertEqual(head.count("<title>"), 1)
                title = re.search(r"<title>(.*?)</title>", head, re.DOTALL).group(1)
                self.assertEqual(html.unescape(title), name)
                self.assertNotIn("<script", page)

    def test_what_xml_cannot_hold_does_not_get_in(self):
        for escape in ("\\u0001", "\\u001B", "\\n", "\\t", "\\u0085", "\\u2028", "\\uFFFE", "\\uFFFF", "\\u007F"):
            text = renamed("PUMP", "TITLE").replace('"PUMP"', f'"water{escape}pump"').replace('"TITLE"', f'"a{escape}b"')
            for kind in KINDS:
                with self.subTest(f"{escape} {kind}"):
                    ran = self.draw("-", *kind, text=text)
                    if ran.returncode == 3:
                        continue  # the reader may refuse such a name
                    self.assertEqual(ran.returncode, 0)
                    out = ran.stdout.decode("utf-8")
                    # A reader of XML takes every picture.
                    for part in re.findall(r"<svg .*?</svg>", out, re.DOTALL):
                        ET.fromstring(part)


if __name__ == "__main__":
    Files.command = Command(sys.argv.pop(1))
    unittest.main()
