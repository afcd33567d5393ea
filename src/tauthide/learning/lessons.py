"""What the records say of one value: estimate, interval, what lies far out, and what is to be done about it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from math import floor
from statistics import median

from tauthide.learning.estimates import (
    LEAST_RECORDS,
    Interval,
    far_out,
    median_interval,
    records_needed,
    shrunk,
    sigma_of,
    upper_interval,
)
from tauthide.learning.subjects import DRY_THICKNESS, SUBJECTS, THICKNESS, Observation, Subject
from tauthide.reading.located import Path

_NOISE_DECIMALS = 9
_GUARD = 1e-9
"""What is taken for float noise, as a share of the step that is rounded to."""

COARSE = 10
"""Large values of some subjects are written to so many steps."""


class Verdict(StrEnum):
    """What the records say of the value in force."""

    FEW = "few"
    """There are too few of them to say anything."""
    AGREES = "agrees"
    """It may well be right, so it stays."""
    DIFFERS = "differs"
    """It lies outside the interval."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What is learned of one value, in base units."""

    subject: Subject
    group: str
    path: Path
    in_force: float
    count: int
    first: date | None
    """The earliest day of its records; None where none has a day."""
    last: date | None
    verdict: Verdict
    estimate: float | None
    """None with too few records."""
    interval: Interval | None
    """Holds the truth nine times in ten."""
    value: float
    """What should hold: rounded for the shop file, or what is in force."""
    more: int
    """How many more records would settle it; 0 where it is settled."""
    far: tuple[Observation, ...]
    """Far from the rest; they count as one record each, however far out."""

    @property
    def changes(self) -> bool:
        """Tell whether another value is to be written."""
        return self.verdict is Verdict.DIFFERS and abs(self.value - self.in_force) > _GUARD


def learn(observations: Iterable[Observation]) -> tuple[Lesson, ...]:
    """Return a lesson for each value that any record tells of, in order of subject and group."""
    grouped: dict[tuple[str, str, Path], list[Observation]] = {}
    for each in observations:
        grouped.setdefault((each.subject.name, each.group, each.path), []).append(each)
    order = list(SUBJECTS)
    lessons: dict[tuple[str, str], Lesson] = {}
    for (name, group, _), several in sorted(grouped.items(), key=lambda item: _place(item[0], order)):
        if name == DRY_THICKNESS.name:
            # Records tell by how much a skin shrinks: that is of the wet thickness which is to hold from now on.
            wet = lessons.get((THICKNESS.name, group))
            several = [_grown(each, 1.0 if wet is None else wet.value / wet.in_force) for each in several]
        lessons[name, group] = _lesson(several)
    return tuple(lessons.values())


def _grown(observation: Observation, factor: float) -> Observation:
    return replace(observation, value=observation.value * factor)


def _place(key: tuple[str, str, Path], order: Sequence[str]) -> tuple[int, str]:
    return order.index(key[0]), key[1]


def _lesson(observations: Sequence[Observation]) -> Lesson:
    subject = observations[0].subject
    values = [each.value for each in observations]
    in_force = median(each.in_force for each in observations)
    size = abs(in_force) if subject.relative else 1.0
    days = sorted(each.day for each in observations if each.day is not None)
    estimate, interval = (None, None) if len(values) < LEAST_RECORDS else _estimate(subject, values, in_force, size)
    verdict, value = Verdict.FEW, in_force
    if estimate is not None and interval is not None:
        verdict = Verdict.AGREES if in_force in interval else Verdict.DIFFERS
        value = in_force if verdict is Verdict.AGREES else rounded(estimate, subject)
    return Lesson(
        subject=subject,
        group=observations[0].group,
        path=observations[0].path,
        in_force=in_force,
        count=len(values),
        first=days[0] if days else None,
        last=days[-1] if days else None,
        verdict=verdict,
        estimate=estimate,
        interval=interval,
        value=value,
        more=_more(subject, values, interval, size),
        far=tuple(observations[index] for index in far_out(values, subject.wanted * size)),
    )


def _estimate(subject: Subject, values: Sequence[float], in_force: float, size: float) -> tuple[float, Interval]:
    if subject.share is None:
        centre, interval = median(values), median_interval(values)
    else:
        centre, interval = upper_interval(values, subject.share)
    return shrunk(centre, interval, in_force, subject.prior * size), interval


def _more(subject: Subject, values: Sequence[float], interval: Interval | None, size: float) -> int:
    """Return how many more records would settle it: by their spread or, with few, at least what an estimate takes."""
    wanted = subject.wanted * size
    if interval is None:
        return LEAST_RECORDS - len(values)
    if interval.half <= wanted:
        return 0
    return max(1, records_needed(sigma_of(values), wanted, subject.share) - len(values))


def rounded(value: float, subject: Subject) -> float:
    """Return a value rounded half up to what it is written to."""
    step = subject.step * (COARSE if value >= subject.coarse_from else 1)
    return round(floor(value / step + 0.5 + _GUARD) * step, _NOISE_DECIMALS)
