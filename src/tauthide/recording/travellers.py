"""A filled-in traveller: the table that a run's papers leave empty, as fields of records."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from tauthide.findings import Finding, Place
from tauthide.reading.faults import MAX_BYTES
from tauthide.recording import faults
from tauthide.recording.amending import TIMES, Amendment
from tauthide.recording.records import ITEM
from tauthide.schema.fields import fields
from tauthide.schema.wording import nearest
from tauthide.text import plain
from tauthide.units import QuantityError, parse
from tauthide.work.operations import operation_names

DRUM = "drum"
COLUMNS: Mapping[str, tuple[str, str]] = {
    "blank_mm": ("blank", "mm"),
    "thickness_mm": ("thickness", "mm"),
    "margin_mm": ("margin", "mm"),
    "lace_used_m": ("lace_used", "m"),
    "lace_left_m": ("lace_left", "m"),
    "pitch_wet": ("pitch_wet", "Hz"),
    "pitch_dry": ("pitch_dry", "Hz"),
    "dry_days": ("dry", "d"),
    "hand_min": ("hand", "min"),
    "dry_thickness_mm": ("dry_thickness", "mm"),
    "holes_across_mm": ("holes_across", "mm"),
    "stitch_tear": ("stitch_tear", "N/mm"),
}
"""Columns of measurements: the field that each fills, and the unit of a bare number."""
TROUBLE = "trouble"
TICKS = frozenset({"x", "✓", "✔", "☑", "☒", "ok", "yes", "done"})
EMPTY = frozenset({"", "☐", "none", "-", "–", "—", "?"})
DELIMITERS = ",;\t"

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_DECIMAL_COMMA = re.compile(r"([0-9]+),([0-9]+)")
_STEP_AT_END = re.compile(r"(?P<what>.*\S)\s*(?:[,;:(]|\bat\b)\s*(?:step\s+)?(?P<step>[^,;:()]+?)\s*\)?\s*", re.DOTALL)


@dataclass(frozen=True, slots=True)
class _Row:
    line: int
    text: str
    cells: tuple[str, ...]


def read_traveller(source: bytes, file: str, steps: Sequence[str] = ()) -> tuple[tuple[Amendment, ...], list[Finding]]:
    """Return what a table sets, and what is wrong with it; `steps` are the run's steps as its papers number them."""
    if len(source) > MAX_BYTES:
        return (), [faults.TABLE_TOO_LARGE.at(Place(file))]
    try:
        text = source.decode("utf-8-sig")
        rows = tuple(_rows(text))
    except UnicodeDecodeError:
        return (), [faults.TABLE_UNREADABLE.at(Place(file), reason="it is not saved as UTF-8")]
    except csv.Error as error:
        return (), [faults.TABLE_UNREADABLE.at(Place(file), reason=plain(str(error)))]
    heads = [cell.strip().lower() for cell in rows[0].cells] if rows else []
    if DRUM not in heads:
        place = Place(file, 1, 1, 1, rows[0].text) if rows else Place(file)
        return (), [faults.NO_DRUM_COLUMN.at(place)]
    findings = list(_judge_heads(rows[0], heads, file))
    amendments: list[Amendment] = []
    seen: dict[str, int] = {}
    for row in rows[1:]:
        serial = _bare(row.cells[heads.index(DRUM)]) if len(row.cells) > heads.index(DRUM) else ""
        place = _place(file, row, serial)
        if len(row.cells) > len(heads) and any(map(str.strip, row.cells[len(heads) :])):
            findings.append(faults.ROW_TOO_LONG.at(place, cells=str(len(row.cells)), wanted=str(len(heads))))
        elif serial in seen:
            findings.append(faults.ROW_TWICE.at(place, serial=serial, line=str(seen[serial])))
        elif serial:
            seen[serial] = row.line
            for column, cell in zip(heads, row.cells, strict=False):
                amended, amiss = _amend(serial, column, _bare(cell), _place(file, row, cell.strip()), steps)
                amendments += amended
                findings += amiss
    return tuple(amendments), findings


def _rows(text: str) -> Iterator[_Row]:
    """Yield the rows that are not empty, with the line on which each starts."""
    lines = text.splitlines()
    first = lines[0] if lines else ""
    delimiter = max(DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 1
    for cells in reader:
        if any(map(str.strip, cells)):
            yield _Row(line, lines[line - 1] if line <= len(lines) else "", tuple(cells))
        line = reader.line_num + 1


def _bare(cell: str) -> str:
    """Return a cell without the apostrophe that keeps a spreadsheet from working it out."""
    return plain(" ".join(cell.split())).removeprefix("'").strip()


def _place(file: str, row: _Row, cell: str) -> Place:
    at = row.text.find(cell) if cell else -1
    return Place(file, row.line, max(at, 0) + 1, len(cell) if at >= 0 else 1, row.text)


def _judge_heads(row: _Row, heads: Sequence[str], file: str) -> Iterator[Finding]:
    known = (*COLUMNS, *operation_names(), *_plain_fields(), DRUM, TROUBLE)
    for head in heads:
        if head and head not in known:
            place = _place(file, row, next(cell.strip() for cell in row.cells if cell.strip().lower() == head))
            yield faults.UNKNOWN_COLUMN.at(place, found=head, write=nearest(head, known), column=head)


def _plain_fields() -> tuple[str, ...]:
    """Return the names of a record's own fields that hold one value."""
    own = (path.removeprefix(ITEM) for path, field in fields("records").items()
           if path.startswith(ITEM) and field.type == "string")  # fmt: skip
    return tuple(name for name in own if "." not in name and name != DRUM)


def _amend(
    serial: str, column: str, cell: str, place: Place, steps: Sequence[str]
) -> tuple[list[Amendment], list[Finding]]:
    if cell.casefold() in EMPTY or column == DRUM:
        return [], []
    if column == TROUBLE:
        return _trouble(serial, cell, place, steps), []
    if column in COLUMNS:
        field, unit = COLUMNS[column]
        return [Amendment(serial, (field,), _with_unit(cell, unit), place)], []
    if column in _plain_fields():
        return [Amendment(serial, (column,), cell, place)], []
    if column not in operation_names() or cell.casefold() in TICKS:
        return [], []
    written = _with_unit(cell, "min")
    try:
        parse("time", written)
    except QuantityError:
        return [], [faults.CELL_UNCLEAR.at(place, found=cell, cell=plain(cell), column=column)]
    return [Amendment(serial, (TIMES, *column.split(".")), written, place)], []


def _with_unit(cell: str, unit: str) -> str:
    number = _DECIMAL_COMMA.sub(r"\1.\2", cell)
    if _NUMBER.fullmatch(number):
        return f"{number} {unit}"
    return number


def _trouble(serial: str, cell: str, place: Place, steps: Sequence[str]) -> list[Amendment]:
    """Return what went wrong and, where the text ends with a step's number, name or title, at which step."""
    match = _STEP_AT_END.fullmatch(cell)
    step = _step_of(match["step"], steps) if match else ""
    what = match["what"] if match and step else cell
    said = [Amendment(serial, (TROUBLE,), what, place)]
    return [*said, Amendment(serial, ("step",), step, place)] if step else said


def _step_of(word: str, steps: Sequence[str]) -> str:
    names = {**{title.casefold(): name for name, title in operation_names().items()},
             **{name: name for name in operation_names()},
             **{str(number): name for number, name in enumerate(steps, 1)}}  # fmt: skip
    return names.get(word.strip().casefold(), "")
