"""Networks of activities with least and most times between them: early and late times, slack, critical paths.

Finish-to-start lags are told by the caller as what they are; inside, everything counts from start to start. Method: the
longest paths of a network with generalised precedence (Bellman and Ford), as in textbooks on project scheduling.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

MOST_PATHS = 1000
"""More critical paths than anybody reads: the rest is left out."""


FAR_MIN = 10**9
"""Longer than any network."""


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


@dataclass(frozen=True, slots=True)
class Times:
    """When an activity may start and end."""

    name: str
    early_start: int
    early_end: int
    late_start: int
    late_end: int

    @property
    def slack(self) -> int:
        """Return by how much it may be late without delaying the whole."""
        return self.late_start - self.early_start


@dataclass(frozen=True, slots=True)
class Timetable:
    """The times of a network."""

    times: tuple[Times, ...]
    """In the order of the activities."""
    length: int
    paths: tuple[tuple[str, ...], ...]
    """All critical paths, by name; each from an activity that starts at 0 to one that ends last."""


@dataclass(frozen=True, slots=True)
class Clash:
    """A longest time that is shorter than what must happen within it."""

    since: str
    until: str
    short_min: int
    """By how much it is short."""
    cycle: tuple[str, ...]
    """The activities between the two, both included."""


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


def work_out_times(activities: tuple[Activity, ...], lags: Iterable[Lag]) -> Timetable | Clash:
    """Return early and late times and critical paths, or the first longest time that cannot be kept."""
    lags = tuple(lags)
    known = arcs(activities, lags)
    early = earliest_starts(len(activities), known)
    if isinstance(early, tuple):
        return _clash(activities, known, early)
    length = max((start + each.minutes for start, each in zip(early, activities, strict=True)), default=0)
    tails = earliest_starts(len(activities), [(after, before, minutes) for before, after, minutes in known],
                            [activity.minutes for activity in activities])  # fmt: skip
    assert isinstance(tails, list), "a network without positive cycles has none backwards either"
    times = tuple(
        Times(activity.name, start, start + activity.minutes, length - tail, length - tail + activity.minutes)
        for activity, start, tail in zip(activities, early, tails, strict=True)
    )
    return Timetable(times, length, _paths(activities, known, times, length))


def earliest_starts(count: int, known: list[Arc], least: list[int] | None = None) -> list[int] | tuple[int, ...]:
    """Return the earliest starts from 0, or from a least each; a positive cycle as a tuple if there is one."""
    starts = list(least) if least else [0] * count
    cause = [-1] * count
    for _ in range(count + 1):
        moved = -1
        for before, after, minutes in known:
            if starts[before] + minutes > starts[after]:
                starts[after] = starts[before] + minutes
                cause[after] = before
                moved = after
        if moved < 0:
            return starts
    return _cycle(cause, moved)


def _cycle(cause: list[int], at: int) -> tuple[int, ...]:
    """Return the activities of the cycle that keeps pushing, in the order of the arcs."""
    for _ in cause:
        at = cause[at]
    cycle = [at]
    while cause[cycle[-1]] != at:
        cycle.append(cause[cycle[-1]])
    return tuple(reversed(cycle))


def _clash(activities: tuple[Activity, ...], known: list[Arc], cycle: tuple[int, ...]) -> Clash:
    """Return the cycle as a longest time: it starts where an arc that goes back leads to."""
    longest = {(before, after): minutes for before, after, minutes in sorted(known, key=lambda arc: arc[2])}
    pairs = list(zip(cycle, (*cycle[1:], cycle[0]), strict=True))
    back = min(range(len(pairs)), key=lambda index: (longest[pairs[index]], index))
    order = (*cycle[back + 1 :], *cycle[: back + 1])
    names = tuple(activities[index].name for index in order)
    onward = [arc for arc in known if arc[2] >= 0]
    apart = earliest_starts(len(activities), onward, [0 if i == order[0] else -FAR_MIN for i in range(len(activities))])
    if isinstance(apart, tuple):
        return Clash(names[0], names[-1], sum(longest[pair] for pair in pairs), names)
    return Clash(names[0], names[-1], apart[order[-1]] + longest[pairs[back]], names)


def _paths(
    activities: tuple[Activity, ...], known: list[Arc], times: tuple[Times, ...], length: int
) -> tuple[tuple[str, ...], ...]:
    """Return all paths without slack, in the order of the activities; longest times are not steps of a path."""
    critical = {index for index, each in enumerate(times) if not each.slack}
    steps: dict[int, list[int]] = {index: [] for index in critical}
    entered = set()
    for before, after, minutes in sorted(set(known)):
        if minutes >= 0 and {before, after} <= critical and before != after:
            tight = times[before].early_start + minutes == times[after].early_start
            if tight and after not in steps[before]:
                steps[before].append(after)
                entered.add(after)
    paths: list[tuple[str, ...]] = []

    def follow(index: int, trail: tuple[int, ...]) -> None:
        if len(paths) == MOST_PATHS:
            return
        trail = (*trail, index)
        onward = [each for each in steps[index] if each not in trail]
        if times[index].early_end == length and not onward:
            paths.append(tuple(activities[each].name for each in trail))
        for each in onward:
            follow(each, trail)

    for index in sorted(critical - entered):
        follow(index, ())
    return tuple(paths)
