"""Tabs where YAML wants blanks, wherever the parser itself would trip over them or not."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence

from tauthide.findings import Finding
from tauthide.reading.faults import TAB
from tauthide.reading.sources import Source

_LEADING = re.compile(r"(?:(?<=[\r\n])|\A)[ ]*(\t)[ \t]*[^\s]")
_TAB_WIDTH = 2
"""Blanks proposed for a tab: one step inward, as the examples have it."""


def find_tabs(source: Source, covered: Sequence[tuple[int, int]]) -> Iterator[int]:
    """Yield the index of the first tab of each line that is indented by one.

    `covered` holds first and last index of texts of several lines, in order; a tab within one is text.
    """
    for match in _LEADING.finditer(source.text):
        index = match.start(1)
        last = bisect_right(covered, (index, index)) - 1
        if last < 0 or index >= covered[last][1]:
            yield index


def report_tabs(source: Source, first: int, others: int) -> Finding:
    """Return one finding for all tabs, at the first: a file indented by tabs has one on every line."""
    place = source.place_at(first)
    line, start = place.text, place.column - 1
    behind = line[start:].lstrip("\t")
    count = len(line) - start - len(behind)
    more = f", and on {others} more line{'s' if others > 1 else ''}" if others else ""
    return TAB.at(
        source.place(place.line, place.column, count),
        found="a tab" if count == 1 else f"{count} tabs",
        write=_mend(line, start) if behind.strip() else "",
        more=more,
    )


def _mend(line: str, start: int) -> str:
    """Return the line with blanks for its first tabs: a step each in front of it, one blank further on."""
    before, rest = line[:start], line[start:]
    if before.strip():
        return f"{before} {rest.lstrip()}".rstrip()
    text = rest.lstrip()
    blanks = rest[: len(rest) - len(text)].replace("\t", " " * _TAB_WIDTH)
    return (before + blanks + text).rstrip()
