"""Hatching: what tells regions apart in black and white."""

from __future__ import annotations

from collections.abc import Sequence

from tauthide.drawings.canvas import Canvas, Point

HATCH_LINE_MM = 0.13


def hatch(canvas: Canvas, name: str, points: Sequence[Point], apart_mm: float, *, crossed: bool) -> None:
    """Fill a polygon (n points on the page, closing point not repeated) with slanting lines, or with crossed ones.

    `name` is that of its clip path, used once in a drawing; `apart_mm` is how far the lines are apart along the page.
    """
    canvas.clip(name, points)
    canvas.group(f'clip-path="url(#{name})"')
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    high = bottom - top
    # Counted from the page's corner, so that the lines of neighbouring regions meet.
    for number in range(int((left + top) // apart_mm), int((right + bottom) // apart_mm) + 1):
        x = number * apart_mm - top
        canvas.line((x, top), (x - high, bottom), width=HATCH_LINE_MM)
    if crossed:
        for number in range(int((left - bottom) // apart_mm), int((right - top) // apart_mm) + 1):
            x = number * apart_mm + top
            canvas.line((x, top), (x + high, bottom), width=HATCH_LINE_MM)
    canvas.end_group()
