"""The skin's path round the frame's wall, seen in section.

Section coordinates: mm, x from the outside of the wall inward, z from the plane of the bearing edge
toward the back. Places along the skin are `s`: mm along its middle surface from where it comes to lie flat
on the back, inward above 0, back round the edge and down the wall below 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from tauthide.drawings.canvas import Point, number
from tauthide.plan.plan import Plan


@dataclass(frozen=True, slots=True)
class Break:
    """A piece of the wall that is left out of the drawing."""

    low_mm: float
    """Below here everything is drawn."""
    high_mm: float
    """From here on it is drawn again."""


@dataclass(frozen=True, slots=True)
class Stage:
    """How section coordinates get onto the page, the frame lying head down."""

    x_mm: float
    """The outside of the wall on the page."""
    y_mm: float
    """The plane of the bearing edge on the page."""
    scale: float
    left_out: Break | None
    gap_mm: float
    """Clear paper on the page where a piece of the wall is left out."""

    @property
    def removed_mm(self) -> float:
        """How much lower the back is drawn than it lies."""
        if self.left_out is None:
            return 0.0
        return self.left_out.high_mm - self.left_out.low_mm - self.gap_mm / self.scale

    def at(self, point: Point) -> Point:
        """Return a point of the section on the page."""
        x, z = point
        if self.left_out is not None and z > (self.left_out.low_mm + self.left_out.high_mm) / 2:
            z -= self.removed_mm
        return (self.x_mm + self.scale * x, self.y_mm - self.scale * z)


@dataclass(frozen=True, slots=True)
class Profile:
    """Frame and skin in section, all in mm."""

    depth: float
    wall: float
    edge: float
    """Rounding of bearing edge and back edge."""
    thickness: float
    turnover: float
    hole_at: float
    """The hole's middle along the skin."""
    hole: float
    ends_on_wall: bool = False
    """Whether the skin ends on the wall by a stated drop: all above it is bare."""

    @property
    def quarter(self) -> float:
        """The skin's length round one edge."""
        return pi / 2 * (self.edge + self.thickness / 2)

    @property
    def end(self) -> float:
        """Where the skin ends: the turnover is measured from the outside of the wall."""
        return self.turnover - self.edge

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Where the bearing edge's curve begins and ends, and where the back edge's does."""
        wall = self.depth - 2 * self.edge
        return (-2 * self.quarter - wall, -self.quarter - wall, -self.quarter, 0.0)

    def at(self, s: float, out: float = 0.0) -> Point:
        """Return the point at a place along the skin, `out` mm off its middle surface, away from the frame."""
        round_, e = self.edge + self.thickness / 2 + out, self.edge
        head, wall, back, flat = self.bounds
        if s >= flat:
            return (e + s, self.depth - e + round_)
        if s >= back:
            angle = -s / self.quarter * pi / 2
            return (e - round_ * sin(angle), self.depth - e + round_ * cos(angle))
        if s >= wall:
            return (e - round_, self.depth - e + (s - back))
        if s >= head:
            angle = (wall - s) / self.quarter * pi / 2
            return (e - round_ * cos(angle), e - round_ * sin(angle))
        return (e + (head - s), e - round_)

    def path(self, stage: Stage, begin: float, end: float, out: float = 0.0) -> str:
        """Return SVG path data along the skin from one place to a later one."""
        head, wall, back, flat = self.bounds
        radius = number((self.edge + self.thickness / 2 + out) * stage.scale)
        stops = [stop for stop in (head, wall, back, flat) if begin < stop < end]
        x, y = stage.at(self.at(begin, out))
        data = [f"M{number(x)} {number(y)}"]
        before = begin
        for stop in (*stops, end):
            x, y = stage.at(self.at(stop, out))
            middle = (before + stop) / 2
            curved = head < middle < wall or back < middle < flat
            data.append(f"A{radius} {radius} 0 0 1 " if curved else "L")
            data.append(f"{number(x)} {number(y)}")
            before = stop
        return "".join(data)

    def frame(self, left_out: Break | None) -> list[list[Point]]:
        """Return the frame's section as convex polygons, lower one first, rounded edges in short steps."""
        rounding = []
        for step in range(ROUNDING_STEPS + 1):
            angle = step / ROUNDING_STEPS * pi / 2
            rounding.append((self.edge * (1 - sin(angle)), self.edge * (1 - cos(angle))))
        back = [(x, self.depth - z) for x, z in reversed(rounding)]
        inside = [(self.wall, self.depth), (self.wall, 0.0)]
        if left_out is None:
            return [[*rounding, *back, *inside]]
        low, high = left_out.low_mm, left_out.high_mm
        return [
            [*rounding, (0.0, low), (self.wall, low), inside[1]],
            [(0.0, high), *back, inside[0], (self.wall, high)],
        ]

    def frame_path(self, stage: Stage) -> str:
        """Return SVG path data of the frame's section, open where a piece of the wall is left out."""

        def point(x: float, z: float) -> str:
            page_x, page_y = stage.at((x, z))
            return f"{number(page_x)} {number(page_y)}"

        e, h, w = self.edge, self.depth, self.wall
        radius = number(e * stage.scale)
        arc = f"A{radius} {radius} 0 0 1 " if e else "L"
        below = f"{point(w, 0.0)}L{point(e, 0.0)}{arc}{point(0.0, e)}L"
        above = f"{point(0.0, h - e)}{arc}{point(e, h)}L{point(w, h)}"
        if stage.left_out is None:
            return f"M{below}{above}Z"
        low, high = stage.left_out.low_mm, stage.left_out.high_mm
        return f"M{point(w, low)}L{below}{point(0.0, low)}M{point(0.0, high)}L{above}L{point(w, high)}"

    def height_on_wall(self, s: float) -> float:
        """Return z of a place along the skin: the depth itself on the back."""
        return min(self.at(s)[1], self.depth)

    def place_on_wall(self, z: float) -> float:
        """Return the place along the skin at a height of the straight wall."""
        return self.bounds[2] + z - (self.depth - self.edge)


