"""One page of the rim at true size."""

from __future__ import annotations

from math import hypot

from tauthide.drawings.canvas import CHAIN, NARROW_MM, WIDE_MM, Canvas, Point, View, text_width_mm
from tauthide.drawings.labels import base_line
from tauthide.printing.clipping import clip_line
from tauthide.printing.rim import Hole, Mark, Rim
from tauthide.printing.template_page import (
    WINDOW_LEFT_MM,
    WINDOW_TOP_MM,
    Leaf,
    NewCanvas,
    draw_heading,
    start_page,
)
from tauthide.printing.tiles import CROSS_MM, Box, Cross, Tile, Tiling, is_within

DOT_MM = 0.4
"""Radius of the dot at a hole's centre, where the awl goes."""

NUMBER_MM, LETTER_MM, CROSS_NUMBER_MM = 5.0, 3.0, 2.6
"""Sizes of texts."""

LETTER_OUT_MM = 3.2
"""From a hole's rim outward to the middle of its letter."""


def draw_tile(leaf: Leaf, new_canvas: NewCanvas, rim: Rim, tiling: Tiling, tile: Tile) -> Canvas:
    """Draw the part of the rim that a tile's window shows, with crosses where it meets other pages."""
    canvas = start_page(leaf, new_canvas, f"Rim at true size, {tile.name}", "Edge of the blank, holes and stations.")
    draw_heading(canvas, f"Rim at true size, {tile.name}{_neighbours(tiling, tile)}")
    left, _, _, top = tile.box
    view = View(WINDOW_LEFT_MM - left, WINDOW_TOP_MM + top, 1.0)
    width, height = leaf.window_mm
    canvas.rectangle((WINDOW_LEFT_MM, WINDOW_TOP_MM), width, height, width=NARROW_MM)
    for points, pen, dash in ((rim.edge, WIDE_MM, ""), (rim.hole_line, NARROW_MM, CHAIN)):
        for part in clip_line(points, tile.box):
            canvas.polyline([view.at(point) for point in part], width=pen, dash=dash)
    for mark in rim.marks:
        _draw_mark(canvas, view, mark, tile.box)
    for hole in rim.holes:
        _draw_hole(canvas, view, hole, rim, tile.box)
    for cross in tiling.crosses:
        if is_within(cross.at, tile.box, CROSS_MM):
            _draw_cross(canvas, view, cross)
    return canvas


def _neighbours(tiling: Tiling, tile: Tile) -> str:
    """Tell which pages join this one, and on which side."""
    sides = (("left", 0, -1), ("right", 0, 1), ("above", -1, 0), ("below", 1, 0))
    told = [f"{side} {other.name}" for side, *step in sides if (other := tiling.beside(tile, *step))]
    return " · joins " + ", ".join(told) if told else ""


def _draw_mark(canvas: Canvas, view: View, mark: Mark, box: Box) -> None:
    for part in clip_line((mark.edge, mark.inner), box):
        canvas.line(view.at(part[0]), view.at(part[-1]), width=NARROW_MM)
    if _has_room(mark.number, str(mark.station), NUMBER_MM, box):
        at = base_line(view.at(mark.number), NUMBER_MM)
        canvas.text(at, str(mark.station), NUMBER_MM, bold=True, halo=True)


def _draw_hole(canvas: Canvas, view: View, hole: Hole, rim: Rim, box: Box) -> None:
    """Draw a hole that lies whole in the window; one that is cut off is whole on the next page."""
    if not is_within(hole.centre, box, rim.hole_radius_mm):
        return
    centre = view.at(hole.centre)
    marks = f'data-station="{hole.station}" data-hole="{hole.letter}"'
    canvas.circle(centre, rim.hole_radius_mm, width=NARROW_MM, fill="#fff", attributes=marks)
    canvas.circle(centre, DOT_MM, fill="#000", stroke="none")
    x, y = hole.centre
    reach = rim.hole_radius_mm + LETTER_OUT_MM
    # Toward the middle of the skin, so that edge and margin stay clear.
    place = (x - reach * x / hypot(x, y), y - reach * y / hypot(x, y))
    if _has_room(place, hole.letter, LETTER_MM, box):
        canvas.text(base_line(view.at(place), LETTER_MM), hole.letter, LETTER_MM, halo=True)


def _has_room(place: Point, text: str, size_mm: float, box: Box) -> bool:
    return is_within(place, box, max(text_width_mm(text, size_mm), size_mm) / 2)


def _draw_cross(canvas: Canvas, view: View, cross: Cross) -> None:
    x, y = view.at(cross.at)
    marks = f'data-cross="{cross.number}"'
    canvas.line((x - CROSS_MM, y), (x + CROSS_MM, y), width=NARROW_MM, attributes=marks)
    canvas.line((x, y - CROSS_MM), (x, y + CROSS_MM), width=NARROW_MM)
    canvas.text((x + 0.8, y - 0.8), str(cross.number), CROSS_NUMBER_MM, anchor="start")
