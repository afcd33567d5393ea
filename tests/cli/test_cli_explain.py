"""The commands `explain` and `rules`, from the arguments to what is written and the exit code."""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

import pytest

from tauthide.rules.registry import RULES
from workshops import Workshop, run_program, spec_text

OVAL = "frame: {outline: oval, length: 18 in, width: 15 in, depth: 60 mm}\nhead: {hide: calf}\nstations: {count: 18}\n"
# The pair spacing is less than a hole: a gate refuses the drum.
BROKEN = """\
frame: {outline: round, diameter: 13 in, depth: 55 mm}
head: {hide: goat}
stations: {count: 16, pair_spacing: 9 mm}
"""
# Holes farther inside than the drum is wide: geometry has nothing to work with.
HOPELESS = """\
frame: {outline: round, diameter: 6 in, depth: 55 mm}
head: {hide: goat, turnover: 150 mm}
stations: {count: 16}
"""


@pytest.fixture
def library(workshop: Workshop) -> Workshop:
    """Give a workshop with a shop file, a base and specs."""
    workshop.write("shop.yaml", "shop: 1\nframe:\n  edge_radius: 3 mm\nhides: {goat: {web: 18 mm}}\n")
    workshop.write("a.base.yaml", "base: 1\nframe: {depth: 60 mm}\n")
    workshop.write("a.yaml", spec_text("A", "inherits: a.base.yaml\n"))
    workshop.write("oval.yaml", spec_text("OVAL", parts=OVAL))
    workshop.write("broken.yaml", spec_text("BROKEN", parts=BROKEN))
    workshop.write("hopeless.yaml", spec_text("HOPELESS", parts=HOPELESS))
    return workshop


class TestFigure:
    """`tauthide explain FIGURE SPEC`."""

    def test_text(self, library: Workshop) -> None:
        run = library.run("explain", "skin.corner", "a.yaml")
        assert (run.code, run.err) == (0, "")
        lines = run.out.splitlines()
        assert lines[0] == "skin.corner  -0.5 mm (-0.020 in)"
        assert "  = (pi / 2) (3 mm + 1 mm / 2) - 2 x 3 mm" in lines
        assert "  frame.edge_radius  3 mm (1/8 in)  shop file: shop.yaml:3" in lines

    def test_json(self, library: Workshop) -> None:
        run = library.run("explain", "head.blank_diameter", "a.yaml", "--format", "json")
        assert (run.code, run.err) == (0, "")
        assert (run.report["format"], run.report["command"], run.report["kind"]) == (1, "explain", "figure")
        # 330.2 mm, twice 55 and 40 mm, and four times (pi / 2) 3.5 mm - 6 mm.
        assert run.report["value"] == pytest.approx(330.2 + 190 + 4 * (1.5707963267948966 * 3.5 - 6), abs=1e-9)
        assert [item["name"] for item in run.report["inputs"]] == ["head.blank_radius"]
        (radius,) = run.report["inputs"]
        assert radius["inputs"][0]["origin"] == {
            "layer": "spec", "file": "a.yaml", "line": 4, "reason": "", "source": "",
        }  # fmt: skip
        assert (run.report["errors"], run.report["also_field"]) == (0, False)

    def test_is_that_of_the_plan(self, library: Workshop) -> None:
        assert library.run("build", "a.yaml", "oval.yaml").code == 0
        for drum, spec in (("A", "a.yaml"), ("OVAL", "oval.yaml")):
            plan = json.loads((library.folder / f"sheets/{drum}/plan.json").read_text(encoding="utf-8"))
            for name, figure in plan["figures"].items():
                run = library.run("explain", name, spec, "--depth", "0", "--format", "json")
                assert run.code == 0
                assert (run.report["value"], run.report["unit"]) == (figure["value"], figure["unit"])

    def test_depth(self, library: Workshop) -> None:
        run = library.run("explain", "head.blank_diameter", "a.yaml", "--depth", "1")
        assert "  head.blank_radius" in run.out
        assert "frame.diameter" not in run.out
        run = library.run("explain", "head.blank_diameter", "a.yaml", "--depth", "0")
        assert "  head.blank_radius  " not in run.out

    @pytest.mark.parametrize("depth", ["-1", "x", "100", ""])
    def test_bad_depth(self, library: Workshop, depth: str) -> None:
        run = library.run("explain", "head.blank_diameter", "a.yaml", f"--depth={depth}")
        assert (run.code, run.out) == (2, "")
        assert "not a number from 0 to 99" in run.err

    def test_of_the_same_name_as_a_field(self, library: Workshop) -> None:
        run = library.run("explain", "lace.tail", "a.yaml")
        assert run.out.startswith("lace.tail  300 mm (11 13/16 in)\n  Tail: ")
        assert "\nlace.tail is a field, too:\n  lace.tail  300 mm (11 13/16 in)  built in: " in run.out
        assert library.run("explain", "lace.tail", "a.yaml", "--format", "json").report["also_field"]

    def test_that_the_drum_has_not(self, library: Workshop) -> None:
        run = library.run("explain", "head.blank_diameter", "oval.yaml")
        assert (run.code, run.out) == (2, "")
        assert run.err == (
            "tauthide: this drum has no `head.blank_diameter` (Diameter of the blank); whether it has depends on "
            "frame.outline (here oval, spec: oval.yaml:3)\n"
        )

    def test_field_stands_in_for_a_figure_that_the_drum_has_not(self, library: Workshop) -> None:
        run = library.run("explain", "voice.pitch", "a.yaml")
        assert run.code == 0
        assert run.out.startswith("voice.pitch  not set\n")
        assert run.err.startswith("this drum has no `voice.pitch` (Pitch of the dry head (estimate)); whether it has ")
        assert "voice.pitch (not set)" in run.err
        assert run.err.endswith("; this is the field\n")
        run = library.run("explain", "voice.pitch", "a.yaml", "--format", "json")
        assert (run.code, run.err, run.report["kind"]) == (0, "", "field")

    def test_of_a_refused_drum_as_far_as_it_can_be_computed(self, library: Workshop) -> None:
        run = library.run("explain", "holes.web", "broken.yaml")
        assert run.code == 0
        assert run.out.startswith("holes.web  -1 mm (-1/16 in)\n")
        assert run.err == "this spec has 1 error, so the figure may mean little: see `check`\n"
        run = library.run("explain", "holes.web", "broken.yaml", "--format", "json")
        assert (run.code, run.report["errors"], run.err) == (0, 1, "")

    def test_that_cannot_be_computed(self, library: Workshop) -> None:
        run = library.run("explain", "head.gather", "hopeless.yaml")
        assert (run.code, run.out) == (1, "")
        assert "error: " in run.err
        assert run.err.splitlines()[-1].startswith("nothing explained; 1 error")
        run = library.run("explain", "head.gather", "hopeless.yaml", "--format", "json")
        assert (run.code, run.err) == (1, "")
        assert run.report["command"] == "explain"
        assert run.names == library.check("hopeless.yaml").names

    def test_all_of_a_hopeless_drum_end_in_one_of_the_two_ways(self, library: Workshop) -> None:
        from tauthide.explaining.names import all_names

        codes = {library.run("explain", name, "hopeless.yaml").code for name in sorted(all_names().figures)}
        assert codes == {0, 1, 2}


