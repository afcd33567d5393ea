"""Working hours: when hands work, as whole minutes from midnight of the first day.

Times are integers so that every machine gets the same schedule; dates appear only at the edge.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

HOUR_MIN = 60
DAY_MIN = 24 * HOUR_MIN
WEEK_DAYS = 7
AHEAD_MIN = 4 * WEEK_DAYS * DAY_MIN
"""How far hours without any break are laid out at a time; no stretch of work is longer."""

LONGEST_CLOSURE_DAYS = 366
"""A workshop that is shut longer than a year has no working hours."""

Span = tuple[int, int]
"""A start and an end in minutes; the end does not belong to it."""


@dataclass(frozen=True, slots=True)
class WorkingHours:
    """The hours of a week and the days off. Errors: ValueError for hours that overlap or lie outside their day."""

    first_day: date
    """The day whose midnight is minute 0."""
    week: tuple[tuple[Span, ...], ...]
    """Seven days, Monday first; for each its spans in minutes of the day, in order: `((540, 750), (810, 1020))`."""
    days_off: tuple[date, ...] = ()

    def __post_init__(self) -> None:
        """Check the hours."""
        if len(self.week) != WEEK_DAYS:
            raise ValueError(f"a week has {WEEK_DAYS} days, not {len(self.week)}")
        for spans in self.week:
            edges = [edge for span in spans for edge in span]
            if edges != sorted(set(edges)) or (edges and not 0 <= edges[0] < edges[-1] <= DAY_MIN):
                raise ValueError(f"hours of a day must follow one another: {spans!r}")

    def of_day(self, number: int) -> tuple[Span, ...]:
        """Return the spans of a day, counted from 0, in minutes from the start of day 0."""
        day = self.first_day + timedelta(days=number)
        if day in self.days_off:
            return ()
        return tuple((number * DAY_MIN + start, number * DAY_MIN + end) for start, end in self.week[day.weekday()])

    def moment(self, minute: int) -> datetime:
        """Return the date and time of a minute."""
        return datetime.combine(self.first_day, time()) + timedelta(minutes=minute)

    def minute(self, moment: datetime) -> int:
        """Return the minute of a date and time; its seconds are dropped."""
        return int((moment - datetime.combine(self.first_day, time())).total_seconds() // 60)


@dataclass(slots=True)
class Calendar:
    """Working hours laid out as one row of spans that grows as it is asked for; spans that touch are one."""

    hours: WorkingHours
    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    days: int = 0
    sure: int = -1
    """Up to here enough is laid out."""

    def _reaches(self, minute: int) -> bool:
        """Tell whether enough is laid out: a span beyond the minute, or one without end far beyond it."""
        return bool(self.ends) and (self.starts[-1] > minute or self.ends[-1] > minute + AHEAD_MIN)

    def _grow(self, minute: int) -> None:
        """Lay out days until they reach beyond the minute."""
        empty = 0
        while not self._reaches(minute):
            spans = self.hours.of_day(self.days)
            self.days += 1
            empty = 0 if spans else empty + 1
            if empty > LONGEST_CLOSURE_DAYS:
                raise ValueError("no working hours")
            for start, end in spans:
                if self.ends and self.ends[-1] == start:
                    self.ends[-1] = end
                else:
                    self.starts.append(start)
                    self.ends.append(end)

    def span(self, minute: int) -> Span:
        """Return the span that holds a minute, or the next one."""
        if minute > self.sure:
            self._grow(minute)
            self.sure = minute
        index = bisect_right(self.ends, minute)
        return self.starts[index], self.ends[index]

    def start(self, minute: int, hand_min: int, may_pause: bool = False) -> int:
        """Return the first minute from which so much work may start; it is not split unless it may pause.

        Work without hand time may start at any minute. The work must fit in some span or be allowed to pause.
        """
        if not hand_min:
            return minute
        while True:
            opens, closes = self.span(minute)
            if opens > minute:
                minute = opens
            if may_pause or minute + hand_min <= closes:
                return minute
            minute = closes

    def end(self, start: int, hand_min: int) -> int:
        """Return when work ends that started in a working minute and pauses with the hours."""
        minute, left = start, hand_min
        while left:
            opens, closes = self.span(minute)
            minute = max(minute, opens)
            done = min(left, closes - minute)
            minute, left = minute + done, left - done
        return minute

    def latest(self, minute: int, hand_min: int, may_pause: bool = False) -> int:
        """Return the last minute up to a minute at which so much work may start; see `start`.

        Before the first working hours any minute will do: nothing starts there anyhow.
        """
        if not hand_min:
            return minute
        self._grow(minute)
        for index in range(bisect_right(self.starts, minute) - 1, -1, -1):
            last = min(minute, self.ends[index] - (1 if may_pause else hand_min))
            if last >= self.starts[index]:
                return last
        return minute

    def latest_ending(self, minute: int, hand_min: int, may_pause: bool = False) -> int:
        """Return the last minute at which so much work may start that is to end by a minute; see `latest`."""
        if not may_pause or not hand_min:
            return self.latest(minute - hand_min, hand_min)
        self._grow(minute)
        left = hand_min
        for index in range(bisect_right(self.starts, minute) - 1, -1, -1):
            done = min(minute, self.ends[index]) - self.starts[index]
            if done >= left:
                return self.starts[index] + done - left
            left -= done
        return min(minute, self.starts[0]) - left

    def closing_before(self, minute: int) -> int:
        """Return when work ended on the last working day before that of a minute; the minute of that day if none."""
        day = minute // DAY_MIN * DAY_MIN
        self._grow(day)
        index = bisect_left(self.starts, day) - 1
        return min(self.ends[index], day) if index >= 0 else day

    def longest_span(self) -> int:
        """Return the longest stretch of work without a break, of the days off and of four weeks."""
        self._grow(AHEAD_MIN)
        return max(end - start for start, end in zip(self.starts, self.ends, strict=True))
