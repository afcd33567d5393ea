"""How much could be cut at the very most, whoever lays it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from tauthide.cutting.hides import Hide, Point, signed_area
from tauthide.cutting.pieces import Layout, Shape

ROUNDING = 1e-9
"""A bound is a whole number: this much below one counts as reaching it."""


def most_discs(hide: Hide, radius_mm: float, knife_mm: float = 0.0) -> int:
    """Return a number that equal discs cannot exceed on a hide; flaws are not taken off.

    The lesser of two bounds. By area: each disc takes the skin up to half the knife's allowance round it.
    By Groemer's inequality (1960): points at least d apart in a convex region of area A and perimeter P number
    at most 2 A / (sqrt(3) d^2) + P / (2 d) + 1. The region is that of the centres, well within the hide's convex
    hull; by Brunn and Minkowski its area is at most that of a circle of the hull's area, drawn in by the edge's
    distance, and the bound is greatest for the circle. Both from memory, checked against best known packings.
    """
    grown_mm, apart_mm, edge_mm = radius_mm + knife_mm / 2, 2 * radius_mm + knife_mm, radius_mm + knife_mm
    by_area = hide.area_mm2 / (math.pi * grown_mm * grown_mm)
    hull_mm = math.sqrt(signed_area(convex_hull(hide.outline)) / math.pi)
    if hull_mm < edge_mm:
        return 0
    inner_mm = hull_mm - edge_mm
    share = inner_mm / apart_mm
    by_centres = 2 * math.pi / math.sqrt(3) * share * share + math.pi * share + 1
    return int(min(by_area, by_centres) + ROUNDING)


def most_pieces(hides: Sequence[Hide], shapes: Sequence[Shape]) -> int:
    """Return a number that cannot be exceeded when pieces are picked from `shapes`: the smallest first, by area."""
    room_mm2, count = sum(hide.area_mm2 for hide in hides), 0
    for area_mm2 in sorted(shape.area_mm2 for shape in shapes):
        room_mm2 -= area_mm2
        if room_mm2 < 0:
            break
        count += 1
    return count


def used_share(layout: Layout) -> float:
    """Share of the area of the hides in use, flaws included, that lies in pieces: 0 to 1."""
    used = set(layout.hides_used)
    total_mm2 = sum(hide.area_mm2 for hide in layout.task.hides if hide.name in used)
    return sum(placement.shape.area_mm2 for placement in layout.placements) / total_mm2 if total_mm2 else 0.0


def convex_hull(outline: Sequence[Point]) -> tuple[Point, ...]:
    """The convex hull of points: its corners anticlockwise, from the most western on."""
    points = sorted(set(outline))
    halves = []
    for row in (points, points[::-1]):
        half: list[Point] = []
        for x, y in row:
            while len(half) > 1:
                (ax, ay), (bx, by) = half[-2], half[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                    break
                half.pop()
            half.append((x, y))
        halves.append(half[:-1])
    return tuple(halves[0] + halves[1])
