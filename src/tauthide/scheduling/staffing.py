"""From placed operations to a schedule: who does what, which place keeps what, groups, waits and windows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tauthide.scheduling.jobs import Edge, Job, Operation, Run
from tauthide.scheduling.placing import Spot, Spots
from tauthide.scheduling.schedule import Held, Moment, Row, Schedule, Wait, Window, Work


@dataclass(slots=True)
class _Group:
    """Jobs whose same operation is done by the same hands, one straight after the other."""

    step: int
    """Number of the operation in its first job."""
    jobs: list[int]
    start: int
    end: int
    operation: Operation
    setup: int


def build_schedule(run: Run, spots: Spots) -> Schedule:
    """Return the schedule of placed operations."""
    groups = _groups(run, spots)
    people = _own(groups) if run.own_hands else _assign(run, groups)
    works, rows = [], []
    for number, (group, who) in enumerate(zip(groups, people, strict=True), start=1):
        names = tuple(run.jobs[job].name for job in group.jobs)
        operation = group.operation
        rows.append(Row(operation.name, operation.title, number, names, who, group.start, group.end, group.setup))
        for job in group.jobs:
            spot = spots[job, _place(run.jobs[job], operation.name)]
            name = run.jobs[job].name
            works.append(Work(name, operation.name, spot.start, spot.end, who, number, spot.setup))
    works.sort(key=lambda work: (work.start_min, work.group))
    return _complete(run, spots, tuple(works), tuple(rows))


def _complete(run: Run, spots: Spots, works: tuple[Work, ...], rows: tuple[Row, ...]) -> Schedule:
    waits: list[Wait] = []
    windows: list[Window] = []
    dry: dict[str, int] = {}
    done: dict[str, int] = {}
    for number, job in enumerate(run.jobs):
        for index, operation in enumerate(job.operations):
            end = spots[number, index].end
            done[job.name] = max(done.get(job.name, 0), end + operation.wait_min)
            if operation.wait_min:
                waits.append(Wait(job.name, operation.name, end, end + operation.wait_min))
            if operation.name == job.dry_after:
                dry[job.name] = end + operation.wait_min
        for longest in job.longest:
            since = moment(run.jobs[number], number, spots, longest.since, longest.since_edge)
            until = moment(run.jobs[number], number, spots, longest.until, longest.until_edge)
            windows.append(
                Window(job.name, longest.title, longest.since, longest.until, until - since, longest.most_min)
            )
    waits.sort(key=lambda wait: wait.start_min)
    finish = max(done.values(), default=0)
    return Schedule(works, rows, tuple(waits), _held(run, spots), tuple(windows), dry, done, finish)


def _place(job: Job, operation: str) -> int:
    return next(index for index, each in enumerate(job.operations) if each.name == operation)


def moment(job: Job, number: int, spots: Mapping[tuple[int, int], Spot], operation: str, edge: Edge) -> int:
    """Return the minute of a moment of a job's operation."""
    index = _place(job, operation)
    spot = spots[number, index]
    if edge is Edge.START:
        return spot.start
    return spot.end + (job.operations[index].wait_min if edge is Edge.WAITED else 0)


def _groups(run: Run, spots: Spots) -> list[_Group]:
    """Return all groups by start."""
    next_of = {(spot.follows, run.jobs[job].operations[index].name): job
               for (job, index), spot in spots.items() if spot.follows >= 0}  # fmt: skip
    groups = []
    for (job, index), spot in spots.items():
        if spot.follows >= 0:
            continue
        operation = run.jobs[job].operations[index]
        group = _Group(index, [job], spot.start, spot.end, operation, spot.setup)
        while (group.jobs[-1], operation.name) in next_of:
            following = next_of[group.jobs[-1], operation.name]
            group.jobs.append(following)
            group.end = spots[following, _place(run.jobs[following], operation.name)].end
        groups.append(group)
    return sorted(groups, key=lambda group: (group.start, group.end, group.jobs, group.step))


def _own(groups: list[_Group]) -> list[tuple[int, ...]]:
    return [(group.jobs[0] + 1,) if group.start < group.end else () for group in groups]


def _assign(run: Run, groups: list[_Group]) -> list[tuple[int, ...]]:
    """Return the people for each group: those who know the drum first, else who has waited least; by number."""
    free_since = [0] * run.people
    last: dict[int, tuple[int, ...]] = {}
    chosen: list[tuple[int, ...]] = []
    for group in groups:
        if group.start == group.end:
            chosen.append(())
            continue
        known = {person for job in group.jobs for person in last.get(job, ())}
        free = [person for person in range(run.people) if free_since[person] <= group.start]
        free.sort(key=lambda person: (person not in known, -free_since[person], person))
        who = tuple(sorted(free[: group.operation.people]))
        for person in who:
            free_since[person] = group.end
        for job in group.jobs:
            last[job] = who
        chosen.append(tuple(person + 1 for person in who))
    return chosen


def _held(run: Run, spots: Spots) -> tuple[Held, ...]:
    """Return all that is held or needed, each with the numbers of its places."""
    wanted = []
    for number, job in enumerate(run.jobs):
        for hold in job.holds:
            since = moment(job, number, spots, hold.since, hold.since_edge)
            until = moment(job, number, spots, hold.until, hold.until_edge)
            moments = Moment(hold.since, hold.since_edge), Moment(hold.until, hold.until_edge)
            wanted.append((since, until, job.name, hold.resource, hold.units, *moments))
        for index, operation in enumerate(job.operations):
            spot = spots[number, index]
            for need in operation.needs:
                moments = Moment(operation.name, Edge.START), Moment(operation.name, Edge.END)
                wanted.append((spot.start, spot.end, job.name, need.resource, need.units, *moments))
    free_since = {resource.name: [0] * resource.units for resource in run.resources}
    held = []
    lasting = sorted((want for want in wanted if want[0] < want[1]), key=lambda want: want[:5])
    for start, end, job_name, resource, units, since_edge, until_edge in lasting:
        places = _free(free_since[resource], start)[:units]
        for place in places:
            free_since[resource][place] = end
        numbers = tuple(place + 1 for place in places)
        held.append(Held(job_name, resource, units, start, end, numbers, since_edge, until_edge))
    return tuple(held)


def _free(since: Iterable[int], start: int) -> list[int]:
    return [place for place, free in enumerate(since) if free <= start]
