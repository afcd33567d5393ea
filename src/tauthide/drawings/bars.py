"""The schedule as bars: each day by person, and the whole run by place in the tub and for drying."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from tauthide.drawings.canvas import CHARACTER_WIDTH, NARROW_MM, WIDE_MM, Canvas, text_width_mm
from tauthide.drawings.pages import (
    CAPTION_MM,
    LINE_SIZE_MM,
    NAME_SIZE_MM,
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    WHAT_SIZE_MM,
)
from tauthide.running.run_plan import RunPlan
from tauthide.running.steps import RunStep, step_numbers, steps_of
from tauthide.running.words import day_text, short_day_text
from tauthide.scheduling.hours import DAY_MIN, HOUR_MIN
from tauthide.work.operations import DRYING, TUB

LABEL_MM = 26.0
"""Left of the bars, for who or what they are of."""
ROW_MM, BAR_MM = 4.6, 3.8
HEAD_MM = 9.5
"""Above the bars of a block: what it is, and its hours or days."""
GAP_MM = 3.0
KEY_ROW_MM = 4.2
MOST_COLUMNS = 3
KEY_TEXT_MM = 8.0
"""In the key: most columns, and how far in its text stands, right of the step's number."""
MOST_DAYS = 31
"""So many days are drawn; the table has them all."""
MOST_PLACES = 60
LEAST_HOUR_MM = 9.0
"""Least room between two marks of an axis."""
WAITING_FILL = "#ddd"
PLAIN = "#fff"
FIRST_FILE, NEXT_FILE = "schedule.svg", "schedule-{number}.svg"
"""Names of the pages' files; the numbers begin with 2."""


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
    """One bar, with the texts that may stand in it: the first that fits is taken."""

    start_min: int
    end_min: int
    texts: tuple[str, ...]
    fill: str = PLAIN


@dataclass(frozen=True, slots=True)
class _Block:
    """Rows of bars under one axis."""

    title: str
    axis: _Axis
    by_hour: bool
    """Whether the axis shows hours, or else days."""
    rows: tuple[tuple[str, tuple[_Bar, ...]], ...]
    """Who or what each row is of, and its bars."""

    @property
    def height_mm(self) -> float:
        return HEAD_MM + ROW_MM * len(self.rows) + GAP_MM


def draw_bars(plan: RunPlan) -> dict[str, bytes]:
    """Draw the schedule in pages of the usual height, by the names of their files.

    Bars have the numbers of the steps, which a key on each page names.
    """
    steps = steps_of(plan.order.batches)
    pages = _pages(plan)
    days = len(_days(plan))
    return {
        name: _draw_page(plan, blocks, steps, days, (number, len(pages)))
        for number, (name, blocks) in enumerate(zip(bar_files(plan), pages, strict=True), 1)
    }


def bar_files(plan: RunPlan) -> tuple[str, ...]:
    """Return the names of the files that the schedule is drawn into."""
    more = (NEXT_FILE.format(number=number) for number in range(2, len(_pages(plan)) + 1))
    return (FIRST_FILE, *more)


def _draw_page(
    plan: RunPlan, blocks: Sequence[_Block], steps: Sequence[RunStep], days: int, page: tuple[int, int]
) -> bytes:
    height_mm = CAPTION_MM + sum(block.height_mm for block in blocks) + _key_mm(steps)
    title = f"Schedule of {plan.run.name}" + (f", page {page[0]}" if page[1] > 1 else "")
    canvas = Canvas(PAGE_WIDTH_MM, height_mm, title, f"{title}: who does what when, and what soaks and dries when")
    _caption(canvas, plan, days, page)
    top = CAPTION_MM
    for block in blocks:
        _draw_block(canvas, plan, block, top)
        top += block.height_mm
    _key(canvas, steps, top)
    return canvas.bytes()


def _key_mm(steps: Sequence[RunStep]) -> float:
    return KEY_ROW_MM * (1 + ceil(len(steps) / _key_columns(steps)))


def _key_columns(steps: Sequence[RunStep]) -> int:
    """Return how many columns of the key stand side by side: as many as its longest title lets."""
    longest_mm = max(text_width_mm(step.title, SMALL_SIZE_MM) for step in steps)
    return max(1, min(MOST_COLUMNS, int((PAGE_WIDTH_MM - 2 * SIDE_MM) / (longest_mm + KEY_TEXT_MM))))


