"""Who does what when: the tables of `schedule.md`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from tauthide.drawings.bars import bar_files
from tauthide.papers.classes import view_class
from tauthide.papers.overview import limiting, limits_table, tub_note
from tauthide.papers.soaking import in_tub_note, soaking_table, water_times
from tauthide.papers.tables import RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import clock, full_day, hours, moment, serials, whole, words
from tauthide.running.jobs import DRIED, LACE_SOAKED, LIFTED, WET_TIME
from tauthide.running.run_plan import RunPlan
from tauthide.running.steps import step_numbers, step_titles
from tauthide.running.timing import lace_first
from tauthide.running.words import clock_text
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.schedule import Row, Work
from tauthide.sheets.words import counted
from tauthide.text import markdown
from tauthide.units import time
from tauthide.work.operations import TURNING_MIN
from tauthide.work.wetness import DRAWN_TIGHT

SPARE_MIN = 5
"""With less than this to spare, work is begun at once."""

AT_ONCE = "at once"


def days_of(plan: RunPlan) -> tuple[tuple[str, Table], ...]:
    """Return a table for each day on which anybody works, with the day's name."""
    days: dict[int, list[Row]] = {}
    for row in plan.schedule.rows:
        if row.people:
            days.setdefault(row.start_min // DAY_MIN, []).append(row)
    return tuple((full_day(plan, day * DAY_MIN), _day_table(plan, rows)) for day, rows in sorted(days.items()))


def _day_table(plan: RunPlan, rows: list[Row]) -> Table:
    numbers = step_numbers(plan.order.batches)
    columns = (
        Column("☐", ""), Column("From", "", RIGHT), Column("To", "", RIGHT), Column("Who", ""),
        Column("Step", "", RIGHT), Column("What", ""), Column("Drums", ""), Column("At the latest", "", RIGHT),
    )  # fmt: skip
    return table(columns, [
        (Cell("☐"), clock(plan, row.start_min), clock(plan, row.end_min), Cell(_who(plan, row)),
         whole(numbers[row.operation]), words(row.title), Cell(serials(row.jobs)), _latest(plan, row))
        for row in gathered(rows)
    ])  # fmt: skip


def _latest(plan: RunPlan, row: Row) -> Cell:
    """Return when a row may begin at the latest; only its time where that is the same day."""
    latest = plan.slack.latest_min[row.jobs[0], row.operation]
    if latest - row.start_min < SPARE_MIN:
        return Cell(AT_ONCE)
    when = plan.moment(latest)
    return Cell(clock_text(when) if latest // DAY_MIN == row.start_min // DAY_MIN else moment(plan, latest).text)


def chain_table(plan: RunPlan) -> Table:
    """Return the work without slack with which the run ends, a line for each stretch."""
    numbers = step_numbers(plan.order.batches)
    titles = step_titles(plan.order.batches)
    works = plan.schedule.placed()
    lines: list[tuple[int, str, list[str]]] = []
    for job, operation in next(iter(plan.slack.chains), ()):
        if lines and lines[-1][1] == operation:
            lines[-1][2].append(job)
        else:
            lines.append((works[job, operation].start_min, operation, [job]))
    columns = (
        Column("Begins", "begins"), Column("Step", "step", RIGHT), Column("What", "operation"),
        Column("Drums", "drums"),
    )  # fmt: skip
    return table(columns, [
        (moment(plan, start), whole(numbers[operation]), words(titles[operation]),
         Cell(serials(tuple(jobs)), " ".join(jobs)))
        for start, operation, jobs in lines
    ])  # fmt: skip


def gathered(rows: list[Row]) -> list[Row]:
    """Return the rows in order, one in place of several where the same people go straight on with the same step."""
    by_people: dict[tuple[int, ...], Row] = {}
    kept: list[Row] = []
    for row in rows:
        before = by_people.get(row.people)
        if before is not None and before.operation == row.operation and before.end_min == row.start_min:
            joined = replace(before, jobs=(*before.jobs, *row.jobs), end_min=row.end_min)
            kept[kept.index(before)] = joined
            by_people[row.people] = joined
        else:
            kept.append(row)
            by_people[row.people] = row
    return kept


def _who(plan: RunPlan, row: Row) -> str:
    what = "place" if plan.run.lesson is not None else "person"
    return ", ".join(f"{what} {person}" for person in row.people)


def work_table(plan: RunPlan) -> Table:
    """Return all work for the spreadsheet: a row for each operation of each drum."""
    numbers = step_numbers(plan.order.batches)
    titles = step_titles(plan.order.batches)
    columns = tuple(
        Column("", name)
        for name in ("date", "from", "to_date", "to", "people", "step", "operation", "drum", "group", "setup_min",
                     "latest_start")
    )  # fmt: skip
    return table(columns, [_work_row(plan, work, numbers, titles) for work in plan.schedule.works])


def _work_row(plan: RunPlan, work: Work, numbers: Mapping[str, int], titles: Mapping[str, str]) -> tuple[Cell, ...]:
    start, end = plan.moment(work.start_min), plan.moment(work.end_min)
    latest = plan.slack.latest_min.get((work.job, work.operation))
    who = [str(person) for person in work.people] or [
        f"teacher {number}"
        for each in plan.teaching
        if each.operation == work.operation and work.job in each.serials and not each.looks_on
        for number in each.teachers
    ]
    return (
        Cell("", start.date().isoformat()), clock(plan, work.start_min), Cell("", end.date().isoformat()),
        clock(plan, work.end_min), Cell("", " ".join(who)), whole(numbers[work.operation]),
        words(titles[work.operation]), words(work.job), whole(work.group), whole(work.setup_min),
        moment(plan, latest) if latest is not None else Cell("", ""),
    )  # fmt: skip


def drums_table(plan: RunPlan) -> Table:
    """Return the turning points of each drum: in the water, out, tight, dry and done, and how long it is wet."""
    works = plan.schedule.placed()
    windows = {window.job: window for window in plan.schedule.windows if window.title == WET_TIME}
    in_water = water_times(plan)
    rows = []
    for drum in plan.drums:
        lifted = works[drum.serial, LIFTED]
        tight, window = works[drum.serial, DRAWN_TIGHT], windows[drum.serial]
        rows.append(
            (
                words(drum.serial), moment(plan, in_water[drum.serial]), moment(plan, lifted.start_min),
                moment(plan, tight.end_min), hours(window.taken_min), hours(window.most_min),
                moment(plan, plan.schedule.dry_min[drum.serial]), moment(plan, plan.schedule.done_min[drum.serial]),
            )
        )  # fmt: skip
    columns = (
        Column("Drum", "drum"), Column("In the water", "in_water"), Column("Lifted out", "lifted"),
        Column("Drawn tight", "tight"), Column("Wet for", "wet_min", RIGHT), Column("At most", "most_wet_min", RIGHT),
        Column("Dry", "dry"), Column("Done", "done"),
    )  # fmt: skip
    return table(columns, rows)


def turning(plan: RunPlan) -> str:
    """Say how long the round through the drying place takes, at the most drums that dry at once."""
    drying = [
        (work.end_min, plan.schedule.dry_min[work.job]) for work in plan.schedule.works if work.operation == DRIED
    ]
    most = max(sum(start <= at < end for start, end in drying) for at, _ in drying)
    return f"{counted(most, 'drum', 'drums')} at most, about {time(TURNING_MIN * most)}"


def view_timetable(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `schedule.md` uses."""
    run = plan.run
    return {
        "title": markdown(run.title or run.name),
        "name": markdown(run.name),
        "bars": bar_files(plan),
        "days": days_of(plan),
        "drums": drums_table(plan),
        "soaking": soaking_table(plan) if plan.layout.placements else None,
        "in_tub": in_tub_note(plan),
        "turning": turning(plan),
        "chain": chain_table(plan) if plan.slack.chains else None,
        "limits": limits_table(plan) if plan.limits else None,
        "limiting": limiting(plan) if plan.limits else "",
        "tub": tub_note(plan),
        "lace_first": lace_first(run) and any(work.operation == LACE_SOAKED for work in plan.schedule.works),
        **view_class(plan),
        "finish": full_day(plan, plan.schedule.finish_min),
    }
