"""Numbers round the rim: how many of them fit, and where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from tauthide.drawings.canvas import ASCENT, DESCENT, Point, text_width_mm

CLEAR_MM = 0.5
"""Least clear space between two labels, and between a label and a line that it makes way for."""

STEP_ASIDE_MM, ASIDE_STEPS = 0.5, 10
"""In such steps, and in so many at most, a label makes way for a line."""

Line = tuple[Point, Point]
"""Both ends of a line."""


def shown_stations(centres: Sequence[Point], width_mm: float, height_mm: float) -> tuple[int, ...]:
    """Return the stations whose labels fit side by side: every one, else every 2nd, 4th, ...

    `centres` are the middles of the labels from station 1 on; each label takes a box of that width and
    height. Station 1 and the one opposite are always among them: counting starts anew at both.
    """
    count = len(centres)
    half = count // 2
    stride = 1
    while True:
        shown = [station for station in range(1, count + 1) if _falls_on(station, half, stride)]
        if stride >= half or fits([centres[k - 1] for k in shown], width_mm, height_mm):
            return tuple(shown)
        stride *= 2


def fits(centres: Sequence[Point], width_mm: float, height_mm: float) -> bool:
    """Tell whether neighbours round the rim keep clear; on a convex rim the others then do too."""
    following = (*centres[1:], centres[0])
    return all(
        abs(x - next_x) >= width_mm + CLEAR_MM or abs(y - next_y) >= height_mm + CLEAR_MM
        for (x, y), (next_x, next_y) in zip(centres, following, strict=True)
    )


def clear_of(centre: Point, outward: Point, room: tuple[float, float], lines: Sequence[Line]) -> Point:
    """Return the place nearest to `centre` where a label of that room touches none of some level or upright lines.

    Outside a convex rim the label may move out, or along the rim, but not in: `outward` is the rim's normal on
    the page. Where `ASIDE_STEPS` do not suffice, it stays.
    """
    along = (-outward[1], outward[0])
    steps = range(-ASIDE_STEPS, ASIDE_STEPS + 1)
    shifts = [
        (STEP_ASIDE_MM * a, STEP_ASIDE_MM * o)
        for a in steps
        for o in range(ASIDE_STEPS + 1)
        if a * a + o * o <= ASIDE_STEPS**2
    ]
    for a, o in sorted(shifts, key=lambda shift: (round(hypot(*shift), 6), shift)):
        place = (centre[0] + a * along[0] + o * outward[0], centre[1] + a * along[1] + o * outward[1])
        if not any(_touches(place, room, line) for line in lines):
            return place
    return centre


def _touches(centre: Point, room: tuple[float, float], line: Line) -> bool:
    """Tell whether a label comes within `CLEAR_MM` of a level or upright line."""
    (x1, y1), (x2, y2) = line
    half_width, half_height = room[0] / 2 + CLEAR_MM, room[1] / 2 + CLEAR_MM
    across = min(x1, x2) - half_width < centre[0] < max(x1, x2) + half_width
    return across and min(y1, y2) - half_height < centre[1] < max(y1, y2) + half_height


def label_room(texts: Sequence[str], size_mm: float) -> tuple[float, float]:
    """Return width and height of a box that holds any of the texts."""
    return max(text_width_mm(text, size_mm) for text in texts), size_mm * (ASCENT + DESCENT)


def base_line(centre: Point, size_mm: float) -> Point:
    """Return where a text centred on a point has the middle of its base line."""
    return (centre[0], centre[1] + size_mm * (ASCENT - DESCENT) / 2)


def _falls_on(station: int, half: int, stride: int) -> bool:
    past = (station - 1) % half
    return past % stride == 0 and (past == 0 or half - past >= stride)


def apart(first: Point, second: Point, room_mm: float) -> tuple[Point, Point]:
    """Return two places moved apart sideways where labels of that width would not find room side by side."""
    lacking = max(0.0, room_mm + CLEAR_MM - abs(second[0] - first[0])) / 2
    if second[0] < first[0]:
        lacking = -lacking
    return (first[0] - lacking, first[1]), (second[0] + lacking, second[1])
