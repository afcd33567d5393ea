"""Lessons in words: for the report and for the page of records."""

from __future__ import annotations

from tauthide.learning.estimates import LEAST_RECORDS, Interval
from tauthide.learning.lessons import Lesson, Verdict
from tauthide.learning.subjects import TIME, Subject
from tauthide.units import KINDS, number
from tauthide.work.operations import operation_names, usual_paces

DECIMALS = {"%": 1, "mm": 2, "h": 1, "N/mm": 0, "min": 2}
"""Decimals in which values of each unit are told."""


def amount(subject: Subject, value: float) -> str:
    """Return a value in the unit of its subject: `6.5 %`, `57 h`."""
    size = KINDS[subject.quantity].unit(subject.unit).size
    return f"{number(value / size, DECIMALS[subject.unit])} {subject.unit}"


def interval_text(subject: Subject, interval: Interval) -> str:
    """Return an interval in the unit of its subject: `5.1 to 7.9 %`."""
    low = amount(subject, interval.low).removesuffix(f" {subject.unit}")
    return f"{low} to {amount(subject, interval.high)}"


def what_of(lesson: Lesson) -> str:
    """Return what a lesson is about: `Drying time, goat`; times with what they are for each of."""
    if lesson.subject is not TIME:
        return f"{lesson.subject.title}, {lesson.group}"
    pace = usual_paces().get(lesson.group)
    each = f", each {pace.of}" if pace is not None and pace.of else ""
    return f"{operation_names()[lesson.group]}{each}"


def records_text(lesson: Lesson) -> str:
    """Return how many records a lesson has, and from when."""
    records = f"{lesson.count} record{'' if lesson.count == 1 else 's'}"
    if lesson.first is None or lesson.last is None:
        return records
    return f"{records}, {lesson.first.isoformat()}" + (
        "" if lesson.first == lesson.last else f" to {lesson.last.isoformat()}"
    )


def verdict_text(lesson: Lesson) -> str:
    """Return what follows from a lesson, in words."""
    more = f"{lesson.more} more record{'' if lesson.more == 1 else 's'}"
    if lesson.verdict is Verdict.FEW:
        return f"too few records: stays; an estimate takes {LEAST_RECORDS}, so at least {more}"
    settled = "settled" if not lesson.more else f"about {more} would settle it"
    if not lesson.changes:
        return f"the records agree: stays; {settled}"
    return f"becomes {amount(lesson.subject, lesson.value)}; {settled}"
