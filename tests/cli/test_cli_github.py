"""Annotations and step summaries for GitHub's workflow runs.

Escapes and limits: GitHub's documentation, "Workflow commands for GitHub Actions" (commands, properties, job
summaries), and its published toolkit for actions (which characters are escaped).
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.cli.github import MOST_BYTES, MOST_OF_A_LEVEL, Remark, annotate, remarks_of, summary
from tauthide.findings import Finding, Place, Severity
from workshops import PARTS, Workshop, spec_text

COMMAND = re.compile(r"::(?P<level>error|warning|notice) (?P<properties>[^:\r\n]*)::(?P<message>[^\r\n]*)\n")


def unescape(text: str) -> str:
    """Undo the escapes of a workflow command as a runner does: the percent sign last."""
    for escape, character in (("%2C", ","), ("%3A", ":"), ("%0A", "\n"), ("%0D", "\r"), ("%25", "%")):
        text = text.replace(escape, character)
    return text


def read(line: str) -> tuple[str, dict[str, str], str]:
    """Read a workflow command as a runner does: level, properties, message."""
    match = COMMAND.fullmatch(line)
    assert match, line
    pairs = (pair.split("=", 1) for pair in match["properties"].split(","))
    return match["level"], {name: unescape(text) for name, text in pairs}, unescape(match["message"])


def commands(out: str) -> list[tuple[str, dict[str, str], str]]:
    return [read(line) for line in out.splitlines(keepends=True)]


@pytest.fixture
def step(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, workshop: Workshop) -> Path:
    """Set up a step of a run in the workshop's repository and return the file for its summary."""
    file = tmp_path / "summary.md"
    monkeypatch.setenv("GITHUB_STEP_SUMMARY", str(file))
    monkeypatch.setenv("GITHUB_WORKSPACE", str(workshop.folder))
    return file


