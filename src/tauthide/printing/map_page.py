"""The page map: how the pages of a rim lie together, and how to join them."""

from __future__ import annotations

from math import dist

from tauthide.drawings.canvas import CHARACTER_WIDTH, NARROW_MM, Canvas, Point, View
from tauthide.drawings.labels import base_line
from tauthide.drawings.pages import figure_text, fit, scale_text
from tauthide.plan.plan import Plan
from tauthide.printing.rim import Rim
from tauthide.printing.template_page import WINDOW_LEFT_MM, WINDOW_TOP_MM, Leaf, NewCanvas, draw_heading, start_page
from tauthide.printing.tiles import Tile, Tiling

SIDE_MM, ABOVE_MM = 6.0, 6.0
"""Clear paper beside and above the map."""

TEXT_ROOM_MM = 68.0
"""Below the map, for what to do."""

LINE_MM, TEXT_MM = 6.0, 3.5
"""Pitch and size of the instructions."""

NAME_MM = 6.0
NAME_SHARE = 0.4
"""Size of the pages' names, and the most that one takes of its window's width."""

NAME_SHARES = (0.5, 0.25, 0.75)
"""Where in its window a name may stand, the best first."""


def draw_map(leaf: Leaf, new_canvas: NewCanvas, rim: Rim, tiling: Tiling) -> Canvas:
    """Draw the pages' windows over the whole rim, smaller, and write how to join them."""
    canvas = start_page(leaf, new_canvas, "Page map", "How the pages of the rim lie together, and how to join them.")
    boxes = [tile.box for tile in tiling.tiles]
    left, bottom = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, top = max(box[2] for box in boxes), max(box[3] for box in boxes)
    width, height = leaf.window_mm
    reduction = fit(right - left, top - bottom, (width - 2 * SIDE_MM, height - ABOVE_MM - TEXT_ROOM_MM))
    draw_heading(canvas, f"Page map of the rim, {scale_text(reduction)}: {_paper_words(tiling)}")
    scale = 1 / reduction
    view = View(WINDOW_LEFT_MM + width / 2 - scale * (left + right) / 2, WINDOW_TOP_MM + ABOVE_MM + scale * top, scale)
    canvas.polyline([view.at(point) for point in rim.edge])
    for hole in rim.holes:
        canvas.circle(view.at(hole.centre), scale * rim.hole_radius_mm, width=NARROW_MM)
    for tile in tiling.tiles:
        x0, y0 = view.at((tile.box[0], tile.box[3]))
        x1, y1 = view.at((tile.box[2], tile.box[1]))
        canvas.rectangle((x0, y0), x1 - x0, y1 - y0, width=NARROW_MM)
        size = min(NAME_MM, NAME_SHARE * (x1 - x0) / (CHARACTER_WIDTH * len(tile.name)))
        canvas.text(base_line(view.at(_clear_place(rim, tile)), size), tile.name, size, bold=True)
    below = WINDOW_TOP_MM + ABOVE_MM + scale * (top - bottom) + 2 * LINE_MM
    for row, text in enumerate(_instructions(leaf, tiling)):
        canvas.text((WINDOW_LEFT_MM + SIDE_MM, below + row * LINE_MM), text, TEXT_MM, anchor="start")
    return canvas


def _clear_place(rim: Rim, tile: Tile) -> Point:
    """Return the place within a window, away from strips that pages share, that is the farthest from edge and holes."""
    left, bottom, right, top = tile.box
    drawn = [*rim.edge, *(hole.centre for hole in rim.holes)]
    places = [
        (left + across * (right - left), bottom + up * (top - bottom)) for up in NAME_SHARES for across in NAME_SHARES
    ]
    return max(places, key=lambda place: round(min(dist(place, point) for point in drawn), 3))


def _paper_words(tiling: Tiling) -> str:
    count = len(tiling.tiles)
    return "1 page" if count == 1 else f"{count} pages, {tiling.rows} down by {tiling.columns} across"


def _instructions(leaf: Leaf, tiling: Tiling) -> tuple[str, ...]:
    steps: list[tuple[str, ...]] = [
        (
            "Print at 100 %, not fitted to the page.",
            "Measure both bars on every page: 100 mm. Is one off? Print that page again.",
        ),
    ]
    if len(tiling.tiles) > 1:
        steps += [
            (
                f"Pages overlap by {tiling.overlap_mm:g} mm. Where a page joins another on its left or above,",
                "cut its paper off along the window on that side.",
            ),
            ("Lay it over the other so that crosses with the same number meet. Tape it.",),
        ]
    steps += [
        ("Measure the whole before you cut skin:", f"{_blank_words(leaf.plan)}."),
        ("You look at the inner side of the skin. Prick the centres with an awl.",),
    ]
    lines = []
    for number, (first, *rest) in enumerate(steps, 1):
        lines += [f"{number}. {first}", *(f"    {line}" for line in rest)]
    return tuple(lines)


def _blank_words(plan: Plan) -> str:
    if plan.has("head.blank_diameter"):
        return f"{figure_text(plan, 'head.blank_diameter')} across"
    return f"{figure_text(plan, 'head.blank_length')} by {figure_text(plan, 'head.blank_width')}"