class TestField:
    """`tauthide explain PATH.TO.FIELD SPEC`."""

    def test_text(self, library: Workshop) -> None:
        run = library.run("explain", "frame.depth", "a.yaml")
        assert (run.code, run.err) == (0, "")
        assert run.out.splitlines()[0] == "frame.depth  55 mm (2 3/16 in)"
        assert run.out.splitlines()[-2:] == ["    60 mm  inherited: a.base.yaml:2", "    55 mm  spec: a.yaml:4"]

    def test_json(self, library: Workshop) -> None:
        run = library.run("explain", "stations.web", "a.yaml", "--format", "json")
        assert (run.code, run.report["kind"], run.report["value"]) == (0, "field", 18)
        assert [layer["layer"] for layer in run.report["layers"]] == ["hide profile", "shop"]

    @pytest.mark.parametrize("spec", ["broken.yaml", "hopeless.yaml"])
    def test_of_a_refused_drum(self, library: Workshop, spec: str) -> None:
        run = library.run("explain", "stations.count", spec)
        assert (run.code, run.err) == (0, "")
        assert run.out.startswith("stations.count  16\n")

    def test_from_standard_input(self, library: Workshop) -> None:
        done = run_program(library.folder, "explain", "stations.count", "-", stdin=spec_text().encode())
        assert done.returncode == 0
        assert b"spec: <stdin>:5" in done.stdout


class TestPage:
    """`tauthide explain RULE`."""

    @pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
    def test_examples_run(self, workshop: Workshop, rule: object) -> None:
        name = str(getattr(rule, "name", ""))
        run = workshop.run("explain", name, "--format", "json")
        assert (run.code, run.report["kind"], run.report["name"]) == (0, "rule", name)
        workshop.write("failing.yaml", run.report["failing"])
        workshop.write("passing.yaml", run.report["passing"])
        assert name in workshop.check("failing.yaml").names
        assert name not in workshop.check("passing.yaml").names

    def test_text(self, workshop: Workshop) -> None:
        run = workshop.run("explain", "web-gone")
        assert (run.code, run.err) == (0, "")
        assert run.out.startswith("web-gone  error\n  why: ")
        assert "\n  breaks the rule:\n    spec: 1\n" in run.out

    def test_fault(self, workshop: Workshop) -> None:
        run = workshop.run("explain", "unknown-key")
        assert (run.code, run.err) == (0, "")
        assert run.out.startswith("unknown-key  error\n  why: A key that is not known")

    def test_rule_takes_no_spec(self, library: Workshop) -> None:
        run = library.run("explain", "web-gone", "a.yaml")
        assert (run.code, run.out) == (2, "")
        assert run.err == "tauthide: `web-gone` is explained without a spec; leave a.yaml out\n"

    def test_rule_has_no_depth(self, library: Workshop) -> None:
        run = library.run("explain", "web-gone", "--depth", "1")
        assert (run.code, run.out) == (2, "")
        assert "--depth goes with a figure" in run.err


