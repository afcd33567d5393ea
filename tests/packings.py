"""Packing problems with published answers, put to the cutting engine as hides and discs.

A hide has straight sides, so a circle is handed in as a polygon inscribed in it, and answers are judged by the
circle: a layout in the polygon also lies in the circle.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from tauthide.cutting.faults import faults
from tauthide.cutting.hides import Hide, Point
from tauthide.cutting.improving import Search
from tauthide.cutting.pieces import Disc, Layout, Piece, Task

SCALE_MM = 1000.0
"""A unit of the problems: 1 m, so that rounding to 0.001 mm costs nothing that shows."""

ROUND_CORNERS = 96

ROUGH, FEWER = 0.015, 10
"""Sizes are closed in on to this share with a tenth of the rounds, before it is done with all."""

Outline = Callable[[float], tuple[Point, ...]]
"""A hide's outline for a size."""

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


def square(side: float) -> tuple[Point, ...]:
    """A square of a side in units."""
    side *= SCALE_MM
    return ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))


def strip(length: float) -> tuple[Point, ...]:
    """The strip, of a length in units."""
    length *= SCALE_MM
    return ((0.0, 0.0), (length, 0.0), (length, STRIP_WIDTH * SCALE_MM), (0.0, STRIP_WIDTH * SCALE_MM))


def inscribed(radius: float) -> tuple[Point, ...]:
    """A polygon within a circle of a radius in units."""
    turn = 2 * math.pi / ROUND_CORNERS
    return tuple(
        (radius * SCALE_MM * math.cos(turn * number), radius * SCALE_MM * math.sin(turn * number))
        for number in range(ROUND_CORNERS)
    )


def packs(outline: tuple[Point, ...], radii: tuple[float, ...], rounds: int, seed: int = 0) -> Layout | None:
    """Lay all discs, radii in units, in that many rounds, or return None. A layout with a fault is an error."""
    hide = Hide("ground", "goat", outline, 1.0)
    pieces = tuple(Piece(f"{number}", "head", Disc(radius * SCALE_MM)) for number, radius in enumerate(radii))
    search = Search(Task((hide,), pieces), seed)
    for _ in range(rounds):
        if not search.layout().missing:
            break
        search.step()
    layout = search.layout()
    assert not faults(layout)
    return None if layout.missing else layout


def halve(fits: Callable[[float], bool], good: float, bad: float, enough: float) -> float:
    """Close in on the size between one that fits and one that does not, and return the best that did."""
    while abs(bad - good) > enough * good:
        middle = (good + bad) / 2
        if fits(middle):
            good = middle
        else:
            bad = middle
    return good


def close_in(fits: Callable[[float, int], bool], good: float, bad: float, rounds: int, enough: float) -> float:
    """Close in on a size with few rounds first, then from the size found on with many."""
    rough = halve(lambda size: fits(size, rounds // FEWER), good, bad, ROUGH)
    ahead = rough * (1 + math.copysign(2 * ROUGH, bad - good))
    return halve(lambda size: fits(size, rounds), rough, ahead, enough)