def _caption(canvas: Canvas, plan: RunPlan, days: int, page: tuple[int, int]) -> None:
    name = plan.run.name + (f", page {page[0]} of {page[1]}" if page[1] > 1 else "")
    room = PAGE_WIDTH_MM - 2 * SIDE_MM
    canvas.text((SIDE_MM, 6.5), name, min(NAME_SIZE_MM, NAME_SIZE_MM * room / text_width_mm(name, NAME_SIZE_MM)),
                anchor="start", bold=True)  # fmt: skip
    finish = day_text(plan.moment(plan.schedule.finish_min).date())
    canvas.text((SIDE_MM, 12.5), f"{len(plan.drums)} drums, all done on {finish}", WHAT_SIZE_MM, anchor="start")
    first = f"the first {MOST_DAYS} of {days} days; " if days > MOST_DAYS else ""
    grey = "grey: a teacher looks on, or skin soaks and drums dry"
    more = grey if plan.teaching else "where a serial has no room, its end stands for it"
    line = f"{first}numbers are steps, named at the end; {more}"
    canvas.text((SIDE_MM, 17.8), line, LINE_SIZE_MM, anchor="start")


def _pages(plan: RunPlan) -> list[list[_Block]]:
    """Return the blocks of each page: as many as it has room for, long ones in parts."""
    room_mm = PAGE_HEIGHT_MM - CAPTION_MM - _key_mm(steps_of(plan.order.batches))
    most_rows = max(1, int((room_mm - HEAD_MM - GAP_MM) / ROW_MM))
    pages: list[list[_Block]] = [[]]
    left_mm = room_mm
    for block in _blocks(plan):
        for start in range(0, len(block.rows), most_rows):
            part = replace(block, rows=block.rows[start : start + most_rows])
            if part.height_mm > left_mm and pages[-1]:
                pages.append([])
                left_mm = room_mm
            pages[-1].append(part)
            left_mm -= part.height_mm
    return pages


def _blocks(plan: RunPlan) -> Iterator[_Block]:
    for day in _days(plan)[:MOST_DAYS]:
        yield _day(plan, day)
    places = _places(plan)
    if places:
        yield _overview(plan, places)


