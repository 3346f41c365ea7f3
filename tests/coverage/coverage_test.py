#!/usr/bin/env python3
"""What coverage.py counts as a branch of the source, and what as the compiler's."""

import unittest

from coverage import LEFT, ROOT, behind_switch, branches, explained, has_condition


def line(count, *ways, thrown=()):
    return {"count": count, "branches": [{"count": n, "throw": k in thrown} for k, n in enumerate(ways)]}


class Branches(unittest.TestCase):
    def test_both_ways_of_a_condition_count(self):
        self.assertEqual(branches(line(7, 3, 4), "if (a) b();"), (2, 2))
        self.assertEqual(branches(line(7, 7, 0), "if (a) b();"), (2, 1))

    def test_a_line_that_never_ran_counts_whole(self):
        self.assertEqual(branches(line(0, 0, 0), "if (a) b();"), (2, 0))

    def test_what_the_compiler_cleans_up_and_asserts_are_left_out(self):
        self.assertEqual(branches(line(7, 3, 4, 0, 0), 'text = a ? f() : "";'), (2, 2))
        self.assertEqual(branches(line(7, 3, 4, 5, 0, thrown=(2, 3)), "if (a) b();"), (2, 2))
        self.assertEqual(branches(line(7, 7, 0), "TWOTURN_ASSERT(a, b);"), (0, 0))
        self.assertEqual(branches(line(0, 0, 0), "  });"), (0, 0))
        self.assertEqual(branches(line(7, 3, 4, 2, 0), "  switch (kind) {"), (3, 3))
        self.assertEqual(branches(line(7, 3, 0, 2, 0), "  switch (kind) {"), (3, 2))

    def test_the_return_behind_a_switch_is_known_by_its_switch(self):
        switch = ["  switch (kind) {", "    case Kind::a:", '      return "a";', "  }", '  return "";', "}"]
        self.assertTrue(behind_switch(switch, 4))
        self.assertFalse(behind_switch(switch, 2))
        self.assertFalse(behind_switch(["  if (a) {", "    b();", "  }", '  return "";', "}"], 3))

    def test_a_line_without_a_condition_has_none_beside_it_either(self):
        lines = ["f(a &&", "  b);", "x = a", "    ? b", "    : c;", 'std::string t{"u"};']
        self.assertEqual([has_condition(lines, k) for k in range(6)], [True, True, True, True, True, False])

    def test_what_is_explained_is_of_a_source_and_has_a_reason(self):
        reasons = explained()
        self.assertTrue(reasons, f"nothing in {LEFT}")
        for (file, line), why in reasons.items():
            with self.subTest(f"{file}: {line}"):
                self.assertTrue((ROOT / file).is_file())
                self.assertGreater(len(why.split()), 2)


if __name__ == "__main__":
    unittest.main()