class TestUsage:
    """What can't be explained is told in a line, with exit code 2."""

    @pytest.mark.parametrize(
        ("asked", "said"),
        [
            (("head.blank_diametre", "a.yaml"), "did you mean `head.blank_diameter`"),
            (("pair-close",), "did you mean `pairs-close`"),
            (("zzzzzzzz",), "there is no figure, rule or field `zzzzzzzz`; `tauthide rules` lists the rules"),
            (("",), "there is no figure, rule or field ``"),
            (("handle", "a.yaml"), "ask for one of its fields: `handle.arms` or `handle.wrap`"),
            (("head.gather",), "`head.gather` is a figure; name the spec as well: `tauthide explain head.gather SPEC`"),
            (("frame.depth",), "`frame.depth` is a field; name the spec as well"),
            (("frame.depth", "."), ". is a folder; explain takes one spec at a time"),
            (("frame.depth", "shop.yaml"), "shop.yaml is a shop file; explain takes a spec"),
            (("frame.depth", "a.base.yaml"), "a.base.yaml is a base file; explain takes a spec"),
            ((), "the following arguments are required: NAME"),
            (("frame.depth", "a.yaml", "oval.yaml"), "unrecognized arguments: oval.yaml"),
            (("\x1b[31mred\x1b[0m",), r"`\x1b[31mred\x1b[0m`"),
        ],
    )
    def test_said(self, library: Workshop, asked: tuple[str, ...], said: str) -> None:
        run = library.run("explain", *asked)
        assert (run.code, run.out) == (2, "")
        assert said in run.err
        assert run.err.startswith("tauthide: ")
        assert len(run.err.splitlines()) == 1

    def test_absent_spec(self, library: Workshop) -> None:
        run = library.run("explain", "frame.depth", "absent.yaml")
        assert (run.code, run.out) == (2, "")
        assert "There is no such file or folder [missing-file]" in run.err

    def test_absent_spec_json(self, library: Workshop) -> None:
        run = library.run("explain", "frame.depth", "absent.yaml", "--format", "json")
        assert (run.code, run.err, run.names) == (2, "", ["missing-file"])

    @pytest.mark.parametrize(("text", "name"), [("", "empty-file"), ("spec: 1\ndrum: X\n", "missing-key")])
    def test_spec_with_errors(self, library: Workshop, text: str, name: str) -> None:
        library.write("bad.yaml", text)
        for asked in ("frame.depth", "head.gather"):
            run = library.run("explain", asked, "bad.yaml", "--format", "json")
            assert (run.code, run.err) == (1, "")
            assert name in run.names


class TestRules:
    """`tauthide rules`."""

    def test_text(self, workshop: Workshop) -> None:
        run = workshop.run("rules")
        assert (run.code, run.err) == (0, "")
        assert [line.split()[:2] for line in run.out.splitlines()] == [[rule.name, rule.severity] for rule in RULES]

    def test_json(self, workshop: Workshop) -> None:
        run = workshop.run("rules", "--format", "json")
        assert (run.code, run.err, run.report["command"]) == (0, "", "rules")
        assert [row["name"] for row in run.report["rules"]] == [rule.name for rule in RULES]


def test_paths_are_those_of_the_findings(library: Workshop) -> None:
    """However a file is reached, it has one name, and the text stays narrow."""
    deep = Path(*["a-folder-with-a-long-name"] * 5)
    (library.folder / deep).mkdir(parents=True)
    shutil.copy(library.folder / "oval.yaml", library.folder / deep / "oval.yaml")
    run = library.run("explain", "head.blank_length", str(deep / "oval.yaml"))
    assert run.code == 0
    assert max(map(len, run.out.splitlines())) <= 100
    assert f"{deep.as_posix()}/oval.yaml:3" in "".join(line.strip() for line in run.out.splitlines())


@pytest.mark.slow
class TestProcess:
    """As a process of its own."""

    def test_no_colours_and_ascii_streams(self, library: Workshop) -> None:
        done = run_program(library.folder, "explain", "hide.density", "a.yaml")
        assert b"\x1b" not in done.stdout
        assert done.returncode == 0

    @pytest.mark.skipif(sys.platform == "win32", reason="no such device there")
    @pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
    def test_full_disk(self, library: Workshop) -> None:
        import subprocess

        from workshops import command, surroundings

        with Path("/dev/full").open("wb") as full:
            done = subprocess.run(
                command("rules"), cwd=library.folder, env=surroundings(), stdout=full, stderr=subprocess.PIPE,
                timeout=60, check=False,
            )  # fmt: skip
        assert done.returncode == 2
        assert b"Traceback" not in done.stderr

    def test_help_names_the_commands(self, library: Workshop) -> None:
        done = run_program(library.folder, "--help")
        assert b"explain" in done.stdout
        assert b"rules" in done.stdout
