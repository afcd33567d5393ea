"""Working hours: dates at the edge, days off, spans, and what is no timetable at all."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runs import DAY, MONDAY
from tauthide.scheduling.hours import Calendar, WorkingHours, every_weekday

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
