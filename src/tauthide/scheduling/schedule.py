"""A schedule: who does what when, and what can be read from it. All times are minutes of the working hours' day 0."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from tauthide.scheduling.jobs import Edge
from tauthide.scheduling.recipes import Recipe


@dataclass(frozen=True, slots=True)
class Work:
    """One operation of one job, placed."""

    job: str
    operation: str
    start_min: int
    """Start, with its set-up if it has one."""
    end_min: int
    people: tuple[int, ...]
    """Numbers of those who do it, from 1; empty for what happens by itself."""
    group: int
    """Number of the group, from 1, in order of start; most groups have one job."""
    setup_min: int
    """Set-up at its start; 0 where the group shares that of an earlier job."""


@dataclass(frozen=True, slots=True)
class Row:
    """One group as a line of a timetable: the same operation of one or more jobs, one straight after the other."""

    operation: str
    title: str
    group: int
    jobs: tuple[str, ...]
    people: tuple[int, ...]
    start_min: int
    end_min: int
    setup_min: int


@dataclass(frozen=True, slots=True)
class Wait:
    """What passes by itself after an operation: soaking, resting, drying."""

    job: str
    operation: str
    start_min: int
    end_min: int
    """End of the least time."""


@dataclass(frozen=True, slots=True)
class Moment:
    """An edge of an operation."""

    operation: str
    edge: Edge


@dataclass(frozen=True, slots=True)
class Held:
    """Units of a resource held by a job, or needed by one of its operations."""

    job: str
    resource: str
    units: int
    start_min: int
    end_min: int
    places: tuple[int, ...]
    """Which of the units, from 1: one tub or drying place keeps one drum throughout."""
    since: Moment
    until: Moment


@dataclass(frozen=True, slots=True)
class Window:
    """A longest time as it comes out."""

    job: str
    title: str
    since: str
    until: str
    taken_min: int
    most_min: int


@dataclass(frozen=True, slots=True)
class Schedule:
    """All work of a run, placed in time."""

    works: tuple[Work, ...]
    """By start, then by the run's order."""
    rows: tuple[Row, ...]
    waits: tuple[Wait, ...]
    held: tuple[Held, ...]
    windows: tuple[Window, ...]
    dry_min: dict[str, int]
    """When each job is dry, by name; only jobs that dry."""
    done_min: dict[str, int]
    """When each job's last operation and its wait are over, by name."""
    finish_min: int
    """When everything is done."""

    def placed(self) -> dict[tuple[str, str], Work]:
        """Return the works by job and operation."""
        return {(work.job, work.operation): work for work in self.works}


class TroubleKind(StrEnum):
    """Why a run cannot be scheduled."""

    WINDOW = "window"
    """A longest time is shorter than the work and waiting within it."""
    WINDOW_HOURS = "window-hours"
    """The same, as the working hours lie."""
    WINDOW_PLACES = "window-places"
    """The same, with the people and places there are."""
    LONG_OPERATION = "long-operation"
    """An operation is longer than any stretch of working hours."""
    FEW_PEOPLE = "few-people"
    """An operation takes more people than there are."""
    FEW_UNITS = "few-units"
    """A job needs more units of a resource than there are."""
    NO_HOURS = "no-hours"
    """There are no working hours."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """One reason why a run cannot be scheduled."""

    kind: TroubleKind
    jobs: tuple[str, ...]
    """All jobs with the same trouble."""
    since: str = ""
    """First operation of a window, or the operation meant."""
    until: str = ""
    """Last operation of a window."""
    short_min: int = 0
    """By how many minutes it is short, or how many people or units are missing."""
    resource: str = ""
    title: str = ""
    """The window's name, such as wet time."""


class LimitKind(StrEnum):
    """What may limit a run."""

    PEOPLE = "people"
    RESOURCE = "resource"
    WINDOW = "window"


@dataclass(frozen=True, slots=True)
class Limit:
    """What a run gains from one more of something."""

    kind: LimitKind
    name: str
    """The resource's name or the longest time's title; `people` for people."""
    more: int
    """What was added: 1 person, 1 unit, or so many minutes of the longest time."""
    finish_min: int
    """Finish with it; never later than without."""
    gain_min: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a run: a schedule, or the troubles that forbid one."""

    schedule: Schedule | None
    troubles: tuple[Trouble, ...] = ()
    recipe: Recipe | None = None
    """How the schedule was placed: a good start for the same run with more of something."""
