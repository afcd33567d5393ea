"""Dimensions in the manner of ISO 129-1: a line between two arrows, its text above it, turned with it.

Everything here is in page millimetres, y downward.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin

from tauthide.drawings.canvas import ASCENT, NARROW_MM, Canvas, Point, text_width_mm

ARROW_MM = 2.4
"""Length of an arrowhead."""

EXTENSION_GAP_MM = 0.8
"""From the thing measured to the beginning of its extension line."""

EXTENSION_PAST_MM = 0.7
"""How far an extension line runs past the dimension line."""

TEXT_GAP_MM = 1.4
"""Clear space between a dimension line and the text above it."""

TEXT_SIZE_MM = 3.2
"""Size of dimension texts, to be read at a bench. Workshop practice, no published source."""

OUTSIDE_RUN_MM = 5.0
"""Length of the line outside each arrow where there is no room for arrows between."""

ARROWS_FIT = 3.0
"""Lengths of an arrow that a distance must have, so that two arrows look at home in it."""

UPSIDE_DOWN = 1e-9
"""Slack in degrees, so that an upright line is read from the right in spite of floating point."""


def dimension(
    canvas: Canvas, start: Point, end: Point, text: str, offset_mm: float = 0.0, *,
    size_mm: float = TEXT_SIZE_MM, overhang: bool = False,
) -> None:  # fmt: skip
    """Draw the distance from `start` to `end`, its line `offset_mm` away from them.

    The offset is to the right hand of someone who goes from start to end, as seen on the page; below 0
    to the left. Where two arrows have no room between, they stand outside; a text wider than the distance
    is written past the end, or hangs over both ends with `overhang`. ValueError for two points in one place.
    """
    first, last = measure_line(canvas, start, end, offset_mm)
    length = hypot(last[0] - first[0], last[1] - first[1])
    along = ((last[0] - first[0]) / length, (last[1] - first[1]) / length)
    width = text_width_mm(text, size_mm)
    centre_mm = length / 2
    if not (overhang or fits_between(length, width)):
        within = has_room(length)
        reach_mm = length + (0.0 if within else OUTSIDE_RUN_MM)
        centre_mm = reach_mm + TEXT_GAP_MM + width / 2
        # The line carries its text: it runs on below it.
        canvas.line(_moved(first, along, reach_mm), _moved(first, along, centre_mm + width / 2), width=NARROW_MM)
    write_along(canvas, _moved(first, along, centre_mm), degrees(atan2(along[1], along[0])), text, size_mm)


def measure_line(
    canvas: Canvas, start: Point, end: Point, offset_mm: float = 0.0, *, gap_mm: float = EXTENSION_GAP_MM
) -> tuple[Point, Point]:  # fmt: skip
    """Draw a dimension without its text and return the tips of its arrows, at the start and at the end.

    The extension lines begin `gap_mm` away from the two points. ValueError for two points in one place.
    """
    length = hypot(end[0] - start[0], end[1] - start[1])
    if length == 0:
        raise ValueError("a dimension needs two different points")
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    side = (-along[1], along[0])
    first, last = (_moved(point, side, offset_mm) for point in (start, end))
    if offset_mm:
        _extend(canvas, start, side, offset_mm, gap_mm)
        _extend(canvas, end, side, offset_mm, gap_mm)
    within = has_room(length)
    out = 0.0 if within else OUTSIDE_RUN_MM
    canvas.line(_moved(first, along, -out), _moved(last, along, out), width=NARROW_MM)
    toward = degrees(atan2(along[1], along[0])) + (0.0 if within else 180.0)
    canvas.arrowhead(last, toward, ARROW_MM)
    canvas.arrowhead(first, toward + 180.0, ARROW_MM)
    return first, last


def write_along(
    canvas: Canvas, middle: Point, direction_deg: float, text: str, size_mm: float = TEXT_SIZE_MM, *,
    below: bool = False,
) -> None:  # fmt: skip
    """Write a text above (or below) the middle of a line, turned with the line."""
    turn = upright_deg(direction_deg)
    up = (sin(radians(turn)), -cos(radians(turn)))
    up_mm = -(TEXT_GAP_MM + ASCENT * size_mm) if below else TEXT_GAP_MM
    canvas.text(_moved(middle, up, up_mm), text, size_mm, turned_deg=turn, halo=True)


def leader(
    canvas: Canvas, tip: Point, elbow: Point, lines: tuple[str, ...], *, size_mm: float = TEXT_SIZE_MM
) -> None:  # fmt: skip
    """Draw an arrow from `elbow` to `tip`, and a shoulder beyond the elbow with one or two lines of text.

    The first line stands on the shoulder, the second hangs below it. The shoulder runs away from the tip.
    """
    width = max(text_width_mm(line, size_mm) for line in lines)
    end = (elbow[0] - width if elbow[0] < tip[0] else elbow[0] + width, elbow[1])
    canvas.polyline((tip, elbow, end), width=NARROW_MM)
    canvas.arrowhead(tip, degrees(atan2(tip[1] - elbow[1], tip[0] - elbow[0])), ARROW_MM)
    middle = (elbow[0] + end[0]) / 2
    for line, y_mm in zip(lines, (elbow[1] - TEXT_GAP_MM, elbow[1] + TEXT_GAP_MM + ASCENT * size_mm), strict=False):
        canvas.text((middle, y_mm), line, size_mm, halo=True)


def fits_between(length_mm: float, text_mm: float) -> bool:
    """Tell whether a text of a width finds room over a dimension of a length, clear of its arrows."""
    return length_mm >= text_mm + (2 * ARROW_MM if has_room(length_mm) else 0.0)


def has_room(length_mm: float) -> bool:
    """Tell whether two arrows fit within a distance on the page."""
    return length_mm >= ARROWS_FIT * ARROW_MM


def upright_deg(direction_deg: float) -> float:
    """Return the turn of a text along a line: from -90 up to 90 degrees, without 90.

    So it is read from below or from the right (on the page, a text read from the right is turned by -90).
    """
    turn = (direction_deg + 90.0) % 180.0 - 90.0
    return turn if turn < 90.0 - UPSIDE_DOWN else turn - 180.0


def _extend(canvas: Canvas, point: Point, side: Point, offset_mm: float, gap_mm: float) -> None:
    toward = 1.0 if offset_mm > 0 else -1.0
    begin = _moved(point, side, toward * min(gap_mm, abs(offset_mm)))
    canvas.line(begin, _moved(point, side, offset_mm + toward * EXTENSION_PAST_MM), width=NARROW_MM)


def _moved(point: Point, direction: Point, by_mm: float) -> Point:
    return (point[0] + direction[0] * by_mm, point[1] + direction[1] * by_mm)
