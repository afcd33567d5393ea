"""Days and times of a run in words, the same on any machine."""

from __future__ import annotations

from datetime import date, datetime

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_text(day: date) -> str:
    """Return a day as `Tue 1 Dec 2026`."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def short_day_text(day: date) -> str:
    """Return a day as `Tue 1 Dec`."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def clock_text(moment: datetime) -> str:
    """Return a time of day as `9:05`."""
    return f"{moment.hour}:{moment.minute:02}"
