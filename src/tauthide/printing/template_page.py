"""What every page of a true-size template has: its heading, the notice, and bars in both axes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tauthide.drawings.canvas import ASCENT, CHARACTER_WIDTH, NARROW_MM, Canvas, Point, text_width_mm
from tauthide.drawings.gauge_page import BAR_MM, SMALL_MM
from tauthide.plan.plan import Plan
from tauthide.printing.paper import Paper

NewCanvas = Callable[[float, float, str, str], Canvas]
"""Makes an empty page from its width and height in mm, its title and its description."""

HEAD_Y_MM, LINE_Y_MM, LEVEL_BAR_Y_MM = 3.2, 8.0, 13.4
"""Base lines of the heading's two lines, and the level bar."""

LEFT_MM = 8.0
"""Where the level bar begins, right of the upright one."""

UPRIGHT_BAR_X_MM, UPRIGHT_BAR_Y_MM = 5.2, 30.0

TICK_MM = 1.6
"""Half a tick at a bar's end."""

WINDOW_LEFT_MM, WINDOW_TOP_MM = 7.5, 16.5
"""Where the drawing begins, right of the upright bar and below the level one."""

WINDOW_EDGE_MM = 0.5
"""Kept at the right and at the bottom for the line round the window."""

BAR_WORDS = f"{BAR_MM:.0f} mm: measure before cutting"


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page of a template: which drum's, on what paper, the how manieth of how many."""

    plan: Plan
    paper: Paper
    number: int
    count: int
    notice: str = ""
    """Set in bold on every page, such as that the sheet is not approved."""

    @property
    def window_mm(self) -> Point:
        """Width and height of the part below the heading."""
        return window_of(self.paper)


def window_of(paper: Paper) -> Point:
    """Return width and height of a page's window."""
    width, height = paper.room_mm
    return width - WINDOW_LEFT_MM - WINDOW_EDGE_MM, height - WINDOW_TOP_MM - WINDOW_EDGE_MM


def start_page(leaf: Leaf, new_canvas: NewCanvas, what: str, description: str) -> Canvas:
    """Return a new page with its first line, which all pages have."""
    width, height = leaf.paper.room_mm
    drum = leaf.plan.spec.drum
    which = f" head {leaf.plan.head}" if leaf.plan.lacing.heads > 1 else ""
    canvas = new_canvas(width, height, f"{what} of {drum}{which}, page {leaf.number} of {leaf.count}", description)
    line = f"{which.strip()} · " if which else ""
    line += f"digest {leaf.plan.digest} · page {leaf.number} of {leaf.count}"
    # The drum's name gives way: the rest tells what the page belongs to.
    room = width - text_width_mm(f"  · {line}", SMALL_MM) - (width / 2 if leaf.notice else 0.0)
    size = min(SMALL_MM, room / (CHARACTER_WIDTH * len(drum)))
    canvas.text((0.0, HEAD_Y_MM), drum, size, anchor="start", bold=True)
    canvas.text((text_width_mm(drum, size) + 2.0, HEAD_Y_MM), line, SMALL_MM, anchor="start")
    if leaf.notice:
        size = min(4.0, width / 2 / (CHARACTER_WIDTH * len(leaf.notice)))
        canvas.text((width, HEAD_Y_MM), leaf.notice, size, anchor="end", bold=True)
    return canvas


def draw_heading(canvas: Canvas, line: str) -> None:
    """Write the second line, and draw the bars."""
    canvas.text((LEFT_MM, LINE_Y_MM), line, SMALL_MM, anchor="start")
    x, y = LEFT_MM, LEVEL_BAR_Y_MM
    canvas.line((x, y), (x + BAR_MM, y), attributes='data-bar="level"')
    for end in (x, x + BAR_MM):
        canvas.line((end, y - TICK_MM), (end, y + TICK_MM), width=NARROW_MM)
    canvas.text((x + BAR_MM + 3.0, y + 1.0), BAR_WORDS, SMALL_MM, anchor="start")
    x, y = UPRIGHT_BAR_X_MM, UPRIGHT_BAR_Y_MM
    canvas.line((x, y), (x, y + BAR_MM), attributes='data-bar="upright"')
    for end in (y, y + BAR_MM):
        canvas.line((x - TICK_MM, end), (x + TICK_MM, end), width=NARROW_MM)
    canvas.text((ASCENT * SMALL_MM + 0.4, y + BAR_MM / 2), BAR_WORDS, SMALL_MM, turned_deg=-90.0)
