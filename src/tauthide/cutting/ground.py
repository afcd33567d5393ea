"""Where on a hide a kind of piece may lie: the hide's edge, its flaws, and the zones closed to that use."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from tauthide.cutting.curves import TOUCH_MM, Circle
from tauthide.cutting.hides import Hide, Point, RoundFlaw, signed_area

SLACK_MM = 0.001
"""Added to every distance when places are sought: they are then rounded to 0.001 mm, which moves each by up to
0.00071 mm."""

KEEP_MM = 0.0002
"""Added to every distance when a rounded place is tried: what is left of the slack, and far more than the error of
the sums."""

CELLS = 32
"""Squares along the longer side of a border's box, for each of which the sides that matter there are kept."""

HALF_DIAGONAL = math.sqrt(0.5)
"""Of a square, in sides."""

SPARE_MM = 1e-6
"""Added to distances of squares, so that the error of the sums never drops a side that matters."""

Row = tuple[float, float, float, float, float, float]
"""A side as bare numbers: beginning, unit vector, length, and the height of its end over its beginning."""


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

    rows: tuple[Row, ...]
    """The sides again, as bare numbers: read millions of times."""

    step: float
    """How wide a square is."""

    cells: dict[tuple[float, float], Cell] = field(default_factory=dict, repr=False, compare=False)
    """Squares looked at before, by column and row."""

    def keeps(self, x: float, y: float, need: float) -> bool:
        """Whether a place lies on the free side, at least `need` away."""
        west, south, east, north = self.box
        if self.holds:
            if x < west or x > east or y < south or y > north:
                return False
        elif x < west - need or x > east + need or y < south - need or y > north + need:
            return True
        key = ((x - west) // self.step, (y - south) // self.step)
        cell = self.cells.get(key) or self._cell(key)
        near = max(need - TOUCH_MM, 0.0)
        if near > cell.most:
            return False
        if cell.free is None:
            return self._free(x, y) and _clear_of(self.rows, x, y, near)
        return cell.free and (near <= cell.least or _clear_of(cell.rows, x, y, near))

    def _free(self, x: float, y: float) -> bool:
        """Whether a place lies on the free side: a ray to the east crosses the sides that span its height."""
        within = False
        for sx, sy, ux, uy, _, rise in self.rows:
            dy = y - sy
            if (dy < 0) != (dy < rise) and x - sx < dy * ux / uy:
                within = not within
        return within == self.holds

    def _cell(self, key: tuple[float, float]) -> Cell:
        """Look at a square: a side that is nearest to any place in it is nearly as near to its middle."""
        x, y = self.box[0] + (key[0] + 0.5) * self.step, self.box[1] + (key[1] + 0.5) * self.step
        aways = [_away(row, x, y) for row in self.rows]
        nearest, reach = min(aways), self.step * HALF_DIAGONAL + SPARE_MM
        rows = tuple(row for row, away in zip(self.rows, aways, strict=True) if away <= nearest + 2 * reach)
        free = self._free(x, y) if nearest > reach else None
        cell = self.cells[key] = Cell(nearest - reach, nearest + reach, free, rows)
        return cell


@dataclass(frozen=True, slots=True)
class Cell:
    """What is known of all places in a square: their distance from the border, and which sides can be nearest."""

    least: float
    most: float
    free: bool | None
    """Whether the square lies on the free side; None if the border runs through it."""
    rows: tuple[Row, ...]


def _clear_of(rows: tuple[Row, ...], x: float, y: float, near: float) -> bool:
    """Whether a place lies at least `near` away from all sides."""
    near2 = near * near
    for sx, sy, ux, uy, length, rise in rows:
        dx, dy = x - sx, y - sy
        if -near < dx * uy - dy * ux < near:
            along = dx * ux + dy * uy
            if along < 0:
                if dx * dx + dy * dy < near2:
                    return False
            elif along > length:
                dx -= length * ux
                dy -= rise
                if dx * dx + dy * dy < near2:
                    return False
            else:
                return False
    return True


def _away(row: Row, x: float, y: float) -> float:
    """Distance of a place from a side."""
    sx, sy, ux, uy, length, _ = row
    dx, dy = x - sx, y - sy
    along = min(max(dx * ux + dy * uy, 0.0), length)
    dx, dy = dx - along * ux, dy - along * uy
    return math.sqrt(dx * dx + dy * dy)


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
    box = (min(xs), min(ys), max(xs), max(ys))
    step = max(box[2] - box[0], box[3] - box[1]) / CELLS
    return Border(sides, holds, margin, box, rows, step)


def _sides(outline: tuple[Point, ...]) -> Iterator[Side]:
    for number, (x, y) in enumerate(outline):
        px, py = outline[number - 1]
        nx, ny = outline[(number + 1) % len(outline)]
        along, up = nx - x, ny - y
        length = math.sqrt(along * along + up * up)
        reflex = (x - px) * up - (y - py) * along < 0
        yield Side(x, y, along / length, up / length, length, reflex)
