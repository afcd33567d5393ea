"""Proven shortest schedules of small networks with resources and longest times, by branch and bound.

At the earliest starts, the first moment at which more is needed than there is gives activities that overlap; one of
them must wait until another ends. Each such pair is a branch, a network with one more lag, searched best bound first.
Method: as in De Reyck and Herroelen 1998 (European Journal of Operational Research 111), without their refinements.
"""

from __future__ import annotations

from collections.abc import Iterable
from heapq import heappop, heappush

from tauthide.scheduling.networks import Activity, Arc, Lag, arcs, earliest_starts

MOST_BRANCHES = 200_000
"""Beyond this a network is not small."""


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
        if isinstance(starts, list):
            ends = [start + activity.minutes for start, activity in zip(starts, activities, strict=True)]
            heappush(heap, (max(ends, default=0), -len(added), added))

    push(())
    while heap:
        branches += 1
        if branches > MOST_BRANCHES:
            raise TooLargeError(f"more than {MOST_BRANCHES} branches")
        added = heappop(heap)[2]
        starts = earliest_starts(len(activities), [*known, *added])
        assert isinstance(starts, list)
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
