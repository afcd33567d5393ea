"""The dimensions of the blank and of the frame laid on it."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, pi

from tauthide.drawings.canvas import DECIMALS, NARROW_MM, Canvas, Point, View, text_width_mm
from tauthide.drawings.dimensions import (
    TEXT_SIZE_MM,
    dimension,
    fits_between,
    leader,
    measure_line,
    write_along,
)
from tauthide.drawings.labels import Line, label_room
from tauthide.drawings.outlines import RimPlace, hand_sign, knots
from tauthide.drawings.pages import SIDE_MM, SMALL_SIZE_MM, figure_text, system_of
from tauthide.plan.plan import Plan
from tauthide.units import inch_length, length, metric_length, number

NUMBERS_END_MM = 7.0
"""From the blank's edge to where the numbers of the stations end."""

ABOVE_OUT_MM, BESIDE_OUT_MM = 8.5, 11.5
"""From the blank's edge to the dimensions above and beside it, beyond the numbers."""

CHORD_OUT_MM, BULGE_CLEAR_MM = 14.0, 6.0
"""From the chord to its dimension, and from the skin that bulges beyond it: whichever lies further out."""

SHOULDER_MM = 4.0
"""From the end of a chord that is shorter than its words to the words."""

NOTE_UP_MM, NOTE_LEAST_MM = 10.0, 5.0
"""The frame's size stands so far above the middle, at least so far in a low frame."""

NOTE_AT, NOTE_MOST = 0.37, 0.7
"""Its arrow meets the frame at this share of the rim and bends at this share of the way out at most."""

NOTE_ROOM, NOTE_ASIDE_MM = 0.95, 9.0
"""Words up to this share of the frame's width stand inside it; wider ones so far outside the blank."""


def draw_measures(canvas: Canvas, plan: Plan, view: View, edge: Sequence[RimPlace]) -> None:
    """Draw the blank's extent, the frame's size, and the chord where stations are stepped off.

    `edge` are the n stations on the blank's edge.
    """
    system, reach = system_of(plan), plan["skin.reach"]
    top, right = _extremes(plan, view)
    bottom = view.at(plan.outline.point(reach, 0.0))
    if plan.has("head.blank_diameter"):
        text = f"Blank Ø {length(plan['head.blank_diameter'], system)}"
    else:
        text = f"Blank width {length(plan['head.blank_width'], system)}"
        upright = f"Blank length {length(plan['head.blank_length'], system)}"
        aside = right[0] + BESIDE_OUT_MM - top[0]
        dimension(canvas, (top[0], bottom[1]), top, upright, aside, overhang=True)
    left = (2 * view.x_mm - right[0], right[1])
    dimension(canvas, left, right, text, top[1] - ABOVE_OUT_MM - right[1], overhang=True)
    if is_stepped(plan):
        _measure_chord(canvas, plan, view, edge)
    _note_frame(canvas, plan, view)


def extension_lines(plan: Plan, view: View) -> tuple[Line, ...]:
    """Return the lines, on the page, that carry the blank's extent out to its dimensions."""
    top, right = _extremes(plan, view)
    up = top[1] - ABOVE_OUT_MM
    lines = [((x, right[1]), (x, up)) for x in (2 * view.x_mm - right[0], right[0])]
    if not plan.has("head.blank_diameter"):
        beside = right[0] + BESIDE_OUT_MM
        bottom = view.at(plan.outline.point(plan["skin.reach"], 0.0))[1]
        lines += [((top[0], y), (beside, y)) for y in (top[1], bottom)]
    return tuple(lines)


def is_stepped(plan: Plan) -> bool:
    """Tell whether the stations are stepped off along the blank's edge, so that the chord is shown."""
    return plan.marking.method == "step" and plan.has("stations.chord")


