"""What the teachers of a class do: make ready before it begins, and look on where a slip would cost a skin.

Making ready is a run of its own, whose people are the teachers; the class comes after it, and both become one schedule.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tauthide.running.drums import Drum
from tauthide.running.jobs import PREPARED, SOAKED_UNTIL, task_of_operation, without
from tauthide.running.stock import Taken
from tauthide.running.timing import IN_CLASS, TEACHER, spared_of
from tauthide.runs.run import Run
from tauthide.scheduling.hours import DAY_MIN, Calendar, WorkingHours
from tauthide.scheduling.jobs import Edge, Job
from tauthide.scheduling.jobs import Run as Timed
from tauthide.scheduling.schedule import Held, Moment, Row, Schedule, Work
from tauthide.work.operations import TUB, Operation

SKIN_JOB = " skin"
"""What the job is called by which a drum's skins go into the water, after its serial: it is not of the frame's job,
since frames may be made ready days before."""


@dataclass(frozen=True, slots=True)
class Teaching:
    """Something that teachers do, one straight after another for several drums."""

    start_min: int
    end_min: int
    teachers: tuple[int, ...]
    """Their numbers, from 1."""
    operation: str
    title: str
    serials: tuple[str, ...]
    looks_on: bool
    """Whether the work is done at a place of the class, and a teacher looks on."""


def preparation_of(run: Run, drums: Sequence[Drum], taken: Mapping[str, Taken]) -> Timed | None:
    """Return what the teachers do before the class as a run of their own; None where nobody asks for that.

    Frames as soon as they can be; skins on the last day on which they are still soaked through when the class begins.
    """
    lesson = run.lesson
    if lesson is None or lesson.begins is None:
        return None
    hours = WorkingHours(run.start, run.calendar.week, tuple(sorted(run.calendar.days_off)))
    frames: list[Job] = []
    skins: list[Job] = []
    for drum in drums:
        ready = [each for each in without(drum.plan.operations, spared_of(taken[drum.serial])) if each.name in PREPARED]
        frames.append(_job(drum.serial, [each for each in ready if each.place != TUB], 0))
        skins.append(_job(f"{drum.serial}{SKIN_JOB}", [each for each in ready if each.place == TUB], 0))
    from_min = _soaking_from(hours, skins, lesson.teachers, opening_of(run, hours))
    return Timed((*frames, *(replace(job, earliest_min=from_min) for job in skins)), lesson.teachers, hours)


def _job(name: str, operations: Sequence[Operation], earliest_min: int) -> Job:
    names = {operation.name for operation in operations}
    own = (replace(each, after=tuple(name for name in each.after if name in names)) for each in operations)
    return Job(name, tuple(map(task_of_operation, own)), earliest_min=earliest_min)


def opening_of(run: Run, hours: WorkingHours) -> int:
    """Return the first working minute of a class that says when it begins."""
    assert run.lesson is not None
    assert run.lesson.begins is not None  # else there is nothing to prepare
    return Calendar(hours).start((run.lesson.begins - run.start).days * DAY_MIN, 1)


def _soaking_from(hours: WorkingHours, skins: Sequence[Job], teachers: int, opens_min: int) -> int:
    """Return the start of the last working day before the class on which the skins can still go into the water."""
    operations = [operation for job in skins for operation in job.operations]
    hands = sum(operation.hand_min for operation in operations) + max(each.setup_min for each in operations)
    needed_min = -(-hands // teachers) + max(operation.wait_min for operation in operations)
    for day in range(opens_min // DAY_MIN - 1, 0, -1):
        spans = hours.of_day(day)
        if spans and spans[0][0] + needed_min <= opens_min:
            return day * DAY_MIN
    return 0


def after_preparation(timed: Timed, before: Schedule, run: Run) -> Timed:
    """Return the class, none of whose drums is begun before the class is, or before all is ready for it."""
    opens_min = opening_of(run, timed.hours)
    ready: dict[str, int] = {}
    for name, done_min in before.done_min.items():
        ready[_serial(name)] = max(done_min, ready.get(_serial(name), opens_min))
    return replace(timed, jobs=tuple(replace(job, earliest_min=ready[job.name]) for job in timed.jobs))


def tub_places(drums: Sequence[Drum], taken: Mapping[str, Taken]) -> int:
    """Return how many places in the tub a class takes whose skins all lie in it when it begins."""
    return sum(
        operation.place == TUB
        for drum in drums
        for operation in without(drum.plan.operations, spared_of(taken[drum.serial]))
    )


def joined(before: Schedule, lesson: Schedule) -> Schedule:
    """Return both schedules as one: what the teachers do is done by nobody of the class."""
    last = max(work.group for work in before.works)
    works: list[Work] = [replace(work, job=_serial(work.job), people=()) for work in before.works]
    works += (replace(work, group=work.group + last) for work in lesson.works)
    rows: list[Row] = [replace(row, jobs=tuple(map(_serial, row.jobs)), people=()) for row in before.rows]
    rows += (replace(row, group=row.group + last) for row in lesson.rows)
    waits = [*(replace(wait, job=_serial(wait.job)) for wait in before.waits), *lesson.waits]
    return replace(
        lesson,
        works=tuple(sorted(works, key=lambda work: (work.start_min, work.group))),
        rows=tuple(sorted(rows, key=lambda row: (row.start_min, row.group))),
        waits=tuple(sorted(waits, key=lambda wait: wait.start_min)),
        held=(*_in_tub(works), *lesson.held),
    )


def _in_tub(works: Sequence[Work]) -> Iterator[Held]:
    """Yield what lies in the tub from before the class on, each in a place of its own."""
    starts = {(work.job, work.operation): work.start_min for work in works}
    place = 0
    for (job, operation), start_min in starts.items():
        if operation in SOAKED_UNTIL:
            place += 1
            until = SOAKED_UNTIL[operation]
            moments = Moment(operation, Edge.START), Moment(until, Edge.START)
            yield Held(job, TUB, 1, start_min, starts[job, until], (place,), *moments)


def teaching_of(timed: Timed, before: Schedule | None, lesson: Schedule) -> tuple[Teaching, ...]:
    """Return all that the teachers do, by time; nothing where the run is no class."""
    made_ready = () if before is None else before.rows
    found = [
        Teaching(row.start_min, row.end_min, row.people, row.operation, row.title, tuple(map(_serial, row.jobs)), False)
        for row in made_ready
        if row.people
    ]
    found += _looking_on(timed, lesson)
    return tuple(sorted(found, key=lambda each: (each.start_min, each.teachers, each.serials)))


def _looking_on(timed: Timed, lesson: Schedule) -> Iterable[Teaching]:
    watched = {name for name, needs in IN_CLASS.items() if TEACHER in {need.resource for need in needs}}
    titles = {operation.name: operation.title for job in timed.jobs for operation in job.operations}
    works = {(work.job, work.start_min): work for work in lesson.works if work.operation in watched}
    for held in lesson.held:
        if held.resource == TEACHER:
            name = works[held.job, held.start_min].operation
            yield Teaching(held.start_min, held.end_min, held.places, name, titles[name], (held.job,), True)


def _serial(job: str) -> str:
    return job.removesuffix(SKIN_JOB)
