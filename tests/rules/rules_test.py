#!/usr/bin/env python3
"""Shows that rules.py finds each kind of violation, and nothing in a tree without one."""

import contextlib
import io
import tempfile
import unittest
from pathlib import Path

import rules

KEPT = {
    "README.md": "",
    ".gitignore": "",
    "build-x/anything.cpp": "#include <iostream>\n" * 600,
    "lib/include/twoturn/base/angle.hpp": "#include <compare>\n#include <Eigen/Core>\n",
    "lib/include/twoturn/read/reader.hpp": "#include <twoturn/base/angle.hpp>\n",
    "lib/include/twoturn/twoturn.hpp": "#include <twoturn/read/reader.hpp>\n",
    "lib/src/base/angle.cpp": "// std::cout << 1;\n/* #include <thread> */\n"
    "#include <boost/math/tools/roots.hpp>\n"
    'const char* text = "std::cout";\nconst int kMillion = 1\'000\'000;\n',
    "lib/src/geometry/detail.hpp": "#include <twoturn/geometry/path.hpp>\n",
    "lib/src/geometry/path.cpp": '#include "detail.hpp"\n#include "geometry/detail.hpp"\n',
    "lib/src/read/reader.cpp": "#include <fstream>\n#include <toml++/toml.h>\n",
    "cli/main.cpp": "#include <thread>\n#include <twoturn/read/reader.hpp>\n",
    "tests/geometry/path_test.cpp": "#include <twoturn/read/reader.hpp>\n#include <iostream>\n",
    "tests/support/oracle_path.hpp": '#include <cmath>\n#include "support/plain.hpp"\n',
    "tests/support/plain.hpp": "#include <vector>\n",
}


def function(lines, head="int f(int x)"):
    return head + " {\n" + "  ++x;\n" * (lines - 2) + "}\n"


