"""Findings shown: as text with the line they are about, or as JSON."""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TextIO

from tauthide.findings import Finding, Severity, finding_data
from tauthide.text import plain

FORMAT = 1
"""Version of the JSON report."""

WINDOW = 100
"""Of a longer line only so many characters round the marked place are shown."""

CUT = "…"
_COLOURS: Mapping[str, str] = {"error": "31;1", "warning": "33;1", "note": "36;1", "place": "1", "mark": "32;1"}
_LABEL_WIDTH = 8


class Painter:
    """Colours words for a terminal, or leaves them alone."""

    def __init__(self, *, colours: bool) -> None:
        """Take whether to colour at all."""
        self._colours = colours

    def paint(self, style: str, text: str) -> str:
        """Return the text in the colours of a style."""
        return f"\033[{_COLOURS[style]}m{text}\033[0m" if self._colours else text


def wants_colours(stream: TextIO, environment: Mapping[str, str]) -> bool:
    """Tell whether to colour what goes to a stream: on a terminal, unless NO_COLOR is set or it can't."""
    return not environment.get("NO_COLOR") and environment.get("TERM") != "dumb" and stream.isatty()


def finding_text(finding: Finding, painter: Painter) -> str:
    """Return a finding as lines of text, with the line it is about and a mark under the place."""
    place = finding.place
    where = painter.paint("place", f"{plain(place.file)}:{place.line}:{place.column}")
    severity = painter.paint(finding.severity, finding.severity)
    lines = [f"{where}: {severity}: {plain(finding.message)} [{finding.name}]"]
    if place.text:
        gutter = f"{place.line:>5} | "
        shown, before, width = _marked(place.text, place.column - 1, place.width)
        lines.append(f"{gutter}{shown}")
        mark = painter.paint("mark", "^" * width)
        lines.append(f"{' ' * (len(gutter) - 2)}| {' ' * before}{mark}")
    for label, text in (("found", finding.found), ("allowed", finding.allowed), ("write", finding.write)):
        if text:
            lines.append(f"      {label:<{_LABEL_WIDTH}} {plain(text)}")
    return "\n".join(lines) + "\n"


def report_text(findings: Iterable[Finding], painter: Painter) -> str:
    """Return all findings as text, a blank line after each."""
    return "".join(f"{finding_text(finding, painter)}\n" for finding in findings)


def tally(findings: Sequence[Finding]) -> str:
    """Return how many findings there are of each severity: `2 errors, 1 warning`."""
    counts = [(severity, sum(f.severity is severity for f in findings)) for severity in Severity]
    said = [f"{count} {severity}{'' if count == 1 else 's'}" for severity, count in counts if count]
    return ", ".join(said) or "nothing found"


def report_json(command: str, findings: Sequence[Finding], summary: Mapping[str, Any]) -> str:
    """Return the report for a machine: the findings, and the summary of the command."""
    counts = {f"{severity}s": sum(f.severity is severity for f in findings) for severity in Severity}
    body = {
        "format": FORMAT,
        "command": command,
        "findings": [finding_data(finding) for finding in findings],
        "summary": {**summary, **counts},
    }
    return json.dumps(body, indent=2, ensure_ascii=True) + "\n"


def _marked(line: str, start: int, width: int) -> tuple[str, int, int]:
    """Return a line as shown, how many columns stand before the mark, and how many the mark takes."""
    first = max(0, start - WINDOW // 2) if len(line) > WINDOW else 0
    last = min(len(line), first + WINDOW)
    head, marked, tail = (_flat(line[a:b]) for a, b in ((first, start), (start, start + width), (start + width, last)))
    if first:
        head = CUT + head
    if last < len(line) and start + width <= last:
        tail += CUT
    return f"{head}{marked}{tail}".rstrip(), _columns(head), max(1, min(_columns(marked), WINDOW))


def _flat(text: str) -> str:
    return plain(text.replace("\t", " "))


def _columns(text: str) -> int:
    """Return how many columns of a terminal a text takes."""
    return sum(
        0 if unicodedata.combining(character) else 2 if unicodedata.east_asian_width(character) in "WF" else 1
        for character in text
    )
