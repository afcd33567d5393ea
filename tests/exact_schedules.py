"""Proven shortest schedules of small networks with resources and longest times, by branch and bound, for tests.

They know nothing of how the package makes schedules; `run_of` hands the same network to it.

At the earliest starts, the first moment at which more is needed than there is gives activities that overlap; one of
them must wait until another ends. Each such pair is a branch, a network with one more lag, searched best bound first.
Method: as in De Reyck and Herroelen 1998 (European Journal of Operational Research 111), without their refinements.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from heapq import heappop, heappush

from tauthide.scheduling.hours import DAY_MIN, WorkingHours
from tauthide.scheduling.jobs import Edge, Job, Longest, Need, Operation, Resource, Run

ALWAYS = WorkingHours(date(2026, 1, 5), (((0, DAY_MIN),),) * 7)
"""Work by day and by night."""

MOST_BRANCHES = 200_000
"""Beyond this a network is not small."""


@dataclass(frozen=True, slots=True)
class Activity:
    """An activity of a network."""

    name: str
    minutes: int
    needs: tuple[int, ...] = ()
    """Units of each resource, in the order of the resources; none if empty."""


@dataclass(frozen=True, slots=True)
class Lag:
    """The least, or the most, time from the start or end of one activity to the start of another."""

    before: str
    after: str
    minutes: int = 0
    from_end: bool = True
    """Whether it counts from the end of the first activity; otherwise from its start."""
    most: bool = False
    """Whether it is the longest time; otherwise the least."""


Arc = tuple[int, int, int]
"""Two activities by number and the least time from the first's start to the second's; negative for a longest time."""


def arcs(activities: tuple[Activity, ...], lags: Iterable[Lag]) -> list[Arc]:
    """Return all lags from start to start. Errors: KeyError for an unknown name."""
    places = {activity.name: index for index, activity in enumerate(activities)}
    found = []
    for lag in lags:
        before, after = places[lag.before], places[lag.after]
        minutes = lag.minutes + (activities[before].minutes if lag.from_end else 0)
        found.append((after, before, -minutes) if lag.most else (before, after, minutes))
    return found


def earliest_starts(count: int, known: list[Arc]) -> list[int] | None:
    """Return the earliest starts from 0; None if there are none."""
    starts = [0] * count
    for _ in range(count + 1):
        moved = False
        for before, after, minutes in known:
            if starts[before] + minutes > starts[after]:
                starts[after] = starts[before] + minutes
                moved = True
        if not moved:
            return starts
    return None


def run_of(activities: tuple[Activity, ...], lags: Iterable[Lag], units: tuple[int, ...]) -> Run:
    """Return a network as one job of a run: one pair of hands for each activity, and its resources.

    Lags may count from starts, which operations do not know. So an activity is two operations, one without hand time
    that only begins it, and the work, which starts at that very minute; a least time is a wait after the beginning.
    Activities must be given so that each comes after those with a least time before it.
    """
    operations: list[Operation] = []
    longest: list[Longest] = []
    least: dict[str, list[tuple[str, int]]] = {}
    minutes = {activity.name: activity.minutes for activity in activities}
    for lag in lags:
        apart = lag.minutes + minutes[lag.before] * lag.from_end
        if lag.most:
            longest.append(_apart(lag.before, lag.after, apart))
        elif apart < 0:
            longest.append(_apart(lag.after, lag.before, -apart))
        else:
            least.setdefault(lag.after, []).append((lag.before, apart))
    for activity in activities:
        waits = [f"{before}, then {apart} min to {activity.name}" for before, apart in least.get(activity.name, ())]
        for name, (before, apart) in zip(waits, least.get(activity.name, ()), strict=True):
            operations.append(Operation(name, 0, (f"begin {before}",), apart))
        needs = tuple(Need(f"r{place}", need) for place, need in enumerate(activity.needs) if need)
        operations.append(Operation(f"begin {activity.name}", 0, tuple(waits)))
        operations.append(Operation(activity.name, activity.minutes, (f"begin {activity.name}",), needs=needs))
        longest.append(Longest(f"begin {activity.name}", activity.name, 0, Edge.START, Edge.START))
    resources = tuple(Resource(f"r{place}", most) for place, most in enumerate(units))
    return Run((Job("network", tuple(operations), tuple(longest)),), len(activities), ALWAYS, resources)


def _apart(before: str, after: str, minutes: int) -> Longest:
    return Longest(f"begin {before}", f"begin {after}", minutes, Edge.START, Edge.START)


class TooLargeError(Exception):
    """A network that is too large to be solved exactly."""


def solve_exactly(
    activities: tuple[Activity, ...], lags: Iterable[Lag], units: tuple[int, ...]
) -> tuple[int, ...] | None:
    """Return the starts of a shortest schedule, None if there is no schedule. Errors: TooLargeError."""
    known = arcs(activities, lags)
    heap: list[tuple[int, int, tuple[Arc, ...]]] = []
    seen: set[frozenset[Arc]] = set()
    branches = 0

    def push(added: tuple[Arc, ...]) -> None:
        key = frozenset(added)
        if key in seen:
            return
        seen.add(key)
        starts = earliest_starts(len(activities), [*known, *added])
        if starts is not None:
            ends = [start + activity.minutes for start, activity in zip(starts, activities, strict=True)]
            heappush(heap, (max(ends, default=0), -len(added), added))

    push(())
    while heap:
        branches += 1
        if branches > MOST_BRANCHES:
            raise TooLargeError(f"more than {MOST_BRANCHES} branches")
        added = heappop(heap)[2]
        starts = earliest_starts(len(activities), [*known, *added])
        assert starts is not None
        clash = _first_clash(activities, starts, units)
        if not clash:
            return tuple(starts)
        for before in clash:
            for after in clash:
                if before != after:
                    push((*added, (before, after, activities[before].minutes)))
    return None


def _first_clash(activities: tuple[Activity, ...], starts: list[int], units: tuple[int, ...]) -> list[int]:
    """Return a smallest set of activities that overlap and together need too much; empty if there is none."""
    for minute in sorted(set(starts)):
        running = [
            index
            for index, activity in enumerate(activities)
            if starts[index] <= minute < starts[index] + activity.minutes
        ]
        for resource, most in enumerate(units):
            needs = {index: _need(activities[index], resource) for index in running}
            if sum(needs.values()) > most:
                return _fewest(needs, most)
    return []


def _fewest(needs: dict[int, int], most: int) -> list[int]:
    """Return the activities that need most, just enough of them to exceed what there is."""
    chosen: list[int] = []
    for index in sorted(needs, key=lambda index: (-needs[index], index)):
        chosen.append(index)
        if sum(needs[each] for each in chosen) > most:
            break
    return chosen


def _need(activity: Activity, resource: int) -> int:
    return activity.needs[resource] if activity.needs else 0
