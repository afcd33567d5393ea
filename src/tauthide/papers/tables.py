"""Tables that stand on a paper and go into a spreadsheet: one content, as text with units and as bare values."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

RIGHT = "---:"
LEFT = "---"
MIDDLE = ":---:"

FORMULA_STARTS = ("=", "+", "-", "@", "\t")
"""A text that begins so would be worked out by a spreadsheet: it gets an apostrophe before it."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column."""

    head: str
    """On the paper; empty for one that only the spreadsheet has."""
    name: str
    """In the spreadsheet, with the unit, such as `length_mm`; empty for one that only the paper has."""
    align: str = LEFT


@dataclass(frozen=True, slots=True)
class Cell:
    """One entry: as the paper shows it, safe in Markdown, and as the spreadsheet takes it."""

    text: str
    value: str | int | float | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A table with as many cells in a row as there are columns."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """The table as lines of Markdown: heads, alignments, rows."""
        shown = [index for index, column in enumerate(self.columns) if column.head]
        heads = [self.columns[index].head for index in shown]
        aligns = [self.columns[index].align for index in shown]
        rows = [[row[index].text for index in shown] for row in self.rows]
        return tuple(f"| {' | '.join(cells)} |" for cells in (heads, aligns, *rows))

    def csv(self) -> bytes:
        """Return the table as a spreadsheet takes it: UTF-8, commas, a head row (RFC 4180 but for its line ends)."""
        listed = [index for index, column in enumerate(self.columns) if column.name]
        out = io.StringIO()
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow([self.columns[index].name for index in listed])
        for row in self.rows:
            writer.writerow([_bare(row[index]) for index in listed])
        return out.getvalue().encode("utf-8")


def _bare(cell: Cell) -> str:
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0").rstrip(".")
    text = str(value)
    return f"'{text}" if isinstance(value, str) and text.startswith(FORMULA_STARTS) else text


def table(columns: Sequence[Column], rows: Sequence[Sequence[Cell]]) -> Table:
    """Return a table; ValueError where a row has more or fewer cells than there are columns."""
    if any(len(row) != len(columns) for row in rows):
        raise ValueError("a row that does not fit the columns")
    return Table(tuple(columns), tuple(tuple(row) for row in rows))
