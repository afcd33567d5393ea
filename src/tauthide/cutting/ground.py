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
"""Squares along the longer side of a hide, for each of which the sides of borders that matter there are kept."""

COARSER, LEVELS = 4.0, 2
"""A square is looked at among the sides that matter to a square so many times as wide, that twice over."""

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

    cells: dict[tuple[float, float, int], Cell] = field(default_factory=dict, repr=False, compare=False)
    """Squares looked at before, by column, row and level."""

    def keeps(self, x: float, y: float, need: float) -> bool:
        """Whether a place lies on the free side, at least `need` away."""
        west, south, east, north = self.box
        if self.holds:
            if x < west or x > east or y < south or y > north:
                return False
        elif x < west - need or x > east + need or y < south - need or y > north + need:
            return True
        key = ((x - west) // self.step, (y - south) // self.step, 0)
        cell = self.cells.get(key) or self._look(*key)
        near = max(need - TOUCH_MM, 0.0)
        if near > cell.most:
            return False
        if cell.free is None:
            return self._free(x, y) and _clear_of(cell.rows, x, y, near)
        return cell.free and (near <= cell.least or _clear_of(cell.rows, x, y, near))

    def _free(self, x: float, y: float) -> bool:
        """Whether a place lies on the free side: a ray to the east crosses the sides that span its height."""
        within = False
        for sx, sy, ux, uy, _, rise in self.rows:
            dy = y - sy
            if (dy < 0) != (dy < rise) and x - sx < dy * ux / uy:
                within = not within
        return within == self.holds

    def _look(self, column: float, row: float, level: int) -> Cell:
        """Look at a square: a side that is nearest to any place in it is nearly as near to its middle."""
        rows, free = self.rows, None
        if level < LEVELS:
            key = (column // COARSER, row // COARSER, level + 1)
            about = self.cells.get(key) or self._look(*key)
            rows, free = about.rows, about.free
        step = self.step * COARSER**level
        x, y = self.box[0] + (column + 0.5) * step, self.box[1] + (row + 0.5) * step
        aways = [_away(side, x, y) for side in rows]
        nearest, reach = min(aways), step * HALF_DIAGONAL + SPARE_MM
        rows = tuple(side for side, away in zip(rows, aways, strict=True) if away <= nearest + 2 * reach)
        if free is None and nearest > reach:
            free = self._free(x, y)
        cell = self.cells[column, row, level] = Cell(nearest - reach, nearest + reach, free, rows)
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
        for border in self.borders:  # noqa: SIM110 - a generator takes as long as the check itself
            if not border.keeps(x, y, radius + border.margin):
                return False
        return True


def ground_of(hide: Hide, use: str, knife_mm: float) -> Ground:
    """The ground that a hide is to pieces of one use."""
    step = max(east - west for west, east in (_ends(hide.outline, 0), _ends(hide.outline, 1))) / CELLS
    borders = [_border(hide.outline, True, knife_mm, step)]
    flaws = []
    for flaw in hide.flaws:
        if isinstance(flaw, RoundFlaw):
            flaws.append(Circle(*flaw.centre, flaw.radius_mm + knife_mm))
        else:
            borders.append(_border(flaw.outline, False, knife_mm, step))
    borders += [_border(zone.outline, False, 0.0, step) for zone in hide.zones if not zone.allows(use)]
    return Ground(tuple(borders), tuple(flaws))


def _border(outline: tuple[Point, ...], holds: bool, margin: float, step: float) -> Border:
    """The border along an outline, turned so that free skin lies on its left."""
    if (signed_area(outline) > 0) != holds:
        outline = outline[::-1]
    (west, east), (south, north) = _ends(outline, 0), _ends(outline, 1)
    sides = tuple(_sides(outline))
    rows = tuple((side.x, side.y, side.ux, side.uy, side.length, side.uy * side.length) for side in sides)
    return Border(sides, holds, margin, (west, south, east, north), rows, step)


def _ends(outline: tuple[Point, ...], axis: int) -> tuple[float, float]:
    """How far an outline reaches one way and the other."""
    values = [point[axis] for point in outline]
    return min(values), max(values)


def _sides(outline: tuple[Point, ...]) -> Iterator[Side]:
    for number, (x, y) in enumerate(outline):
        px, py = outline[number - 1]
        nx, ny = outline[(number + 1) % len(outline)]
        along, up = nx - x, ny - y
        length = math.sqrt(along * along + up * up)
        reflex = (x - px) * up - (y - py) * along < 0
        yield Side(x, y, along / length, up / length, length, reflex)
