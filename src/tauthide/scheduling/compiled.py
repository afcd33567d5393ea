"""A run with numbers in place of names, so that placing it a hundred times over is quick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from tauthide.scheduling.hours import Calendar
from tauthide.scheduling.jobs import Edge, Hold, Job, Longest, Operation, Run

PEOPLE = 0
"""Number of the resource of people; where each job has its own hands, job n's are resource n."""


@dataclass(frozen=True, slots=True)
class Step:
    """An operation: predecessors by number, needs by number of the resource."""

    hand_min: int
    setup_min: int
    wait_min: int
    after: tuple[int, ...]
    needs: tuple[tuple[int, int], ...]
    """Resource and units for the whole operation, its people among them."""
    family: int
    """Operations of one family share a set-up if one follows the other; -1 for those that share nothing."""
    may_pause: bool
    rank: int
    """Place in the order of work, the same for the same operation of all jobs."""


@dataclass(frozen=True, slots=True)
class Tie:
    """A longest time or a hold between two operations, with how far its edges lie from their starts and ends."""

    since: int
    since_edge: Edge
    until: int
    until_edge: Edge
    most_min: int
    """Longest time; -1 for a hold."""
    resource: int
    units: int
    least_min: int
    """The least time it can take, working hours and other jobs aside."""


@dataclass(frozen=True, slots=True)
class Task:
    """A job: its steps, and the ties that close with each of them."""

    steps: tuple[Step, ...]
    ties: tuple[Tie, ...]
    by_step: tuple[tuple[Tie, ...], ...]
    """For each step the ties that have one of their ends there."""
    earliest_min: int
    ahead: tuple[int, ...]
    """Steps that may be done long before: nothing holds or limits them, and they need no step that is tied."""
    core: tuple[int, ...]
    behind: tuple[int, ...]
    """Steps after all ties."""
    lasting: tuple[int, ...]
    """Those among the ties but for steps that only free what was held, as they start: to the end of drying, say."""
    late: frozenset[int]
    """Steps after all longest times but those that begin where another ends; the skin is tight."""
    tails: tuple[int, ...]
    """For each step the least time from its start to the job's end."""
    heads: tuple[int, ...]
    """For each step the least time from the job's start to its own."""


Deadlines = tuple[tuple[int, ...], ...]
"""By job and step the latest end with which the run can end in time."""


@dataclass(frozen=True, slots=True)
class Shop:
    """All that is needed to place a run."""

    tasks: tuple[Task, ...]
    units: tuple[int, ...]
    """Units of each resource by number."""
    calendar: Calendar
    own_hands: bool
    """Whether each job has hands of its own."""
    known: dict[int, Deadlines] = field(default_factory=dict)
    """Deadlines worked out before, by the finish that they are for."""

    def deadlines(self, finish: int) -> Deadlines:
        """Return by job and step the latest end from which the job alone can still be over by a finish."""
        if finish not in self.known:
            self.known[finish] = tuple(_deadlines(self.calendar, task, finish) for task in self.tasks)
        return self.known[finish]

    def due(self, finish: int) -> Deadlines:
        """Return the deadlines for ending a working day before a finish."""
        return self.deadlines(self.calendar.closing_before(finish))


def compile_run(run: Run) -> Shop:
    """Return a run by numbers."""
    hands = [1] * len(run.jobs) if run.own_hands else [run.people]
    numbers = {resource.name: len(hands) + index for index, resource in enumerate(run.resources)}
    ranks: dict[str, int] = {}
    families: dict[tuple[str, int], int] = {}
    for job in run.jobs:
        for operation in job.operations:
            ranks.setdefault(operation.name, len(ranks))
            if operation.may_group and operation.hand_min and not run.own_hands:
                families.setdefault((operation.name, operation.people), len(families))
    tasks = []
    for index, job in enumerate(run.jobs):
        own = index if run.own_hands else PEOPLE
        tasks.append(_task(job, own, numbers, ranks, families))
    return Shop(
        tuple(tasks), (*hands, *(resource.units for resource in run.resources)), Calendar(run.hours), run.own_hands
    )


def _deadlines(calendar: Calendar, task: Task, finish: int) -> tuple[int, ...]:
    ends = [finish - step.wait_min for step in task.steps]
    for index in reversed(range(len(task.steps))):
        step = task.steps[index]
        start = calendar.latest_ending(ends[index], _hands(step), step.may_pause)
        for before in step.after:
            ends[before] = min(ends[before], start - task.steps[before].wait_min)
    return tuple(ends)


