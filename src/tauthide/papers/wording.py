"""Words and amounts on a run's papers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from tauthide.cutting.pieces import Disc, Placement
from tauthide.papers.tables import Cell
from tauthide.running.run_plan import RunPlan
from tauthide.running.words import clock_text, day_text, short_day_text
from tauthide.sheets.words import held
from tauthide.text import markdown
from tauthide.units import System, area, fine_length, length, long_length, time
from tauthide.work.operations import HOUR_MIN

UNKNOWN = "–"
BOX = "☐"
LINE = "______"
"""Something to be written in by hand."""


def system_of(plan: RunPlan) -> System:
    """Return the unit system that leads: inches only where every spec has them."""
    systems = {batch.plan.spec.word("bench.units") for batch in plan.order.batches}
    return cast(System, systems.pop()) if len(systems) == 1 else "metric"


def notices(plan: RunPlan) -> tuple[str, ...]:
    """Return a line for each spec that is not approved, with the reason."""
    return tuple(
        f"{markdown(batch.plan.spec.drum)}: {markdown(batch.plan.standing.why)}."
        for batch in plan.unapproved
        if batch.plan.standing is not None
    )


def words(text: str) -> Cell:
    """Return a maker's or our own words as a cell."""
    return Cell(markdown(text) or UNKNOWN, text)


def whole(number: int) -> Cell:
    """Return a count as a cell."""
    return Cell(str(number), number)


def mm(value_mm: float, system: System) -> Cell:
    """Return a length to 1 mm as a cell; the spreadsheet has it in mm."""
    return Cell(held(length(value_mm, system)), round(value_mm, 1))


def thin(value_mm: float, system: System) -> Cell:
    """Return a thickness as a cell; the spreadsheet has it in mm."""
    return Cell(held(fine_length(value_mm, system)), round(value_mm, 2))


def metres(value_mm: float, system: System) -> Cell:
    """Return the length of a lace as a cell; the spreadsheet has it in m."""
    return Cell(held(long_length(value_mm, system)), round(value_mm / 1000, 2))


def square(value_mm2: float, system: System) -> Cell:
    """Return an area as a cell; the spreadsheet has it in square metres."""
    return Cell(held(area(value_mm2, system)), round(value_mm2 / 1e6, 3))


def hours(minutes: float) -> Cell:
    """Return a time as a cell; the spreadsheet has it in minutes."""
    return Cell(held(time(minutes)), round(minutes))


def hand_time(minutes: float) -> Cell:
    """Return hours of work as a cell, never as days: nobody works for 24 hours of one."""
    whole_hours, rest = divmod(round(minutes), round(HOUR_MIN))
    parts = [f"{whole_hours} h"] * (whole_hours > 0) + [f"{rest} min"] * (rest > 0 or not whole_hours)
    return Cell(held(" ".join(parts)), round(minutes))


def day(plan: RunPlan, minute: int) -> Cell:
    """Return the day of a minute of the schedule as a cell."""
    moment = plan.moment(minute)
    return Cell(held(short_day_text(moment)), moment.date().isoformat())


def clock(plan: RunPlan, minute: int) -> Cell:
    """Return the time of day of a minute of the schedule as a cell."""
    moment = plan.moment(minute)
    return Cell(clock_text(moment), f"{moment.hour:02}:{moment.minute:02}")


def full_day(plan: RunPlan, minute: int) -> str:
    """Return the day of a minute of the schedule with its year."""
    return day_text(plan.moment(minute).date())


def money(plan: RunPlan, amount: float | None) -> Cell:
    """Return an amount of money as a cell, to its hundredth; a dash where it is not known."""
    if amount is None:
        return Cell(UNKNOWN, None)
    label = f" {markdown(plan.run.prices.currency)}" if plan.run.prices.currency else ""
    return Cell(held(f"{amount:.2f}{label}"), amount)


def serials(names: Sequence[str]) -> str:
    """Return serials of one spec in few words: `LIB-08-01 to 03, 05`; of several specs one after the other."""
    by_drum: dict[str, list[tuple[str, int]]] = {}
    for name in names:
        drum, _, number = name.rpartition("-")
        by_drum.setdefault(drum, []).append((number, int(number)))
    return "; ".join(f"{markdown(drum)}\\-{_runs(numbers)}" for drum, numbers in by_drum.items())


def _runs(numbers: Sequence[tuple[str, int]]) -> str:
    ordered = sorted(numbers, key=lambda each: each[1])
    parts: list[str] = []
    start = 0
    for index, (_, value) in enumerate(ordered):
        if index + 1 < len(ordered) and ordered[index + 1][1] == value + 1:
            continue
        run = ordered[start : index + 1]
        parts += [f"{run[0][0]} to {run[-1][0]}"] if len(run) > 2 else [text for text, _ in run]
        start = index + 1
    return ", ".join(parts)


def size(placement: Placement, system: System) -> Cell:
    """Return the size of a piece as a cell: a disc's diameter, or length and width; the spreadsheet has the larger."""
    shape = placement.shape
    if isinstance(shape, Disc):
        return Cell(held(f"Ø {length(2 * shape.radius_mm, system)}"), round(2 * shape.radius_mm, 1))
    xs, ys = [x for x, _ in shape.outline], [y for _, y in shape.outline]
    long_mm, wide_mm = max(ys) - min(ys), max(xs) - min(xs)
    return Cell(held(f"{length(long_mm, system)} × {length(wide_mm, system)}"), round(max(long_mm, wide_mm), 1))


def moment(plan: RunPlan, minute: int) -> Cell:
    """Return day and time of a minute of the schedule as a cell."""
    when = plan.moment(minute)
    return Cell(held(f"{short_day_text(when)}, {clock_text(when)}"), when.isoformat(" ", "minutes"))
