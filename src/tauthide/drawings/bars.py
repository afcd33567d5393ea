"""The schedule as bars: each day by person, and the whole run by place in the tub and for drying."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from tauthide.drawings.canvas import CHARACTER_WIDTH, NARROW_MM, WIDE_MM, Canvas, text_width_mm
from tauthide.drawings.pages import (
    CAPTION_MM,
    LINE_SIZE_MM,
    NAME_SIZE_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    WHAT_SIZE_MM,
)
from tauthide.running.run_plan import RunPlan
from tauthide.running.steps import RunStep, steps_of
from tauthide.running.words import day_text, short_day_text
from tauthide.scheduling.hours import DAY_MIN, HOUR_MIN
from tauthide.work.operations import DRYING, TUB

LABEL_MM = 30.0
"""Left of the bars, for who or what they are of."""
ROW_MM, BAR_MM = 7.0, 5.5
HEAD_MM = 11.0
"""Above the bars of a block: its day and its hours."""
GAP_MM = 4.0
KEY_ROW_MM = 4.6
KEY_COLUMNS = 2
MOST_DAYS = 31
"""So many days are drawn; the table has them all."""
MOST_PLACES = 60
LEAST_HOUR_MM = 9.0
"""Least room between two marks of an axis."""
WAITING_FILL = "#ddd"
PLAIN = "#fff"


@dataclass(frozen=True, slots=True)
class _Axis:
    """Minutes along a row of bars."""

    start_min: int
    end_min: int

    @property
    def scale(self) -> float:
        return (PAGE_WIDTH_MM - 2 * SIDE_MM - LABEL_MM) / (self.end_min - self.start_min)

    def at(self, minute: int) -> float:
        return SIDE_MM + LABEL_MM + (minute - self.start_min) * self.scale


@dataclass(frozen=True, slots=True)
class _Bar:
    """One stretch of somebody's work."""

    start_min: int
    end_min: int
    step: str
    drums: int
    looks_on: bool = False
    """Whether it is a teacher who looks on: drawn grey."""


@dataclass(frozen=True, slots=True)
class _Lane:
    """What one of the crew, the class or the teachers does on a day."""

    name: str
    bars: list[_Bar]


def draw_bars(plan: RunPlan) -> bytes:
    """Draw the schedule; bars have the numbers of the steps, which the key at the end names."""
    steps = steps_of(plan.order.batches)
    days = _days(plan)
    places = _places(plan)
    key_mm = GAP_MM + KEY_ROW_MM * (1 + ceil(len(steps) / KEY_COLUMNS))
    height = CAPTION_MM + sum(HEAD_MM + ROW_MM * len(_lanes(plan, day)) + GAP_MM for day in days[:MOST_DAYS])
    height += (HEAD_MM + ROW_MM * len(places) + GAP_MM if places else 0) + key_mm
    title = f"Schedule of {plan.run.name}"
    canvas = Canvas(PAGE_WIDTH_MM, height, title, f"{title}: who does what when, and what soaks and dries when")
    _caption(canvas, plan, len(days))
    top = CAPTION_MM
    for day in days[:MOST_DAYS]:
        top = _day(canvas, plan, day, top)
    if places:
        top = _overview(canvas, plan, places, top)
    _key(canvas, steps, top + GAP_MM)
    return canvas.bytes()


def _caption(canvas: Canvas, plan: RunPlan, days: int) -> None:
    canvas.text((SIDE_MM, 6.5), plan.run.name, NAME_SIZE_MM, anchor="start", bold=True)
    finish = day_text(plan.moment(plan.schedule.finish_min).date())
    canvas.text((SIDE_MM, 12.5), f"{len(plan.drums)} drums, all done on {finish}", WHAT_SIZE_MM, anchor="start")
    grey = "; grey: a teacher looks on, or skin soaks and drums dry" if plan.teaching else ""
    first = f"the first {MOST_DAYS} of {days} days; " if days > MOST_DAYS else ""
    canvas.text((SIDE_MM, 17.8), f"{first}numbers are steps, named at the end{grey}", LINE_SIZE_MM, anchor="start")