def _task(
    job: Job, hands: int, numbers: dict[str, int], ranks: dict[str, int], families: dict[tuple[str, int], int]
) -> Task:
    places = {operation.name: index for index, operation in enumerate(job.operations)}
    steps: list[Step] = []
    rank = 0
    for operation in job.operations:
        rank = max(rank, ranks[operation.name])
        steps.append(_step(operation, places, hands, numbers, families, rank))
    both: list[Longest | Hold] = [*job.longest, *job.holds]
    ties = [_tie(tie, steps, places, numbers) for tie in both]
    by_step = tuple(tuple(tie for tie in ties if index in (tie.since, tie.until)) for index in range(len(steps)))
    ahead, core, behind = _phases(steps, ties)
    return Task(
        tuple(steps),
        tuple(ties),
        by_step,
        job.earliest_min,
        ahead,
        core,
        behind,
        _lasting(core, ties),
        _late(steps, ties),
        _tails(steps),
        _heads(steps),
    )


def _step(
    operation: Operation,
    places: dict[str, int],
    hands: int,
    numbers: dict[str, int],
    families: dict[tuple[str, int], int],
    rank: int,
) -> Step:
    needs = [(numbers[need.resource], need.units) for need in operation.needs]
    if operation.hand_min + operation.setup_min:
        needs.insert(0, (hands, operation.people))
    return Step(
        operation.hand_min,
        operation.setup_min,
        operation.wait_min,
        tuple(places[name] for name in operation.after),
        tuple(needs),
        families.get((operation.name, operation.people), -1) if operation.may_group else -1,
        operation.may_pause,
        rank,
    )


def _tie(tie: Longest | Hold, steps: list[Step], places: dict[str, int], numbers: dict[str, int]) -> Tie:
    since, until = places[tie.since], places[tie.until]
    least = least_time(steps, since, tie.since_edge, until, tie.until_edge)
    if isinstance(tie, Longest):
        return Tie(since, tie.since_edge, until, tie.until_edge, tie.most_min, -1, 0, least)
    return Tie(since, tie.since_edge, until, tie.until_edge, -1, numbers[tie.resource], tie.units, least)


def least_time(steps: Sequence[Step], since: int, since_edge: Edge, until: int, until_edge: Edge) -> int:
    """Return the least minutes from one edge to another, set-ups that can be shared left out; 0 if unconnected."""
    starts: dict[int, int] = {since: 0}
    for index, step in enumerate(steps):
        passed = [starts[i] + _hands(steps[i]) + steps[i].wait_min for i in step.after if i in starts]
        if passed:
            starts[index] = max(passed)
    if until not in starts:
        return 0
    return max(0, starts[until] + offset(steps[until], until_edge) - offset(steps[since], since_edge))


def _hands(step: Step) -> int:
    return step.hand_min + (step.setup_min if step.family < 0 else 0)


def offset(step: Step, edge: Edge) -> int:
    """Return how far an edge lies after the step's start, its set-up shared where it can be."""
    if edge is Edge.START:
        return 0
    return _hands(step) + (step.wait_min if edge is Edge.WAITED else 0)


def _heads(steps: list[Step]) -> tuple[int, ...]:
    heads: list[int] = []
    for step in steps:
        heads.append(max((heads[i] + _hands(steps[i]) + steps[i].wait_min for i in step.after), default=0))
    return tuple(heads)


def _lasting(core: tuple[int, ...], ties: list[Tie]) -> tuple[int, ...]:
    freeing = {tie.until for tie in ties if tie.resource >= 0 and tie.until_edge is Edge.START}
    freeing -= {tie.since for tie in ties} | {tie.until for tie in ties if tie.resource < 0}
    return tuple(index for index in core if index not in freeing)


def _late(steps: list[Step], ties: list[Tie]) -> frozenset[int]:
    ended = {tie.until for tie in ties if tie.resource < 0}
    before = {tie.until for tie in ties if tie.resource < 0 and tie.since not in ended}
    for index in reversed(range(len(steps))):
        if index in before:
            before |= set(steps[index].after)
    return frozenset(range(len(steps))) - before if before else frozenset()


def _tails(steps: list[Step]) -> tuple[int, ...]:
    tails = [_hands(step) + step.wait_min for step in steps]
    for index in reversed(range(len(steps))):
        for before in steps[index].after:
            tails[before] = max(tails[before], _hands(steps[before]) + steps[before].wait_min + tails[index])
    return tuple(tails)


def _phases(steps: list[Step], ties: list[Tie]) -> tuple[tuple[int, ...], tuple[int, ...], tuple[int, ...]]:
    """Return the steps ahead of, among and behind the ties; all are ahead where there are none."""
    tied = {tie.since for tie in ties} | {tie.until for tie in ties}
    behind_since: set[int] = set()
    """Steps that are tied or come after one that is."""
    for index, step in enumerate(steps):
        if index in tied or behind_since & set(step.after):
            behind_since.add(index)
    before_until = set(tied)
    for index in reversed(range(len(steps))):
        if index in before_until:
            before_until |= set(steps[index].after)
    if not ties:
        return (), tuple(range(len(steps))), ()
    ahead = tuple(i for i in range(len(steps)) if i not in behind_since)
    behind = tuple(i for i in range(len(steps)) if i in behind_since and i not in before_until)
    core = tuple(i for i in range(len(steps)) if i in behind_since and i in before_until)
    return ahead, core, behind
