"""Why a run cannot be scheduled: each kind of job is looked at by itself, as if it were alone in the shop."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

from tauthide.scheduling.alone import ORDERS, find_order
from tauthide.scheduling.compiled import Shop, compile_run, least_time
from tauthide.scheduling.hours import DAY_MIN, WEEK_DAYS, Calendar
from tauthide.scheduling.jobs import Job, Longest, Operation, Run
from tauthide.scheduling.placing import Board, Push, Tally, in_order
from tauthide.scheduling.recipes import Recipe, Wave
from tauthide.scheduling.schedule import Trouble, TroubleKind

ALONE = Recipe((Wave((0,)),), 0, False, 0)
PLENTY = 1000
"""So many people or units that they limit no single job."""


def find_troubles(run: Run) -> tuple[Trouble, ...]:
    """Return all troubles, each once for all jobs of the same kind."""
    kinds: dict[Job, list[str]] = {}
    for job in run.jobs:
        kinds.setdefault(replace(job, name="", earliest_min=0), []).append(job.name)
    if any(_with_hands(job) for job in kinds):
        try:
            longest_span = Calendar(run.hours).longest_span()
        except ValueError:
            return (Trouble(TroubleKind.NO_HOURS, tuple(job.name for job in run.jobs)),)
    else:
        longest_span = 0
    found: dict[Trouble, list[str]] = {}
    for job, names in kinds.items():
        for trouble in _of_job(run, job, longest_span):
            found.setdefault(trouble, []).extend(names)
    return tuple(replace(trouble, jobs=tuple(names)) for trouble, names in found.items())


def _with_hands(job: Job) -> list[Operation]:
    return [operation for operation in job.operations if operation.hand_min + operation.setup_min]


def _of_job(run: Run, job: Job, longest_span: int) -> list[Trouble]:
    """Return the troubles of one kind of job; the later ones only where the earlier ones are none."""
    simple = [*_operations(run, job, longest_span), *_units(run, job)]
    windows = list(_windows(run, job))
    if simple or windows:
        return [*simple, *windows]
    trouble = _alone(run, job)
    return [trouble] if trouble else []


def _operations(run: Run, job: Job, longest_span: int) -> Iterator[Trouble]:
    people = 1 if run.own_hands else run.people
    for operation in _with_hands(job):
        over = operation.hand_min + operation.setup_min - longest_span
        if over > 0 and not operation.may_pause:
            yield Trouble(TroubleKind.LONG_OPERATION, (), operation.name, "", over)
        if operation.people > people:
            yield Trouble(TroubleKind.FEW_PEOPLE, (), operation.name, "", operation.people - people)


def _units(run: Run, job: Job) -> Iterator[Trouble]:
    units = {resource.name: resource.units for resource in run.resources}
    wanted = [
        (each.resource, each.units, operation.name, "") for operation in job.operations for each in operation.needs
    ]
    wanted += [(hold.resource, hold.units, hold.since, hold.until) for hold in job.holds]
    for resource, count, since, until in wanted:
        if count > units[resource]:
            yield Trouble(TroubleKind.FEW_UNITS, (), since, until, count - units[resource], resource)


def _single(run: Run, job: Job, plenty: bool) -> Shop:
    """Return the run of one such job alone; with its set-ups, for it shares them with nobody."""
    resources = tuple(replace(each, units=max(each.units, PLENTY)) if plenty else each for each in run.resources)
    people = PLENTY if plenty else run.people
    operations = tuple(replace(operation, may_group=False) for operation in job.operations)
    own = run.own_hands and not plenty
    return compile_run(Run((replace(job, operations=operations),), people, run.hours, resources, own))


def _windows(run: Run, job: Job) -> Iterator[Trouble]:
    """Yield the longest times that are too short whenever the work is done."""
    steps = _single(run, job, True).tasks[0].steps
    places = {operation.name: index for index, operation in enumerate(job.operations)}
    for longest in job.longest:
        ends = (places[longest.since], longest.since_edge, places[longest.until], longest.until_edge)
        short = least_time(steps, *ends) - longest.most_min
        if short > 0:
            yield _window(TroubleKind.WINDOW, longest, short)


def _window(kind: TroubleKind, longest: Longest, short: int) -> Trouble:
    return Trouble(kind, (), longest.since, longest.until, short, title=longest.title)


def _alone(run: Run, job: Job) -> Trouble | None:
    """Return why a job cannot be placed in an empty shop; for want of hours first, then of people and places."""
    for kind, plenty in ((TroubleKind.WINDOW_HOURS, True), (TroubleKind.WINDOW_PLACES, False)):
        push = find_order(_single(run, job, plenty), 0, 0 if plenty else ORDERS)
        if isinstance(push, Push):
            tie = push.tie
            if tie.resource >= 0:
                name = run.resources[tie.resource - 1].name
                names = job.operations[tie.since].name, job.operations[tie.until].name
                return Trouble(TroubleKind.FEW_UNITS, (), *names, tie.units, name)
            return _window(kind, *_shortage(run, job, tie.since, plenty))
    return None


def _shortage(run: Run, job: Job, since: int, plenty: bool) -> tuple[Longest, int]:
    """Return the longest time that is short, and by how much at best, over all starts in the first working week."""
    shop = _single(run, replace(job, longest=()), plenty)
    places = {operation.name: index for index, operation in enumerate(job.operations)}
    step = shop.tasks[0].steps[since]
    order = in_order(shop, ALONE, ALONE.waves[0], "ahead", "core", "behind")
    minute = first = _free_start(shop, order, since)
    shortest: tuple[int, int] | None = None
    while minute < first + WEEK_DAYS * DAY_MIN:
        board = Board(shop, 0, Tally())
        with suppress(Push):
            for each, index in order:
                board.place(each, index, minute if index == since else 0)
            over = [
                (board.edge(0, places[longest.until], longest.until_edge)
                 - board.edge(0, places[longest.since], longest.since_edge) - longest.most_min, number)
                for number, longest in enumerate(job.longest)
            ]  # fmt: skip
            shortest = min(shortest or max(over), max(over))
        minute = shop.calendar.start(minute + 1, step.hand_min + step.setup_min, step.may_pause)
    short, number = shortest or (0, 0)
    return job.longest[number], max(1, short)


def _free_start(shop: Shop, order: list[tuple[int, int]], since: int) -> int:
    """Return the earliest start of an operation of a job alone."""
    board = Board(shop, 0, Tally())
    for job, index in order:
        if index == since:
            board.place(job, index, 0)
            return board.spots[job, index].start
        board.place(job, index, 0)
    raise KeyError(since)
