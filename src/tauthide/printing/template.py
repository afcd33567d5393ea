"""The true-size template of a drum: the station gauge, a page map, and the rim of the blank, page by page."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.drawings.canvas import Canvas
from tauthide.drawings.gauge import draw_gauge_on
from tauthide.drawings.gauge_page import lay_out
from tauthide.plan.plan import Plan
from tauthide.printing.map_page import draw_map
from tauthide.printing.paper import PAPERS
from tauthide.printing.rim import rim_of
from tauthide.printing.template_page import Leaf, NewCanvas, start_page, window_of
from tauthide.printing.tile_page import draw_tile
from tauthide.printing.tiles import tile_rim

GAUGE_DOWN_MM = 4.9
"""From the top of the page to the gauge's: below the first line. What is left of a Letter page just holds it."""


def template_pages(plan: Plan, paper: str, new_canvas: NewCanvas, notice: str = "") -> Iterator[Canvas]:
    """Yield the pages of a template in order, each as large as the paper's room; `paper` is a name of `PAPERS`."""
    on = PAPERS[paper]
    rim = rim_of(plan)
    tiling = tile_rim(rim, window_of(on))
    count = 2 + len(tiling.tiles)
    yield _gauge(Leaf(plan, on, 1, count, notice), new_canvas)
    yield draw_map(Leaf(plan, on, 2, count, notice), new_canvas, rim, tiling)
    for number, tile in enumerate(tiling.tiles, 3):
        yield draw_tile(Leaf(plan, on, number, count, notice), new_canvas, rim, tiling, tile)


def _gauge(leaf: Leaf, new_canvas: NewCanvas) -> Canvas:
    what = "One station at true size: skin's edge, margin, both holes and web, with bars of 100 mm to check a print."
    canvas = start_page(leaf, new_canvas, "Station gauge", what)
    page = lay_out(leaf.plan)
    canvas.shift((canvas.width_mm - page.width_mm) / 2, GAUGE_DOWN_MM)
    draw_gauge_on(canvas, page)
    canvas.end_group()
    return canvas
