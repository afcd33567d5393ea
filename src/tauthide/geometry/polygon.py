"""The polygon outline: a regular polygon with a level side at the bottom.

Pushed out, a curve at a distance has the sides joined by arcs about the frame's corners; pulled in,
it is a smaller polygon with sharp corners. Either way it is made of as many equal *sectors* as there
are sides, each a side with half of the corner at either end, and is computed in the lowest sector
and turned into place.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from tauthide.geometry.curves import (
    ArcTo,
    ClosedPath,
    LineTo,
    Point,
    Segment,
    divide_evenly,
    require_offset,
    require_sizes,
    straddle_along,
)

LEAST_SIDES = 3

TOUCH_MM = 1e-11
"""A chord that misses a corner by less than this reaches it: rounding must not send it to another side."""


@dataclass(frozen=True, slots=True)
class _Sector:
    """The lowest sector of a curve: its side's distance from the centre, and what it is made of."""

    reach_mm: float
    half_side_mm: float
    corner_mm: float
    """Radius of the corner's arc, 0 where the corner is sharp."""
    length_mm: float

    def split(self, arc_mm: float) -> tuple[int, float]:
        """Which sector a place lies in, counted on without wrapping, and how far past its middle."""
        number = round(arc_mm / self.length_mm)
        return number, arc_mm - number * self.length_mm

    def locate(self, past_mm: float) -> tuple[Point, Point]:
        """Point and outward unit normal in the lowest sector, by the distance past its middle."""
        round_mm = abs(past_mm) - self.half_side_mm
        if round_mm <= 0 or self.corner_mm == 0:
            return (past_mm, -self.reach_mm), (0.0, -1.0)
        angle = round_mm / self.corner_mm
        x = self.half_side_mm + self.corner_mm * math.sin(angle)
        y = self.corner_mm * (1 - math.cos(angle)) - self.reach_mm
        return (math.copysign(x, past_mm), y), (math.copysign(math.sin(angle), past_mm), -math.cos(angle))


