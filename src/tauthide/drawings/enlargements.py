"""The holes of station 1 enlarged beside a drawing, with their dimensions."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import hypot

from tauthide.drawings.canvas import CHAIN, NARROW_MM, Canvas, Point
from tauthide.drawings.dimensions import EXTENSION_GAP_MM, TEXT_GAP_MM, leader, measure_line
from tauthide.drawings.labels import base_line, label_room
from tauthide.drawings.outlines import hand_sign, stretch_of_curve
from tauthide.drawings.pages import (
    ENLARGEMENTS,
    LINE_SIZE_MM,
    REDUCTIONS,
    SIDE_MM,
    SMALL_SIZE_MM,
    figure_text,
    fit,
    scale_text,
    tool_text,
)
from tauthide.plan.plan import Plan

TOP_MM, EDGE_MM = 191.0, 233.0
"""On the page: base line of the heading, and the skin's edge between the holes."""

MIDDLE_MM = 60.5
"""On the page: middle of the pair; sizes are written left and right of it."""

ROOM_MM = (46.0, 27.0)
"""Room for the pair, and from the skin's edge to the far side of a hole."""

HALF_WIDTH_MM = 30.0
"""Skin is shown so far to either side of the pair's middle."""

PIECES = 12
"""Straight pieces of a curve so short that it looks smooth."""

NEAR_MM, FAR_MM = 4.5, 12.0
"""From a hole's edge to the first and to the second dimension line."""

BEGIN_MM = 1.8
"""The extension lines of the second begin so far before it."""

PAGE_CLEAR_MM = 0.5
"""Texts keep so far from the page's edge."""

Line = tuple[Point, ...]
"""Points on the page."""


def draw_enlargement(canvas: Canvas, plan: Plan) -> None:
    """Draw station 1 with its dimensions, turned so that the pair is level."""
    hole = plan.spec.number("stations.hole")
    spacing, edge_distance = plan["holes.pair_spacing"], plan["holes.edge_distance"]
    reduction = fit(spacing + hole, edge_distance + hole / 2, ROOM_MM, (*ENLARGEMENTS, *REDUCTIONS))
    canvas.text((SIDE_MM, TOP_MM), "Station 1", LINE_SIZE_MM, anchor="start", bold=True)
    canvas.text((SIDE_MM, TOP_MM + 4.2), f"at {scale_text(reduction)}", LINE_SIZE_MM, anchor="start")
    level, line, edge = _near_station(plan, reduction)
    canvas.polyline(line, width=NARROW_MM, dash=CHAIN)
    canvas.polyline(edge)
    radius = hole / 2 / reduction
    a, b = level(plan.blank[0].a), level(plan.blank[0].b)
    for letter, at in (("a", a), ("b", b)):
        canvas.circle(at, radius, fill="#fff")
        _write_letter(canvas, letter, at, radius)
    left, right = sorted((a, b))
    _measure_pair(canvas, plan, left, right, radius)
    _measure_edge(canvas, plan, edge, left, right, radius)


def _near_station(plan: Plan, reduction: float) -> tuple[Callable[[Point], Point], Line, Line]:
    """Return what puts a point of the plan on the page, and the hole line and the skin's edge there."""
    (xa, ya), (xb, yb) = plan.blank[0].a, plan.blank[0].b
    middle = ((xa + xb) / 2, (ya + yb) / 2)
    spacing, sign = plan["holes.pair_spacing"], hand_sign(plan)
    right = (sign * (xb - xa) / spacing, sign * (yb - ya) / spacing)
    past = spacing / 2 if plan.spec.word("stations.mark_at") == "first_hole" else 0.0
    half = HALF_WIDTH_MM * reduction
    up_mm = plan["holes.edge_distance"] / reduction

    def level(point: Point) -> Point:
        x, y = point[0] - middle[0], point[1] - middle[1]
        along, across = x * right[0] + y * right[1], y * right[0] - x * right[1]
        return (MIDDLE_MM + along / reduction, EDGE_MM - up_mm - across / reduction)

    line, edge = (
        tuple(level(p) for p in stretch_of_curve(plan, plan[offset], past - half, past + half, PIECES))
        for offset in ("holes.line_reach", "skin.reach")
    )
    return level, line, edge


