"""Where on a hide a kind of piece may lie: the hide's edge, its flaws, and the zones closed to that use."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from tauthide.cutting.curves import TOUCH_MM, Circle
from tauthide.cutting.hides import Hide, Point, RoundFlaw, signed_area

SLACK_MM = 0.001
"""Added to every distance when places are sought: they are then rounded to 0.001 mm, which moves each by up to
0.00071 mm."""

KEEP_MM = 0.0002
"""Added to every distance when a rounded place is tried: what is left of the slack, and far more than the error of
the sums."""


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a border, with the unit vector along it; free skin lies on its left."""

    x: float
    y: float
    ux: float
    uy: float
    length: float
    reflex: bool
    """Whether the border turns right at the side's beginning, so that pieces can go round that corner."""


@dataclass(frozen=True, slots=True)
class Border:
    """A closed border that pieces keep `margin` away from; within it lies free skin, or what is closed to them."""

    sides: tuple[Side, ...]
    holds: bool
    """Whether pieces lie within it (the hide's edge) or without (flaws, zones)."""
    margin: float
    box: tuple[float, float, float, float]

    rows: tuple[tuple[float, float, float, float, float, float], ...]
    """The sides again, as bare numbers, with the height of each side's end over its beginning: read millions of
    times."""

    def keeps(self, x: float, y: float, need: float) -> bool:
        """Whether a place lies on the free side, at least `need` away."""
        if not self.holds:
            west, south, east, north = self.box
            if x < west - need or x > east + need or y < south - need or y > north + need:
                return True
        near, within = max(need - TOUCH_MM, 0.0), False
        near2 = near * near
        for sx, sy, ux, uy, length, rise in self.rows:
            dx, dy = x - sx, y - sy
            away = dx * uy - dy * ux
            if -near < away < near:
                along = dx * ux + dy * uy
                if along < 0:
                    if dx * dx + dy * dy < near2:
                        return False
                elif along > length:
                    dx -= length * ux
                    end = dy - rise
                    if dx * dx + end * end < near2:
                        return False
                    dx = x - sx
                else:
                    return False
            # A ray to the east crosses the sides that span its height.
            if (dy < 0) != (dy < rise) and (dx < dy * ux / uy):
                within = not within
        return within == self.holds


@dataclass(frozen=True, slots=True)
class Ground:
    """Borders and round flaws, with the knife's allowance where one is due."""

    borders: tuple[Border, ...]
    flaws: tuple[Circle, ...]
    """Grown by the knife's allowance."""

    def clear(self, x: float, y: float, radius: float) -> bool:
        """Whether a circle about a place keeps all its distances."""
        for flaw in self.flaws:
            dx, dy, need = x - flaw.x, y - flaw.y, flaw.r + radius - TOUCH_MM
            if dx * dx + dy * dy < need * need:
                return False
        return all(border.keeps(x, y, radius + border.margin) for border in self.borders)


def ground_of(hide: Hide, use: str, knife_mm: float) -> Ground:
    """The ground that a hide is to pieces of one use."""
    borders = [_border(hide.outline, True, knife_mm)]
    flaws = []
    for flaw in hide.flaws:
        if isinstance(flaw, RoundFlaw):
            flaws.append(Circle(*flaw.centre, flaw.radius_mm + knife_mm))
        else:
            borders.append(_border(flaw.outline, False, knife_mm))
    borders += [_border(zone.outline, False, 0.0) for zone in hide.zones if not zone.allows(use)]
    return Ground(tuple(borders), tuple(flaws))


def _border(outline: tuple[Point, ...], holds: bool, margin: float) -> Border:
    """The border along an outline, turned so that free skin lies on its left."""
    if (signed_area(outline) > 0) != holds:
        outline = outline[::-1]
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    sides = tuple(_sides(outline))
    rows = tuple((side.x, side.y, side.ux, side.uy, side.length, side.uy * side.length) for side in sides)
    return Border(sides, holds, margin, (min(xs), min(ys), max(xs), max(ys)), rows)


def _sides(outline: tuple[Point, ...]) -> Iterator[Side]:
    for number, (x, y) in enumerate(outline):
        px, py = outline[number - 1]
        nx, ny = outline[(number + 1) % len(outline)]
        along, up = nx - x, ny - y
        length = math.sqrt(along * along + up * up)
        reflex = (x - px) * up - (y - py) * along < 0
        yield Side(x, y, along / length, up / length, length, reflex)