def _days(plan: RunPlan) -> list[int]:
    starts = [row.start_min for row in plan.schedule.rows if row.people]
    return sorted({start // DAY_MIN for start in (*starts, *(each.start_min for each in plan.teaching))})


def _places(plan: RunPlan) -> list[tuple[str, int]]:
    """Return the places in tub and for drying that are taken up, each by resource and number."""
    taken = {(held.resource, place) for held in plan.schedule.held for place in held.places}
    listed = [(name, number) for name in (TUB, DRYING) for number in sorted(n for r, n in taken if r == name)]
    return listed if len(listed) <= MOST_PLACES else []


def _day(plan: RunPlan, day: int) -> _Block:
    rows = tuple(_lanes(plan, day))
    bars = [bar for _, lane in rows for bar in lane]
    spans = plan.order.timed.hours.of_day(day)
    ends = [*(bar.end_min for bar in bars), *(end for _, end in spans)]
    start_min = min([*(bar.start_min for bar in bars), *(start for start, _ in spans)]) // HOUR_MIN * HOUR_MIN
    axis = _Axis(start_min, -(-max(ends) // HOUR_MIN) * HOUR_MIN)
    return _Block(short_day_text(plan.moment(day * DAY_MIN)), axis, True, rows)


def _lanes(plan: RunPlan, day: int) -> Iterator[tuple[str, tuple[_Bar, ...]]]:
    """Yield who works: of a crew all, of a class those who do anything on that day; teachers come last."""
    numbers = step_numbers(plan.order.batches)
    rows = [row for row in plan.schedule.rows if row.people]
    today = [row for row in rows if row.start_min // DAY_MIN == day]
    for person in sorted({person for row in (rows if plan.run.lesson is None else today) for person in row.people}):
        bars = (_Bar(row.start_min, row.end_min, _step_texts(numbers[row.operation], len(row.jobs)))
                for row in today if person in row.people)  # fmt: skip
        yield _person(plan, person), tuple(bars)
    taught = [each for each in plan.teaching if each.start_min // DAY_MIN == day]
    for teacher in sorted({teacher for each in taught for teacher in each.teachers}):
        bars = (_Bar(each.start_min, each.end_min, _step_texts(numbers[each.operation], len(each.serials)),
                     WAITING_FILL if each.looks_on else PLAIN)
                for each in taught if teacher in each.teachers)  # fmt: skip
        yield f"teacher {teacher}", tuple(bars)


def _person(plan: RunPlan, person: int) -> str:
    return f"place {person}" if plan.run.lesson is not None else f"person {person}"


def _step_texts(number: int, drums: int) -> tuple[str, ...]:
    return (f"{number} ×{drums}", str(number)) if drums > 1 else (str(number),)


def _overview(plan: RunPlan, places: Sequence[tuple[str, int]]) -> _Block:
    held = plan.schedule.held
    first, last = min(each.start_min for each in held), max(each.end_min for each in held)
    rows = tuple(
        (
            f"{'tub' if name == TUB else 'drying'} {number}",
            tuple(
                _Bar(each.start_min, each.end_min, _serial_texts(each.job), WAITING_FILL)
                for each in held
                if each.resource == name and number in each.places
            ),
        )
        for name, number in places
    )
    axis = _Axis(first // DAY_MIN * DAY_MIN, (last // DAY_MIN + 1) * DAY_MIN)
    return _Block("Soaking and drying", axis, False, rows)


def _serial_texts(serial: str) -> tuple[str, ...]:
    """Return a serial, and its ends: `LIB-08-01`, `08-01`, `01`."""
    parts = serial.split("-")
    return tuple("-".join(parts[start:]) for start in range(len(parts)))


def _draw_block(canvas: Canvas, plan: RunPlan, block: _Block, top: float) -> None:
    canvas.text((SIDE_MM, top + 3.2), block.title, WHAT_SIZE_MM, anchor="start", bold=True)
    if block.by_hour:
        _hours(canvas, block.axis, top, len(block.rows))
    else:
        _dates(canvas, plan, block.axis, top, len(block.rows))
    for line, (label, bars) in enumerate(block.rows):
        row_top = top + HEAD_MM + line * ROW_MM
        canvas.text((SIDE_MM, row_top + BAR_MM - 0.9), label, SMALL_SIZE_MM, anchor="start")
        for bar in bars:
            _draw_bar(canvas, block.axis, bar, row_top)


def _draw_bar(canvas: Canvas, axis: _Axis, bar: _Bar, top: float) -> None:
    x, width = axis.at(bar.start_min), (bar.end_min - bar.start_min) * axis.scale
    canvas.rectangle((x, top), width, BAR_MM, width=NARROW_MM, fill=bar.fill)
    text = next((text for text in bar.texts if text_width_mm(text, SMALL_SIZE_MM) <= width + 0.2), None)
    if text is not None:
        canvas.text((x + width / 2, top + BAR_MM - 0.9), text, SMALL_SIZE_MM)


def _hours(canvas: Canvas, axis: _Axis, top: float, rows: int) -> None:
    stride = max(1, ceil(LEAST_HOUR_MM / (HOUR_MIN * axis.scale)))
    for hour in range(axis.start_min // HOUR_MIN, axis.end_min // HOUR_MIN + 1):
        if (hour - axis.start_min // HOUR_MIN) % stride:
            continue
        x = axis.at(hour * HOUR_MIN)
        _mark(canvas, x, top, rows)
        canvas.text((x, top + HEAD_MM - 2.6), f"{hour % 24}", SMALL_SIZE_MM)


def _dates(canvas: Canvas, plan: RunPlan, axis: _Axis, top: float, rows: int) -> None:
    """Mark the days, and name as many as there is room for: one that would reach beyond the page is not named."""
    days = (axis.end_min - axis.start_min) // DAY_MIN
    widest = CHARACTER_WIDTH * SMALL_SIZE_MM * len("Tue 31 Dec") + 1.0
    stride = max(1, ceil(widest / (DAY_MIN * axis.scale)))
    for day in range(days + 1):
        x = axis.at(axis.start_min + day * DAY_MIN)
        _mark(canvas, x, top, rows)
        if day % stride == 0 and day < days and x + widest <= PAGE_WIDTH_MM:
            date = short_day_text(plan.moment(axis.start_min + day * DAY_MIN))
            canvas.text((x, top + HEAD_MM - 2.6), date, SMALL_SIZE_MM, anchor="start")


def _mark(canvas: Canvas, x: float, top: float, rows: int) -> None:
    canvas.line((x, top + HEAD_MM - 2.0), (x, top + HEAD_MM + rows * ROW_MM), width=0.13, stroke="#999")


def _key(canvas: Canvas, steps: Sequence[RunStep], top: float) -> None:
    canvas.line((SIDE_MM, top), (PAGE_WIDTH_MM - SIDE_MM, top), width=WIDE_MM)
    columns = _key_columns(steps)
    rows = ceil(len(steps) / columns)
    column_mm = (PAGE_WIDTH_MM - 2 * SIDE_MM) / columns
    for index, step in enumerate(steps):
        x = SIDE_MM + (index // rows) * column_mm
        y = top + KEY_ROW_MM * (index % rows + 1)
        canvas.text((x + 6.0, y), str(step.number), SMALL_SIZE_MM, anchor="end", bold=True)
        canvas.text((x + KEY_TEXT_MM, y), step.title, SMALL_SIZE_MM, anchor="start")
