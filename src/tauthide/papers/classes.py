"""The timetable of a class: what its teachers do when, and what everyone does at a place of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tauthide.papers.overview import begins
from tauthide.papers.tables import LEFT, RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import UNKNOWN, clock, full_day, serials, whole, words
from tauthide.running.drums import Drum
from tauthide.running.run_plan import RunPlan
from tauthide.running.steps import RunStep, step_numbers, steps_of
from tauthide.running.teaching import Teaching
from tauthide.running.timing import IN_CLASS, TEACHER, TOOLS
from tauthide.running.words import short_day_text
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.schedule import Work
from tauthide.text import markdown

PLACES_A_TABLE = 8
"""So many places stand side by side: more would not fit the width of a page."""


@dataclass(frozen=True, slots=True)
class Day:
    """One day on paper."""

    title: str
    tables: tuple[Table, ...]


def teacher_days(plan: RunPlan) -> tuple[Day, ...]:
    """Return what the teachers do, a table for each day on which they do anything."""
    days: dict[int, list[Teaching]] = {}
    for each in gathered(plan.teaching):
        days.setdefault(each.start_min // DAY_MIN, []).append(each)
    return tuple(Day(full_day(plan, day * DAY_MIN), (_teacher_table(plan, found),)) for day, found in days.items())


def gathered(teaching: Sequence[Teaching]) -> list[Teaching]:
    """Return what teachers do in order, one in place of several where they go straight on with the same step."""
    kept: list[Teaching] = []
    for each in teaching:
        index = next((at for at, before in enumerate(kept) if _goes_on(before, each)), None)
        if index is None:
            kept.append(each)
        else:
            kept[index] = replace(kept[index], end_min=each.end_min, serials=(*kept[index].serials, *each.serials))
    return kept


def _goes_on(before: Teaching, after: Teaching) -> bool:
    same = (before.operation, before.teachers, before.looks_on) == (after.operation, after.teachers, after.looks_on)
    return same and not after.looks_on and before.end_min == after.start_min


def _teacher_table(plan: RunPlan, found: Sequence[Teaching]) -> Table:
    numbers = step_numbers(plan.order.batches)
    several = plan.run.lesson is not None and plan.run.lesson.teachers > 1
    columns = (
        Column("☐", ""), Column("From", "", RIGHT), Column("To", "", RIGHT), Column("Who" if several else "", ""),
        Column("Step", "", RIGHT), Column("What", ""), Column("For", ""),
    )  # fmt: skip
    return table(columns, [
        (Cell("☐"), clock(plan, each.start_min), clock(plan, each.end_min),
         Cell(", ".join(f"teacher {number}" for number in each.teachers)), whole(numbers[each.operation]),
         Cell(_what(each)), Cell(_whom(plan, each)))
        for each in found
    ])  # fmt: skip


def _what(each: Teaching) -> str:
    return f"Look on: {markdown(each.title)}" if each.looks_on else f"**{markdown(each.title)}**"


def _whom(plan: RunPlan, each: Teaching) -> str:
    if not each.looks_on:
        return serials(each.serials)
    (serial,) = each.serials
    return f"place {places_of(plan)[serial]}"


def teacher_table(plan: RunPlan) -> Table:
    """Return the same for the spreadsheet: a row for each thing that teachers do."""
    numbers = step_numbers(plan.order.batches)
    columns = tuple(
        Column("", name) for name in ("date", "from", "to", "teachers", "step", "operation", "looks_on", "drums")
    )
    return table(columns, [
        (Cell("", plan.moment(each.start_min).date().isoformat()), clock(plan, each.start_min),
         clock(plan, each.end_min), Cell("", " ".join(map(str, each.teachers))), whole(numbers[each.operation]),
         words(each.title), Cell("", "yes" if each.looks_on else "no"), Cell("", " ".join(each.serials)))
        for each in plan.teaching
    ])  # fmt: skip


def places_of(plan: RunPlan) -> dict[str, int]:
    """Return the number of the place at which each drum of a class is made; nothing in a run that is none."""
    if plan.run.lesson is None:
        return {}
    return {work.job: work.people[0] for work in plan.schedule.works if work.people}


def place_days(plan: RunPlan) -> tuple[Day, ...]:
    """Return what everyone begins when: for each day steps by places, in parts that fit the page."""
    days: dict[int, list[Work]] = {}
    for work in plan.schedule.works:
        if work.people:
            days.setdefault(work.start_min // DAY_MIN, []).append(work)
    places = sorted(places_of(plan).items(), key=lambda each: each[1])
    parts = [places[start : start + PLACES_A_TABLE] for start in range(0, len(places), PLACES_A_TABLE)]
    return tuple(
        Day(full_day(plan, day * DAY_MIN), tuple(_places_table(plan, works, part) for part in parts))
        for day, works in sorted(days.items())
    )


def _places_table(plan: RunPlan, works: Sequence[Work], places: Sequence[tuple[str, int]]) -> Table:
    starts = {(work.job, work.operation): work.start_min for work in works}
    done = {work.operation for work in works}
    columns = (
        Column("Step", "", RIGHT), Column("What", ""),
        *(Column(f"Place {number}" if number == places[0][1] else str(number), "", RIGHT) for _, number in places),
    )  # fmt: skip
    return table(columns, [
        (whole(step.number), Cell(f"{markdown(step.title)}{_shared(step)}"),
         *(_start(plan, starts.get((serial, step.name))) for serial, _ in places))
        for step in steps_of(plan.order.batches)
        if step.name in done
    ])  # fmt: skip


def _shared(step: RunStep) -> str:
    """Say what a step takes of what the class shares: `(T, S)`; nothing where it takes nothing."""
    marks = {TEACHER: "T", TOOLS: "S"}
    needs = [marks[need.resource] for need in IN_CLASS.get(step.name, ())]
    return f" ({', '.join(needs)})" if needs else ""


def _start(plan: RunPlan, minute: int | None) -> Cell:
    return Cell(UNKNOWN) if minute is None else clock(plan, minute)


def own_table(plan: RunPlan, drum: Drum) -> Table | None:
    """Return what one of a class does when; None in a run that is none."""
    if plan.run.lesson is None:
        return None
    steps = {step.name: step for step in steps_of(plan.order.batches)}
    rows = []
    day = -1
    for work in plan.schedule.works:
        if work.job == drum.serial and work.people:
            moment = plan.moment(work.start_min)
            new, day = work.start_min // DAY_MIN != day, work.start_min // DAY_MIN
            step = steps[work.operation]
            rows.append(
                (
                    Cell("☐"), Cell(short_day_text(moment) if new else ""), clock(plan, work.start_min),
                    clock(plan, work.end_min), whole(step.number), Cell(f"{markdown(step.title)}{_shared(step)}"),
                )
            )  # fmt: skip
    columns = (
        Column("☐", ""), Column("Day", "", LEFT), Column("From", "", RIGHT), Column("To", "", RIGHT),
        Column("Step", "", RIGHT), Column("What", ""),
    )  # fmt: skip
    return table(columns, rows)


def view_class(plan: RunPlan) -> dict[str, object]:
    """Return the names that templates use of a class: nothing of them is there in a run that is none."""
    if plan.run.lesson is None:
        return {"lesson": False}
    return {
        "lesson": True,
        "teacher_days": teacher_days(plan),
        "place_days": place_days(plan),
        "begins": begins(plan),
        "made_ready": plan.order.before is not None,
        "tools": plan.run.lesson.tools,
    }
