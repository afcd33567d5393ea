"""A hide as it lies on the floor: outline, flaws, weak regions, spine and thickness.

All places are in mm, x right and y up, in the hide's own grid.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

Point = tuple[float, float]

LEAST_CORNERS = 3

READING_TOUCH_MM2 = 1e-6
"""Squared distance within which a place counts as the place of a reading itself: a thousandth of a mm."""


@dataclass(frozen=True, slots=True)
class RoundFlaw:
    """A hole or scar that a circle covers."""

    centre: Point
    radius_mm: float

    def __post_init__(self) -> None:
        """Refuse what is not a circle, with ValueError."""
        require_finite(*self.centre)
        require_size(self.radius_mm)


@dataclass(frozen=True, slots=True)
class CorneredFlaw:
    """A hole, scar or brand mark that a polygon covers: n points, either turn, closing point not repeated."""

    outline: tuple[Point, ...]

    def __post_init__(self) -> None:
        """Refuse what is not a polygon, with ValueError."""
        require_outline(self.outline)


Flaw = RoundFlaw | CorneredFlaw


@dataclass(frozen=True, slots=True)
class Zone:
    """A weak region (belly, neck, shank): a polygon, n points, that may reach beyond the hide's edge.

    A piece that may not lie there keeps out of it, but needs no knife's allowance: nothing is cut there.
    Scrap pieces may lie anywhere.
    """

    name: str
    outline: tuple[Point, ...]
    heads: bool = False
    laces: bool = True

    def __post_init__(self) -> None:
        """Refuse what is not a polygon, with ValueError."""
        require_outline(self.outline)

    def allows(self, use: str) -> bool:
        """Whether a piece of that use (head, lace, scrap) may lie here."""
        return {"head": self.heads, "lace": self.laces}.get(use, True)


@dataclass(frozen=True, slots=True)
class Reading:
    """A thickness measured at a place of the hide."""

    place: Point
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class Hide:
    """A hide at hand. The outline is a simple polygon: n points, either turn, closing point not repeated."""

    name: str
    species: str
    outline: tuple[Point, ...]
    thickness: float | tuple[Reading, ...]
    """One thickness in mm for the whole hide, or one reading or more."""
    flaws: tuple[Flaw, ...] = ()
    zones: tuple[Zone, ...] = ()
    spine: tuple[Point, Point] | None = None
    """Two points of the line of the spine, or None where it is not known."""

    def __post_init__(self) -> None:
        """Refuse what cannot be a hide, with ValueError; whether the outline crosses itself is not looked at."""
        require_outline(self.outline)
        values = [r.thickness_mm for r in self.thickness] if isinstance(self.thickness, tuple) else [self.thickness]
        if not values:
            raise ValueError("a hide has one thickness, or one reading or more")
        for value_mm in values:
            require_size(value_mm)
        if self.spine is not None and self.spine[0] == self.spine[1]:
            raise ValueError("the two points of the spine are one")

    @property
    def area_mm2(self) -> float:
        """Area inside the outline, flaws included."""
        return abs(signed_area(self.outline))

    def thickness_at(self, place: Point) -> float:
        """Thickness in mm at a place: the mean of the readings, each weighted by 1 / distance squared.

        So it is a reading's own value where that was taken, and never outside the least and greatest reading
        (inverse distance weighting: Shepard, A two-dimensional interpolation function for irregularly-spaced
        data, 1968). To 1e-6 mm.
        """
        if not isinstance(self.thickness, tuple):
            return self.thickness
        total, weighted_mm = 0.0, 0.0
        for reading in self.thickness:
            along, up = place[0] - reading.place[0], place[1] - reading.place[1]
            apart_mm2 = along * along + up * up
            if apart_mm2 < READING_TOUCH_MM2:
                return reading.thickness_mm
            total += 1 / apart_mm2
            weighted_mm += reading.thickness_mm / apart_mm2
        return round(weighted_mm / total, 6)


def signed_area(outline: tuple[Point, ...]) -> float:
    """Area in mm2 of a polygon, below 0 for one that runs clockwise."""
    doubled = 0.0
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        doubled += ax * by - bx * ay
    return doubled / 2


def require_finite(*values: float) -> None:
    """Refuse what is not a number, with ValueError."""
    if not all(math.isfinite(value) for value in values):
        raise ValueError(f"not a place: {values!r}")


def require_size(value: float) -> None:
    """Refuse a size that is not above 0, with ValueError."""
    if not (math.isfinite(value) and value > 0):
        raise ValueError(f"a size is above 0, not {value!r}")


def require_outline(outline: tuple[Point, ...]) -> None:
    """Refuse what has no area: too few corners, one repeated at once, or all in a line. With ValueError."""
    if len(outline) < LEAST_CORNERS:
        raise ValueError(f"an outline has {LEAST_CORNERS} points or more, not {len(outline)}")
    for point, following in zip(outline, outline[1:] + outline[:1], strict=True):
        require_finite(*point)
        if point == following:
            raise ValueError(f"the same point twice running: {point!r}")
    if signed_area(outline) == 0:
        raise ValueError("an outline without area")