def _write_letter(canvas: Canvas, letter: str, at: Point, radius_mm: float) -> None:
    """Write a hole's letter inside it, or below the skin's edge where the hole is small."""
    room = hypot(*label_room((letter,), SMALL_SIZE_MM))
    centre = at if 2 * radius_mm > room else (at[0], EDGE_MM + SMALL_SIZE_MM)
    canvas.text(base_line(centre, SMALL_SIZE_MM), letter, SMALL_SIZE_MM)


def _measure_pair(canvas: Canvas, plan: Plan, left: Point, right: Point, radius_mm: float) -> None:
    share = radius_mm / hypot(right[0] - left[0], right[1] - left[1])
    inner = (_between(left, right, share), _between(left, right, 1 - share))
    rows = (
        (inner, NEAR_MM, EXTENSION_GAP_MM, f"web {figure_text(plan, 'holes.web')}"),
        # Its extension lines begin above the words for the web, which may be wider than the pair.
        (
            (left, right),
            FAR_MM,
            radius_mm + FAR_MM - BEGIN_MM,
            f"pair spacing {figure_text(plan, 'holes.pair_spacing')}",
        ),
    )
    for (start, end), out_mm, gap_mm, text in rows:
        first, last = measure_line(canvas, start, end, -(radius_mm + out_mm), gap_mm=gap_mm)
        x, y = _between(first, last, 0.5)
        canvas.text((x, y - TEXT_GAP_MM), text, SMALL_SIZE_MM, halo=True)


def _measure_edge(canvas: Canvas, plan: Plan, edge: Line, left: Point, right: Point, radius_mm: float) -> None:
    """Measure the margin at the left hole, the edge distance at the right one; name the hole's size."""
    foot = _foot(left, edge)
    rim = _between(left, foot, radius_mm / hypot(foot[0] - left[0], foot[1] - left[1]))
    first, last = measure_line(canvas, rim, foot, radius_mm + NEAR_MM)
    rows = ("margin", figure_text(plan, "holes.margin"))
    at = (_on_page(min(first[0], last[0]) - 2.0, rows), (first[1] + last[1]) / 2)
    _write_rows(canvas, at, rows, "end")
    first, last = measure_line(
        canvas, right, _foot(right, edge), -(radius_mm + NEAR_MM), gap_mm=radius_mm + EXTENSION_GAP_MM
    )
    at = (max(first[0], last[0]) + 2.0, (first[1] + last[1]) / 2)
    _write_rows(canvas, at, ("edge distance", figure_text(plan, "holes.edge_distance")), "start")
    tip = (left[0] - 0.8 * radius_mm, left[1] - 0.6 * radius_mm)
    lines = ("hole", f"Ø {tool_text(plan, 'stations.hole')}")
    elbow = (_on_page(left[0] - radius_mm - 3.5, lines), left[1] - radius_mm - 4.0)
    leader(canvas, tip, elbow, lines, size_mm=SMALL_SIZE_MM)


def _on_page(right_mm: float, rows: tuple[str, str]) -> float:
    """Return where texts may end at the right, so that none runs off the page at the left."""
    return max(right_mm, label_room(rows, SMALL_SIZE_MM)[0] + PAGE_CLEAR_MM)


def _write_rows(canvas: Canvas, at: Point, rows: tuple[str, str], anchor: str) -> None:
    for row, y in zip(rows, (at[1] - 0.5, at[1] + SMALL_SIZE_MM + 0.5), strict=True):
        canvas.text((at[0], y), row, SMALL_SIZE_MM, anchor=anchor, halo=True)


def _foot(point: Point, line: tuple[Point, ...]) -> Point:
    """Return the place of a line of straight pieces that is nearest to a point."""
    feet = (_foot_on(point, start, end) for start, end in pairwise(line))
    return min(feet, key=lambda foot: hypot(foot[0] - point[0], foot[1] - point[1]))


def _foot_on(point: Point, start: Point, end: Point) -> Point:
    across = (end[0] - start[0], end[1] - start[1])
    toward = (point[0] - start[0]) * across[0] + (point[1] - start[1]) * across[1]
    return _between(start, end, min(1.0, max(0.0, toward / (across[0] ** 2 + across[1] ** 2))))


def _between(start: Point, end: Point, share: float) -> Point:
    return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
