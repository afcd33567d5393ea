"""Distances of convex outlines, for laying: each is compared with what is needed."""

from __future__ import annotations

import math
from typing import NamedTuple

from tauthide.cutting.curves import TOUCH_MM
from tauthide.cutting.hides import Point


class Edge(NamedTuple):
    """A side of a convex outline: from (x, y) along a unit vector; the outline lies on its left."""

    x: float
    y: float
    ux: float
    uy: float
    length: float


Edges = tuple[Edge, ...]


def edges_of(outline: tuple[Point, ...]) -> Edges:
    """The sides of an anticlockwise outline."""
    found = []
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        along, up = bx - ax, by - ay
        length = math.sqrt(along * along + up * up)
        found.append(Edge(ax, ay, along / length, up / length, length))
    return tuple(found)


def moved(edges: Edges, x: float, y: float) -> Edges:
    """The same outline elsewhere."""
    return tuple([Edge(ex + x, ey + y, ux, uy, length) for ex, ey, ux, uy, length in edges])


def keeps_from_point(edges: Edges, x: float, y: float, need: float) -> bool:
    """Whether a point lies at least `need` outside."""
    outside = -math.inf
    for edge in edges:
        outside = max(outside, (x - edge.x) * edge.uy - (y - edge.y) * edge.ux)
        if outside >= need - TOUCH_MM:
            return True
    return outside > 0 and min(_away2(edge, x, y) for edge in edges) >= (need - TOUCH_MM) * (need - TOUCH_MM)


def keeps_from_line(edges: Edges, line: Edge, need: float) -> bool:
    """Whether a straight line of some length lies at least `need` outside."""
    ex, ey = line.x + line.length * line.ux, line.y + line.length * line.uy
    apart = -math.inf
    for edge in edges:
        first = (line.x - edge.x) * edge.uy - (line.y - edge.y) * edge.ux
        last = (ex - edge.x) * edge.uy - (ey - edge.y) * edge.ux
        apart = max(apart, min(first, last))
        if apart >= need - TOUCH_MM:
            return True
    beside = [(edge.x - line.x) * line.uy - (edge.y - line.y) * line.ux for edge in edges]
    apart = max(apart, min(beside), -max(beside))
    if apart <= 0:
        return False
    least2 = min(_away2(line, edge.x, edge.y) for edge in edges)
    least2 = min(least2, min(min(_away2(edge, line.x, line.y), _away2(edge, ex, ey)) for edge in edges))
    return least2 >= (need - TOUCH_MM) * (need - TOUCH_MM)


def keeps_from_convex(edges: Edges, others: Edges, need: float) -> bool:
    """Whether two convex outlines lie at least `need` apart."""
    near = need - TOUCH_MM
    if _parted(edges, others, near) or _parted(others, edges, near):
        return True
    # Nearer than that seen from every side: apart at most by the distance of two corners, or not at all.
    if not (_parted(edges, others, 0.0) or _parted(others, edges, 0.0)):
        return False
    least2 = min(
        min(_away2(edge, other.x, other.y), _away2(other, edge.x, edge.y)) for edge in edges for other in others
    )
    return least2 >= (need - TOUCH_MM) * (need - TOUCH_MM)


def _parted(edges: Edges, others: Edges, apart: float) -> bool:
    """Whether all corners of one outline lie further than so far beyond one side of another."""
    for edge in edges:
        x, y, ux, uy = edge.x, edge.y, edge.ux, edge.uy
        for other in others:
            if (other.x - x) * uy - (other.y - y) * ux <= apart:
                break
        else:
            return True
    return False


def _away2(edge: Edge, x: float, y: float) -> float:
    """Squared distance of a point from a side."""
    dx, dy = x - edge.x, y - edge.y
    along = min(max(dx * edge.ux + dy * edge.uy, 0.0), edge.length)
    dx, dy = dx - along * edge.ux, dy - along * edge.uy
    return dx * dx + dy * dy
