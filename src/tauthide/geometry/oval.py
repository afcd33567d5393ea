"""The oval outline: an ellipse, its length along y, with the curves at a distance from it.

Places are reached through the ellipse's parameter t (see `elliptic`): chords are found in t, where
a step costs no integral, and only the answer is measured along the curve.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from tauthide.geometry.curves import (
    ClosedPath,
    CurveTo,
    Point,
    bracket_rising,
    divide_evenly,
    require_offset,
    require_sizes,
    solve_rising,
    straddle_along,
)
from tauthide.geometry.elliptic import find_parameter, measure_arc, measure_quarter, turn_normal

CHORD_SETTLED_MM = 1e-9
"""Newton's last step on a chord begins this close, and ends at the limit of doubles."""

CHORD_STEP = math.pi / 48
"""Step in t that brackets a chord: far smaller than any reach over which the distance dips."""

PATH_TOLERANCE_MM = 0.01
"""How far a drawn curve may stray: a tenth of what the finest pen shows."""

PATH_QUARTER_PIECES = 4
"""Least Bézier pieces in a quarter: the ellipse itself then strays by less than 0.0001 mm at 2 m."""

PATH_STRAYING = 150.0
"""Straying of a curve at offset d drawn in n pieces, over |d| / n^4 and (r - 1) r^2, r the longer
axis over the shorter: measured (62 to 138 for r from 1.05 to 3), with some room."""


