"""What every lacing says of itself: its steps, its lengths, and how the lace runs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import atan2, degrees, hypot

from tauthide.figures import FigureSet, Workings
from tauthide.geometry.holes import Pair, Point

HUB: Point = (0.0, 0.0)
"""Where strands without a ring meet: behind the middle of the head."""


@dataclass(frozen=True, slots=True)
class Step:
    """The lace at one station: it arrives by a span, takes hold, and leaves."""

    step: int
    """From 1 on, in lacing order."""
    station: int
    enter: str
    """`a` or `b`: the hole by which the lace goes in, from the playing side."""
    leave: str
    """The hole by which it comes out again."""
    beneath: tuple[int, ...]
    """The steps whose spans the arriving span crosses, passing nearer the head than all of them."""
    span_mm: float | None
    """Length of the span that arrives, with its end runs; none at an anchor. To a ring: there and back."""
    lace: int = 1
    """Which lace makes the step."""
    head: int = 1
    """Which head it takes hold of: 1 where there is but one."""
    ring: Point | None = None
    """Where on the ring at the hub the lace comes from and goes back to; none where it runs on to other stations."""


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight length of lace over the open back, from hole to hole, or between a hole and hub or ring."""

    step: int
    """The step that makes it."""
    station: int
    """Where its end lies that is named first: where it arrives, or of a way to the hub where it leaves."""
    start: Point
    end: Point
    leaves: bool
    """Whether it starts from a hole; else from the ring."""
    arrives: bool
    """Whether it ends in a hole; else at the hub or ring."""


@dataclass(frozen=True, slots=True)
class Lacing:
    """A lacing of the trade: one module defines one of these."""

    name: str
    """As a spec names it."""
    title: str
    figures: FigureSet
    """Its own figures, and the shape `lace.steps`: a tuple of `Step`, in lacing order. Of the figures all lacings
    have `NEEDED`."""
    parts: tuple[str, ...]
    """Names of the figures that add up to the net length of all laces, but for handle and tail."""
    most_laces: Callable[[Workings], int] = lambda _: 1
    """In how many laces it may be run."""
    heads: int = 1
    """How many heads it draws tight."""
    across: bool = False
    """Whether its spans run from station to station across the back, each pulling against another."""
    group: int = 2
    """After so many steps of a lace it goes on in the same way, as far as a picture shows."""
    hub: bool = True
    """Whether strands meet behind the middle of the head, where a handle can be wrapped."""


NEEDED = (
    "lace.span_count",
    "lace.strands",
    "lace.anchor_strands",
    "lace.longest_net",
    "lace.net_per_inset",
    "pull.strand_angle",
)
"""Figures that other stages ask of every lacing, beside its parts."""


def laces_of(w: Workings) -> int:
    """Return in how many laces a drum is laced: 1 unless the spec says more."""
    return w.count("lace.laces") if w.has("lace.laces") else 1


def hole_of(pairs: Sequence[Pair], station: int, which: str) -> Point:
    """Return where a hole lies, by its station and its letter."""
    pair = pairs[station - 1]
    return pair.a if which == "a" else pair.b


def last_steps(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Return the last step of each lace, in the order of the laces."""
    last = {step.lace: step for step in steps}
    return tuple(last[lace] for lace in sorted(last))


def follow(steps: Iterable[Step]) -> Iterator[tuple[Step | None, Step]]:
    """Yield each step with the one before it of the same lace; None before its first."""
    before: dict[int, Step] = {}
    for step in steps:
        yield before.get(step.lace), step
        before[step.lace] = step


def legs_of(steps: Sequence[Step], pairs: Sequence[Pair]) -> tuple[Leg, ...]:
    """Return the lace's straight lengths over the back, in the order in which they are laid."""
    legs: list[Leg] = []
    for before, step in follow(steps):
        enter, leave = hole_of(pairs, step.station, step.enter), hole_of(pairs, step.station, step.leave)
        if step.ring is not None:
            legs.append(Leg(step.step, step.station, step.ring, enter, False, True))
            legs.append(Leg(step.step, step.station, leave, step.ring, True, False))
        elif before is not None:
            left = hole_of(pairs, before.station, before.leave)
            legs.append(Leg(step.step, step.station, left, enter, True, True))
    for step in last_steps(steps):
        if step.ring is None:
            leave = hole_of(pairs, step.station, step.leave)
            legs.append(Leg(step.step, step.station, leave, HUB, True, False))
    return tuple(legs)


def crossed(chord: tuple[int, int], others: Iterable[tuple[int, tuple[int, int]]]) -> tuple[int, ...]:
    """Return the names of the chords of one closed convex line that a chord crosses, in their order.

    Chords are given by the places of their ends, counted round the line: two cross where their ends alternate.
    """
    low, high = sorted(chord)
    return tuple(name for name, (p, q) in others if (low < p < high) != (low < q < high))


def place_of(station: int, which: str) -> int:
    """Return the place of a hole, counted round the rim from station 1's `a` on."""
    return 2 * (station - 1) + (which == "b")


def widest_angle(legs: Iterable[Leg]) -> float:
    """Return the largest angle in degrees between a leg and the line from its hole to the hub."""
    widest = 0.0
    for leg in legs:
        if leg.leaves:
            widest = max(widest, _angle_to_hub(leg.start, leg.end))
        if leg.arrives:
            widest = max(widest, _angle_to_hub(leg.end, leg.start))
    return degrees(widest)


def distance(p: Point, q: Point) -> float:
    """Return the straight distance between two points."""
    return hypot(q[0] - p[0], q[1] - p[1])


def _angle_to_hub(hole: Point, other: Point) -> float:
    """Return the angle in radians at a hole between the hub and another point."""
    x, y = other[0] - hole[0], other[1] - hole[1]
    return abs(atan2(hole[0] * y - hole[1] * x, -(hole[0] * x + hole[1] * y)))
