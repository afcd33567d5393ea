"""Working hours: dates at the edge, days off, spans, and what is no timetable at all."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runs import DAY, MONDAY, every_weekday
from tauthide.scheduling.hours import Calendar, WorkingHours

HOURS = every_weekday(MONDAY, DAY, (date(2026, 3, 4),))


@pytest.mark.parametrize(
    ("after", "minutes", "expected"),
    [
        ("2026-03-02 08:00", 30, "2026-03-02 09:00"),
        ("2026-03-02 12:00", 30, "2026-03-02 12:00"),
        ("2026-03-02 12:01", 30, "2026-03-02 13:30"),
        ("2026-03-02 16:31", 30, "2026-03-03 09:00"),
        ("2026-03-03 17:00", 1, "2026-03-05 09:00"),  # the Wednesday is a day off
        ("2026-03-06 16:45", 30, "2026-03-09 09:00"),
        ("2026-03-08 03:00", 0, "2026-03-08 03:00"),  # what needs no hands may start on a Sunday night
    ],
)
def test_first_start(after: str, minutes: int, expected: str) -> None:
    start = Calendar(HOURS).start(HOURS.minute(datetime.fromisoformat(after)), minutes)
    assert HOURS.moment(start) == datetime.fromisoformat(expected)


def test_pausing_goes_over_breaks_nights_and_days_off() -> None:
    calendar = Calendar(HOURS)
    start = HOURS.minute(datetime(2026, 3, 3, 12, 0))
    assert HOURS.moment(calendar.end(start, 30 + 210 + 45)) == datetime(2026, 3, 5, 9, 45)


@given(st.integers(600, 20_000), st.integers(0, 210), st.booleans())
def test_latest_start_is_the_last_that_may_be(minute: int, hand_min: int, may_pause: bool) -> None:
    """Against every minute before, one by one."""
    calendar = Calendar(HOURS)
    allowed = [start for start in range(540, minute + 1) if calendar.start(start, hand_min, may_pause) == start]
    assert calendar.latest(minute, hand_min, may_pause) == max(allowed)
    ending = [start for start in allowed if _end(calendar, start, hand_min, may_pause) <= minute]
    if ending:
        assert calendar.latest_ending(minute, hand_min, may_pause) == max(ending)
    else:
        assert calendar.latest_ending(minute, hand_min, may_pause) < 540


def _end(calendar: Calendar, start: int, hand_min: int, may_pause: bool) -> int:
    return calendar.end(start, hand_min) if may_pause else start + hand_min


@pytest.mark.parametrize(
    ("minute", "expected"),
    [("2026-03-03 10:00", "2026-03-02 17:00"), ("2026-03-05 09:00", "2026-03-03 17:00"),
     ("2026-03-09 09:13", "2026-03-06 17:00"), ("2026-03-02 12:00", "2026-03-02 00:00")],
)  # fmt: skip
def test_closing_on_the_last_working_day_before(minute: str, expected: str) -> None:
    closing = Calendar(HOURS).closing_before(HOURS.minute(datetime.fromisoformat(minute)))
    assert HOURS.moment(closing) == datetime.fromisoformat(expected)


def test_longest_span() -> None:
    assert Calendar(HOURS).longest_span() == 210


def test_hours_without_breaks_are_one_span() -> None:
    always = WorkingHours(MONDAY, (((0, 1440),),) * 7)
    assert Calendar(always).start(1400, 3000) == 1400


def test_no_hours() -> None:
    with pytest.raises(ValueError, match="no working hours"):
        Calendar(every_weekday(MONDAY, ())).start(0, 1)


@pytest.mark.parametrize("spans", [((600, 500),), ((0, 600), (500, 700)), ((0, 1500),)])
def test_hours_that_are_none(spans: tuple[tuple[int, int], ...]) -> None:
    with pytest.raises(ValueError, match="follow one another"):
        every_weekday(MONDAY, spans)


@given(st.integers(0, 100_000))
def test_moment_and_minute(minute: int) -> None:
    assert HOURS.minute(HOURS.moment(minute)) == minute
