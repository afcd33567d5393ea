"""The skin's edge with the line of the holes beside it, as a station gauge shows them.

Gauge coordinates: the middle of a pair lies above (0, 0), x in the direction in which stations are
numbered, y from the lowest point of the skin's edge toward the middle of the skin. A place is given by
`along`, mm along the line of the holes from the pair's middle, and `inward`, mm from the skin's edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, degrees, pi, sin, sqrt
from typing import Protocol

from tauthide.drawings.canvas import Point, number
from tauthide.plan.plan import Plan


class SkinEdge(Protocol):
    """The edge of the skin near one station, all lengths in mm."""

    def at(self, along: float, inward: float) -> Point:
        """The point `along` the line of the holes and `inward` from the edge."""

    def height(self, x: float) -> float:
        """How far the edge has risen at x; of a place beside the blank, its highest there."""

    def half_pair(self, spacing: float) -> float:
        """How far along either hole of a pair lies from the pair's middle."""

    def lean_deg(self, along: float) -> float:
        """How far the way inward leans back over the pair's middle, in degrees."""

    def widest(self) -> float:
        """The greatest x to which the edge may be drawn."""

    def line_to(self, end: Point, inward: float) -> str:
        """SVG path data that goes on from a point on the left to `end` of the page, at one `inward`."""


@dataclass(frozen=True, slots=True)
class RoundEdge:
    """The edge of a round blank."""

    blank_radius_mm: float
    line_radius_mm: float
    """Of the circle of holes."""

    def at(self, along: float, inward: float) -> Point:
        """Turn about the middle of the skin."""
        angle, radius = along / self.line_radius_mm, self.blank_radius_mm - inward
        return (radius * sin(angle), self.blank_radius_mm - radius * cos(angle))

    def height(self, x: float) -> float:
        """Rise of the arc."""
        return self.blank_radius_mm - sqrt(max(self.blank_radius_mm**2 - x**2, 0.0))

    def half_pair(self, spacing: float) -> float:
        """Half the arc over the pair's chord."""
        return self.line_radius_mm * asin(spacing / (2 * self.line_radius_mm))

    def lean_deg(self, along: float) -> float:
        """Lean as the radius does."""
        return degrees(along / self.line_radius_mm)

    def widest(self) -> float:
        """Short of where the arc turns upright."""
        return self.blank_radius_mm * STEEPEST_SINE

    def line_to(self, end: Point, inward: float) -> str:
        """Draw an arc below half a turn."""
        radius = number(self.blank_radius_mm - inward)
        return f"A{radius} {radius} 0 0 0 {number(end[0])} {number(end[1])}"


STEEPEST_SINE = 0.95
"""A gauge whose side stands on the edge at a finer angle than about 18 degrees could not be cut clean."""


@dataclass(frozen=True, slots=True)
class StraightEdge:
    """An edge without a curve of its own: stands for that of an oval or a polygon."""

    def at(self, along: float, inward: float) -> Point:
        """Count along the edge and in from it."""
        return (along, inward)

    def height(self, x: float) -> float:
        """Do not rise."""
        return 0.0 * x

    def half_pair(self, spacing: float) -> float:
        """Half the spacing."""
        return spacing / 2

    def lean_deg(self, along: float) -> float:
        """Stand square to the edge."""
        return 0.0 * along

    def widest(self) -> float:
        """Reach as far as wanted."""
        return float("inf")

    def line_to(self, end: Point, inward: float) -> str:
        """Draw a straight line."""
        return f"L{number(end[0])} {number(end[1])}"


def skin_edge(plan: Plan) -> SkinEdge:
    """Return the edge of this drum's blank."""
    if not plan.has("head.blank_radius"):
        return StraightEdge()
    return RoundEdge(plan["head.blank_radius"], plan["holes.circle_radius"])


@dataclass(frozen=True, slots=True)
class Tick:
    """The next station, or half way to it, on the skin's edge."""

    kind: str
    """`next` or `half`."""
    along_mm: float
    label: str


def station_along(plan: Plan, edge: SkinEdge) -> float:
    """Return where the station lies along the line of the holes: at hole a, or at the pair's middle."""
    if plan.spec.word("stations.mark_at") == "pair_centre":
        return 0.0
    return -edge.half_pair(plan["holes.pair_spacing"])


def possible_ticks(plan: Plan, edge: SkinEdge) -> tuple[Tick, ...]:
    """Return the ticks that a gauge might carry, the best first; none off-round, where the frame rules."""
    if not isinstance(edge, RoundEdge):
        return ()
    station = station_along(plan, edge)
    step = 2 * pi / plan.spec.count("stations.count") * edge.line_radius_mm
    return (
        Tick("next", station + step, "next station"),
        Tick("half", station + step / 2, "half way to the next"),
    )
