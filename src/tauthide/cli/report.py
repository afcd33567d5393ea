"""Findings shown: as text with the line they are about, or as JSON."""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import unified_diff
from itertools import groupby
from typing import Any, TextIO

from tauthide.findings import Finding, Severity, finding_data
from tauthide.reading.sources import split_lines
from tauthide.text import plain

FORMAT = 1
"""Version of the JSON report."""

WINDOW = 100
"""Of a longer line only so many characters round the marked place are shown."""

MOST_OF_A_FILE = 50
"""So many findings of a file are shown as text: nobody reads more, and mending some mends others."""

LONGEST_LINE = 1000
"""A longer line is not repeated in a report for a machine, which has the file: there may be a finding for every
few characters of it."""

CUT = "…"
_COLOURS: Mapping[str, str] = {
    "error": "31;1",
    "warning": "33;1",
    "note": "36;1",
    "place": "1",
    "mark": "32;1",
}
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
            where = _part_of(finding) if label == "write" else ""
            lines.append(f"      {label:<{_LABEL_WIDTH}} {plain(text)}{where}")
    if finding.accepted:
        lines.append(f"      {'accepted':<{_LABEL_WIDTH}} {plain(finding.accepted)}")
    return "\n".join(lines) + "\n"


def report_text(findings: Iterable[Finding], painter: Painter) -> str:
    """Return findings as text, a blank line after each; of a file with very many only the first."""
    parts: list[str] = []
    for file, of_file in groupby(findings, key=lambda finding: finding.place.file):
        several = tuple(of_file)
        parts += (finding_text(finding, painter) for finding in several[:MOST_OF_A_FILE])
        if len(several) > MOST_OF_A_FILE:
            more = counted(len(several) - MOST_OF_A_FILE, "more finding")
            parts.append(f"{plain(file)}: {more}; `--format json` gives them all\n")
    return "".join(f"{part}\n" for part in parts)


def tally(findings: Sequence[Finding]) -> str:
    """Return how many findings there are of each severity: `2 errors, 1 warning`."""
    counts = [(severity, sum(f.severity is severity for f in findings)) for severity in Severity]
    return ", ".join(counted(count, severity) for severity, count in counts if count) or "nothing found"


def counted(count: int, what: str) -> str:
    """Return a count with its noun: `1 spec`, `2 specs`."""
    return f"{count} {what}{'' if count == 1 else 's'}"


def report_json(command: str, findings: Sequence[Finding], summary: Mapping[str, Any]) -> Iterator[str]:
    """Yield the report for a machine, piece by piece: the findings, and the summary of the command."""
    yield f'{{\n"format": {FORMAT},\n"command": {json.dumps(command)},\n"findings": ['
    between = "\n"
    for finding in findings:
        data = finding_data(finding)
        if len(finding.place.text) > LONGEST_LINE:
            data["text"] = ""
        yield between + json.dumps(data)
        between = ",\n"
    counts = {f"{severity}s": sum(f.severity is severity for f in findings) for severity in Severity}
    yield f'\n],\n"summary": {json.dumps({**summary, **counts})}\n}}\n'


def difference(old: bytes, new: bytes, shown: str) -> list[str]:
    """Return a file's change as a unified difference, lines with their ends; nothing where there is none."""
    before, after = (split_lines(text.decode("utf-8-sig")) for text in (old, new))
    return [f"{line}\n" for line in unified_diff(before, after, shown, shown, lineterm="")]


def _marked(line: str, start: int, width: int) -> tuple[str, int, int]:
    """Return a line as shown, how many columns stand before the mark, and how many the mark takes."""
    first = max(0, start - WINDOW // 2) if len(line) > WINDOW else 0
    last = min(len(line), first + WINDOW)
    end = min(start + width, last)
    head, marked, tail = (_flat(line[a:b]) for a, b in ((first, start), (start, end), (end, last)))
    head = CUT + head if first else head
    tail = tail + CUT if last < len(line) else tail
    return f"{head}{marked}{tail}".rstrip(), _columns(head), max(1, _columns(marked))


def _flat(text: str) -> str:
    return plain(text.replace("\t", " "))


def _columns(text: str) -> int:
    """Return how many columns of a terminal a text takes."""
    return sum(
        0 if unicodedata.combining(character) else 2 if unicodedata.east_asian_width(character) in "WF" else 1
        for character in text
    )


def _part_of(finding: Finding) -> str:
    """Return the part into which a line such as `web: 18 mm` is to be written; nothing where it needs no telling."""
    part, _, field = finding.path.rpartition(".")
    return f"   (in `{plain(part)}`)" if part and finding.write.startswith(f"{field}: ") else ""
