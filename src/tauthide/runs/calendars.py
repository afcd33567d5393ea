"""When people work: the week's hours without the breaks, and the days off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from tauthide.reading.located import Data

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
"""As they are written, in the order of `date.weekday()`."""

MIN_PER_HOUR = 60

Interval = tuple[int, int]
"""From and to, in minutes since midnight; from 0 to 1440."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """When people work."""

    week: tuple[tuple[Interval, ...], ...]
    """For each day from Monday to Sunday its working intervals, in order, clear of each other."""
    days_off: frozenset[date]
    """Days without work, whatever the week says."""

    def intervals(self, day: date) -> tuple[Interval, ...]:
        """Return the working intervals of a day, in minutes since its midnight."""
        return () if day in self.days_off else self.week[day.weekday()]


def minutes(written: Data) -> int:
    """Return the minutes since midnight of a time such as `9:00`."""
    hours, _, rest = str(written).partition(":")
    return int(hours) * MIN_PER_HOUR + int(rest)


def clock(time_min: int) -> str:
    """Return minutes since midnight as a time of day: `9:00`."""
    return f"{time_min // MIN_PER_HOUR}:{time_min % MIN_PER_HOUR:02}"


def without(interval: Interval, breaks: tuple[Interval, ...]) -> tuple[Interval, ...]:
    """Return what is left of an interval between breaks that lie in it, in order and clear of each other."""
    bounds = (interval[0], *(bound for pause in sorted(breaks) for bound in pause), interval[1])
    pieces = zip(bounds[::2], bounds[1::2], strict=True)
    return tuple((start, end) for start, end in pieces if start < end)


def joined(intervals: list[Interval]) -> tuple[Interval, ...]:
    """Return intervals in order, those that touch as one; they do not overlap."""
    kept: list[Interval] = []
    for start, end in sorted(intervals):
        if kept and kept[-1][1] == start:
            kept[-1] = (kept[-1][0], end)
        else:
            kept.append((start, end))
    return tuple(kept)