ROUNDING_STEPS = 6
"""Steps of a rounded edge in hatching: within 1 % of its radius."""


def profile_of(plan: Plan) -> Profile:
    """Return the section of this drum."""
    spec = plan.spec
    if plan.has("holes.drop"):
        return _profile_on_wall(plan)
    return Profile(
        depth=spec.number("frame.depth"),
        wall=spec.number("frame.wall"),
        edge=spec.number("frame.edge_radius"),
        thickness=spec.number("head.thickness"),
        turnover=spec.number("head.turnover"),
        hole_at=plan["holes.inset"],
        hole=spec.number("stations.hole"),
    )


def _profile_on_wall(plan: Plan) -> Profile:
    """Return the section of a head whose skin ends on the wall: places count from the back edge all the same."""
    spec = plan.spec
    depth, edge, thickness = (spec.number(path) for path in ("frame.depth", "frame.edge_radius", "head.thickness"))
    straight = pi / 2 * (edge + thickness / 2) + depth - edge
    return Profile(
        depth=depth,
        wall=spec.number("frame.wall"),
        edge=edge,
        thickness=thickness,
        turnover=spec.number("head.drop") - straight + edge,
        hole_at=plan["holes.drop"] - straight,
        hole=spec.number("stations.hole"),
        ends_on_wall=True,
    )


def hatch(polygon: list[Point], pitch: float) -> list[tuple[Point, Point]]:
    """Return lines at 45 degrees across a convex polygon, `pitch` mm apart."""
    step = pitch * 2**0.5
    offsets = [x - z for x, z in polygon]
    lines = []
    k = (int(min(offsets) // step) + 0.5) * step
    edges = list(zip(polygon, (*polygon[1:], polygon[0]), strict=True))
    while k < max(offsets):
        cuts = []
        for (x1, z1), (x2, z2) in edges:
            before, after = x1 - z1 - k, x2 - z2 - k
            if (before < 0) != (after < 0):
                share = before / (before - after)
                cuts.append((x1 + share * (x2 - x1), z1 + share * (z2 - z1)))
        if len(cuts) == 2:
            lines.append((cuts[0], cuts[1]))
        k += step
    return lines
