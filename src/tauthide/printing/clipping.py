"""Lines cut off at the sides of a window."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from tauthide.drawings.canvas import Point
from tauthide.printing.tiles import Box


def clip_line(points: Sequence[Point], box: Box) -> tuple[tuple[Point, ...], ...]:
    """Return the parts of an open line through points that lie in a box, each with its ends on the box's sides."""
    parts: list[list[Point]] = []
    for start, end in pairwise(points):
        piece = _clip_piece(start, end, box)
        if piece is None:
            continue
        if parts and parts[-1][-1] == piece[0]:
            parts[-1].append(piece[1])
        else:
            parts.append(list(piece))
    return tuple(map(tuple, parts))


def _clip_piece(start: Point, end: Point, box: Box) -> tuple[Point, Point] | None:
    """Cut a straight piece side by side, as Liang and Barsky do (ACM Transactions on Graphics 3, 1984)."""
    left, bottom, right, top = box
    dx, dy = end[0] - start[0], end[1] - start[1]
    enter, leave = 0.0, 1.0
    for along, room in (
        (-dx, start[0] - left),
        (dx, right - start[0]),
        (-dy, start[1] - bottom),
        (dy, top - start[1]),
    ):
        if along == 0:
            if room < 0:
                return None
        elif along < 0:
            enter = max(enter, room / along)
        else:
            leave = min(leave, room / along)
    if enter >= leave:
        return None
    first = start if enter == 0 else (start[0] + enter * dx, start[1] + enter * dy)
    last = end if leave == 1 else (start[0] + leave * dx, start[1] + leave * dy)
    return first, last
