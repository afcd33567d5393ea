"""Packing problems with published answers, put to the cutting engine as hides and discs.

A hide has straight sides, so a circle is handed in as a polygon inscribed in it, and answers are judged by the
circle: a layout in the polygon also lies in the circle, and often in a smaller one.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from tauthide.cutting.faults import faults
from tauthide.cutting.hides import Hide, Point
from tauthide.cutting.improving import Search
from tauthide.cutting.pieces import Disc, Layout, Piece, Task

SCALE_MM = 1000.0
"""A unit of the problems: 1 m, so that rounding to 0.001 mm costs nothing that shows."""

ROUND_CORNERS = 64

SPACIOUS = 1.5
"""How much larger a container is at first than one without waste would be."""

COARSE, FINE = 0.1, 0.004
"""Shares by which a container is made smaller: at first, and from where on it is worth many rounds."""

FEW, SHARE = 40, 0.5
"""Rounds for a size while the shares are coarse; then this share of the rounds that are left."""

SEEDS_APART = 1000
"""Sizes are tried with seeds in a row; rows of two seeds lie so far apart."""

EQUAL_ROUNDS, STRIP_ROUNDS = 1600, 2500
"""In all, for `least_size`: some two seconds, and half a minute."""

GROWING_ROUNDS, GROWING_WORK = 1200, 75_000
"""The same for radii 1 to N, and that times N squared, since a round takes longer the more discs: within a second."""

MIDDLES, FIRST_MOVE = 1000, 0.002
"""Middles of circles tried for a layout, and the first move between them as a share of the radius."""

Outline = tuple[Point, ...]

# Best known radius of N equal circles, N = 2, 3 ... 20, in the unit square and in the unit circle.
# Source: E. Specht, The best known packings of equal circles in a square / in a circle (packomania tables).
BEST_IN_SQUARE = (
    0.292893, 0.254333, 0.250000, 0.207107, 0.187681, 0.174458, 0.170541, 0.166667, 0.148204, 0.142399,
    0.139959, 0.133994, 0.129332, 0.127167, 0.125000, 0.117197, 0.115521, 0.112265, 0.111382,
)  # fmt: skip
BEST_IN_CIRCLE = (
    0.500000, 0.464102, 0.414214, 0.370192, 0.333333, 0.333333, 0.302593, 0.276769, 0.262259, 0.254855,
    0.248163, 0.236068, 0.231031, 0.221173, 0.216665, 0.208680, 0.205605, 0.205605, 0.195224,
)  # fmt: skip

# Radius of the smallest known circle that holds circles of radii 1, 2 ... N.
# Source: the table of the iterated tabu search for packing unequal circles in a circle (Fu, Huang and Lu).
# 9 and 10: from memory.
LEAST_ROUND_1_TO = {5: 9.001398, 6: 11.057040, 7: 13.462111, 8: 16.221747, 9: 19.233194, 10: 22.000193}

# Thirty circles in a strip 9.5 wide, and the least known length.
# Source: E. Specht, Circles in a circular open dimension problem (packomania, 2012).
STRIP_WIDTH, LEAST_STRIP = 9.5, 17.039663
STRIP_RADII = (
    0.527, 0.564, 0.592, 0.747, 0.760, 0.807, 0.845, 0.853, 0.855, 0.868, 0.887, 0.955, 1.044, 1.085, 1.180,
    1.237, 1.274, 1.275, 1.281, 1.292, 1.374, 1.399, 1.404, 1.484, 1.491, 1.493, 1.551, 1.670, 1.739, 2.050,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Container:
    """A shape that comes in all sizes, in units."""

    outline: Callable[[float], Outline]
    """The hide of a size."""
    taken: Callable[[Layout], float]
    """A size that a layout truly lies in, quickly found."""
    least: Callable[[Layout], float]
    """The least such size."""
    wasteless: Callable[[float], float]
    """The size at which discs would fill it, by the sum of their squared radii."""


def square(side: float) -> Outline:
    """A square of a side in units."""
    side *= SCALE_MM
    return ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))


def strip(length: float) -> Outline:
    """The strip, of a length in units."""
    length *= SCALE_MM
    return ((0.0, 0.0), (length, 0.0), (length, STRIP_WIDTH * SCALE_MM), (0.0, STRIP_WIDTH * SCALE_MM))


def inscribed(radius: float) -> Outline:
    """A polygon within a circle of a radius in units."""
    turn = 2 * math.pi / ROUND_CORNERS
    return tuple(
        (radius * SCALE_MM * math.cos(turn * number), radius * SCALE_MM * math.sin(turn * number))
        for number in range(ROUND_CORNERS)
    )


def growing(count: int) -> tuple[float, ...]:
    """Radii 1, 2 and so on."""
    return tuple(float(number) for number in range(1, count + 1))


def growing_rounds(count: int) -> int:
    """Rounds in all for radii 1 to so many."""
    return min(GROWING_ROUNDS, GROWING_WORK // (count * count))


def reach(layout: Layout) -> float:
    """How far discs reach from the middle of a circle."""
    return max(math.hypot(*laid.centre) + laid.shape.reach_mm for laid in layout.placements) / SCALE_MM


def smallest_circle(layout: Layout) -> float:
    """The radius of nearly the smallest circle that holds discs: its middle goes towards what reaches farthest.

    Each middle gives a circle that holds them all, so the least of these is never too small.
    """
    discs = [(*laid.centre, laid.shape.reach_mm) for laid in layout.placements]
    x, y, least = 0.0, 0.0, math.inf
    for number in range(1, MIDDLES + 1):
        far, dx, dy = max((math.hypot(cx - x, cy - y) + radius, cx - x, cy - y) for cx, cy, radius in discs)
        least = min(least, far)
        step = FIRST_MOVE * far / (math.sqrt(number) * math.hypot(dx, dy))
        x, y = x + step * dx, y + step * dy
    return least / SCALE_MM


def length(layout: Layout, axis: int = 0) -> float:
    """How far apart the ends of discs lie along an axis."""
    ends = [(laid.centre[axis], laid.shape.reach_mm) for laid in layout.placements]
    return (max(at + radius for at, radius in ends) - min(at - radius for at, radius in ends)) / SCALE_MM


def broadest(layout: Layout) -> float:
    """The side of the square that discs take."""
    return max(length(layout, 0), length(layout, 1))


SQUARE = Container(square, broadest, broadest, lambda sum2: math.sqrt(math.pi * sum2))
CIRCLE = Container(inscribed, reach, smallest_circle, math.sqrt)
STRIP = Container(strip, length, length, lambda sum2: math.pi * sum2 / STRIP_WIDTH)


def lay(outline: Outline, radii: tuple[float, ...], rounds: int, seed: int = 0) -> tuple[Layout | None, int]:
    """Lay all discs, radii in units, in that many rounds; return the layout if that could be done, and the rounds."""
    hide = Hide("ground", "goat", outline, 1.0)
    pieces = tuple(Piece(f"{number}", "head", Disc(radius * SCALE_MM)) for number, radius in enumerate(radii))
    search = Search(Task((hide,), pieces), seed)
    for number in range(rounds + 1):
        if not search.score[0]:
            layout = search.layout()
            assert len(layout.placements) == len(radii)
            return layout, number
        if number < rounds:
            search.step()
    return None, rounds


def packs(outline: Outline, radii: tuple[float, ...], rounds: int, seed: int = 0) -> bool:
    """Tell whether all discs can be laid in that many rounds. A layout with a fault is an error."""
    layout, _ = lay(outline, radii, rounds, seed)
    if layout is None:
        return False
    assert not faults(layout)
    return True


def least_size(container: Container, radii: tuple[float, ...], rounds: int, seed: int = 0) -> float:
    """Return the least size found at which all discs fit, in so many rounds in all.

    The size goes down by a share of what the layout before truly takes; where that fails, by half the share. The
    layout that is judged at the end is one that the engine laid as it stands, and a fault of it is an error.
    """
    size = SPACIOUS * container.wasteless(math.fsum(radius * radius for radius in radii))
    best: Layout | None = None
    step, number = COARSE, seed * SEEDS_APART
    while rounds > 0:
        most = FEW if step > FINE else max(FEW, int(rounds * SHARE))
        found, used = lay(container.outline(size * (1 - step)), radii, min(most, rounds), number)
        rounds -= max(used, 1)
        number += 1
        if found is None:
            step /= 2
        elif best is None or container.taken(found) < container.taken(best):
            best = found
            size = container.taken(best)
        else:
            size *= 1 - step
    assert best is not None
    assert not faults(best)
    return container.least(best)
