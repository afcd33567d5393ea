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

    def clearance(self, x: float, y: float, enough: float) -> float:
        """Distance in mm from the border, below 0 on its wrong side; at least `enough` is as good as `enough`."""
        west, south, east, north = self.box
        if not self.holds and (x < west - enough or x > east + enough or y < south - enough or y > north + enough):
            return enough
        least2, within = enough * enough, False
        for side in self.sides:
            dx, dy = x - side.x, y - side.y
            along = dx * side.ux + dy * side.uy
            if along <= 0:
                away2 = dx * dx + dy * dy
            elif along >= side.length:
                ex, ey = dx - side.length * side.ux, dy - side.length * side.uy
                away2 = ex * ex + ey * ey
            else:
                away = dx * side.uy - dy * side.ux
                away2 = away * away
            least2 = min(least2, away2)
            rise = side.uy * side.length
            # A ray to the east crosses the sides that span its height.
            if (dy < 0) != (dy < rise) and (dx < dy * side.ux / side.uy):
                within = not within
        away = math.sqrt(least2)
        return away if within == self.holds else -away


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
        return all(
            border.clearance(x, y, radius + border.margin) >= radius + border.margin - TOUCH_MM
            for border in self.borders
        )


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
    return Border(tuple(_sides(outline)), holds, margin, (min(xs), min(ys), max(xs), max(ys)))


def _sides(outline: tuple[Point, ...]) -> Iterator[Side]:
    for number, (x, y) in enumerate(outline):
        px, py = outline[number - 1]
        nx, ny = outline[(number + 1) % len(outline)]
        along, up = nx - x, ny - y
        length = math.sqrt(along * along + up * up)
        reflex = (x - px) * up - (y - py) * along < 0
        yield Side(x, y, along / length, up / length, length, reflex)
