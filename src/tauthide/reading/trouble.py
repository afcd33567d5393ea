"""Where a parser gave up, and the small mendings that findings propose."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tauthide.findings import Finding
from tauthide.reading.faults import SYNTAX
from tauthide.reading.sources import Source

_BLANK_MISSING = re.compile(r"(\s*+(?:- +)*+)([^\s:'\"#{}\[\],]+):([^\s:/].*)")


@dataclass(frozen=True, slots=True)
class Trouble:
    """Where a parser gave up: its own words, and indexes of characters in the text."""

    source: Source
    context: str
    problem: str
    context_index: int
    """Where what could not be finished begins."""
    problem_index: int
    """Where the parser could not go on."""

    @property
    def sign(self) -> str:
        """The character that stands at the problem; empty at the end of the file."""
        return self.source.text[self.problem_index : self.problem_index + 1]

    @property
    def line_start(self) -> int:
        """Index at which the problem's line begins."""
        text = self.source.text
        return 1 + max(text.rfind(end, 0, self.problem_index) for end in "\r\n")

    @property
    def row(self) -> int:
        """The problem's line, from 0."""
        return self.source.place_at(self.problem_index).line - 1

    @property
    def line(self) -> str:
        """The problem's line of text."""
        return self.source.lines[self.row] if self.source.lines else ""

    @property
    def before(self) -> str:
        """What stands in front of the problem on its line."""
        return self.line[: self.source.place_at(self.problem_index).column - 1]

    def report(self, what: str, *, index: int | None = None, **fields: str) -> Finding:
        """Return a finding at the problem, or at `index`."""
        place = self.source.place_at(self.problem_index if index is None else index)
        return SYNTAX.at(place, what=what, **fields)

    def report_line(self, row: int, what: str, **fields: str) -> Finding:
        """Return a finding for the whole of a line, counted from 0."""
        line = self.source.lines[row]
        text = line.strip()
        place = self.source.place(row + 1, len(line) - len(line.lstrip()) + 1, max(len(text), 1))
        return SYNTAX.at(place, what=what, found=text, **fields)


def quote(text: str) -> str:
    """Return `text` in quotes as YAML writes it: single ones unless an apostrophe stands in it."""
    text = text.strip()
    if "'" not in text:
        return f"'{text}'"
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def explain_missing_blank(line: str) -> tuple[str, str] | None:
    """Return key and mended text of a line such as `depth:55 mm`, or nothing where it is not like that."""
    match = _BLANK_MISSING.fullmatch(line.rstrip())
    return (match[2], f"{match[2]}: {match[3]}") if match else None
