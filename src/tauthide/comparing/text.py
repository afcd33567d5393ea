"""A comparison as text, at most 100 columns wide, and as Markdown for a comment on a review."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator

from tauthide.comparing.drums import Comparison, DrumChange
from tauthide.comparing.sections import (
    Row,
    Section,
    headline,
    overall,
    run_headline,
    run_sections,
    sections,
    summary,
    title,
)
from tauthide.sheets.words import held, own
from tauthide.text import markdown, plain

WIDTH = 100
STEP = 2
HANGING = 4

_NO_BREAK = "\u00a0"
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:mm²?|cm|m²?|in|sq|ft|deg|h|d|days|min|Hz|N|lbf|kg|g|oz|psi|%|°)(?:\W|$))")
"""The blank between a number and its unit: no line is broken there."""


def comparison_text(comparison: Comparison, old: str, new: str) -> str:
    """Return a comparison as text; `old` and `new` say what was compared."""
    lines = [*wrapped(f"{old} -> {new}: {summary(comparison)}", 0)]
    for change in comparison.drums:
        lines += ["", *wrapped(f"{change.name} ({change.file}): {headline(change)}", 0)]
        for section in sections(change):
            lines += _section_text(section)
    needs = overall(comparison)
    if needs.rows:
        lines += ["", *_section_text(needs, 0)]
    for run in comparison.runs:
        lines += ["", *wrapped(f"run {run.name} ({run.seen.file}): {run_headline(run)}", 0)]
        for section in run_sections(run):
            lines += _section_text(section)
    return "".join(f"{line}\n" for line in lines)


def comparison_markdown(comparison: Comparison, old: str, new: str, overlay: str = "") -> str:
    """Return a comparison as Markdown; `overlay` is the path of a drawing to be shown, if there is one."""
    lines = [f"## {own(title(comparison))}", "", f"{markdown(old)} → {markdown(new)}", ""]
    for change in comparison.drums:
        lines += _drum_markdown(change)
    if overlay:
        lines += [f"![Both hole layouts over each other]({_target(overlay)})", ""]
    needs = overall(comparison)
    if needs.rows:
        lines += _section_markdown(needs)
    for run in comparison.runs:
        lines += [f"### Run {markdown(run.name)}", ""]
        lines += [f"{markdown(run.seen.file)}: **{own(run_headline(run))}**", ""]
        for section in run_sections(run):
            lines += _section_markdown(section)
    return "".join(f"{line}\n" for line in lines[:-1])


def _section_text(section: Section, level: int = 1) -> Iterator[str]:
    yield from wrapped(section.title, level)
    for line in section.lines:
        yield from wrapped(line, level + 1)
    for row in section.rows:
        yield from wrapped(_row_text(row, section), level + 1)


def _row_text(row: Row, section: Section) -> str:
    name = f"{row.name}, {row.title}" if row.name and row.title else row.name or row.title
    last = f"; {_held(row.last, section)}" if row.last else ""
    because = f"; because of {row.because}" if row.because else ""
    old, new = (_held(text, section) for text in (row.old, row.new))
    return f"{name}: {old} -> {new}{last}{because}"


def wrapped(text: str, level: int) -> list[str]:
    indent = " " * STEP * level
    lines = textwrap.wrap(
        _BEFORE_UNIT.sub(_NO_BREAK, plain(text)),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + " " * HANGING,
        break_on_hyphens=False,
    )
    return [line.replace(_NO_BREAK, " ") for line in lines]


def _drum_markdown(change: DrumChange) -> Iterator[str]:
    yield f"### {markdown(change.name)}"
    yield ""
    yield f"{markdown(change.file)}: **{own(headline(change))}**"
    yield ""
    for section in sections(change):
        yield from _section_markdown(section)


def _section_markdown(section: Section) -> Iterator[str]:
    safe = markdown if section.makers else own
    yield f"#### {own(section.title)}"
    yield ""
    if section.rows:
        yield _cells(section.columns)
        yield _cells(["---"] * len(section.columns))
        for row in section.rows:
            name = f"{own(row.title)} (`{row.name}`)" if row.name and row.title else own(row.name or row.title)
            cells = (name, *(safe(_held(text, section)) for text in (row.old, row.new, row.last)), own(row.because))
            yield _cells(cells[: len(section.columns)])
        yield ""
    for line in section.lines:
        yield f"- {markdown(line)}"
    if section.lines:
        yield ""


def _held(text: str, section: Section) -> str:
    """Return an amount that a narrow column breaks only before the bracket; a maker's words as they are."""
    return text if section.makers else held(text)


def _cells(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _target(path: str) -> str:
    """Return a path as the target of a link: in pointed brackets, since it may hold blanks."""
    return f"<{plain(path).replace('<', '%3C').replace('>', '%3E')}>"
