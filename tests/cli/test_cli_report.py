"""What is said, and how: findings as text and as JSON, colours, the progress line, help, faults of ours."""

from __future__ import annotations

import io
import re
import sys
import textwrap
import time
from collections.abc import Callable

import pytest

from tauthide import __version__
from tauthide.__main__ import main
from tauthide.batch import jobs
from tauthide.cli import progress
from tauthide.cli.progress import ProgressLine
from tauthide.cli.report import Painter, finding_text, report_text, tally, wants_colours
from tauthide.findings import Finding, Place, Severity
from workshops import PARTS, Workshop, spec_text

PLAIN = Painter(colours=False)


class Terminal(io.StringIO):
    """A terminal that remembers what it was sent."""

    def isatty(self) -> bool:
        """Say that it is one."""
        return True


def finding(text: str = "head: {hide: gaot}", column: int = 14, width: int = 4, **fields: str) -> Finding:
    """Return a finding on a line of text."""
    return Finding("unknown-word", Severity.ERROR, "`gaot` is none", Place("a.yaml", 4, column, width, text), **fields)


class TestText:
    def test_whole(self) -> None:
        shown = finding_text(finding(found="gaot", allowed="goat, sheep", write="goat"), PLAIN)
        assert shown == textwrap.dedent("""\
            a.yaml:4:14: error: `gaot` is none [unknown-word]
                4 | head: {hide: gaot}
                  |              ^^^^
                  found    gaot
                  allowed  goat, sheep
                  write    goat
            """)

    def test_no_line_to_show(self) -> None:
        shown = finding_text(Finding("empty-file", Severity.NOTE, "Empty", Place("a.yaml")), PLAIN)
        assert shown == "a.yaml:1:1: note: Empty [empty-file]\n"

    @pytest.mark.parametrize(
        ("line", "column", "width"),
        [
            ("x" * 40 + "WRONG", 41, 5),
            ("x" * 500 + "WRONG" + "y" * 500, 501, 5),
            ("WRONG" + "y" * 500, 1, 5),
            ("x" * 500 + "WRONG", 501, 5),
            ("\tWRONG", 2, 5),
            ("\x1b[2J\x07WRONG", 6, 5),
            ("\u7f8a\u76aeWRONG", 3, 5),
            ("e\u0301WRONG", 3, 5),
            ("\u202eWRONG", 2, 5),
        ],
    )
    def test_mark_stands_under_what_is_meant(self, line: str, column: int, width: int) -> None:
        lines = finding_text(finding(line, column, width), PLAIN).splitlines()
        columns = "".join(
            "??" if character in "\u7f8a\u76ae" else "" if character == "\u0301" else character
            for character in lines[1]
        )
        start, end = lines[2].index("^"), lines[2].rindex("^") + 1
        assert columns[start:end] == "WRONG"
        assert len(columns) < 130
        assert lines[1].isprintable()

    @pytest.mark.parametrize(("column", "width"), [(1, 1000), (300, 10_000), (5000, 1), (1, 1)])
    def test_long_line_and_wide_mark_do_not_flood(self, column: int, width: int) -> None:
        lines = finding_text(finding("z" * 2000, column, width), PLAIN).splitlines()
        assert max(map(len, lines)) < 130
        assert lines[2].strip(" |").strip("^") == ""
        assert "^" in lines[2]

    def test_first_fifty_of_each_file(self) -> None:
        many = [Finding("x", Severity.NOTE, f"no. {n}", Place(file, n)) for file in ("a", "b") for n in range(60)]
        many += [Finding("x", Severity.NOTE, "one", Place("c"))]
        text = report_text(many, PLAIN)
        assert text.count("[x]") == 101
        assert "a:49:1: note: no. 49 [x]\n\na: 10 more findings; `--format json` gives them all\n\nb:0" in text
        assert tally(many) == "121 notes"

    def test_tally(self) -> None:
        several = [Finding("x", severity, "", Place("a")) for severity in (*Severity, Severity.NOTE)]
        assert tally(several) == "1 error, 1 warning, 2 notes"
        assert tally([]) == "nothing found"


