"""The task made ready for laying: each piece and lace as an item, with its forms on each hide."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from tauthide.cutting.bed import Board
from tauthide.cutting.forms import Form, form_of
from tauthide.cutting.hides import Hide, Point
from tauthide.cutting.pieces import Direction, Disc, LaceNeed, Piece, Shape, Task

ANGLE_DIGITS = 6

TURNS_DEG = tuple(30.0 * number for number in range(6))
"""The turns tried for a blank that may lie in any direction; half a turn on, most blanks are the same."""

Way = tuple[tuple[Form, ...], ...]
"""A way of cutting an item: for each part, the forms of which one is laid."""


@dataclass(frozen=True, slots=True)
class Item:
    """A piece or a lace, with what it may be cut as from each hide."""

    number: int
    wanted: Piece | LaceNeed
    use: str
    area_mm2: float
    """Of the first way."""
    size_mm: float
    """Reach of the largest part of the first way: the larger, the harder to lay."""
    ways: tuple[tuple[Way, ...], ...]
    """The ways for each hide, none for a hide that it may not be cut from."""

    def suits(self, board: Board, form: Form, place: Point) -> bool:
        """Whether the hide's thickness under a form of the item is everywhere within the item's limits."""
        least_mm, most_mm = self.wanted.least_mm, self.wanted.most_mm
        return (least_mm is None and most_mm is None) or board.gauge.keeps(form, place, least_mm, most_mm)


def angle_of(line: tuple[Point, Point]) -> float:
    """Direction of a line in degrees, 0 up to 180, anticlockwise from x."""
    (ax, ay), (bx, by) = line
    return round(math.degrees(math.atan2(by - ay, bx - ax)), ANGLE_DIGITS) % 180.0


def make_boards(task: Task) -> list[Board]:
    """Make all hides ready; those that differ in nothing but their names share a board and what is found on it."""
    made: dict[Hide, Board] = {}
    boards = []
    for hide in task.hides:
        alike = replace(hide, name="")
        if alike not in made:
            made[alike] = Board(hide, task.knife_mm)
        boards.append(made[alike])
    return boards


def make_items(task: Task) -> list[Item]:
    """Make all pieces and laces ready, in the task's order."""
    forms: dict[tuple[Shape, str, float], Form] = {}

    def form(shape: Shape, use: str, angle_deg: float) -> Form:
        key = (shape, use, angle_deg)
        if key not in forms:
            forms[key] = form_of(shape, use, angle_deg, task.knife_mm)
        return forms[key]

    items: list[Item] = []
    for piece in task.pieces:
        ways: list[tuple[Way, ...]] = []
        for hide in task.hides:
            angles = _angles(piece.shape, piece.direction, hide) if _may_come_from(piece, hide) else ()
            ways.append((((tuple(form(piece.shape, piece.use, angle) for angle in angles)),),) if angles else ())
        area_mm2, size_mm = piece.shape.area_mm2, piece.shape.reach_mm
        items.append(Item(len(items), piece, piece.use, area_mm2, size_mm, tuple(ways)))
    for lace in task.laces:
        cut = tuple(tuple((form(disc, "lace", 0.0),) for disc in way) for way in lace.ways)
        ways = [cut if _may_come_from(lace, hide) else () for hide in task.hides]
        area_mm2, size_mm = math.fsum(d.area_mm2 for d in lace.ways[0]), max(d.radius_mm for d in lace.ways[0])
        items.append(Item(len(items), lace, "lace", area_mm2, size_mm, tuple(ways)))
    return items


def _may_come_from(wanted: Piece | LaceNeed, hide: Hide) -> bool:
    if wanted.species and hide.species not in wanted.species:
        return False
    values = [r.thickness_mm for r in hide.thickness] if isinstance(hide.thickness, tuple) else [hide.thickness]
    if wanted.least_mm is not None and max(values) < wanted.least_mm:
        return False
    return wanted.most_mm is None or min(values) <= wanted.most_mm


def _angles(shape: Shape, direction: Direction, hide: Hide) -> tuple[float, ...]:
    """The turns that bring a piece's axis, its y, into the direction asked for; none where there is no spine."""
    if direction == "any":
        return (0.0,) if isinstance(shape, Disc) else TURNS_DEG
    if hide.spine is None:
        return ()
    angle_deg = angle_of(hide.spine) - (90.0 if direction == "along" else 0.0)
    angle_deg = round(angle_deg % 180.0, ANGLE_DIGITS)
    return (angle_deg,) if isinstance(shape, Disc) else (angle_deg, angle_deg + 180.0)
