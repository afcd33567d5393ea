"""What is to be scheduled: jobs with operations, what they need and hold, and how long they may take at most.

A job is usually a drum. Nothing here knows of skins or frames: an operation is a name with its times.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from tauthide.scheduling.hours import WorkingHours

ROUNDING_MIN = 1e-6
"""A time so little above a whole minute counts as that minute: the last bit of a machine's arithmetic."""


class Edge(StrEnum):
    """A moment of an operation."""

    START = "start"
    END = "end"
    """End of the hand time."""
    WAITED = "waited"
    """End of the wait after it: dry, say."""


@dataclass(frozen=True, slots=True)
class Need:
    """Units of a resource that an operation needs from its start to its end."""

    resource: str
    units: int = 1


@dataclass(frozen=True, slots=True)
class Hold:
    """Units of a resource held from an edge of one operation to an edge of a later one: a tub place, say."""

    resource: str
    since: str
    until: str
    since_edge: Edge = Edge.START
    until_edge: Edge = Edge.START
    units: int = 1


@dataclass(frozen=True, slots=True)
class Longest:
    """The longest time from an edge of one operation to an edge of a later one."""

    since: str
    until: str
    most_min: int
    since_edge: Edge = Edge.START
    until_edge: Edge = Edge.END
    title: str = "wet time"
    """What the time is called where it limits the run."""


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation of a job."""

    name: str
    hand_min: int
    """Time with the hands on it; 0 for what happens by itself."""
    after: tuple[str, ...] = ()
    """Names of the operations of the same job whose end and wait must have passed."""
    wait_min: int = 0
    """Time that passes after its end before the next operation may start; also by night."""
    setup_min: int = 0
    """Set-up before it, with the same hands; once for a group."""
    may_group: bool = False
    """Whether hands that go straight on with the same operation of another job share the set-up."""
    people: int = 1
    """How many pairs of hands it takes at once, if it takes hand time at all."""
    needs: tuple[Need, ...] = ()
    may_pause: bool = False
    """Whether it may go over breaks and nights; otherwise it fits in one stretch of working hours."""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Job:
    """One drum, or anything else that is made by operations; each operation comes after those it waits for."""

    name: str
    operations: tuple[Operation, ...]
    longest: tuple[Longest, ...] = ()
    holds: tuple[Hold, ...] = ()
    dry_after: str = ""
    """The operation after whose wait it is dry; empty where nothing dries."""
    earliest_min: int = 0


@dataclass(frozen=True, slots=True)
class Resource:
    """Something of which there are so many: tub places, benches, drying places, a teacher."""

    name: str
    units: int
    title: str = ""


@dataclass(frozen=True, slots=True)
class Run:
    """Jobs that share people and resources. Errors: ValueError for names that fit nothing (a fault of ours)."""

    jobs: tuple[Job, ...]
    people: int
    """How many pairs of hands; not used where every job has its own."""
    hours: WorkingHours
    resources: tuple[Resource, ...] = ()
    own_hands: bool = False
    """Whether every job has one pair of hands of its own: a class. Then nothing is grouped."""

    def __post_init__(self) -> None:
        """Check the names."""
        known = {resource.name for resource in self.resources}
        if len({job.name for job in self.jobs}) != len(self.jobs):
            raise ValueError("two jobs of one name")
        for job in self.jobs:
            _check_job(job, known)


def _check_job(job: Job, resources: set[str]) -> None:
    """Raise ValueError where a job names an operation or a resource that is not there."""
    seen: set[str] = set()
    for operation in job.operations:
        if operation.name in seen or not set(operation.after) <= seen:
            raise ValueError(f"{job.name}: {operation.name} stands twice, or before what it comes after")
        seen.add(operation.name)
        if not {need.resource for need in operation.needs} <= resources:
            raise ValueError(f"{job.name}: {operation.name} needs an unknown resource")
    ties = [(tie.since, tie.until) for tie in job.longest] + [(hold.since, hold.until) for hold in job.holds]
    for since, until in ties:
        if not {since, until} <= seen:
            raise ValueError(f"{job.name}: no operation {since} or {until}")
    if not {hold.resource for hold in job.holds} <= resources:
        raise ValueError(f"{job.name}: a hold of an unknown resource")
    if job.dry_after and job.dry_after not in seen:
        raise ValueError(f"{job.name}: dry after an unknown operation")


def whole_minutes(minutes: float) -> int:
    """Return a time as whole minutes, rounded up."""
    return math.ceil(minutes - ROUNDING_MIN)
