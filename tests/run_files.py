"""A run with its specs and skins to spoil, written into a repository, and findings as text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping
from pathlib import Path

from tauthide.findings import Finding
from tauthide.runs.loading import check_document, load_run
from tauthide.runs.run import Run
from tauthide.spec.chain import Library, Source, read_source

SMALL = "spec: 1\ndrum: SMALL\nquantity: 3\nframe: {outline: round, diameter: 8 in, depth: 40 mm}\n"
SMALL += "head: {hide: goat}\nstations: {count: 8}\n"
LARGE = "spec: 1\ndrum: LARGE\nframe: {outline: round, diameter: 13 in, depth: 55 mm}\n"
LARGE += "head: {hide: deer}\nlace: {hide: calf}\nstations: {count: 16}\n"

SKIN = """\
skin: 1
name: goat-1
hide: goat
kept: rawhide
thickness: 1.0 mm
grid: 50 mm
outline: {points: [[0, 0], [14, 0], [14, 18], [0, 18]]}
spine: [[7, 0], [7, 18]]
"""
"""A goat of 700 by 900 mm, as square as no goat is."""

LOT = """\
lot: 1
frames: [{outline: round, diameter: 8 in, depth: 40 mm, quantity: 2, price: 9.5}]
laces: [{hide: goat, width: 8 mm, length: 8 m}]
punches: [{size: 3/8 in}]
other: [{what: beeswax, quantity: 2}]
"""

RUN = """\
run: 1
name: spring
drums: [{spec: ../small.yaml}, {spec: ../large.yaml, quantity: 2}]
skins: [goat-1.yaml]
lots: [cupboard.yaml]
hours: [{days: [mon, tue], from: 9:00, to: 17:00}]
start: 2026-03-02
"""

FILES: Mapping[str, str] = {
    "small.yaml": SMALL,
    "large.yaml": LARGE,
    "runs/goat-1.yaml": SKIN,
    "runs/cupboard.yaml": LOT,
    "runs/run.yaml": RUN,
}
"""A repository in which nothing is wrong."""

WIDTH = 100
"""Characters of a line that the tests write findings in."""


def write_files(folder: Path, changes: Mapping[str, str | bytes]) -> None:
    """Write the repository with some files of other content."""
    (folder / ".git").mkdir(parents=True, exist_ok=True)
    for name, text in {**FILES, **changes}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())


def source_of(folder: Path, name: str) -> Source:
    """Read a file of the repository."""
    path = folder / name
    return read_source(path, name, path.read_bytes())


def library_of(folder: Path) -> Library:
    """Return a library that shows files as seen from the repository."""
    return Library(lambda path: path.resolve().relative_to(folder.resolve()).as_posix())


def findings_in_run(folder: Path, changes: Mapping[str, str | bytes]) -> tuple[Finding, ...]:
    """Return what is found in the run of the repository, once some files have other content."""
    write_files(folder, changes)
    return check_document(source_of(folder, "runs/run.yaml"), library_of(folder))


def loaded_run(folder: Path, changes: Mapping[str, str | bytes]) -> Run:
    """Return the run of the repository, in which nothing may be wrong."""
    write_files(folder, changes)
    run, findings = load_run(source_of(folder, "runs/run.yaml"), library_of(folder))
    assert run is not None, findings
    return run


def findings_in_text(text: str) -> tuple[Finding, ...]:
    """Return what is found in the text of a skin or a lot."""
    return check_document(read_source(Path("skin.yaml"), "skin.yaml", text.encode()), Library(str))


def told(findings: Iterable[Finding]) -> str:
    """Return all that findings say: place, severity, name and path, then message, found, allowed, write."""
    return "\n".join(map(_told, findings))


def _told(finding: Finding) -> str:
    place = finding.place
    marked = place.text[place.column - 1 : place.column - 1 + place.width]
    lines = [
        f"{place.file}:{place.line}:{place.column} [{marked[:40]}] {finding.severity} {finding.name} {finding.path}",
        f"  {finding.message}",
    ]
    said = {"found": finding.found, "allowed": finding.allowed, "write": finding.write}
    lines += [f"  {label}: {text}" for label, text in said.items() if text]
    return "\n".join(textwrap.fill(line, WIDTH, subsequent_indent="    ") for line in lines)
