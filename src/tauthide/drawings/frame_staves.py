"""The ring of staves as glued and as rounded, one stave with its sizes, and what is cut from each board."""

from __future__ import annotations

from itertools import groupby
from math import cos, pi, sin, tan

from tauthide.drawings.canvas import CHAIN, DASHED, NARROW_MM, Canvas, Point, View, text_width_mm
from tauthide.drawings.pages import (
    CAPTION_MM,
    KEY_PITCH_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    figure_text,
    fit,
    key_line,
    scale_text,
    system_of,
    write_caption,
)
from tauthide.plan.plan import Plan
from tauthide.quantities.nesting import Board
from tauthide.units import length, long_length

RING_MM = 84.0
"""Room for the ring, both ways."""

STAVE_MM = 26.0
"""Height of the room for one stave."""

BOARD_MM, BOARD_PITCH_MM = 6.0, 13.0
MOST_BOARDS = 8
"""So many ways of cutting a board are drawn; the sheet has them all."""

MOST_SCALES = (0.2, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0)
"""From 5:1 to 1:30."""


def draw_staves(plan: Plan) -> bytes:
    """Return the drawing of a ring of staves as SVG in millimetres; KeyError if the frame is not of staves."""
    patterns = [(board, len(list(same))) for board, same in groupby(plan.boards, key=lambda board: board)]
    reduction = fit(plan["stave.ring_corners"], plan["stave.ring_corners"], (RING_MM, RING_MM))
    boards_y = CAPTION_MM + RING_MM + 12.0 + STAVE_MM + 14.0
    canvas = Canvas(
        PAGE_WIDTH_MM,
        boards_y + BOARD_PITCH_MM * min(len(patterns), MOST_BOARDS) + 8.0,
        f"Staves of {plan.spec.drum}",
        "The ring of staves seen from the front, one stave, and how the staves are cut from boards.",
    )
    write_caption(canvas, plan, "Ring of staves", f"ring {scale_text(reduction)}, seen from the front")
    _ring(canvas, plan, reduction)
    _stave(canvas, plan, CAPTION_MM + RING_MM + 12.0)
    _boards(canvas, plan, patterns[:MOST_BOARDS], boards_y)
    return canvas.bytes()


def _corners(plan: Plan, across_mm: float) -> list[Point]:
    """Return the corners of the ring at a width across its flats, the lowest side level, anticlockwise."""
    count = round(plan["stave.count"])
    radius = across_mm / 2 / cos(pi / count)
    turns = [-pi / 2 + pi / count + 2 * pi * index / count for index in range(count)]
    return [(radius * cos(turn), radius * sin(turn)) for turn in turns]


def _ring(canvas: Canvas, plan: Plan, reduction: float) -> None:
    view = View(SIDE_MM + RING_MM / 2, CAPTION_MM + 4.0 + RING_MM / 2, 1 / reduction)
    outer = [view.at(point) for point in _corners(plan, plan["stave.ring_across"])]
    inner = [view.at(point) for point in _corners(plan, plan["stave.ring_hole"])]
    canvas.polyline(outer, closed=True)
    canvas.polyline(inner, closed=True)
    for start, end in zip(outer, inner, strict=True):
        canvas.line(start, end, width=NARROW_MM, attributes='data-part="joint"')
    wall = plan.spec.number("frame.wall")
    if plan.outline.kind == "round":
        for diameter in (plan.spec.number("frame.diameter"), plan.spec.number("frame.diameter") - 2 * wall):
            canvas.circle(view.at((0.0, 0.0)), diameter / 2 / reduction, width=NARROW_MM, dash=DASHED)
    else:
        across = plan.spec.number("frame.across_flats")
        for width in (across, across - 2 * wall):
            points = [view.at(point) for point in _corners(plan, width)]
            canvas.polyline(points, width=NARROW_MM, dash=DASHED, closed=True)
    _ring_words(canvas, plan, view)


