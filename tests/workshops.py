"""A folder of specs to work in, and runs of the program there: in this process, or as a process of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from tauthide.__main__ import main

SOURCES = Path(__file__).parents[1] / "src"

PARTS = """\
frame: {outline: round, diameter: 13 in, depth: 55 mm}
head: {hide: goat}
stations: {count: 16}
"""


def spec_text(drum: str = "LIB-13", more: str = "", parts: str = PARTS) -> str:
    """Return a spec that makes a drum; `more` are lines between its name and its parts."""
    return f"spec: 1\ndrum: {drum}\n{more}{parts}"


@dataclass(frozen=True)
class Run:
    """What a run of the program came to."""

    code: int
    out: str
    err: str
    report: Any = field(default=None, repr=False)
    """The JSON report; None without one."""

    @property
    def findings(self) -> list[dict[str, Any]]:
        """The findings of the JSON report."""
        found: list[dict[str, Any]] = self.report["findings"]
        return found

    @property
    def names(self) -> list[str]:
        """Names of the findings, in the report's order."""
        return [finding["name"] for finding in self.findings]

    @property
    def only(self) -> dict[str, Any]:
        """The only finding of the report."""
        assert len(self.findings) == 1, self.findings
        return self.findings[0]


@dataclass(frozen=True)
class Workshop:
    """A repository with specs, which is the current folder."""

    folder: Path
    capsys: pytest.CaptureFixture[str]

    def write(self, name: str, content: str | bytes) -> Path:
        """Write a file, with its folders."""
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    def run(self, *arguments: str) -> Run:
        """Run the program in this process; nothing may look like a traceback."""
        self.capsys.readouterr()
        code = main(arguments)
        out, err = self.capsys.readouterr()
        assert "Traceback" not in out + err
        report = json.loads(out) if "json" in arguments and out else None
        return Run(code, out, err, report)

    def check(self, *paths: str) -> Run:
        """Check, with a JSON report; nothing but the report may be said."""
        return self._reported("check", *paths)

    def build(self, *arguments: str) -> Run:
        """Build, with a JSON report; nothing but the report may be said."""
        return self._reported("build", *arguments)

    def _reported(self, *arguments: str) -> Run:
        run = self.run(*arguments, "--format", "json")
        assert run.err == ""
        return run

    def sheets(self, *, manifest: bool = False) -> dict[str, bytes]:
        """Return the files of the output folder by path."""
        return tree(self.folder / "sheets", manifest=manifest)

    def sheet(self, drum: str) -> str:
        """Return a drum's sheet."""
        return (self.folder / "sheets" / drum / "sheet.md").read_text(encoding="utf-8")


def tree(folder: Path, *, manifest: bool = False) -> dict[str, bytes]:
    """Return all files below a folder by path, the manifest only if wanted."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and (manifest or path.name != ".tauthide.json")
    }


def stamps(folder: Path) -> dict[str, tuple[int, int]]:
    """Return inode and time of change of everything below a folder: both change with any writing."""
    return {
        path.relative_to(folder).as_posix(): (path.lstat().st_ino, path.lstat().st_mtime_ns)
        for path in sorted(folder.rglob("*"))
    }


DRUM_FILES = ["gauge.svg", "lacing.svg", "layout.svg", "plan.json", "section.svg", "sheet.md", "steps.svg"]
"""The files of a drum that was built."""


def files_of(drum: str) -> list[str]:
    """Return the paths of a built drum's files below the output folder."""
    return [f"{drum}/{name}" for name in DRUM_FILES]


def command(*arguments: str) -> list[str]:
    """Return the command that runs the program as a process of its own."""
    return [sys.executable, "-m", "tauthide", *arguments]


def surroundings(**changes: str) -> dict[str, str]:
    """Return the environment of such a process."""
    inherited = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    return {**inherited, "PYTHONPATH": str(SOURCES), **changes}


def run_program(
    folder: Path, *arguments: str, environment: Mapping[str, str] | None = None, stdin: bytes = b"", **more: Any
) -> subprocess.CompletedProcess[bytes]:
    """Run the program as a process of its own; nothing may look like a traceback."""
    done = subprocess.run(
        command(*arguments),
        cwd=folder,
        env=surroundings() if environment is None else dict(environment),
        input=stdin,
        capture_output=True,
        timeout=60,
        check=False,
        **more,
    )
    assert b"Traceback" not in done.stdout + done.stderr, done.stderr
    assert b"Exception ignored" not in done.stderr, done.stderr
    return done


def many_specs(folder: Path, count: int) -> Sequence[str]:
    """Write so many small specs into a folder and return the names of their drums."""
    folder.mkdir(parents=True, exist_ok=True)
    drums = [f"M-{number:03}" for number in range(count)]
    for number, drum in enumerate(drums):
        parts = PARTS.replace("13 in", f"{330 + number} mm").replace("16", "8")
        (folder / f"{drum.lower()}.yaml").write_text(spec_text(drum, parts=parts))
    return drums


@pytest.fixture
def workshop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Workshop:
    """Give an empty repository, which is the current folder."""
    folder = tmp_path / "shop"
    (folder / ".git").mkdir(parents=True)
    monkeypatch.chdir(folder)
    monkeypatch.delenv("NO_COLOR", raising=False)
    return Workshop(folder, capsys)
