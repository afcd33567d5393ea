"""How late each operation of a schedule may start, and what its finish hangs on.

Everything stays in the same hands and places and in the same order. Method: late times and critical paths as in
textbooks on network planning, with working hours and longest times.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from tauthide.scheduling.hours import Calendar
from tauthide.scheduling.jobs import Edge, Operation, Run
from tauthide.scheduling.schedule import Held, Schedule

MOST_CHAINS = 20
"""More chains than anybody reads: the rest is left out."""

Key = tuple[str, str]
"""A job and one of its operations."""


@dataclass(frozen=True, slots=True)
class Slack:
    """How late the operations of a schedule may be."""

    late_min: dict[Key, int]
    """The latest start of each with which the run ends no later, if what comes before it may be late too."""
    latest_min: dict[Key, int]
    """The latest start of each with which the run ends no later and no longest time is overrun, if all that starts
    before it starts as planned."""
    chains: tuple[tuple[Key, ...], ...]
    """What the finish hangs on: chains of operations without slack, each straight after the one before as hands,
    places, waits and hours allow; 20 at most."""


@dataclass(frozen=True, slots=True)
class _Arc:
    """The least time from an edge of one work to an edge of another, by their numbers."""

    before: int
    before_edge: Edge
    after: int
    after_edge: Edge
    minutes: int
    onward: bool = True
    """Whether one follows on the other; not where a longest time, or a group, ties the earlier to the later."""


class _Network:
    """The works of a schedule and the arcs between them."""

    def __init__(self, run: Run, schedule: Schedule) -> None:
        self.calendar = Calendar(run.hours)
        operations = {(job.name, operation.name): operation for job in run.jobs for operation in job.operations}
        self.works = schedule.works
        self.keys: list[Key] = [(work.job, work.operation) for work in self.works]
        self.places = {key: number for number, key in enumerate(self.keys)}
        self.operations: list[Operation] = [operations[key] for key in self.keys]
        self.minutes = [operation.hand_min + work.setup_min
                        for operation, work in zip(self.operations, self.works, strict=True)]  # fmt: skip
        self.finish = schedule.finish_min
        self.arcs = [*self._orders(run), *self._hands(), *self._held(schedule.held)]
        self.windows = list(self._windows(run))

    def _orders(self, run: Run) -> Iterator[_Arc]:
        for job in run.jobs:
            for operation in job.operations:
                for before in operation.after:
                    number = self.places[job.name, before]
                    yield _Arc(number, Edge.END, self.places[job.name, operation.name], Edge.START,
                               self.operations[number].wait_min)  # fmt: skip

    def _hands(self) -> Iterator[_Arc]:
        """Yield that nobody does two things at once, and that a group goes straight on."""
        by_person: dict[int, list[int]] = defaultdict(list)
        for number, work in enumerate(self.works):
            for person in work.people:
                by_person[person].append(number)
        for numbers in by_person.values():
            for before, after in pairwise(numbers):
                yield _Arc(before, Edge.END, after, Edge.START, 0)
                if self.works[before].group == self.works[after].group:
                    yield _Arc(after, Edge.START, before, Edge.END, 0, False)

    def _held(self, held: tuple[Held, ...]) -> Iterator[_Arc]:
        """Yield that a place is free again before it is taken anew."""
        last: dict[tuple[str, int], Held] = {}
        for each in held:
            for place in each.places:
                before = last.get((each.resource, place))
                if before is not None:
                    number = self.places[before.job, before.until.operation]
                    edge, minutes = self._edge(number, before.until.edge)
                    after = self.places[each.job, each.since.operation]
                    after_edge, later = self._edge(after, each.since.edge)
                    yield _Arc(number, edge, after, after_edge, minutes - later)
                last[each.resource, place] = each

    def _windows(self, run: Run) -> Iterator[_Arc]:
        for job in run.jobs:
            for longest in job.longest:
                since, until = self.places[job.name, longest.since], self.places[job.name, longest.until]
                since_edge, since_min = self._edge(since, longest.since_edge)
                until_edge, until_min = self._edge(until, longest.until_edge)
                minutes = until_min - since_min - longest.most_min
                yield _Arc(until, until_edge, since, since_edge, minutes, False)

    def _edge(self, number: int, edge: Edge) -> tuple[Edge, int]:
        """Return an edge as a start or an end, and the minutes from it."""
        return (Edge.END, self.operations[number].wait_min) if edge is Edge.WAITED else (edge, 0)

    def at(self, number: int, edge: Edge, start: int) -> int:
        """Return the minute of an edge of a work that starts at a minute."""
        if edge is Edge.START:
            return start
        if self.operations[number].may_pause:
            return self.calendar.end(start, self.minutes[number])
        return start + self.minutes[number]

    def last(self, number: int, edge: Edge, minute: int) -> int:
        """Return the last start of a work whose edge lies no later than a minute."""
        latest = self.calendar.latest if edge is Edge.START else self.calendar.latest_ending
        return latest(minute, self.minutes[number], self.operations[number].may_pause)

    def late_starts(self, as_planned: bool) -> list[int]:
        """Return the latest starts; with longest times that count from where they begin in the plan, or from later."""
        late = [self.last(number, Edge.END, self.finish - operation.wait_min)
                for number, operation in enumerate(self.operations)]  # fmt: skip
        arcs = self.arcs.copy()
        for arc in self.windows:
            if as_planned:
                begun = self.at(arc.after, arc.after_edge, self.works[arc.after].start_min)
                late[arc.before] = min(late[arc.before], self.last(arc.before, arc.before_edge, begun - arc.minutes))
            else:
                arcs.append(arc)
        into: dict[int, list[_Arc]] = defaultdict(list)
        for arc in arcs:
            into[arc.after].append(arc)
        waiting = deque(range(len(late) - 1, -1, -1))
        is_waiting = [True] * len(late)
        while waiting:
            after = waiting.popleft()
            is_waiting[after] = False
            for arc in into[after]:
                minute = self.at(after, arc.after_edge, late[after]) - arc.minutes
                start = self.last(arc.before, arc.before_edge, minute)
                if start < late[arc.before]:
                    late[arc.before] = start
                    if not is_waiting[arc.before]:
                        is_waiting[arc.before] = True
                        waiting.append(arc.before)
        return late

    def next_critical(self, late: list[int]) -> tuple[dict[int, list[int]], set[int]]:
        """Return the works without slack that follow straight on each of them, and those with which the run ends."""
        critical = [start == work.start_min for start, work in zip(late, self.works, strict=True)]
        following: dict[int, list[int]] = defaultdict(list)
        for arc in self.arcs:
            known = following[arc.before]
            both = arc.onward and critical[arc.before] and critical[arc.after]
            if both and arc.after not in known and self._is_tight(arc):
                known.append(arc.after)
        ending = {number for number, work in enumerate(self.works)
                  if work.end_min + self.operations[number].wait_min == self.finish}  # fmt: skip
        return following, ending

    def _is_tight(self, arc: _Arc) -> bool:
        """Tell whether a work starts, or ends, as soon as the arc and the hours allow."""
        after, work = arc.after, self.works[arc.after]
        minute = self.at(arc.before, arc.before_edge, self.works[arc.before].start_min) + arc.minutes
        if arc.after_edge is Edge.END:
            return minute == work.end_min
        first = self.calendar.start(minute, self.minutes[after], self.operations[after].may_pause)
        return first == work.start_min


def find_slack(run: Run, schedule: Schedule) -> Slack:
    """Return how late the operations of a sound schedule may be, in minutes as the schedule counts them."""
    network = _Network(run, schedule)
    late, latest = network.late_starts(False), network.late_starts(True)
    return Slack(
        dict(zip(network.keys, late, strict=True)),
        dict(zip(network.keys, latest, strict=True)),
        tuple(tuple(network.keys[number] for number in chain) for chain in _chains(network, late)),
    )


def _chains(network: _Network, late: list[int]) -> list[tuple[int, ...]]:
    """Return chains of works without slack, each from one that follows straight on no other to the run's end."""
    following, ending = network.next_critical(late)
    reaching = _reaching(following, ending)
    entered = {after for before in reaching for after in following[before]}
    found: list[tuple[int, ...]] = []
    trails: list[tuple[int, ...]] = [(number,) for number in sorted(reaching - entered, reverse=True)]
    while trails and len(found) < MOST_CHAINS:
        trail = trails.pop()
        onward = [after for after in following[trail[-1]] if after in reaching and after not in trail]
        if trail[-1] in ending and not onward:
            found.append(trail)
        trails += [(*trail, after) for after in sorted(onward, reverse=True)]
    return found


def _reaching(following: dict[int, list[int]], ending: set[int]) -> set[int]:
    """Return the works from which a chain leads to the end."""
    before: dict[int, list[int]] = defaultdict(list)
    for number, after in following.items():
        for each in after:
            before[each].append(number)
    reaching, waiting = set(), list(ending)
    while waiting:
        number = waiting.pop()
        if number not in reaching:
            reaching.add(number)
            waiting += before[number]
    return reaching
