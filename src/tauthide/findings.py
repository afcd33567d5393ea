"""Findings: what a stage has to say about a maker's file, as plain data.

A maker's mistake is a finding with its place; an exception is a fault of ours.
Nothing here prints: `tauthide.cli` renders findings for people and machines.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from posixpath import dirname, join, normpath, relpath
from typing import Any


class Severity(StrEnum):
    """How much a finding weighs."""

    ERROR = "error"
    """Would spoil skin or fail: nothing is compiled."""
    WARNING = "warning"
    """A careful maker would think twice."""
    NOTE = "note"
    """Worth knowing."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A place in a maker's file, lines and columns counted from 1, columns in characters."""

    file: str
    """The file's name as the maker is shown it."""
    line: int = 1
    column: int = 1
    width: int = 1
    """How many characters of the line are meant, at least 1."""
    text: str = ""
    """That line of the file, without its line end; empty where there is none."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a stage found, and what to do about it."""

    name: str
    """Readable name of the fault, lower case with hyphens: `hole-near-edge`."""
    severity: Severity
    message: str
    """One sentence, without a full stop at the end: what is wrong."""
    place: Place
    path: str = ""
    """Dotted path of the field meant, such as `stations.count`; empty for the whole document."""
    found: str = ""
    """What stands there now."""
    allowed: str = ""
    """What may stand there."""
    write: str = ""
    """What to write instead, ready to be copied."""
    accepted: str = ""
    """Why the maker accepts this warning or note, in the maker's words; empty where it is not accepted."""


def has_errors(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding is of error severity."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings by file and position, each once."""
    ordered = sorted(findings, key=lambda f: (f.place.file, f.place.line, f.place.column, f.name, f.message))
    return tuple(dict.fromkeys(ordered))


def relative_to(spec_file: str, file: str) -> str:
    """Return a file's name as seen from the spec's folder: the same wherever the repository lies."""
    return relpath(file, dirname(spec_file) or ".")


def finding_data(finding: Finding, spec_file: str | None = None) -> dict[str, Any]:
    """Return a finding as plain data; with a spec file, its place is named relative to that file's folder."""
    place = finding.place
    return {
        "name": finding.name,
        "severity": str(finding.severity),
        "message": finding.message,
        "file": place.file if spec_file is None else relative_to(spec_file, place.file),
        "line": place.line,
        "column": place.column,
        "width": place.width,
        "text": place.text,
        "path": finding.path,
        "found": finding.found,
        "allowed": finding.allowed,
        "write": finding.write,
        "accepted": finding.accepted,
    }


def finding_from(data: Mapping[str, Any], spec_file: str) -> Finding:
    """Return the finding that `finding_data` gave for this spec file; KeyError or ValueError for other data."""
    file = normpath(join(dirname(spec_file), str(data["file"])))
    place = Place(file, int(data["line"]), int(data["column"]), int(data["width"]), str(data["text"]))
    return Finding(
        str(data["name"]),
        Severity(data["severity"]),
        str(data["message"]),
        place,
        str(data["path"]),
        str(data["found"]),
        str(data["allowed"]),
        str(data["write"]),
        str(data["accepted"]),
    )
