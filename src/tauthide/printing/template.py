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
    """Yield the pages of a template in order, each as large as the paper's room; `paper` is a name of `PAPERS`.

    Of two heads the second, a mirror image, has gauge, map and rim of its own behind those of the first.
    """
    on = PAPERS[paper]
    heads = (plan,) if plan.second is None else (plan, plan.second)
    rims = [rim_of(head) for head in heads]
    tilings = [tile_rim(rim, window_of(on)) for rim in rims]
    count = sum(2 + len(tiling.tiles) for tiling in tilings)
    numbers = iter(range(1, count + 1))
    for head, rim, tiling in zip(heads, rims, tilings, strict=True):
        yield _gauge(Leaf(head, on, next(numbers), count, notice), new_canvas)
        yield draw_map(Leaf(head, on, next(numbers), count, notice), new_canvas, rim, tiling)
        for tile in tiling.tiles:
            yield draw_tile(Leaf(head, on, next(numbers), count, notice), new_canvas, rim, tiling, tile)


def _gauge(leaf: Leaf, new_canvas: NewCanvas) -> Canvas:
    what = "One station at true size: skin's edge, margin, both holes and web, with bars of 100 mm to check a print."
    canvas = start_page(leaf, new_canvas, "Station gauge", what)
    page = lay_out(leaf.plan)
    canvas.shift((canvas.width_mm - page.width_mm) / 2, GAUGE_DOWN_MM)
    draw_gauge_on(canvas, page)
    canvas.end_group()
    return canvas
