"""What is to be said of a comparison, in order and in plain words, for text and Markdown alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from tauthide.comparing.drums import Comparison, DrumChange
from tauthide.comparing.holes import describe_moves
from tauthide.comparing.matching import State
from tauthide.comparing.runs import Effect, RunChange
from tauthide.comparing.values import ValueChange
from tauthide.findings import Finding, Severity
from tauthide.plan.concerns import CONCERN_TITLES, Concern
from tauthide.sheets.amounts import system_of
from tauthide.sheets.origins import LAYER_TITLES
from tauthide.sheets.words import held

SEVERAL = 2
MOST_LINES = 24
"""Of holes and of steps so many lines are told; JSON tells all."""

_ORDER = {severity: number for number, severity in enumerate(Severity)}


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that differs."""

    name: str
    title: str
    old: str
    new: str
    last: str
    """Of a figure the difference, of a value where it was changed."""
    because: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Several things that differ, of one sort."""

    title: str
    rows: tuple[Row, ...] = ()
    lines: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    """Titles of what a row has."""
    makers: bool = False
    """Whether the rows hold a maker's own words, or names of a maker's files."""


VALUE_COLUMNS = ("Field", "Before", "After", "Where")
FIGURE_COLUMNS = ("Figure", "Before", "After", "Difference", "Because of")


def headline(change: DrumChange) -> str:
    """Return in a sentence what became of a drum."""
    if change.state is not State.CHANGED:
        return f"{change.state} drum"
    if not change.computed:
        sides = [
            word for word, seen in (("old", change.old), ("new", change.new)) if seen is not None and seen.plan is None
        ]
        return f"changed; the {' and the '.join(sides)} spec has errors, so figures can't be compared"
    if change.spoils_skin:
        holes = f", {len(change.holes)} holes of the blank" if change.holes else ""
        return f"changed, and it bears on the skin{holes}: throw away older sheets and gauges"
    if change.figures:
        return "changed, but nothing about the blank and its holes"
    return "changed, but no figure"


def sections(change: DrumChange) -> Iterator[Section]:
    """Yield what is to be said of a drum: causes, then findings, then effects, what spoils skin first."""
    said = (_values(change), _findings(change), *_concerns(change), _steps(change), _words(change))
    return (section for section in said if section.rows or section.lines)


def overall(comparison: Comparison) -> Section:
    """Return what all drums together take more or less of."""
    rows = tuple(Row("", need.title, need.shown_old, need.shown_new, need.difference) for need in comparison.needs)
    return Section("What all drums together take", rows, (), ("For", "Before", "After", "Difference"))


def summary(comparison: Comparison) -> str:
    """Return in a sentence how many drums differ."""
    drums, runs = comparison.drums, comparison.runs
    counts = [
        _counted(count, what) for count, what in ((comparison.same, "drum"), (comparison.same_runs, "run")) if count
    ]
    if not comparison.differs:
        return f"no difference, {' and '.join(counts)} the same"
    if not comparison.told_runs:
        return f"{_kinds(drums)}, {comparison.same} the same"
    told = []
    if drums or comparison.same:
        told.append(
            f"drums: {_kinds(drums)}, {comparison.same} the same" if drums else f"drums: {comparison.same} the same"
        )
    told.append(
        f"runs: {_kinds(runs)}, {comparison.same_runs} the same" if runs else f"runs: {comparison.same_runs} the same"
    )
    return "; ".join(told)


def title(comparison: Comparison) -> str:
    """Return the summary with a capital, and with what it is about."""
    said = summary(comparison)
    return said[0].upper() + said[1:] if comparison.differs and comparison.told_runs else f"Drums: {said}"


def run_headline(change: RunChange) -> str:
    """Return in a sentence what became of a run."""
    if change.unplanned:
        sides = " and the ".join(change.unplanned)
        return f"{change.state}; the {sides} run has errors, so what it takes can't be compared"
    if change.state is not State.CHANGED:
        return f"{change.state} run"
    if any(effect.buys for effect in change.effects):
        return "changed, and with it what is to be bought"
    return "changed, but not what is to be bought" if change.effects else "changed, but neither what it takes nor when"


def run_sections(change: RunChange) -> Iterator[Section]:
    """Yield what is to be said of a run: causes, findings, what is to be bought, and the work."""
    values = tuple(Row(value.path, "", value.old, value.new, "") for value in change.values)
    buys, rest = (
        tuple(_effect(effect) for effect in change.effects if effect.buys is which) for which in (True, False)
    )
    columns = ("What", "Before", "After", "Difference")
    said = (
        Section("What was changed", values, (), ("Field", "Before", "After"), makers=True),
        _findings(change),
        Section("To be bought", buys, (), columns),
        Section("Work, skins and cost", rest, (), columns),
    )
    return (section for section in said if section.rows or section.lines)


def _effect(effect: Effect) -> Row:
    return Row("", effect.title, effect.shown_old, effect.shown_new, effect.difference)


def _kinds(changes: Sequence[DrumChange | RunChange]) -> str:
    kinds = [(state, sum(change.state is state for change in changes)) for state in State]
    return ", ".join(f"{count} {state}" for state, count in kinds if count)


def finding_line(finding: Finding, came: bool) -> str:
    """Return a finding that came or went on one line, with its place."""
    accepted = f" (accepted: {finding.accepted})" if finding.accepted else ""
    place = f"{finding.place.file}:{finding.place.line}"
    sign = "new" if came else "gone"
    return f"{sign} {finding.severity}: {finding.message} [{finding.name}]{accepted}, {place}"


def _values(change: DrumChange) -> Section:
    rows = tuple(
        Row(
            value.path,
            value.title,
            held(value.old),
            held(value.new),
            f"follows {value.follows}" if value.follows else value.where,
        )
        for value in change.values
    )
    return Section("What was changed", rows, (), VALUE_COLUMNS, makers=True)


def _findings(change: DrumChange | RunChange) -> Section:
    came = sorted(change.came, key=lambda finding: _ORDER[finding.severity])
    went = sorted(change.went, key=lambda finding: _ORDER[finding.severity])
    lines = [finding_line(finding, True) for finding in came] + [finding_line(finding, False) for finding in went]
    return Section("Findings", (), _first(lines))


def _concerns(change: DrumChange) -> Iterator[Section]:
    values = {value.path: value for value in change.values}
    for concern in Concern:
        rows = tuple(
            Row(figure.name, figure.title, figure.shown_old, figure.shown_new, figure.difference,
                ", ".join(_cause(values[path]) for path in figure.because))
            for figure in change.figures
            if figure.concern is concern
        )  # fmt: skip
        lines: Iterable[str] = ()
        if concern is Concern.SKIN and change.holes and change.new is not None and change.new.spec is not None:
            lines = describe_moves(change.holes, system_of(change.new.spec))
        yield _drawn_together(Section(CONCERN_TITLES[concern], rows, _first(lines), FIGURE_COLUMNS))


def _drawn_together(section: Section) -> Section:
    """Say once, in the title, why all figures of a section differ, where that is the same for all."""
    causes = {row.because for row in section.rows}
    if len(section.rows) < SEVERAL or len(causes) > 1 or "" in causes:
        return section
    rows = tuple(replace(row, because="") for row in section.rows)
    return replace(section, title=f"{section.title}: because of {causes.pop()}", rows=rows, columns=FIGURE_COLUMNS[:-1])


def _steps(change: DrumChange) -> Section:
    lines = (step.text if step.kind == "changed" else f"{step.kind}: {step.text}" for step in change.steps)
    return Section("Steps", (), _first(lines))


def _words(change: DrumChange) -> Section:
    rows = tuple(Row(word.name, "", word.old or "none", word.new or "none", "") for word in change.words)
    return Section("Beside the figures", rows, (), ("What", "Before", "After"), makers=True)


def _cause(value: ValueChange) -> str:
    """Return a changed field with the layer that changed it."""
    return f"{value.path} ({LAYER_TITLES[value.layer]})"


def _first(lines: Iterable[str]) -> tuple[str, ...]:
    listed = tuple(lines)
    more = len(listed) - MOST_LINES
    return listed if more <= 0 else (*listed[:MOST_LINES], f"and {more} more; `--format json` tells all")


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"
