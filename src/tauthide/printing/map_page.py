"""The page map: how the pages of a rim lie together, and how to join them."""

from __future__ import annotations

from tauthide.drawings.canvas import ASCENT, NARROW_MM, Canvas, View
from tauthide.drawings.pages import figure_text, fit, scale_text
from tauthide.plan.plan import Plan
from tauthide.printing.rim import Rim
from tauthide.printing.template_page import WINDOW_LEFT_MM, WINDOW_TOP_MM, Leaf, NewCanvas, draw_heading, start_page
from tauthide.printing.tiles import Tiling

SIDE_MM, ABOVE_MM = 6.0, 6.0
"""Clear paper beside and above the map."""

TEXT_ROOM_MM = 62.0
"""Below the map, for what to do."""

LINE_MM, TEXT_MM = 6.0, 3.6
"""Pitch and size of the instructions."""

NAME_MM, NAME_CLEAR_MM = 6.0, 1.2
"""Size of the pages' names, and clear paper about them."""


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
    view = View(
        WINDOW_LEFT_MM + width / 2 - scale * (left + right) / 2, WINDOW_TOP_MM + ABOVE_MM + scale * top, scale
    )
    canvas.polyline([view.at(point) for point in rim.edge])
    for hole in rim.holes:
        canvas.circle(view.at(hole.centre), scale * rim.hole_radius_mm, width=NARROW_MM)
    for tile in tiling.tiles:
        x0, y0 = view.at((tile.box[0], tile.box[3]))
        x1, y1 = view.at((tile.box[2], tile.box[1]))
        canvas.rectangle((x0, y0), x1 - x0, y1 - y0, width=NARROW_MM)
        # In the corner, and clear of the strip that a page shares with those left of it and above.
        clear = scale * tiling.overlap_mm + NAME_CLEAR_MM
        canvas.text((x0 + clear, y0 + clear + ASCENT * NAME_MM), tile.name, NAME_MM, anchor="start", bold=True)
    below = WINDOW_TOP_MM + ABOVE_MM + scale * (top - bottom) + 2 * LINE_MM
    for row, text in enumerate(_instructions(leaf, tiling)):
        canvas.text((WINDOW_LEFT_MM + SIDE_MM, below + row * LINE_MM), text, TEXT_MM, anchor="start")
    return canvas


def _paper_words(tiling: Tiling) -> str:
    count = len(tiling.tiles)
    return "1 page" if count == 1 else f"{count} pages, {tiling.rows} down by {tiling.columns} across"


def _instructions(leaf: Leaf, tiling: Tiling) -> tuple[str, ...]:
    words = [
        "1. Print at 100 %, not fitted to the page. Measure both bars on every page: 100 mm.",
        "2. One bar is off? Do not use that page. Print it again.",
    ]
    if len(tiling.tiles) > 1:
        words += [
            f"3. Pages overlap by {tiling.overlap_mm:g} mm. Cut off the paper left of the window, and above it,",
            "    on pages that join another on that side.",
            "4. Lay a page over its neighbour so that crosses with the same number meet. Tape it.",
        ]
    words += [
        f"{5 if len(tiling.tiles) > 1 else 3}. Measure the whole before you cut skin: {_blank_words(leaf.plan)}.",
        f"{6 if len(tiling.tiles) > 1 else 4}. You look at the inner side of the skin. Prick the centres with an awl.",
    ]
    return tuple(words)


def _blank_words(plan: Plan) -> str:
    if plan.has("head.blank_diameter"):
        return f"{figure_text(plan, 'head.blank_diameter')} across"
    return f"{figure_text(plan, 'head.blank_length')} by {figure_text(plan, 'head.blank_width')}"