class Rules(unittest.TestCase):
    def found(self, extra):
        with tempfile.TemporaryDirectory() as folder:
            for name, text in {**KEPT, **extra}.items():
                path = Path(folder, name)
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(text)
            return list(rules.violations(folder))

    def assert_found(self, name, text, *parts):
        """The file `name` holding `text` is one violation, whose line holds all the parts."""
        found = self.found({name: text})
        self.assertEqual(len(found), 1, found)
        for part in (name, *parts):
            self.assertIn(part, found[0])

    def assert_kept(self, name, text):
        self.assertEqual(self.found({name: text}), [])

    def test_a_tree_that_keeps_every_rule_has_no_violation(self):
        self.assertEqual(self.found({}), [])

    def test_each_floor_may_include_itself_and_below_but_not_above(self):
        for i, floor in enumerate(rules.FLOORS[:-1]):
            for j, other in enumerate(rules.FLOORS[:-1]):
                name = f"lib/src/{floor}/x.cpp"
                text = f"\n#include <twoturn/{other}/y.hpp>\n"
                with self.subTest(floor=floor, other=other):
                    wings = floor in rules.WINGS and other in rules.WINGS
                    if j > i:
                        self.assert_found(name, text, ":2:", f"of floor {other} above")
                    elif wings and other != floor and other not in rules.WINGS[floor]:
                        self.assert_found(name, text, ":2:", f"of floor {other} beside it")
                    else:
                        self.assert_kept(name, text)

    def test_a_public_header_may_not_include_a_floor_above(self):
        self.assert_found(
            "lib/include/twoturn/drive/x.hpp", "#include <twoturn/timing/y.hpp>\n", "above"
        )

    def test_a_private_header_of_a_floor_above_is_found_however_it_is_named(self):
        for path in ("geometry/detail.hpp", "../geometry/detail.hpp"):
            self.assert_found("lib/src/base/x.cpp", f'#include "{path}"\n', "geometry above")

    def test_nothing_in_the_library_includes_the_command(self):
        self.assert_found("lib/src/read/x.cpp", '#include "../../../cli/main.cpp"\n', "cli above")

    def test_no_floor_includes_the_header_of_all_floors(self):
        self.assert_found("cli/x.cpp", "#include <twoturn/twoturn.hpp>\n", "on no floor")

    def test_a_folder_that_is_no_floor_is_found(self):
        self.assert_found("lib/src/util/x.cpp", "", '"util" is not a floor')
        self.assert_found("lib/include/twoturn/util/x.hpp", "", '"util" is not a floor')

    def test_a_public_header_may_not_include_other_libraries(self):
        for floor in ("base", "study", "read"):
            for path in (
                "boost/math/tools/roots.hpp", "toml++/toml.h", "nlohmann/json.hpp",
                "fmt/format.h", "CLI/CLI.hpp", "kainjow/mustache.hpp",
                "Eigen/Dense", "Eigen/src/Core/Map.h",
            ):  # fmt: skip
                with self.subTest(floor=floor, path=path):
                    name = f"lib/include/twoturn/{floor}/x.hpp"
                    self.assert_found(name, f"\n  # include <{path}>\n", ":2:", path)
                    self.assert_kept(f"lib/src/{floor}/x.cpp", f"#include <{path}>\n")

    def test_who_uses_a_name_includes_its_header_himself_or_through_one_of_ours(self):
        for use, header in (
            ("std::vector<int> x;\n", "vector"), ("int x = std::max(1, 2);\n", "algorithm"),
            ("double x = std::sqrt(2.0);\n", "cmath"), ("std::string_view x;\n", "string_view"),
            ("Eigen::Vector2d x;\n", "Eigen/Core"), ("auto x = fmt::format(\"\");\n", "fmt/format.h"),
        ):  # fmt: skip
            for name in ("lib/src/read/a.cpp", "cli/a.cpp", "tests/read/a_test.cpp"):
                self.assert_found(name, use, f"without <{header.split('/')[0]}>" if "/" in header else header)
                self.assert_kept(name, f"#include <{header}>\n{use}")
        beside = {"lib/include/twoturn/read/b.hpp": "#include <vector>\n"}
        through = '#include "twoturn/read/b.hpp"\nstd::vector<int> x;\n'
        self.assertEqual(self.found({**beside, "lib/src/read/a.cpp": through}), [])
        self.assert_kept("lib/src/read/a.cpp", "// std::vector\nint max; // Eigen::Vector2d\n")

    def test_nothing_below_io_reads_files_or_prints(self):
        for text in (
            "#include <iostream>\n",
            "#include <fstream>\n",
            "#include <filesystem>\n",
            "#include <cstdio>\n",
            "void f() { std::cout << 1; }\n",
            "void f() { std::cerr << 1; }\n",
            "void f() { std::ifstream in; }\n",
            'void f() { printf("x"); }\n',
            'void f() { std::fprintf(out, "x"); }\n',
            '#include <fmt/format.h>\nvoid f() { fmt::print("x"); }\n',
        ):
            with self.subTest(text=text):
                self.assert_found("lib/src/study/x.cpp", text, "kept for read upwards")
                self.assert_kept("lib/src/read/x.cpp", text)

    def test_a_failing_assertion_may_print(self):
        self.assert_kept("lib/src/base/assert.cpp", "#include <cstdio>\n")
        self.assert_found("lib/src/base/assert.cpp", "#include <thread>\n", "kept for cli")

    def test_nothing_below_cli_uses_threads_clocks_or_signals(self):
        for text in (
            "#include <thread>\n",
            "#include <chrono>\n",
            "#include <csignal>\n",
            "void f() { std::thread t; }\n",
            "void f() { std::chrono::seconds s; }\n",
        ):
            with self.subTest(text=text):
                self.assert_found("lib/src/read/x.cpp", text, "kept for cli upwards")
                self.assert_kept("cli/x.cpp", text)

    def test_a_drive_and_its_curve_are_built_in_few_places(self):
        for text in (
            "int f() { return build_drive(spec); }\n",
            "int f() { const TensionerCurve curve(drive); }\n",
            "int f() { return TensionerCurve(drive).usable(); }\n",
            "int f() { curve.emplace(drive); }\n",
            "int f() { return fitted_for(spec, fit); }\n",
            "int f() { return both_fits(spec, fit); }\n",
        ):
            with self.subTest(text=text):
                self.assert_found("lib/src/study/x.cpp", text, "builds a drive again")
                self.assert_kept("lib/src/drive/fitted.cpp", text)
        self.assert_kept("lib/src/study/x.cpp", "int f(const TensionerCurve& curve);\n")

    def test_a_function_takes_no_bool_beside_other_parameters(self):
        name = "lib/src/base/angle.cpp"
        self.assert_found(name, "int f(int a, bool b);\n", "1: the parameter b is a bool")
        self.assert_found(name, "int f(\n    bool late, int a);\n", "2: the parameter late")
        self.assert_found(name, "auto f = [](const bool a, int b) { return a; };\n", "parameter a")
        self.assert_kept(name, "int f(bool a);\nconst bool b = g(1, 2);\nfor (bool x : list) {}\n")

    def test_what_prints_includes_no_solver_and_calls_none(self):
        solver = "lib/include/twoturn/study/view.hpp"
        declares = "#include <optional>\n[[nodiscard]] std::optional<View> view_of(const Spec& spec);\n"
        for name in ("lib/src/write/a.cpp", "lib/src/picture/a.cpp", "lib/src/page/a.cpp"):
            self.assert_found(name, '#include "twoturn/study/view.hpp"\n', "view.hpp, a solver")
            for call in ("view_of(spec);\n", "return *view_of(spec);\n"):
                found = self.found({solver: declares, name: call})
                self.assertEqual(len(found), 1, found)
                self.assertIn("calls view_of of study/view", found[0])
            self.assertEqual(self.found({solver: declares, name: "a.view_of(spec);\n"}), [])
        self.assertEqual(self.found({solver: declares, "lib/src/study/a.cpp": "view_of(spec);\n"}), [])

    def test_every_solver_named_is_there_and_declares_something(self):
        root = Path(__file__).resolve().parents[2]
        declaring = set(rules.solver_calls(root).values())
        self.assertEqual(sorted(declaring), sorted(rules.SOLVERS))

    def test_a_header_has_under_250_lines_and_a_source_under_500(self):
        for folder in ("lib/src/base", "cli", "tests/base", "examples"):
            for suffix, limit in (("hpp", 250), ("cpp", 500)):
                name = f"{folder}/x.{suffix}"
                with self.subTest(name=name):
                    self.assert_found(name, "\n" * limit, f"{limit} lines")
                    self.assert_kept(name, "\n" * (limit - 1))
                    self.assert_kept(name, "\n" * (limit - 2) + "int x;")

    def test_a_function_has_under_50_lines(self):
        for head in (
            "int f(int x)",
            "template <class T>\nauto Foo<T>::bar(const T& x) const noexcept -> int",
            "Foo::Foo(int x) : a_{x}, b_(x)",
            "namespace a {\nstruct B {\n  bool operator()(int x)",
            "bool operator==(const B& x, const B& y)",
            "#define M \\\n  {\nint f(int x)",
            "constexpr char kOpen = '{';\nint f(int x)",
            'const auto* kText = R"(\n{ " )";\nint f(int x)',
        ):
            with self.subTest(head=head):
                end = "};\n}\n" if "struct" in head else ""
                line = f":{head.count(chr(10)) + 1}:"
                self.assert_found("lib/src/base/x.cpp", function(50, head) + end, line, "50 lines")
                self.assert_kept("lib/src/base/x.cpp", function(49, head) + end)

    def test_a_long_class_namespace_or_table_is_no_function(self):
        for head in (
            "struct A", "class A : public B<int>", "enum class A : int", "namespace a",
            "constexpr int kTable[] =", "#include <array>\nconst std::array<int, 60> kTable", "template <class T>\nclass A",
        ):  # fmt: skip
            with self.subTest(head=head):
                self.assert_kept("lib/src/base/x.cpp", head + " {\n" + "int x;\n" * 60 + "};\n")

    def test_a_lambda_counts_to_the_function_around_it(self):
        inner = "  auto g = [](int y) {\n" + "  ++y;\n" * 44 + "  };\n"
        text = "int f(int x) {\n" + inner + "  g();\n  g();\n}\n"
        self.assert_found("cli/x.cpp", text, "f has 50 lines")

    def test_the_top_level_holds_the_agreed_names_only(self):
        found = self.found({"utils/x.txt": "", "NOTES.md": ""})
        self.assertEqual([line.split(":")[0] for line in found], ["NOTES.md", "utils"])

    def test_an_oracle_includes_nothing_of_the_library(self):
        name = "tests/support/oracle_x.hpp"
        self.assert_found(name, "\n#include <twoturn/base/angle.hpp>\n", ":2:", "angle.hpp")
        self.assert_found(name, '#include "twoturn/base/angle.hpp"\n', "angle.hpp")
        self.assert_found("tests/base/oracle.hpp", "#include <twoturn/base/angle.hpp>\n", "angle")

    def test_an_oracle_includes_nothing_of_the_library_by_way_of_another_header(self):
        found = self.found({
            "tests/support/oracle_x.hpp": '#include "support/deeper.hpp"\n',
            "tests/support/deeper.hpp": "#include <twoturn/base/angle.hpp>\n",
        })  # fmt: skip
        self.assertEqual(len(found), 1, found)
        self.assertIn("oracle_x.hpp:1: an oracle includes support/deeper.hpp, and so", found[0])

    def test_the_program_exits_1_when_it_finds_something_and_0_when_not(self):
        with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()):
            self.assertEqual(rules.main([folder]), 0)
            Path(folder, "stray").write_text("")
            self.assertEqual(rules.main([folder]), 1)


if __name__ == "__main__":
    unittest.main()
