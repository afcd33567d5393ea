"""Outlines of frames and the curves at a distance from them, put on the page."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.drawings.canvas import Point, View, number
from tauthide.geometry.curves import ArcTo, ClosedPath, CurveTo, LineTo
from tauthide.geometry.outline import Outline
from tauthide.plan.plan import Plan

ROUND_ENOUGH = 0.99
"""Share of the least radius down to which a curve may be pulled in: beyond it folds over itself."""


@dataclass(frozen=True, slots=True)
class RimPlace:
    """A station on one curve of the plan."""

    station: int
    point: Point
    normal: Point
    """Outward, of length 1."""


def path_data(path: ClosedPath, view: View) -> str:
    """Return a closed curve as SVG path data, in page millimetres."""
    parts = [f"M{_pair(view, path.start)}"]
    for segment in path.segments:
        if isinstance(segment, LineTo):
            parts.append(f"L{_pair(view, (segment.x_mm, segment.y_mm))}")
        elif isinstance(segment, ArcTo):
            radius = number(view.scale * segment.radius_mm)
            # At most half a turn, anticlockwise: both of SVG's arc flags are 0, since its y points down.
            parts.append(f"A{radius} {radius} 0 0 0 {_pair(view, (segment.x_mm, segment.y_mm))}")
        else:
            parts.append(_curve(segment, view))
    return "".join(parts) + "Z"


def curve_at(outline: Outline, offset_mm: float, view: View) -> str:
    """Return the curve at an offset as path data; empty where the outline can't be pulled in so far."""
    if offset_mm <= -ROUND_ENOUGH * outline.least_radius_mm:
        return ""
    return path_data(outline.path(offset_mm), view)


def knots(path: ClosedPath) -> tuple[Point, ...]:
    """Return the points where the pieces of a curve meet, its start first and not repeated."""
    return (path.start, *((piece.x_mm, piece.y_mm) for piece in path.segments[:-1]))


def rim(plan: Plan, offset_mm: float) -> tuple[RimPlace, ...]:
    """Return the n stations carried to the curve at an offset, from station 1 on."""
    outline, sign = plan.outline, hand_sign(plan)
    places = []
    for station, at_mm in enumerate(outline.stations(len(plan.stations)), 1):
        arc_mm = outline.carry(at_mm, offset_mm)
        x, y = outline.point(offset_mm, arc_mm)
        normal_x, normal_y = outline.normal(offset_mm, arc_mm)
        places.append(RimPlace(station, (sign * x, y), (sign * normal_x, normal_y)))
    return tuple(places)


def stretch_of_curve(plan: Plan, offset_mm: float, begin_mm: float, end_mm: float, pieces: int) -> tuple[Point, ...]:
    """Return points along the curve at an offset between two arcs, `pieces` + 1 of them.

    Arcs count from station 1 in the direction of numbering.
    """
    sign, step = hand_sign(plan), (end_mm - begin_mm) / pieces
    points = (plan.outline.point(offset_mm, begin_mm + k * step) for k in range(pieces + 1))
    return tuple((sign * x, y) for x, y in points)


def hand_sign(plan: Plan) -> float:
    """Return 1 where stations are numbered anticlockwise, else -1."""
    return 1.0 if plan.spec.word("stations.hand") == "anticlockwise" else -1.0


def _curve(segment: CurveTo, view: View) -> str:
    first = _pair(view, (segment.x1_mm, segment.y1_mm))
    second = _pair(view, (segment.x2_mm, segment.y2_mm))
    return f"C{first} {second} {_pair(view, (segment.x_mm, segment.y_mm))}"


def _pair(view: View, point: Point) -> str:
    x, y = view.at(point)
    return f"{number(x)} {number(y)}"
