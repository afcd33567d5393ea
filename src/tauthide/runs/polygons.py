"""Rings of corners: do they cross themselves, does a point lie in them, how far is it from their edge.

A ring is n points in order, closing point not repeated; edge i leads from point i to the next one. Which side of
a line a point lies on is told exactly, whatever the numbers; what lies nearer than `TOUCH_MM` touches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice

Point = tuple[float, float]

TOUCH_MM = 0.01
"""Two things nearer than this touch: far below any tape measure, far above what numbers are rounded by."""

_SURE = 1e-14
"""Share of the products' size above which a float's sign is right: the error is at most 4 units of 1.1e-16."""


def side_of(a: Point, b: Point, p: Point) -> int:
    """Return 1 where p lies left of the line from a to b, -1 right of it, 0 on it; exactly."""
    left = (b[0] - a[0]) * (p[1] - a[1])
    right = (b[1] - a[1]) * (p[0] - a[0])
    if abs(left - right) > _SURE * (abs(left) + abs(right)):
        return 1 if left > right else -1
    ax, ay, bx, by, px, py = map(Fraction, (*a, *b, *p))
    exact = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
    return (exact > 0) - (exact < 0)


def distance_to_edge(p: Point, a: Point, b: Point) -> float:
    """Return how far p is from the nearest point of the edge from a to b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = dx * dx + dy * dy
    share = 0.0 if size == 0 else min(1.0, max(0.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / size))
    return math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy)


def edges_meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Tell whether the edges from a to b and from c to d cross, or touch each other."""
    if _apart(a, b, c, d, 0) or _apart(a, b, c, d, 1):
        return False
    if side_of(a, b, c) * side_of(a, b, d) < 0 and side_of(c, d, a) * side_of(c, d, b) < 0:
        return True
    ends = ((a, c, d), (b, c, d), (c, a, b), (d, a, b))
    return any(distance_to_edge(*end) < TOUCH_MM for end in ends)


def _apart(a: Point, b: Point, c: Point, d: Point, axis: int) -> bool:
    low, high = (a[axis], b[axis]) if a[axis] < b[axis] else (b[axis], a[axis])
    low -= TOUCH_MM
    high += TOUCH_MM
    return (c[axis] < low and d[axis] < low) or (c[axis] > high and d[axis] > high)


def edges(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a ring in order."""
    return zip(ring, (*ring[1:], ring[0]), strict=True)


def repeats(ring: Sequence[Point]) -> Iterator[tuple[int, int]]:
    """Yield the index of each point that lies where its neighbour does, and the neighbour's; ends are neighbours."""
    last = len(ring) - 1
    for index in range(1, len(ring)):
        if math.dist(ring[index - 1], ring[index]) < TOUCH_MM:
            yield index, index - 1
    if math.dist(ring[last], ring[0]) < TOUCH_MM:
        yield last, 0


def crossings(ring: Sequence[Point]) -> Iterator[tuple[int, int]]:
    """Yield the numbers of each two edges of a ring that cross or touch, from left to right.

    Neighbours, which share a corner, count where one turns back over the other. The ring has no repeated points.
    """
    sides = list(edges(ring))
    # from left to right, an edge is compared only with those that begin before it ends
    lefts = sorted((min(a[0], b[0]), number) for number, (a, b) in enumerate(sides))
    for at, (_, number) in enumerate(lefts):
        right = max(point[0] for point in sides[number]) + TOUCH_MM
        for left, other in islice(lefts, at + 1, None):
            if left > right:
                break
            i, j = (number, other) if number < other else (other, number)
            if _meet(sides, i, j):
                yield i, j


def _meet(sides: Sequence[tuple[Point, Point]], i: int, j: int) -> bool:
    """Tell whether two edges of a ring meet elsewhere than at their common corner; i is less than j."""
    (a, b), (c, d) = sides[i], sides[j]
    if j == i + 1:
        return _folds(a, b, d)
    if i == 0 and j == len(sides) - 1:
        return _folds(c, a, b)
    return edges_meet(a, b, c, d)


def contains(ring: Sequence[Point], p: Point) -> bool:
    """Tell whether a point lies in a ring that does not cross itself, or on its edge."""
    inside = False
    for a, b in edges(ring):
        low, high = (a, b) if a[1] <= b[1] else (b, a)
        side = side_of(low, high, p)
        on_line = side == 0 and min(a[0], b[0]) <= p[0] <= max(a[0], b[0])
        if on_line and low[1] <= p[1] <= high[1]:
            return True
        if low[1] <= p[1] < high[1] and side > 0:
            inside = not inside
    return inside


def distance_outside(ring: Sequence[Point], p: Point) -> float:
    """Return how far a point is from a ring, 0 within it."""
    return 0.0 if contains(ring, p) else min(distance_to_edge(p, a, b) for a, b in edges(ring))


def overlap(ring: Sequence[Point], other: Sequence[Point]) -> bool:
    """Tell whether two rings that do not cross themselves have a point in common."""
    if any(contains(ring, p) for p in other) or any(contains(other, p) for p in ring):
        return True
    return any(edges_meet(a, b, c, d) for a, b in edges(ring) for c, d in edges(other))


def _folds(a: Point, b: Point, c: Point) -> bool:
    """Tell whether the way from a over b to c turns back on itself."""
    return distance_to_edge(a, b, c) < TOUCH_MM or distance_to_edge(c, a, b) < TOUCH_MM
