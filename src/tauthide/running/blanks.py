"""The blanks of drums as pieces to be laid on hides."""

from __future__ import annotations

import math

from tauthide.cutting.hides import Point
from tauthide.cutting.pieces import Blank, Disc, Shape
from tauthide.geometry.outline import Outline
from tauthide.plan.plan import Plan

TANGENTS = 56
"""So many tangents are drawn round a blank that is not round: what they add outside it is below 0.2 % of its size.
Twice as many make a round of the search four times as long."""

PARALLEL = 1e-9
"""Two unit normals whose cross product is below this belong to one straight side."""


def blank_shape(plan: Plan) -> Shape:
    """Return the blank as a piece: a disc, or a polygon drawn round its edge, its length along y."""
    if plan.outline.kind == "round":
        return Disc(plan["head.blank_diameter"] / 2)
    return Blank(tangent_polygon(plan.outline, plan["skin.reach"]))


def tangent_polygon(outline: Outline, offset_mm: float) -> tuple[Point, ...]:
    """Return the polygon of tangents round the curve at an offset: n points, anticlockwise, closing point not repeated.

    It holds the curve, which must be convex; sides of the curve become sides of the polygon.
    """
    perimeter = outline.perimeter_at(offset_mm)
    lines: list[tuple[Point, Point]] = []
    for index in range(TANGENTS):
        arc_mm = perimeter * index / TANGENTS
        point, normal = outline.point(offset_mm, arc_mm), outline.normal(offset_mm, arc_mm)
        if not lines or abs(_cross(lines[-1][1], normal)) > PARALLEL:
            lines.append((point, normal))
    if abs(_cross(lines[-1][1], lines[0][1])) <= PARALLEL:
        lines.pop()
    return tuple(_meet(lines[index - 1], lines[index]) for index in range(len(lines)))


def _cross(first: Point, second: Point) -> float:
    return first[0] * second[1] - first[1] * second[0]


def _meet(first: tuple[Point, Point], second: tuple[Point, Point]) -> Point:
    """Return where two tangents meet, each given by a point and its unit normal."""
    (p, n), (q, m) = first, second
    a, b, turn = math.fsum((p[0] * n[0], p[1] * n[1])), math.fsum((q[0] * m[0], q[1] * m[1])), _cross(n, m)
    return ((a * m[1] - b * n[1]) / turn, (b * n[0] - a * m[0]) / turn)
