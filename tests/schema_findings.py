"""A small spec to spoil, and findings as text: what the tests of the schema share."""

from __future__ import annotations

import textwrap

from tauthide.findings import Finding, Place, Severity
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Path
from tauthide.schema import check

DRUM = "drum: LIB-13"
FRAME = "frame: {outline: round, diameter: 13 in, depth: 55 mm}"
HEAD = "head: {hide: goat}"
STATIONS = "stations: {count: 16}"

GOOD = f"spec: 1\n{DRUM}\n{FRAME}\n{HEAD}\n{STATIONS}\n"
"""The least that a spec must say."""

WIDTH = 90
"""Characters of a line that the tests write findings in."""


def findings_in(text: str, kind: str = "spec") -> tuple[Finding, ...]:
    """Return what checking a text finds; the text itself must be sound YAML."""
    located, faults = read_yaml(text.encode(), "drum.yaml")
    assert located is not None, faults
    return check(kind, located)


def told(finding: Finding) -> str:
    """Return all that a finding says: its place, name and path, then message, found, allowed, write.

    Long lines are folded, and what is marked is cut to 40 characters.
    """
    assert finding.severity is Severity.ERROR
    assert finding.place.file == "drum.yaml"
    place = finding.place
    marked = place.text[place.column - 1 : place.column - 1 + place.width]
    lines = [
        f"{place.line}:{place.column} [{marked[:40]}] {finding.name} {finding.path}",
        finding.message,
        f"found: {finding.found}",
        f"allowed: {finding.allowed}",
        f"write: {finding.write}",
    ]
    return "\n".join(textwrap.fill(line.rstrip(), WIDTH, subsequent_indent="  ") for line in lines)


def nowhere(_path: Path, _key: bool) -> Place:
    """Place everything at the head of a file: for data that no file holds."""
    return Place("drum.yaml")
