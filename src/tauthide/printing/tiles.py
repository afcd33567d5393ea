"""Tiles: how a rim that is larger than the paper is parted into pages that overlap.

Every tile is a window of the same size onto the plan. A hole lies whole in at least one window, since windows
overlap by more than a hole. Windows that show no edge, and no hole that others do not show, have no page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, hypot

from tauthide.drawings.canvas import Point
from tauthide.printing.rim import Rim

LEAST_OVERLAP_MM = 12.0
"""Enough to glue on. Workshop practice, no published source."""

HOLE_CLEAR_MM = 2.0
"""Windows overlap by a hole and this."""

LINE_CLEAR_MM = 1.0
"""Kept between the outermost point of the blank and the windows' sides: half a line, and to see where it ends."""

CROSS_MM = 3.0
"""Reach of each arm of a cross."""

CROSS_CLEAR_MM = 6.0
"""A cross's middle keeps this far from edge, line of holes, holes and numbers."""

CROSS_SHARES = (0.5, 0.12, 0.88, 0.31, 0.69, 0.2, 0.8)
"""Where along a shared strip crosses may stand, the best first."""

CROSSES = 2
"""So many crosses join two pages: they fix both the place and the turn."""

Box = tuple[float, float, float, float]
"""Left, bottom, right, top in the plan's coordinates."""


@dataclass(frozen=True, slots=True)
class Cross:
    """A mark that two pages or more share, at one place of the plan."""

    number: int
    at: Point


@dataclass(frozen=True, slots=True)
class Tile:
    """A window that has a page."""

    row: int
    """From 0 at the top."""
    column: int
    """From 0 at the left."""
    box: Box

    @property
    def name(self) -> str:
        """A1 at the top left; the letter is the row's."""
        return tile_name(self.row, self.column)


@dataclass(frozen=True, slots=True)
class Tiling:
    """All pages of a rim."""

    rows: int
    columns: int
    overlap_mm: float
    tiles: tuple[Tile, ...]
    """Row by row from the top, those without a page left out."""
    crosses: tuple[Cross, ...]

    def beside(self, tile: Tile, rows: int, columns: int) -> Tile | None:
        """Return the tile so many rows down and columns right of another, if it has a page."""
        wanted = (tile.row + rows, tile.column + columns)
        return next((other for other in self.tiles if (other.row, other.column) == wanted), None)


def tile_name(row: int, column: int) -> str:
    """Return the name of a place in the grid: A1 at the top left, AA1 in the 27th row."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{column + 1}"


def tile_rim(rim: Rim, window_mm: Point) -> Tiling:
    """Part a rim into windows of a size, the grid centred on the blank.

    Raises ValueError for a window too small to overlap with its neighbours.
    """
    overlap = max(LEAST_OVERLAP_MM, 2 * rim.hole_radius_mm + HOLE_CLEAR_MM)
    if min(window_mm) <= overlap:
        raise ValueError(f"windows of {window_mm!r} mm can't overlap by {overlap!r} mm")
    left, bottom, right, top = rim.box
    columns, first_x = _spread(left - LINE_CLEAR_MM, right + LINE_CLEAR_MM, window_mm[0], overlap)
    rows, first_y = _spread(bottom - LINE_CLEAR_MM, top + LINE_CLEAR_MM, window_mm[1], overlap)
    grid = []
    for row in range(rows):
        low = first_y + (rows - 1 - row) * (window_mm[1] - overlap)
        for column in range(columns):
            near = first_x + column * (window_mm[0] - overlap)
            grid.append(Tile(row, column, (near, low, near + window_mm[0], low + window_mm[1])))
    tiles = _wanted(rim, grid)
    return Tiling(rows, columns, overlap, tiles, tuple(_crosses(rim, tiles)))


def is_within(point: Point, box: Box, clear_mm: float = 0.0) -> bool:
    """Tell whether a point lies in a box, so far from its sides."""
    left, bottom, right, top = box
    return left + clear_mm <= point[0] <= right - clear_mm and bottom + clear_mm <= point[1] <= top - clear_mm


def _spread(low: float, high: float, window: float, overlap: float) -> tuple[int, float]:
    """Return how many windows span a length, and where the first begins."""
    count = max(1, ceil((high - low - overlap) / (window - overlap)))
    span = count * window - (count - 1) * overlap
    return count, (low + high - span) / 2


def _wanted(rim: Rim, grid: Sequence[Tile]) -> tuple[Tile, ...]:
    """Return the tiles that show some edge, so that all join in a ring, and those with a hole that no such tile has."""
    wanted = {tile for tile in grid if any(is_within(point, tile.box) for point in rim.edge)}
    for hole in rim.holes:
        showing = [tile for tile in grid if is_within(hole.centre, tile.box, rim.hole_radius_mm)]
        if wanted.isdisjoint(showing):
            wanted.add(showing[0])
    return tuple(tile for tile in grid if tile in wanted)


def _crosses(rim: Rim, tiles: Sequence[Tile]) -> Iterator[Cross]:
    """Yield crosses for all pairs of pages side by side, numbered from 1."""
    number = 0
    for tile in tiles:
        for other in tiles:
            if (other.row - tile.row, other.column - tile.column) not in ((0, 1), (1, 0)):
                continue
            for point in _clear_points(rim, _shared(tile.box, other.box)):
                number += 1
                yield Cross(number, point)


def _shared(one: Box, other: Box) -> Box:
    return (max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3]))


def _clear_points(rim: Rim, strip: Box) -> Iterable[Point]:
    left, bottom, right, top = strip
    upright = top - bottom > right - left
    found: list[Point] = []
    for share in CROSS_SHARES:
        if upright:
            point = ((left + right) / 2, bottom + share * (top - bottom))
        else:
            point = (left + share * (right - left), (bottom + top) / 2)
        if _is_clear(rim, point):
            found.append(point)
        if len(found) == CROSSES:
            break
    return found


def _is_clear(rim: Rim, point: Point) -> bool:
    near = [*rim.edge, *rim.hole_line, *(mark.number for mark in rim.marks)]
    if any(hypot(x - point[0], y - point[1]) < CROSS_CLEAR_MM for x, y in near):
        return False
    reach = rim.hole_radius_mm + CROSS_CLEAR_MM
    return all(hypot(hole.centre[0] - point[0], hole.centre[1] - point[1]) >= reach for hole in rim.holes)