@dataclass(frozen=True, slots=True)
class OvalOutline:
    """An ellipse about (0, 0). Its methods are those of `tauthide.geometry.outline.Outline`."""

    length_mm: float
    """Along y."""
    width_mm: float
    """Along x; may be the longer one."""

    kind: ClassVar[str] = "oval"

    def __post_init__(self) -> None:
        """Refuse what is not an ellipse, with ValueError."""
        require_sizes(length_mm=self.length_mm, width_mm=self.width_mm)

    @classmethod
    def from_sizes(cls, sizes: Mapping[str, float]) -> OvalOutline:
        """Make one from named sizes; KeyError for one that is missing."""
        return cls(sizes["length_mm"], sizes["width_mm"])

    @property
    def perimeter_mm(self) -> float:
        """Length round the frame."""
        return 4 * measure_quarter(*self._halves)

    @property
    def area_mm2(self) -> float:
        """Area inside the frame's outline."""
        return math.pi * self.length_mm * self.width_mm / 4

    @property
    def least_radius_mm(self) -> float:
        """Least radius of curvature, at the ends of the longer axis."""
        short_mm, long_mm = sorted(self._halves)
        return short_mm**2 / long_mm

    def length_at(self, offset_mm: float) -> float:
        """Extent in y of the curve at `offset_mm`."""
        self._require(offset_mm)
        return self.length_mm + 2 * offset_mm

    def width_at(self, offset_mm: float) -> float:
        """Extent in x of the curve at `offset_mm`."""
        self._require(offset_mm)
        return self.width_mm + 2 * offset_mm

    def perimeter_at(self, offset_mm: float) -> float:
        """Length round the curve at `offset_mm` (Steiner's formula)."""
        self._require(offset_mm)
        return self.perimeter_mm + 2 * math.pi * offset_mm

    def area_at(self, offset_mm: float) -> float:
        """Area in mm2 inside the curve at `offset_mm` (Steiner's formula)."""
        self._require(offset_mm)
        return self.area_mm2 + self.perimeter_mm * offset_mm + math.pi * offset_mm**2

    def stations(self, count: int) -> tuple[float, ...]:
        """Equal arcs: n distances along the frame, from the lowest point on."""
        return divide_evenly(self.perimeter_mm, count)

    def carry(self, station_mm: float, offset_mm: float) -> float:
        """Carry a place on the frame along its normal."""
        self._require(offset_mm)
        return station_mm + offset_mm * turn_normal(*self._halves, self._parameter(0.0, station_mm))

    def point(self, offset_mm: float, arc_mm: float) -> Point:
        """The point at a distance along the curve."""
        self._require(offset_mm)
        return self._locate(offset_mm, self._parameter(offset_mm, arc_mm))[0]

    def normal(self, offset_mm: float, arc_mm: float) -> Point:
        """Outward unit normal at a distance along the curve."""
        self._require(offset_mm)
        return self._locate(offset_mm, self._parameter(offset_mm, arc_mm))[1]

    def advance(self, offset_mm: float, arc_mm: float, chord_mm: float) -> float:
        """The first place a straight distance further along, backwards for a chord below 0.

        There always is one up to twice the curve's least radius; ValueError where there is none.
        """
        self._require(offset_mm)
        if chord_mm < 0:
            # The outline is its own mirror image: backwards is forwards from the mirrored place.
            return -self.advance(offset_mm, -arc_mm, -chord_mm)
        if chord_mm == 0:
            return arc_mm
        begin = self._parameter(offset_mm, arc_mm)
        (from_x, from_y), _ = self._locate(offset_mm, begin)

        def excess(t: float) -> tuple[float, float]:
            (x, y), (normal_x, normal_y) = self._locate(offset_mm, t)
            distance = math.hypot(x - from_x, y - from_y)
            if distance == 0:
                return -chord_mm, self._speed(offset_mm, t)
            along = (normal_x * (y - from_y) - normal_y * (x - from_x)) / distance
            return distance - chord_mm, along * self._speed(offset_mm, t)

        bracket = bracket_rising(excess, begin, CHORD_STEP, begin + math.pi)
        if bracket is None:
            raise ValueError(f"no place {chord_mm!r} mm straight from {arc_mm!r} mm along the curve")
        guess = max(bracket[0], begin + chord_mm / self._speed(offset_mm, begin))
        end = solve_rising(excess, *bracket, guess, CHORD_SETTLED_MM)
        return measure_arc(*self._halves, offset_mm, end)

    def straddle(self, offset_mm: float, arc_mm: float, chord_mm: float) -> tuple[float, float]:
        """The two places at equal lengths of curve either side of a place, a chord apart.

        ValueError for a chord below 0, or not shorter than the one through the centre.
        """
        self._require(offset_mm)

        def locate(place_mm: float) -> tuple[Point, Point]:
            return self._locate(offset_mm, self._parameter(offset_mm, place_mm))

        return straddle_along(locate, arc_mm, chord_mm, self.perimeter_at(offset_mm) / 4)

    def path(self, offset_mm: float) -> ClosedPath:
        """Cubic Béziers from the lowest point, equally spaced in t."""
        self._require(offset_mm)
        pieces = self._count_pieces(offset_mm)
        step = 2 * math.pi / pieces
        # The usual handle of a circular arc; an ellipse is a circle drawn out, t is the circle's angle.
        handle = 4 / 3 * math.tan(step / 4)
        knots = []
        for number in range(pieces + 1):
            t = number % pieces * step
            (x, y), (normal_x, normal_y) = self._locate(offset_mm, t)
            reach = handle * self._speed(offset_mm, t)
            knots.append((x, y, -normal_y * reach, normal_x * reach))
        segments = tuple(
            CurveTo(x_0 + dx_0, y_0 + dy_0, x_1 - dx_1, y_1 - dy_1, x_1, y_1)
            for (x_0, y_0, dx_0, dy_0), (x_1, y_1, dx_1, dy_1) in pairwise(knots)
        )
        return ClosedPath(knots[0][:2], segments)

    @property
    def _halves(self) -> tuple[float, float]:
        """Half-axes along x and y."""
        return self.width_mm / 2, self.length_mm / 2

    def _count_pieces(self, offset_mm: float) -> int:
        """How many Bézier pieces draw the curve at an offset: a multiple of 4."""
        ratio = max(self._halves) / min(self._halves)
        straying_mm = PATH_STRAYING * (ratio - 1) * ratio**2 * abs(offset_mm)
        wanted = math.sqrt(math.sqrt(straying_mm / PATH_TOLERANCE_MM))
        return 4 * max(PATH_QUARTER_PIECES, math.ceil(wanted / 4))

    def _require(self, offset_mm: float) -> None:
        require_offset(offset_mm, self.least_radius_mm)

    def _parameter(self, offset_mm: float, arc_mm: float) -> float:
        return find_parameter(*self._halves, offset_mm, arc_mm)

    def _locate(self, offset_mm: float, t: float) -> tuple[Point, Point]:
        """Point on the curve at t, and the outward unit normal there."""
        half_x, half_y = self.width_mm / 2, self.length_mm / 2
        sine, cosine = math.sin(t), math.cos(t)
        normal_x, normal_y = half_y * sine, -half_x * cosine
        size = math.hypot(normal_x, normal_y)
        normal_x, normal_y = normal_x / size, normal_y / size
        place = half_x * sine + offset_mm * normal_x, -half_y * cosine + offset_mm * normal_y
        return place, (normal_x, normal_y)

    def _speed(self, offset_mm: float, t: float) -> float:
        """Length of curve per radian of t."""
        half_x, half_y = self.width_mm / 2, self.length_mm / 2
        speed = math.hypot(half_x * math.cos(t), half_y * math.sin(t))
        return speed + offset_mm * half_x * half_y / (speed * speed)
