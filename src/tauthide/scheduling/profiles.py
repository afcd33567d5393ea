"""How much of something is taken at each moment: people, tub places, drying places."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

LONG_AGO = -1


class Profile:
    """Units taken as a step function: `levels[i]` from `times[i]` to `times[i + 1]`, the last one for ever."""

    __slots__ = ("levels", "times", "units")

    def __init__(self, units: int) -> None:
        """Start with nothing taken of so many units."""
        self.units = units
        self.times = [LONG_AGO]
        self.levels = [0]

    def copy(self) -> Profile:
        """Return a copy that changes by itself."""
        other = Profile.__new__(Profile)
        other.units, other.times, other.levels = self.units, self.times.copy(), self.levels.copy()
        return other

    def _cut(self, minute: int) -> int:
        """Return the index of the step that starts at a minute, made if need be."""
        index = bisect_left(self.times, minute)
        if index == len(self.times) or self.times[index] != minute:
            self.times.insert(index, minute)
            self.levels.insert(index, self.levels[index - 1])
        return index

    def _join(self, index: int) -> None:
        """Drop a step that is as high as the one before it."""
        if index and self.levels[index] == self.levels[index - 1]:
            del self.times[index], self.levels[index]

    def add(self, start: int, end: int, units: int) -> None:
        """Take units from a start to an end; negative units give back."""
        if start >= end:
            return
        first, last = self._cut(start), self._cut(end)
        for index in range(first, last):
            self.levels[index] += units
        self._join(last)
        self._join(first)

    def earliest(self, start: int, minutes: int, units: int) -> int:
        """Return the first minute from a start at which so many units are free for so long."""
        if not minutes:
            return start
        room, times, levels = self.units - units, self.times, self.levels
        index, last = bisect_right(times, start) - 1, len(times) - 1
        while True:
            while index < last and times[index] < start + minutes and levels[index] <= room:
                index += 1
            if times[index] >= start + minutes or levels[index] <= room:
                return start
            while levels[index] > room:
                index += 1
            start = times[index]

    def clash(self, start: int, end: int, units: int) -> int | None:
        """Return when the last moment is over, within a time, at which the units are not free; None if they are."""
        room, times, levels = self.units - units, self.times, self.levels
        index = bisect_left(times, end) - 1
        while index >= 0 and (index + 1 == len(times) or times[index + 1] > start):
            if levels[index] > room:
                return times[index + 1]
            index -= 1
        return None