def _extremes(plan: Plan, view: View) -> tuple[Point, Point]:
    """Return the blank's top and its right end on the page; of a straight side its right or upper end.

    A curve at a distance has the outline's own extremes, moved straight out.
    """
    outline, out_mm = plan.outline, view.scale * plan["skin.reach"]
    quarter = outline.point(0.0, outline.perimeter_mm / 4)
    found = [view.at(point) for point in (*knots(outline.path(0.0)), quarter)]
    x, y = min(found, key=lambda p: (round(p[1], DECIMALS), -p[0]))
    top = (x, y - out_mm)
    x, y = min(found, key=lambda p: (-round(p[0], DECIMALS), p[1]))
    return top, (x + out_mm, y)


def _measure_chord(canvas: Canvas, plan: Plan, view: View, edge: Sequence[RimPlace]) -> None:
    """Measure from station 1 to 2; a size that is wider than the chord hangs on a shoulder at its end."""
    sign = hand_sign(plan)
    size = figure_text(plan, "stations.chord")
    first, second = (view.at(place.point) for place in edge[:2])
    # With few stations the blank bulges far beyond the chord: its dimension stands clear of the skin.
    bulge = view.scale * plan["head.blank_radius"] * (1 - cos(pi / len(edge)))
    out = max(CHORD_OUT_MM, bulge + BULGE_CLEAR_MM)
    (x1, y1), (x2, y2) = measure_line(canvas, first, second, sign * out, gap_mm=NUMBERS_END_MM)
    width = text_width_mm(size, TEXT_SIZE_MM)
    if fits_between(hypot(x2 - x1, y2 - y1), width):
        middle, turn = ((x1 + x2) / 2, (y1 + y2) / 2), degrees(atan2(y2 - y1, x2 - x1))
        write_along(canvas, middle, turn, "chord")
        write_along(canvas, middle, turn, size, below=True)
        return
    end = (x2 + sign * (SHOULDER_MM + width), y2)
    canvas.line((x2, y2), end, width=NARROW_MM)
    middle = (x2 + sign * (SHOULDER_MM + width / 2), y2)
    write_along(canvas, middle, 0.0, "chord")
    write_along(canvas, middle, 0.0, size, below=True)


def _note_frame(canvas: Canvas, plan: Plan, view: View) -> None:
    """Write the frame's size inside it, or left of a narrow blank, with an arrow to its edge."""
    outline, lines = plan.outline, _frame_size(plan)
    x, y = view.at(outline.point(0.0, NOTE_AT * outline.perimeter_mm))
    width, _ = label_room(lines, SMALL_SIZE_MM)
    aside = view.x_mm - view.scale * outline.width_at(plan["skin.reach"]) / 2 - NOTE_ASIDE_MM
    if width > NOTE_ROOM * view.scale * outline.width_at(0.0) and aside - width >= SIDE_MM:
        tip, elbow = (2 * view.x_mm - x, y), (aside, y - NOTE_LEAST_MM)
    else:
        # Clear of the marks of the folds above: in a low frame nearer to the middle.
        up = max(NOTE_LEAST_MM, min(NOTE_UP_MM, view.scale * outline.length_at(0.0) / 2 - NOTE_UP_MM))
        bend_x = min(view.x_mm + width / 2, view.x_mm + NOTE_MOST * (x - view.x_mm))
        tip, elbow = (x, y), (bend_x, view.y_mm - up)
    leader(canvas, tip, elbow, lines, size_mm=SMALL_SIZE_MM)


def _frame_size(plan: Plan) -> tuple[str, str]:
    """Return the frame's size in two short lines."""
    spec, system = plan.spec, system_of(plan)
    if plan.outline.kind == "round":
        return ("Frame", f"Ø {length(spec.number('frame.diameter'), system)}")
    if plan.outline.kind == "polygon":
        return ("Frame across flats", length(spec.number("frame.across_flats"), system))
    long_mm, wide_mm = spec.number("frame.length"), spec.number("frame.width")
    metric = f"{number(long_mm)} × {metric_length(wide_mm)}"
    inch = f"{inch_length(long_mm).removesuffix(' in')} × {inch_length(wide_mm)}"
    first, second = (inch, metric) if system == "inch" else (metric, inch)
    return (f"Frame {first}", f"({second})")
