"""Findings and a maker's notes, made safe to stand on a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tauthide.findings import Finding, Severity, relative_to
from tauthide.sheets.words import own
from tauthide.text import markdown

_ORDER = {severity: number for number, severity in enumerate(Severity)}


@dataclass(frozen=True, slots=True)
class Remark:
    """One finding as a sheet shows it; all fields are escaped, and empty where there is nothing to say."""

    severity: str
    """`Error`, `Warning` or `Note`."""
    message: str
    found: str
    allowed: str
    write: str
    name: str
    place: str
    """File, seen from the spec's folder, and line."""
    path: str
    accepted: str
    """Why the maker accepts it."""


def view_findings(findings: Iterable[Finding], spec_file: str) -> tuple[Remark, ...]:
    """Return findings as remarks, the gravest first, otherwise in the order given."""
    ordered = sorted(findings, key=lambda finding: _ORDER[finding.severity])
    return tuple(_remark(finding, spec_file) for finding in ordered)


def view_notes(notes: str) -> tuple[tuple[str, ...], ...]:
    """Return a maker's notes as paragraphs of escaped lines; lines keep apart, blank ones part paragraphs."""
    paragraphs: list[tuple[str, ...]] = []
    lines: list[str] = []
    for line in [*notes.replace("\r\n", "\n").split("\n"), ""]:
        if line.strip():
            lines.append(markdown(line))
        elif lines:
            paragraphs.append(tuple(lines))
            lines = []
    return tuple(paragraphs)


def _remark(finding: Finding, spec_file: str) -> Remark:
    place = finding.place
    return Remark(
        severity=finding.severity.value.capitalize(),
        message=markdown(finding.message),
        found=markdown(finding.found),
        allowed=markdown(finding.allowed),
        write="; ".join(markdown(line) for line in finding.write.split("\n") if line.strip()),
        name=own(finding.name),
        place=f"{markdown(relative_to(spec_file, place.file))}, line {place.line}",
        path=markdown(finding.path),
        accepted=markdown(finding.accepted),
    )