def _ring_words(canvas: Canvas, plan: Plan, view: View) -> None:
    centre = view.at((0.0, 0.0))
    half = 3.0
    canvas.line((centre[0] - half, centre[1]), (centre[0] + half, centre[1]), width=NARROW_MM, dash=CHAIN)
    canvas.line((centre[0], centre[1] - half), (centre[0], centre[1] + half), width=NARROW_MM, dash=CHAIN)
    at: Point = (SIDE_MM + RING_MM + 8.0, CAPTION_MM + 12.0)
    finished = "as rounded" if plan.outline.kind == "round" else "as planed"
    at = key_line(canvas, at, "as glued")
    at = key_line(canvas, at, finished, width=NARROW_MM, dash=DASHED)
    at = (at[0], at[1] + KEY_PITCH_MM)
    for title, name in (
        ("Staves", "stave.count"),
        ("Mitre from square", "stave.mitre"),
        ("As glued, across the flats", "stave.ring_across"),
        ("across the corners", "stave.ring_corners"),
        ("inside, across the flats", "stave.ring_hole"),
    ):
        canvas.text(at, f"{title}: {figure_text(plan, name)}", SMALL_SIZE_MM, anchor="start")
        at = (at[0], at[1] + KEY_PITCH_MM)


def _stave(canvas: Canvas, plan: Plan, top: float) -> None:
    """Draw one stave seen on its edge, with the sizes that it is cut to."""
    outer, thick = plan["stave.outer"], plan["stave.thickness"]
    slope = thick * tan(pi / plan["stave.count"])
    scale = 1 / fit(outer, thick, (100.0, STAVE_MM - 12.0), MOST_SCALES)
    left, upper = SIDE_MM + 30.0, top + 6.0
    lower = upper + thick * scale
    right = left + outer * scale
    canvas.polyline(
        [(left, upper), (right, upper), (right - slope * scale, lower), (left + slope * scale, lower)], closed=True
    )
    canvas.line((left, upper), (left, lower + 4.0), width=NARROW_MM)
    middle = (left + right) / 2
    canvas.text((middle, upper - 2.0), f"outside {figure_text(plan, 'stave.outer')}", SMALL_SIZE_MM)
    canvas.text((middle, lower + 5.0), f"inside {figure_text(plan, 'stave.inner')}", SMALL_SIZE_MM)
    canvas.text((left - 1.5, (upper + lower) / 2 + 1.0), figure_text(plan, "stave.mitre"), SMALL_SIZE_MM, anchor="end")
    words = (
        f"thick {figure_text(plan, 'stave.thickness')}",
        f"wide {figure_text(plan, 'stave.width')}",
    )
    for row, text in enumerate(words):
        canvas.text((right + 4.0, upper + 3.0 + row * KEY_PITCH_MM), text, SMALL_SIZE_MM, anchor="start")
    canvas.text((SIDE_MM, top), f"One stave, {scale_text(1 / scale)}", SMALL_SIZE_MM, anchor="start", bold=True)


def _boards(canvas: Canvas, plan: Plan, patterns: list[tuple[Board, int]], top: float) -> None:
    longest = max(board.length_mm for board, _ in patterns)
    scale = (PAGE_WIDTH_MM - 2 * SIDE_MM) / longest
    system = system_of(plan)
    for row, (board, number) in enumerate(patterns):
        y = top + row * BOARD_PITCH_MM
        title = f"{number} × board of {long_length(board.length_mm, system)}: {len(board.cuts)} staves, " + (
            f"{length(max(board.left_mm, 0.0), system)} left"
        )
        canvas.text((SIDE_MM, y), title, SMALL_SIZE_MM, anchor="start")
        _bar(canvas, board, y + 1.6, scale)


def _bar(canvas: Canvas, board: Board, y: float, scale: float) -> None:
    """Draw a board to scale in length: its ends and what is left hatched by a cross, its staves numbered."""
    width = board.length_mm * scale
    canvas.rectangle((SIDE_MM, y), width, BOARD_MM)
    at = SIDE_MM + board.ends_mm * scale
    canvas.line((at, y), (at, y + BOARD_MM), width=NARROW_MM)
    _cross(canvas, SIDE_MM, at, y)
    for number, cut in enumerate(board.cuts, 1):
        end = at + cut.length_mm * scale
        canvas.line((end, y), (end, y + BOARD_MM), width=NARROW_MM)
        if text_width_mm(str(number), SMALL_SIZE_MM) < end - at:
            canvas.text(((at + end) / 2, y + BOARD_MM / 2 + 1.0), str(number), SMALL_SIZE_MM)
        at = end
    _cross(canvas, at, SIDE_MM + width, y)


def _cross(canvas: Canvas, left: float, right: float, y: float) -> None:
    if right - left > NARROW_MM:
        canvas.line((left, y), (right, y + BOARD_MM), width=NARROW_MM)
        canvas.line((left, y + BOARD_MM), (right, y), width=NARROW_MM)
