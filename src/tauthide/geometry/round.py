"""The round outline: a circle, where everything has a closed form."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from tauthide.geometry.curves import ArcTo, ClosedPath, Point, divide_evenly, require_offset, require_sizes


@dataclass(frozen=True, slots=True)
class RoundOutline:
    """A circle about (0, 0). Its methods are those of `tauthide.geometry.outline.Outline`."""

    diameter_mm: float

    kind: ClassVar[str] = "round"

    def __post_init__(self) -> None:
        """Refuse what is not a circle, with ValueError."""
        require_sizes(diameter_mm=self.diameter_mm)

    @classmethod
    def from_sizes(cls, sizes: Mapping[str, float]) -> RoundOutline:
        """Make one from named sizes; KeyError for one that is missing."""
        return cls(sizes["diameter_mm"])

    @property
    def perimeter_mm(self) -> float:
        """Length round the frame."""
        return math.pi * self.diameter_mm

    @property
    def area_mm2(self) -> float:
        """Area inside the frame's outline."""
        return math.pi * self.diameter_mm**2 / 4

    @property
    def least_radius_mm(self) -> float:
        """The radius, everywhere the same."""
        return self.diameter_mm / 2

    def length_at(self, offset_mm: float) -> float:
        """Diameter of the curve at `offset_mm`."""
        return 2 * self._radius_at(offset_mm)

    def width_at(self, offset_mm: float) -> float:
        """Diameter of the curve at `offset_mm`."""
        return 2 * self._radius_at(offset_mm)

    def perimeter_at(self, offset_mm: float) -> float:
        """Length round the curve at `offset_mm`."""
        return 2 * math.pi * self._radius_at(offset_mm)

    def area_at(self, offset_mm: float) -> float:
        """Area in mm2 inside the curve at `offset_mm`."""
        return math.pi * self._radius_at(offset_mm) ** 2

    def stations(self, count: int) -> tuple[float, ...]:
        """Equal arcs: n distances along the frame, from the lowest point on."""
        return divide_evenly(self.perimeter_mm, count)

    def carry(self, station_mm: float, offset_mm: float) -> float:
        """Carry a place on the frame along the radius."""
        return station_mm * (self._radius_at(offset_mm) / self.least_radius_mm)

    def point(self, offset_mm: float, arc_mm: float) -> Point:
        """The point at a distance along the curve."""
        radius_mm = self._radius_at(offset_mm)
        x, y = self.normal(offset_mm, arc_mm)
        return radius_mm * x, radius_mm * y

    def normal(self, offset_mm: float, arc_mm: float) -> Point:
        """Outward unit normal at a distance along the curve."""
        angle = arc_mm / self._radius_at(offset_mm)
        return math.sin(angle), -math.cos(angle)

    def advance(self, offset_mm: float, arc_mm: float, chord_mm: float) -> float:
        """The place a straight distance further along; ValueError beyond the diameter."""
        return arc_mm + self._arc_over(offset_mm, chord_mm)

    def straddle(self, offset_mm: float, arc_mm: float, chord_mm: float) -> tuple[float, float]:
        """The two places either side, a chord apart; ValueError below 0 or beyond the diameter."""
        if chord_mm < 0:
            raise ValueError(f"a chord to straddle is 0 or longer, not {chord_mm!r} mm")
        half_mm = self._arc_over(offset_mm, chord_mm) / 2
        return arc_mm - half_mm, arc_mm + half_mm

    def path(self, offset_mm: float) -> ClosedPath:
        """Two half circles from the lowest point."""
        radius_mm = self._radius_at(offset_mm)
        halves = (ArcTo(radius_mm, 0.0, radius_mm), ArcTo(radius_mm, 0.0, -radius_mm))
        return ClosedPath((0.0, -radius_mm), halves)

    def _radius_at(self, offset_mm: float) -> float:
        require_offset(offset_mm, self.least_radius_mm)
        return self.least_radius_mm + offset_mm

    def _arc_over(self, offset_mm: float, chord_mm: float) -> float:
        """Length of curve over a chord, with the chord's sign."""
        radius_mm = self._radius_at(offset_mm)
        if not abs(chord_mm) <= 2 * radius_mm:
            raise ValueError(f"no chord of {chord_mm!r} mm in a circle of radius {radius_mm!r} mm")
        return 2 * radius_mm * math.asin(chord_mm / (2 * radius_mm))
