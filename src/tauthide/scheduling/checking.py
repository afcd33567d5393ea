"""An independent check of a schedule: it knows nothing of how one is made, and goes through everything minute by event.

Used by tests after every search, and cheap enough to be run on every schedule that is given out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from tauthide.scheduling.hours import DAY_MIN, WorkingHours
from tauthide.scheduling.jobs import Edge, Job, Operation, Run
from tauthide.scheduling.schedule import Schedule, Work


def violations(run: Run, schedule: Schedule) -> tuple[str, ...]:
    """Return all that is wrong with a schedule, as sentences; none if it is sound."""
    found = list(_missing(run, schedule))
    if found:
        return tuple(found)
    placed = {(work.job, work.operation): work for work in schedule.works}
    for job in run.jobs:
        found += _order(job, placed)
        found += _longest(job, placed)
        found += _times(run, job, placed)
    found += _setups(run, schedule)
    found += _people(run, schedule)
    found += _places(run, placed)
    return tuple(found)


def _missing(run: Run, schedule: Schedule) -> Iterator[str]:
    wanted = sorted((job.name, operation.name) for job in run.jobs for operation in job.operations)
    there = sorted((work.job, work.operation) for work in schedule.works)
    if wanted != there:
        yield f"{len(there)} operations are placed, and not each of {len(wanted)} once"


def _order(job: Job, placed: dict[tuple[str, str], Work]) -> Iterator[str]:
    operations = {operation.name: operation for operation in job.operations}
    for operation in job.operations:
        work = placed[job.name, operation.name]
        if work.start_min < job.earliest_min:
            yield f"{job.name}: {operation.name} starts before the job may"
        for before in operation.after:
            if work.start_min < placed[job.name, before].end_min + operations[before].wait_min:
                yield f"{job.name}: {operation.name} starts before {before} and its wait are over"


def _moment(job: Job, placed: dict[tuple[str, str], Work], name: str, edge: Edge) -> int:
    work = placed[job.name, name]
    wait = next(operation.wait_min for operation in job.operations if operation.name == name)
    return {Edge.START: work.start_min, Edge.END: work.end_min, Edge.WAITED: work.end_min + wait}[edge]


def _longest(job: Job, placed: dict[tuple[str, str], Work]) -> Iterator[str]:
    for longest in job.longest:
        since = _moment(job, placed, longest.since, longest.since_edge)
        until = _moment(job, placed, longest.until, longest.until_edge)
        if until - since > longest.most_min:
            yield f"{job.name}: {longest.since} to {longest.until} takes {until - since} min, not {longest.most_min}"


def _working(hours: WorkingHours, start: int, end: int) -> tuple[int, bool]:
    """Return the working minutes within a time, and whether both its ends lie in working hours."""
    spans = [span for day in range(start // DAY_MIN - 1, end // DAY_MIN + 2) for span in hours.of_day(day)]
    inside = sum(max(0, min(end, closes) - max(start, opens)) for opens, closes in spans)
    edges = any(opens <= start < closes for opens, closes in spans) and any(
        opens < end <= closes for opens, closes in spans
    )
    return inside, edges


def _times(run: Run, job: Job, placed: dict[tuple[str, str], Work]) -> Iterator[str]:
    for operation in job.operations:
        work = placed[job.name, operation.name]
        minutes = operation.hand_min + work.setup_min
        if not minutes:
            if work.start_min != work.end_min:
                yield f"{job.name}: {operation.name} takes time"
            continue
        inside, edges = _working(run.hours, work.start_min, work.end_min)
        if inside != minutes or not edges:
            yield f"{job.name}: {operation.name} has {inside} working minutes, not {minutes}"
        if not operation.may_pause and work.end_min - work.start_min != minutes:
            yield f"{job.name}: {operation.name} is interrupted"


def _setups(run: Run, schedule: Schedule) -> Iterator[str]:
    """Each group starts with its set-up, and goes on without a gap, with the same people."""
    operations = {(job.name, operation.name): operation for job in run.jobs for operation in job.operations}
    groups: dict[int, list[Work]] = defaultdict(list)
    for work in schedule.works:
        groups[work.group].append(work)
    for group in groups.values():
        group.sort(key=lambda work: work.start_min)
        first = operations[group[0].job, group[0].operation]
        if group[0].setup_min != first.setup_min:
            yield f"{group[0].job}: {first.name} lacks its set-up"
        for before, after in pairwise(group):
            yield from _followed(before, after, operations[after.job, after.operation])


def _followed(before: Work, after: Work, operation: Operation) -> Iterator[str]:
    if not operation.may_group or after.operation != before.operation:
        yield f"{after.job}: {operation.name} is in a group with {before.operation} of {before.job}"
    if after.start_min != before.end_min or after.people != before.people or after.setup_min:
        yield f"{after.job}: {operation.name} does not go straight on from {before.job}"


def _people(run: Run, schedule: Schedule) -> Iterator[str]:
    """Nobody does two things at once, and every operation has its people."""
    operations = {(job.name, operation.name): operation for job in run.jobs for operation in job.operations}
    numbers = {job.name: number for number, job in enumerate(run.jobs, start=1)}
    crew = len(run.jobs) if run.own_hands else run.people
    busy: dict[int, list[Work]] = defaultdict(list)
    for work in schedule.works:
        operation = operations[work.job, work.operation]
        wanted = operation.people if operation.hand_min + operation.setup_min else 0
        if len(set(work.people)) != wanted or not set(work.people) <= set(range(1, crew + 1)):
            yield f"{work.job}: {work.operation} is done by {work.people}, not by {wanted} of {crew}"
        if run.own_hands and wanted and work.people != (numbers[work.job],):
            yield f"{work.job}: {work.operation} is not done by the job's own hands"
        for person in work.people:
            busy[person].append(work)
    for person, works in sorted(busy.items()):
        for before, after in pairwise(works):
            if after.start_min < before.end_min:
                yield f"person {person} does {before.operation} and {after.operation} at once"


def _places(run: Run, placed: dict[tuple[str, str], Work]) -> Iterator[str]:
    """At every moment at which something is taken, no more is taken than there is."""
    for resource in run.resources:
        changes: list[tuple[int, int]] = []
        for job in run.jobs:
            for since, until, units in _uses(job, placed, resource.name):
                if since < until:
                    changes += [(since, units), (until, -units)]
        taken = 0
        for minute, change in sorted(changes):
            taken += change
            if taken > resource.units:
                yield f"{resource.name}: {taken} taken of {resource.units} at minute {minute}"


def _uses(job: Job, placed: dict[tuple[str, str], Work], resource: str) -> Iterator[tuple[int, int, int]]:
    for operation in job.operations:
        work = placed[job.name, operation.name]
        for need in operation.needs:
            if need.resource == resource:
                yield work.start_min, work.end_min, need.units
    for hold in job.holds:
        if hold.resource == resource:
            since = _moment(job, placed, hold.since, hold.since_edge)
            yield since, _moment(job, placed, hold.until, hold.until_edge), hold.units