def _days(plan: RunPlan) -> list[int]:
    starts = [row.start_min for row in plan.schedule.rows if row.people]
    return sorted({start // DAY_MIN for start in (*starts, *(each.start_min for each in plan.teaching))})


def _lanes(plan: RunPlan, day: int) -> list[_Lane]:
    """Return who works: of a crew all of them on any day, of a class those who do anything on that day."""
    numbers = {step.name: step.number for step in steps_of(plan.order.batches)}
    rows = [row for row in plan.schedule.rows if row.people]
    if plan.run.lesson is not None:
        rows = [row for row in rows if row.start_min // DAY_MIN == day]
    lanes = [
        _Lane(
            _person(plan, person),
            [_Bar(row.start_min, row.end_min, str(numbers[row.operation]), len(row.jobs))
             for row in rows if person in row.people and row.start_min // DAY_MIN == day],
        )
        for person in sorted({person for row in rows for person in row.people})
    ]  # fmt: skip
    taught = [each for each in plan.teaching if each.start_min // DAY_MIN == day]
    lanes += (
        _Lane(
            f"teacher {teacher}",
            [_Bar(each.start_min, each.end_min, str(numbers[each.operation]), len(each.serials), each.looks_on)
             for each in taught if teacher in each.teachers],
        )
        for teacher in sorted({teacher for each in taught for teacher in each.teachers})
    )  # fmt: skip
    return lanes


def _places(plan: RunPlan) -> list[tuple[str, int]]:
    """Return the places in tub and for drying that are taken up, each by resource and number."""
    taken = {(held.resource, place) for held in plan.schedule.held for place in held.places}
    listed = [(name, number) for name in (TUB, DRYING) for number in sorted(n for r, n in taken if r == name)]
    return listed if len(listed) <= MOST_PLACES else []


def _day(canvas: Canvas, plan: RunPlan, day: int, top: float) -> float:
    lanes = _lanes(plan, day)
    bars = [bar for lane in lanes for bar in lane.bars]
    spans = plan.order.timed.hours.of_day(day)
    ends = [*(bar.end_min for bar in bars), *(end for _, end in spans)]
    start_min = min([*(bar.start_min for bar in bars), *(start for start, _ in spans)]) // HOUR_MIN * HOUR_MIN
    axis = _Axis(start_min, -(-max(ends) // HOUR_MIN) * HOUR_MIN)
    canvas.text((SIDE_MM, top + 4.2), short_day_text(plan.moment(day * DAY_MIN)), WHAT_SIZE_MM, anchor="start",
                bold=True)  # fmt: skip
    _hours(canvas, axis, top, len(lanes))
    for line, lane in enumerate(lanes):
        row_top = top + HEAD_MM + line * ROW_MM
        canvas.text((SIDE_MM, row_top + BAR_MM - 1.4), lane.name, SMALL_SIZE_MM, anchor="start")
        for bar in lane.bars:
            fill = WAITING_FILL if bar.looks_on else PLAIN
            text = f"{bar.step} ×{bar.drums}" if bar.drums > 1 else bar.step
            _bar(canvas, axis, bar.start_min, bar.end_min, row_top, text, fill)
    return top + HEAD_MM + ROW_MM * len(lanes) + GAP_MM


def _person(plan: RunPlan, person: int) -> str:
    return f"place {person}" if plan.run.lesson is not None else f"person {person}"


def _hours(canvas: Canvas, axis: _Axis, top: float, rows: int) -> None:
    stride = max(1, ceil(LEAST_HOUR_MM / (HOUR_MIN * axis.scale)))
    for hour in range(axis.start_min // HOUR_MIN, axis.end_min // HOUR_MIN + 1):
        if (hour - axis.start_min // HOUR_MIN) % stride:
            continue
        x = axis.at(hour * HOUR_MIN)
        canvas.line((x, top + HEAD_MM - 2.5), (x, top + HEAD_MM + rows * ROW_MM), width=0.13, stroke="#999")
        canvas.text((x, top + HEAD_MM - 3.4), f"{hour % 24}", SMALL_SIZE_MM)


def _bar(canvas: Canvas, axis: _Axis, start_min: int, end_min: int, top: float, text: str, fill: str = PLAIN) -> None:
    x, width = axis.at(start_min), (end_min - start_min) * axis.scale
    canvas.rectangle((x, top), width, BAR_MM, width=NARROW_MM, fill=fill)
    # Where the whole does not fit: the step without its count, or the end of a serial.
    ends = ("-".join(text.split("-")[index:]) for index in range(1, text.count("-") + 1))
    fitting = [each for each in (text, *ends) if text_width_mm(each, SMALL_SIZE_MM) <= width - 0.4]
    number = text.split()[0]
    if not fitting and text_width_mm(number, SMALL_SIZE_MM) <= width + 0.2:
        fitting = [number]
    if fitting:
        canvas.text((x + width / 2, top + BAR_MM - 1.7), fitting[0], SMALL_SIZE_MM)


def _overview(canvas: Canvas, plan: RunPlan, places: Sequence[tuple[str, int]], top: float) -> float:
    held = plan.schedule.held
    last = max(each.end_min for each in held)
    first = min(each.start_min for each in held)
    axis = _Axis(first // DAY_MIN * DAY_MIN, (last // DAY_MIN + 1) * DAY_MIN)
    canvas.text((SIDE_MM, top + 4.2), "Soaking and drying", WHAT_SIZE_MM, anchor="start", bold=True)
    _dates(canvas, plan, axis, top, len(places))
    for line, (name, number) in enumerate(places):
        row_top = top + HEAD_MM + line * ROW_MM
        what = "tub" if name == TUB else "drying"
        canvas.text((SIDE_MM, row_top + BAR_MM - 1.4), f"{what} {number}", SMALL_SIZE_MM, anchor="start")
        for each in held:
            if each.resource == name and number in each.places:
                _bar(canvas, axis, each.start_min, each.end_min, row_top, each.job, WAITING_FILL)
    return top + HEAD_MM + ROW_MM * len(places) + GAP_MM


def _dates(canvas: Canvas, plan: RunPlan, axis: _Axis, top: float, rows: int) -> None:
    days = (axis.end_min - axis.start_min) // DAY_MIN
    widest = CHARACTER_WIDTH * SMALL_SIZE_MM * len("Tue 31 Dec") + 1.0
    stride = max(1, ceil(widest / (DAY_MIN * axis.scale)))
    for day in range(days + 1):
        x = axis.at(axis.start_min + day * DAY_MIN)
        canvas.line((x, top + HEAD_MM - 2.5), (x, top + HEAD_MM + rows * ROW_MM), width=0.13, stroke="#999")
        if day % stride == 0 and day < days:
            date = short_day_text(plan.moment(axis.start_min + day * DAY_MIN))
            canvas.text((x, top + HEAD_MM - 3.4), date, SMALL_SIZE_MM, anchor="start")


def _key(canvas: Canvas, steps: Sequence[RunStep], top: float) -> None:
    canvas.line((SIDE_MM, top), (PAGE_WIDTH_MM - SIDE_MM, top), width=WIDE_MM)
    rows = ceil(len(steps) / KEY_COLUMNS)
    column_mm = (PAGE_WIDTH_MM - 2 * SIDE_MM) / KEY_COLUMNS
    for index, step in enumerate(steps):
        x = SIDE_MM + (index // rows) * column_mm
        y = top + KEY_ROW_MM * (index % rows + 1)
        canvas.text((x + 6.0, y), str(step.number), SMALL_SIZE_MM, anchor="end", bold=True)
        canvas.text((x + 8.0, y), step.title, SMALL_SIZE_MM, anchor="start")
