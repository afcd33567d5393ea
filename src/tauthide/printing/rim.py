"""The rim of a blank as a template shows it: its edge, the line of the holes, the holes, the stations' marks.

Coordinates are the plan's: seen from the inner side, x right, y up, centre at (0, 0), mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, hypot

from tauthide.drawings.canvas import Point
from tauthide.drawings.outlines import rim, stretch_of_curve
from tauthide.plan.plan import Plan

PIECE_MM = 2.0
"""Curves are drawn in straight pieces of this length: on a radius of 100 mm they cut the corner by 0.005 mm."""

NUMBER_IN_MM = 10.0
"""From a hole's rim inward to the middle of its station's number."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole of the template."""

    station: int
    letter: str
    centre: Point


@dataclass(frozen=True, slots=True)
class Mark:
    """A station's mark: a line from the skin's edge inward, and where its number stands."""

    station: int
    edge: Point
    inner: Point
    number: Point


@dataclass(frozen=True, slots=True)
class Rim:
    """All that the template of one blank shows."""

    edge: tuple[Point, ...]
    """Closed: the first point is repeated."""
    hole_line: tuple[Point, ...]
    """Closed: the first point is repeated."""
    holes: tuple[Hole, ...]
    marks: tuple[Mark, ...]
    hole_radius_mm: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the blank."""
        xs, ys = [x for x, _ in self.edge], [y for _, y in self.edge]
        return min(xs), min(ys), max(xs), max(ys)


def rim_of(plan: Plan) -> Rim:
    """Return the rim of a drum's blank."""
    radius = plan.spec.number("stations.hole") / 2
    holes = tuple(
        Hole(pair.station, letter, centre) for pair in plan.blank for letter, centre in (("a", pair.a), ("b", pair.b))
    )
    distance = plan["holes.edge_distance"]
    marks = []
    for place in rim(plan, plan["skin.reach"]):
        (x, y), (nx, ny) = place.point, place.normal
        pair = plan.blank[place.station - 1]
        apart = hypot(pair.a[0] - x + distance * nx, pair.a[1] - y + distance * ny)
        # Where the station is a hole's, the line ends at the hole; between two holes it goes on to their line.
        inward = distance - radius if apart < radius else distance
        deep = distance + radius + NUMBER_IN_MM
        marks.append(Mark(place.station, (x, y), (x - inward * nx, y - inward * ny), (x - deep * nx, y - deep * ny)))
    return Rim(_curve(plan, plan["skin.reach"]), _curve(plan, plan["holes.line_reach"]), holes, tuple(marks), radius)


def _curve(plan: Plan, offset_mm: float) -> tuple[Point, ...]:
    whole = plan.outline.perimeter_at(offset_mm)
    return stretch_of_curve(plan, offset_mm, 0.0, whole, ceil(whole / PIECE_MM))
