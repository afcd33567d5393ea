"""The page of records: yield, what went wrong at which step, planned against measured, and what is learned."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist, median

from tauthide.drawings.outcomes import Bar, draw_outcomes
from tauthide.drawings.scatter import Dot, Plot, draw_scatter
from tauthide.learning.estimates import LEVEL, far_out, sigma_of
from tauthide.learning.lessons import Lesson
from tauthide.learning.wording import amount, interval_text, records_text, verdict_text, what_of
from tauthide.papers.tables import LEFT, RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import UNKNOWN
from tauthide.plan.plan import Plan
from tauthide.recording.judging import shown_measure
from tauthide.recording.planned import planned_values
from tauthide.recording.records import GOOD, LOST, MENDED, Record
from tauthide.sheets.environment import template
from tauthide.sheets.words import held, own
from tauthide.text import markdown
from tauthide.units import KINDS, percentage
from tauthide.work.operations import operation_names

LEAST_DOTS = 2
"""Fewer drums make no scatter."""
LEAST_SIGMA: Mapping[str, float] = {
    "blank": 0.01, "thickness": 0.1, "lace_used": 0.02, "pitch_dry": 0.03, "dry": 0.1, "hand": 0.1,
}  # fmt: skip
"""By field, of measured over planned: what differs by less is the same to a bench. Workshop practice, no published
source."""


@dataclass(frozen=True, slots=True)
class Built:
    """A drum that was built, and its plan."""

    record: Record
    plan: Plan


@dataclass(frozen=True, slots=True)
class _Measure:
    field: str
    title: str
    file: str
    unit: str
    quantity: str
    decimals: int


_MEASURES = (
    _Measure("lace_used", "Lace used", "records-lace.svg", "m", "length", 2),
    _Measure("pitch_dry", "Pitch of the dry drum", "records-pitch.svg", "Hz", "pitch", 0),
    _Measure("dry", "Days to dry", "records-drying.svg", "d", "time", 1),
)
OUTCOMES_FILE = "records-outcomes.svg"


def render_records(built: Sequence[Built], lessons: Sequence[Lesson]) -> dict[str, bytes]:
    """Return `records.md` and its drawings by file name."""
    bars = _bars(built)
    plots = [(measure, plot) for measure in _MEASURES if (plot := _plot(built, measure)) is not None]
    view: Mapping[str, object] = {
        "drums": len(built),
        "outcomes": _outcomes(built),
        "outcomes_file": OUTCOMES_FILE,
        "troubles": _troubles(built),
        "plots": [{"title": plot.title, "file": measure.file, "line": _line(plot)} for measure, plot in plots],
        "absent": [measure.title for measure in _MEASURES if measure not in [known for known, _ in plots]],
        "far": _far_table(built),
        "lessons": _lessons_table(lessons),
    }
    files = {measure.file: draw_scatter(plot) for measure, plot in plots}
    page = template("papers/records.md.j2").render(**view).encode("utf-8")
    return {"records.md": page, OUTCOMES_FILE: draw_outcomes(bars), **files}


def _count(built: Sequence[Built], outcome: str, step: str | None = None) -> int:
    return sum(each.record.outcome == outcome and step in (None, each.record.step) for each in built)


def _bars(built: Sequence[Built]) -> tuple[Bar, ...]:
    every = Bar("all drums", (_count(built, GOOD), _count(built, MENDED), _count(built, LOST)))
    troubled = [each for each in built if each.record.trouble or each.record.outcome != GOOD]
    names = {**operation_names(), "": "step not said"}
    used = [step for step in names if any(each.record.step == step for each in troubled)]
    of_steps = (
        Bar(names[step], (_count(troubled, GOOD, step), _count(troubled, MENDED, step), _count(troubled, LOST, step)))
        for step in used
    )
    return (every, *of_steps)


def _outcomes(built: Sequence[Built]) -> Table:
    columns = (Column("Outcome", "outcome"), Column("Drums", "drums", RIGHT), Column("Share", "share", RIGHT))
    rows = [
        (Cell(word), Cell(str(number)), Cell(held(percentage(number / len(built)))))
        for word in (GOOD, MENDED, LOST)
        for number in (_count(built, word),)
    ]
    usable = _count(built, GOOD) + _count(built, MENDED)
    rows.append((Cell("**yield**, good or mended"), Cell(str(usable)), Cell(held(percentage(usable / len(built))))))
    return table(columns, rows)


def _troubles(built: Sequence[Built]) -> Table | None:
    columns = tuple(Column(head, head, LEFT) for head in ("Drum", "Outcome", "Step", "What went wrong"))
    names = operation_names()
    rows = [
        (
            Cell(markdown(each.record.serial)), Cell(each.record.outcome),
            Cell(own(names.get(each.record.step, UNKNOWN))), Cell(markdown(each.record.trouble) or UNKNOWN),
        )
        for each in built
        if each.record.trouble or each.record.outcome != GOOD
    ]  # fmt: skip
    return table(columns, rows) if rows else None


def _pairs(built: Sequence[Built], field: str) -> Iterator[tuple[Built, float, float]]:
    """Yield each drum of which something was planned and measured; lost drums say nothing of what was to come."""
    for each in built:
        planned = planned_values(each.plan).get(field)
        measured = each.record.values.get(field)
        if planned and measured is not None and each.record.outcome != LOST:
            yield each, planned, measured


def _plot(built: Sequence[Built], measure: _Measure) -> Plot | None:
    pairs = tuple(_pairs(built, measure.field))
    if len(pairs) < LEAST_DOTS:
        return None
    ratios = [measured / planned for _, planned, measured in pairs]
    far = set(far_out(ratios, LEAST_SIGMA[measure.field]))
    size = KINDS[measure.quantity].unit(measure.unit).size
    middle, reach = median(ratios), NormalDist().inv_cdf((1 + LEVEL) / 2) * sigma_of(ratios)
    dots = tuple(
        Dot(each.record.serial, planned / size, measured / size, index in far)
        for index, (each, planned, measured) in enumerate(pairs)
    )
    unit = "days" if measure.unit == "d" else measure.unit
    return Plot(measure.title, unit, dots, middle, max(0.0, middle - reach), middle + reach, measure.decimals)


def _line(plot: Plot) -> str:
    over = percentage(plot.middle - 1)
    said = "as planned" if over == "0 %" else f"{over.removeprefix('-')} {'more' if plot.middle > 1 else 'less'}"
    spread = f"{percentage(plot.low)} to {percentage(plot.high)}"
    return f"{len(plot.dots)} drums: the middle is {said}; nine in ten lie within {spread} of what was planned."


def _far_table(built: Sequence[Built]) -> Table | None:
    rows = []
    for field, least in LEAST_SIGMA.items():
        pairs = tuple(_pairs(built, field))
        for index in far_out([measured / planned for _, planned, measured in pairs], least):
            each, planned, measured = pairs[index]
            rows.append(
                (
                    Cell(markdown(each.record.serial)), Cell(_FIELD_TITLES[field]),
                    Cell(held(shown_measure(field, planned))), Cell(held(shown_measure(field, measured))),
                )
            )  # fmt: skip
    columns = (Column("Drum", "d"), Column("What", "w"), Column("Planned", "p", RIGHT), Column("Measured", "m", RIGHT))
    return table(columns, rows) if rows else None


_FIELD_TITLES: Mapping[str, str] = {
    "blank": "blank",
    "thickness": "wet thickness",
    "lace_used": "lace used",
    "pitch_dry": "pitch, dry",
    "dry": "drying time",
    "hand": "hand time",
}


def _lessons_table(lessons: Sequence[Lesson]) -> Table:
    heads = ("What", "Now", "Records say", "9 in 10 within", "Records", "What follows")
    columns = tuple(Column(head, head, LEFT) for head in heads)
    return table(columns, [_lesson_row(lesson) for lesson in lessons])


def _lesson_row(lesson: Lesson) -> tuple[Cell, ...]:
    subject = lesson.subject
    show: Callable[[float], str] = lambda value: held(amount(subject, value))  # noqa: E731
    estimate = UNKNOWN if lesson.estimate is None else show(lesson.estimate)
    within = UNKNOWN if lesson.interval is None else held(interval_text(subject, lesson.interval))
    texts = (own(what_of(lesson)), show(lesson.in_force), estimate, within, records_text(lesson), verdict_text(lesson))
    return tuple(map(Cell, texts))