class TestCheck:
    def test_error_stands_at_its_place(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text(parts=PARTS.replace("goat", "goat, tickness: 1 mm")))
        run = workshop.run("check", "specs", "--format", "github")
        ((level, properties, message),) = commands(run.out)
        assert level == "error"
        assert properties == {
            "file": "specs/a.yaml", "line": "4", "col": "20", "endColumn": "28", "title": "unknown-key"
        }  # fmt: skip
        assert message.splitlines()[0] == "`tickness` is not a key of `head`"
        assert "write: thickness" in message.splitlines()
        assert run.code == 1
        assert run.err == "1 spec; 1 error\n"
        written = step.read_text(encoding="utf-8")
        assert written.startswith("### tauthide check\n")
        assert "| error | specs\\/a\\.yaml\\:4 |" in written

    def test_names_are_seen_from_the_checkout(
        self, workshop: Workshop, step: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        workshop.write("drums/specs/a.yaml", "spec: 1\n")
        monkeypatch.chdir(workshop.folder / "drums")
        run = workshop.run("check", "--format", "github")
        assert {properties["file"] for _, properties, _ in commands(run.out)} == {"drums/specs/a.yaml"}

    def test_accepted_warning_is_a_notice(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text(parts=PARTS.replace("16", "6")))
        found = [(level, p["title"]) for level, p, _ in commands(workshop.run("check", "--format", "github").out)]
        warnings = [name for level, name in found if level == "warning"]
        assert warnings
        accept = f"accept:\n  - {{rule: {warnings[0]}, because: 'a toy, 100 % sure'}}\n"
        workshop.write("specs/a.yaml", spec_text(more=accept, parts=PARTS.replace("16", "6")))
        accepted = commands(workshop.run("check", "--format", "github").out)
        (message,) = [text for level, p, text in accepted if p["title"] == warnings[0] and level == "notice"]
        assert message.splitlines()[-1] == "accepted: a toy, 100 % sure"

    def test_nothing_found(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text())
        run = workshop.run("check", "--format", "github")
        assert (run.code, run.out) == (0, "")
        assert step.read_text(encoding="utf-8") == "### tauthide check\n\n1 spec\\; nothing found\n\n"

    def test_summary_is_added_to(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text())
        step.write_text("Before\n\n", encoding="utf-8")
        workshop.run("check", "--format", "github")
        assert step.read_text(encoding="utf-8").startswith("Before\n\n### tauthide check\n")

    def test_summary_that_cannot_be_written(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text())
        step.mkdir()
        run = workshop.run("check", "--format", "github")
        assert run.code == 2
        assert "GITHUB_STEP_SUMMARY" in run.err

    def test_no_summary_outside_of_a_step(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.delenv("GITHUB_STEP_SUMMARY", raising=False)
        workshop.write("specs/a.yaml", "spec: 1\n")
        assert workshop.run("check", "--format", "github").code == 1


class TestVerify:
    def test_each_file_is_an_error(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text())
        assert workshop.run("build").code == 0
        (workshop.folder / "sheets/LIB-13/plan.json").unlink()
        workshop.write("sheets/LIB-13/sheet.md", "changed by hand\n")
        run = workshop.run("build", "--verify", "--format", "github")
        errors = [(p["file"], p["title"]) for level, p, _ in commands(run.out) if level == "error"]
        assert errors == [
            ("sheets/LIB-13/plan.json", "output missing"),
            ("sheets/LIB-13/sheet.md", "output stale"),
        ]
        assert run.code == 1

    def test_a_build_reports_too(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", spec_text())
        run = workshop.run("build", "--format", "github")
        assert (run.code, run.out) == (0, "")
        assert "8 files written" in step.read_text(encoding="utf-8")


class TestLimits:
    def remarks(self, level: str, count: int) -> list[Remark]:
        return [Remark(level, "some-rule", f"number {n}", "a.yaml", n + 1) for n in range(count)]

    def test_of_each_level_so_many(self) -> None:
        remarks = [*self.remarks("notice", 25), *self.remarks("error", 10), *self.remarks("warning", 11)]
        lines = [read(line) for line in annotate(remarks)]
        by_level = {level: [text for other, _, text in lines if other == level] for level, _, _ in lines}
        assert {level: len(texts) for level, texts in by_level.items()} == {
            "error": 10, "warning": 10, "notice": 10
        }  # fmt: skip
        assert MOST_OF_A_LEVEL == 10
        assert by_level["error"] == [f"number {n}" for n in range(10)]
        assert by_level["warning"][8:] == ["number 8", "2 more warnings; the summary of this step lists them all"]
        assert by_level["notice"][9].startswith("16 more notices;")

    @pytest.mark.parametrize("room", [MOST_BYTES, 2000, 500, 200, 20, 0, -5])
    def test_summary_keeps_within_its_room(self, room: int) -> None:
        remarks = self.remarks("error", 20_000)
        text = summary("check", "1 spec", (), remarks, room)
        assert len(text.encode()) <= max(room, 0)
        rows = re.findall(r"^\| error .*\|$", text, re.MULTILINE)
        told = re.search(r"^(\d+) more rows? would", text, re.MULTILINE)
        if text:
            assert told
            assert len(rows) + int(told[1]) == len(remarks)
        else:
            assert room < 500

    def test_summary_of_a_step_that_is_full(self, workshop: Workshop, step: Path) -> None:
        workshop.write("specs/a.yaml", "spec: 1\n")
        step.write_bytes(b"x" * MOST_BYTES)
        assert workshop.run("check", "--format", "github").code == 1
        assert step.stat().st_size == MOST_BYTES


class TestEscapes:
    @given(message=st.text(min_size=1, max_size=80), file=st.text(min_size=1, max_size=40), found=st.text(max_size=40))
    def test_any_text_is_one_command(self, message: str, file: str, found: str) -> None:
        finding = Finding("some-rule", Severity.WARNING, message, Place(file, 3, 2, 4, "some text"), found=found)
        (line,) = annotate(remarks_of([finding], [], ""))
        level, properties, text = read(line)
        assert level == "warning"
        assert list(properties) == ["file", "line", "col", "endColumn", "title"]
        assert len(line.splitlines()) == 1
        assert len(text.splitlines()) <= 1 + bool(found)

    def test_signs_that_part_a_command(self) -> None:
        finding = Finding("some-rule", Severity.ERROR, "100 %: a, b::c\r\n::stop", Place("a:b,c%.yaml"))
        (line,) = annotate(remarks_of([finding], [], ""))
        assert line == (
            "::error file=a%3Ab%2Cc%25.yaml,line=1,title=some-rule::100 %25: a, b::c\\x0d\\x0a::stop\n"
        )  # fmt: skip
