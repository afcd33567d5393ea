"""Recipes: the choices by which a run is placed, which a search makes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

EVERY_JOB = -1


class Order(StrEnum):
    """What comes first when the operations of a wave are placed."""

    WORK = "work"
    """What comes first in the order of work."""
    TAIL = "tail"
    """That after which most time must still pass."""
    EARLY = "early"
    """What could be done first if nothing were in its way."""


@dataclass(frozen=True, slots=True)
class Shift:
    """An operation placed earlier (by a negative number) or later within its wave."""

    job: int
    """The job by number, or EVERY_JOB."""
    step: int
    by: int


@dataclass(frozen=True, slots=True)
class Wave:
    """Jobs by number that are placed together."""

    jobs: tuple[int, ...]
    batch: int = 0
    """So many of them at a time up to the end of their longest times, what follows after all of them; 0 for all."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """How a run is placed: what a search may choose."""

    waves: tuple[Wave, ...]
    """All jobs, in the waves in which they are placed."""
    lead: int
    """How many waves ahead of the wet work the work that can wait is placed."""
    behind_last: bool
    """Whether what comes after drying is placed after all wet work."""
    patience: int
    """How many times a set-up's minutes an operation may end later to share that set-up."""
    order: Order = Order.WORK
    """In which order the operations of a wave are placed."""
    shifts: tuple[Shift, ...] = ()
    keys: tuple[tuple[int, ...], ...] = ()
    """For each job its operations' places in one order of all, less is earlier; if any, waves do not count."""
    steady: bool = False
    """Whether what longest times and holds begin with starts no earlier than its key says."""