@dataclass(frozen=True, slots=True)
class PolygonOutline:
    """A regular polygon about (0, 0). Its methods are those of `tauthide.geometry.outline.Outline`."""

    sides: int
    across_flats_mm: float
    """Twice the distance from the centre to a side, for odd numbers of sides too."""

    kind: ClassVar[str] = "polygon"

    def __post_init__(self) -> None:
        """Refuse what is not a polygon, with ValueError."""
        require_sizes(across_flats_mm=self.across_flats_mm)
        if self.sides < LEAST_SIDES:
            raise ValueError(f"a polygon has {LEAST_SIDES} sides or more, not {self.sides}")

    @classmethod
    def from_sizes(cls, sizes: Mapping[str, float]) -> PolygonOutline:
        """Make one from named sizes; KeyError for one that is missing."""
        return cls(int(sizes["sides"]), sizes["across_flats_mm"])

    @property
    def perimeter_mm(self) -> float:
        """Length round the frame."""
        return self.perimeter_at(0.0)

    @property
    def area_mm2(self) -> float:
        """Area inside the frame's outline."""
        return self.area_at(0.0)

    @property
    def least_radius_mm(self) -> float:
        """The distance from the centre to a side: how far the outline can be pulled in.

        A side is straight and a corner only gets sharper, so no radius of curvature sets a limit.
        """
        return self.across_flats_mm / 2

    def length_at(self, offset_mm: float) -> float:
        """Extent in y of the curve at `offset_mm`: over two sides, or over a side and a corner."""
        side_mm, corner_mm = self._reaches(offset_mm)
        return side_mm + (corner_mm if self.sides % 2 else side_mm)

    def width_at(self, offset_mm: float) -> float:
        """Extent in x of the curve at `offset_mm`."""
        side_mm, corner_mm = self._reaches(offset_mm)
        if self.sides % 4 == 0:
            return 2 * side_mm
        if self.sides % 2 == 0:
            return 2 * corner_mm
        # The corners nearest to level lie a quarter of a sector off it, 360/4n degrees.
        round_mm = max(offset_mm, 0.0)
        return 2 * ((corner_mm - round_mm) * math.cos(self._half_sector / 2) + round_mm)

    def perimeter_at(self, offset_mm: float) -> float:
        """Length round the curve at `offset_mm` (outward by Steiner's formula)."""
        return self.sides * self._sector(offset_mm).length_mm

    def area_at(self, offset_mm: float) -> float:
        """Area in mm2 inside the curve at `offset_mm` (outward by Steiner's formula)."""
        sector = self._sector(offset_mm)
        sharp_mm = sector.reach_mm - sector.corner_mm
        area_mm2 = self.sides * sharp_mm * sector.half_side_mm
        strips_mm2 = self.sides * 2 * sector.half_side_mm * sector.corner_mm
        return area_mm2 + strips_mm2 + math.pi * sector.corner_mm**2

    def stations(self, count: int) -> tuple[float, ...]:
        """Equal lengths: n distances along the frame, from the middle of the lowest side on."""
        return divide_evenly(self.perimeter_mm, count)

    def carry(self, station_mm: float, offset_mm: float) -> float:
        """Carry a place on the frame along the ray from the centre."""
        sector, frame = self._sector(offset_mm), self._sector(0.0)
        number, past_mm = frame.split(station_mm)
        carried_mm = abs(past_mm) * sector.reach_mm / frame.reach_mm
        if carried_mm > sector.half_side_mm and sector.corner_mm > 0:
            # The ray meets the corner's arc. It passes the corner at a distance p, and turns by
            # asin(p / radius) against the arc's own radius at the point where they meet.
            ray = math.atan2(abs(past_mm), frame.reach_mm)
            beside_mm = math.cos(ray) * frame.half_side_mm - math.sin(ray) * frame.reach_mm
            turned = ray - math.asin(min(1.0, max(0.0, beside_mm / sector.corner_mm)))
            carried_mm = sector.half_side_mm + sector.corner_mm * max(0.0, turned)
        return number * sector.length_mm + math.copysign(carried_mm, past_mm)

    def point(self, offset_mm: float, arc_mm: float) -> Point:
        """The point at a distance along the curve."""
        return self._locate(self._sector(offset_mm), arc_mm)[0]

    def normal(self, offset_mm: float, arc_mm: float) -> Point:
        """Outward unit normal at a distance along the curve; at a sharp corner, of one of its sides."""
        return self._locate(self._sector(offset_mm), arc_mm)[1]

    def advance(self, offset_mm: float, arc_mm: float, chord_mm: float) -> float:
        """The first place a straight distance further along, backwards for a chord below 0.

        Closed form, side by side and corner by corner. ValueError where there is none.
        """
        if chord_mm < 0:
            # The outline is its own mirror image: backwards is forwards from the mirrored place.
            return -self.advance(offset_mm, -arc_mm, -chord_mm)
        if chord_mm == 0:
            return arc_mm
        sector = self._sector(offset_mm)
        start = self._locate(sector, arc_mm)[0]
        number, past_mm = sector.split(arc_mm)
        if past_mm < -sector.half_side_mm:
            number -= 1
        on_side = abs(past_mm) <= sector.half_side_mm
        for following in range(number, number + self.sides + 2):
            found_mm = self._cross_side(sector, following, start, chord_mm) if on_side else None
            if found_mm is None and sector.corner_mm > 0:
                found_mm = self._cross_corner(sector, following, start, chord_mm)
            if found_mm is not None:
                return found_mm
            on_side = True
        raise ValueError(f"no place {chord_mm!r} mm straight from {arc_mm!r} mm along the curve")

    def straddle(self, offset_mm: float, arc_mm: float, chord_mm: float) -> tuple[float, float]:
        """The two places at equal lengths of curve either side of a place, a chord apart.

        ValueError for a chord below 0 or longer than there is.
        """
        sector = self._sector(offset_mm)
        quarter_mm = self.sides * sector.length_mm / 4
        return straddle_along(lambda place_mm: self._locate(sector, place_mm), arc_mm, chord_mm, quarter_mm)

    def path(self, offset_mm: float) -> ClosedPath:
        """Sides, with arcs at the corners where pushed out, from the middle of the lowest side."""
        sector = self._sector(offset_mm)
        start = (0.0, -sector.reach_mm)
        segments: list[Segment] = []
        for number in range(self.sides):
            end = self._turn(number, (sector.half_side_mm, -sector.reach_mm))
            segments.append(LineTo(*end))
            if sector.corner_mm > 0:
                begin = self._turn((number + 1) % self.sides, (-sector.half_side_mm, -sector.reach_mm))
                segments.append(ArcTo(sector.corner_mm, *begin))
        return ClosedPath(start, (*segments, LineTo(*start)))

    @property
    def _half_sector(self) -> float:
        """Half the angle of a sector, in radians."""
        return math.pi / self.sides

    def _sector(self, offset_mm: float) -> _Sector:
        require_offset(offset_mm, self.least_radius_mm)
        corner_mm = max(offset_mm, 0.0)
        half_side_mm = (self.least_radius_mm + min(offset_mm, 0.0)) * math.tan(self._half_sector)
        length_mm = 2 * (half_side_mm + corner_mm * self._half_sector)
        return _Sector(self.least_radius_mm + offset_mm, half_side_mm, corner_mm, length_mm)

    def _reaches(self, offset_mm: float) -> tuple[float, float]:
        """Distance from the centre to the curve at the middle of a side, and at a corner."""
        sector = self._sector(offset_mm)
        sharp_mm = (sector.reach_mm - sector.corner_mm) / math.cos(self._half_sector)
        return sector.reach_mm, sharp_mm + sector.corner_mm

    def _turn(self, number: float, vector: Point) -> Point:
        """Turn a vector of the lowest sector into the sector of that number."""
        angle = 2 * self._half_sector * number
        sine, cosine = math.sin(angle), math.cos(angle)
        return vector[0] * cosine - vector[1] * sine, vector[0] * sine + vector[1] * cosine

    def _locate(self, sector: _Sector, arc_mm: float) -> tuple[Point, Point]:
        """Point and outward unit normal at a distance along a curve."""
        number, past_mm = sector.split(arc_mm)
        place, normal = sector.locate(past_mm)
        number %= self.sides
        return self._turn(number, place), self._turn(number, normal)

    def _cross_side(self, sector: _Sector, number: int, start: Point, chord_mm: float) -> float | None:
        """Where a side first lies a chord from `start`, which is nearer to the side's beginning."""
        # Seen with that side turned down, so that it is level; distance along it grows towards its end.
        x, y = self._turn(-number, start)
        ahead_mm, beside_mm = sector.half_side_mm - x, y + sector.reach_mm
        if math.hypot(ahead_mm, beside_mm) < chord_mm - TOUCH_MM:
            return None
        reach_mm = math.sqrt(max(0.0, (chord_mm - beside_mm) * (chord_mm + beside_mm)))
        past_mm = min(x + reach_mm, sector.half_side_mm)
        return number * sector.length_mm + past_mm

    def _cross_corner(self, sector: _Sector, number: int, start: Point, chord_mm: float) -> float | None:
        """Where the arc after a side first lies a chord from `start`, which is nearer to its beginning."""
        # Seen with the middle of the arc turned down; angles about its centre, from there.
        x, y = self._turn(-number - 0.5, start)
        centre_y = (sector.corner_mm - sector.reach_mm) / math.cos(self._half_sector)
        apart_mm = math.hypot(x, y - centre_y)
        begin = math.atan2(x, centre_y - y)
        opposite = math.atan2(-x, y - centre_y)
        if abs(opposite) <= self._half_sector:
            furthest_mm = apart_mm + sector.corner_mm
        else:
            end_x = sector.corner_mm * math.sin(self._half_sector)
            end_y = centre_y - sector.corner_mm * math.cos(self._half_sector)
            furthest_mm = math.hypot(end_x - x, end_y - y)
        if furthest_mm < chord_mm - TOUCH_MM:
            return None
        nearest_mm = apart_mm - sector.corner_mm
        share = (chord_mm - nearest_mm) * (chord_mm + nearest_mm) / (4 * apart_mm * sector.corner_mm)
        angle = begin + 2 * math.asin(math.sqrt(min(1.0, max(0.0, share))))
        angle = math.remainder(angle, 2 * math.pi)
        angle = min(self._half_sector, max(-self._half_sector, angle))
        return (number + 0.5) * sector.length_mm + sector.corner_mm * angle