class TestColours:
    @pytest.mark.parametrize(
        ("environment", "wanted"),
        [
            ({}, True),
            ({"NO_COLOR": "1"}, False),
            ({"NO_COLOR": ""}, True),
            ({"TERM": "dumb"}, False),
            ({"TERM": "xterm"}, True),
        ],
    )
    def test_on_a_terminal(self, environment: dict[str, str], wanted: bool) -> None:
        assert wants_colours(Terminal(), environment) is wanted

    def test_elsewhere(self) -> None:
        assert not wants_colours(io.StringIO(), {})

    def test_same_text_but_for_the_colours(self) -> None:
        one = finding(found="\x1b[31m", allowed="goat", write="goat")
        coloured = finding_text(one, Painter(colours=True))
        assert coloured != finding_text(one, PLAIN)
        assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == finding_text(one, PLAIN)

    def test_end_to_end(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        workshop.write("specs/a.yaml", "spec: 1\n")
        monkeypatch.setenv("TERM", "xterm")
        for no_colour, coloured in ((None, True), ("1", False)):
            terminal = Terminal()
            monkeypatch.setattr(sys, "stderr", terminal)
            if no_colour:
                monkeypatch.setenv("NO_COLOR", no_colour)
            assert main(["check"]) == 1
            assert ("\x1b[" in terminal.getvalue()) is coloured


class TestProgress:
    def test_only_when_work_takes_long(self, monkeypatch: pytest.MonkeyPatch) -> None:
        clock = [0.0]
        monkeypatch.setattr(time, "monotonic", lambda: clock[0])
        terminal = Terminal()
        line = ProgressLine(terminal, {}, wanted=True)
        for clock[0] in (0.5, 0.99):
            line(1, 9)
        assert terminal.getvalue() == ""
        for clock[0] in (1.0, 1.01, 1.05, 1.2):
            line(int(clock[0] * 100), 900)
        assert re.findall(r"(\d+) of 900 drums", terminal.getvalue()) == ["100", "120"]
        line.clear()
        assert terminal.getvalue().endswith("\r")
        assert terminal.getvalue().rstrip("\r").rpartition("\r")[2].strip() == ""

    @pytest.mark.parametrize(
        ("stream", "environment", "wanted"),
        [(io.StringIO(), {}, True), (Terminal(), {"TERM": "dumb"}, True), (Terminal(), {}, False)],
    )
    def test_not_elsewhere(
        self, monkeypatch: pytest.MonkeyPatch, stream: io.StringIO, environment: dict[str, str], wanted: bool
    ) -> None:
        monkeypatch.setattr(progress, "PATIENCE_S", -1.0)
        line = ProgressLine(stream, environment, wanted=wanted)
        line(1, 2)
        line.clear()
        assert stream.getvalue() == ""

    def test_end_to_end(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        monkeypatch.setattr(progress, "PATIENCE_S", -1.0)
        monkeypatch.setattr(progress, "EVERY_S", -1.0)
        monkeypatch.setenv("TERM", "xterm")
        for command in (["check"], ["build"], ["build", "--verify"]):
            terminal = Terminal()
            monkeypatch.setattr(sys, "stderr", terminal)
            assert main(command) == 0
            assert "\r1 of 1 drums" in terminal.getvalue()
            assert terminal.getvalue().splitlines()[-1].startswith("1 spec; ")
            assert main([*command, "--format", "json"]) == 0
            assert terminal.getvalue().count("drums") == 1


class TestJson:
    KEYS = (
        "name",
        "severity",
        "message",
        "file",
        "line",
        "column",
        "width",
        "text",
        "path",
        "found",
        "allowed",
        "write",
        "accepted",
    )

    def test_shape(self, workshop: Workshop) -> None:
        """What other programs rely on: raise the format's number when this has to change."""
        workshop.write("specs/a.yaml", spec_text("A", parts=PARTS.replace("goat", "gaot")))
        assert workshop.check().report == {
            "format": 1,
            "command": "check",
            "findings": [
                {
                    "name": "unknown-word",
                    "severity": "error",
                    "message": "`gaot` is not a choice for `head.hide`",
                    "file": "specs/a.yaml",
                    "line": 4,
                    "column": 14,
                    "width": 4,
                    "text": "head: {hide: gaot}",
                    "path": "head.hide",
                    "found": "gaot",
                    "allowed": "goat, sheep, deer, calf, cow, horse, elk",
                    "write": "goat",
                    "accepted": "",
                }
            ],
            "summary": {"specs": 1, "errors": 1, "warnings": 0, "notes": 0},
        }

    @pytest.mark.parametrize(
        ("arguments", "summary"),
        [
            (["check"], {"specs"}),
            (["build"], {"specs", "written", "unchanged", "removed", "removed_drums"}),
            (["build", "--verify"], {"specs", "differences"}),
        ],
    )
    def test_summary(self, workshop: Workshop, arguments: list[str], summary: set[str]) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        for paths in ([], ["nowhere"]):
            run = workshop.run(*arguments, *paths, "--format", "json")
            assert set(run.report) == {"format", "command", "findings", "summary"}
            assert set(run.report["summary"]) == summary | {"errors", "warnings", "notes"}
            assert run.report["command"] == arguments[0]
            assert all(tuple(item) == self.KEYS for item in run.findings)
            assert run.err == ""

    def test_is_ascii(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A", more="colour: \u00e9\u7f8a\n"))
        run = workshop.check()
        assert run.out.isascii()
        assert run.only["text"] == "colour: \u00e9\u7f8a"

    def test_text_leaves_standard_output_alone(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", "spec: 1\n")
        for command in (["check"], ["build"], ["build", "--verify"]):
            assert workshop.run(*command).out == ""


class TestUsage:
    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            ([], "the following arguments are required: COMMAND"),
            (["biuld"], "invalid choice: 'biuld'"),
            (["check", "--out", "x"], "unrecognized arguments: --out"),
            (["check", "--form", "json"], "unrecognized arguments: --form"),
            (["check", "--format", "xml"], "argument --format: invalid choice: 'xml'"),
            (["build", "--jobs"], "argument --jobs: expected one argument"),
            (["build", "--jobs", "many"], "argument --jobs: 'many' is not a number from 0 to 64"),
        ],
    )
    def test_bad_usage(self, workshop: Workshop, arguments: list[str], said: str) -> None:
        run = workshop.run(*arguments)
        assert run.code == 2
        assert run.out == ""
        assert run.err.startswith("tauthide: ")
        assert said in run.err
        assert "--help`)" in run.err
        assert len(run.err.splitlines()) == 1

    @pytest.mark.parametrize("arguments", [["--help"], ["check", "--help"], ["build", "--help"]])
    def test_help(self, workshop: Workshop, arguments: list[str]) -> None:
        run = workshop.run(*arguments)
        assert (run.code, run.err) == (0, "")
        assert run.out.startswith("usage: tauthide")

    def test_help_tells_the_exit_codes(self, workshop: Workshop) -> None:
        text = workshop.run("--help").out
        assert [code for code in ("0", "1", "2", "3", "130") if re.search(rf"^  {code} ", text, re.MULTILINE)] == [
            "0", "1", "2", "3", "130",
        ]  # fmt: skip

    def test_version(self, workshop: Workshop) -> None:
        assert workshop.run("--version").out == f"tauthide {__version__}\n"


class TestFaultOfOurs:
    @pytest.fixture
    def fault(self, monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], None]:
        """Give a function that sets what goes wrong in compiling."""

        def go_wrong(error: BaseException) -> None:
            def fail(*_arguments: object) -> object:
                raise error

            monkeypatch.setattr(jobs, "compile_input", fail)

        return go_wrong

    def test_short_message(self, workshop: Workshop, fault: Callable[[BaseException], None]) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        assert workshop.build().code == 0
        before = workshop.sheets()
        workshop.write("specs/a.yaml", spec_text("A", more="title: x\n"))
        fault(ZeroDivisionError("by \x1b[31mnothing"))
        run = workshop.run("build")
        assert run.code == 3
        assert run.err == (
            "tauthide: this is a fault of the program, not of your spec: ZeroDivisionError: by \\x1b[31mnothing\n"
            "Please report it with the spec; with TAUTHIDE_DEBUG=1 set it says where it happened.\n"
        )
        assert workshop.sheets() == before

    def test_traceback_on_request(
        self, workshop: Workshop, fault: Callable[[BaseException], None], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        fault(ZeroDivisionError())
        monkeypatch.setenv("TAUTHIDE_DEBUG", "1")
        with pytest.raises(ZeroDivisionError):
            main(["build"])

    @pytest.mark.parametrize(
        ("error", "code", "said"),
        [
            (KeyboardInterrupt(), 130, "tauthide: interrupted\n"),
            (OSError(5, "Input/output error", "x"), 2, "tauthide: x: Input/output error\n"),
            (MemoryError(), 3, "tauthide: this is a fault of the program, not of your spec: MemoryError"),
            (RecursionError(), 3, "tauthide: this is a fault of the program, not of your spec: RecursionError"),
            (SystemExit(143), 143, ""),
        ],
    )
    def test_exit_codes(
        self, workshop: Workshop, fault: Callable[[BaseException], None], error: BaseException, code: int, said: str
    ) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        fault(error)
        run = workshop.run("build")
        assert run.code == code
        assert run.err.startswith(said)
        assert run.report is None
        assert [name for name in workshop.sheets() if name.endswith((".tmp", "sheet.md"))] == []

    def test_json_report_is_not_begun(self, workshop: Workshop, fault: Callable[[BaseException], None]) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        fault(ZeroDivisionError())
        run = workshop.run("build", "--format", "json")
        assert (run.code, run.out) == (3, "")
