"""The heading of a station gauge's page, and the bars that show whether a print is true."""

from __future__ import annotations

from math import cos, radians

from tauthide.drawings.canvas import ASCENT, NARROW_MM, Canvas
from tauthide.drawings.gauge_page import BAR_MM, EDGE_MM, HEADING_X_MM, SMALL_MM, GaugePage
from tauthide.drawings.pages import figure_text, tool_text, write_stamp
from tauthide.drawings.skin_edge import RoundEdge

NAME_MM, TITLE_MM = 3.5, 4.5
"""Sizes of texts."""

NOTES_X_MM = 82.0
"""Where the second column of the list begins."""

LIST_Y_MM, LIST_PITCH_MM = 22.5, 4.5

LEVEL_BAR_Y_MM = 51.0

UPRIGHT_BAR_X_MM, UPRIGHT_BAR_Y_MM = 6.0, 4.0

INSIDE_BAR_MM = 9.0
"""From hole b in to an upright bar that stands between the holes."""


def draw_heading(canvas: Canvas, page: GaugePage) -> None:
    """Write what the page is, how to print it, and the sizes that it shows."""
    spec = page.plan.spec
    canvas.text((HEADING_X_MM, 6.5), "Station gauge, true size", TITLE_MM, anchor="start", bold=True)
    write_stamp(canvas, page.plan)
    canvas.text((HEADING_X_MM, 12.0), spec.drum, NAME_MM, anchor="start", bold=True)
    advice = "Print at 100 %, not fitted to the page. Never measure from the paper's edge."
    canvas.text((HEADING_X_MM, 17.0), advice, SMALL_MM, anchor="start")
    for x, lines in ((HEADING_X_MM, _sizes(page)), (NOTES_X_MM, _notes(page))):
        for row, line in enumerate(lines):
            canvas.text((x, LIST_Y_MM + row * LIST_PITCH_MM), line, SMALL_MM, anchor="start")


def _sizes(page: GaugePage) -> tuple[str, ...]:
    plan = page.plan
    return (
        f"hole {tool_text(plan, 'stations.hole')}",
        f"web {figure_text(plan, 'holes.web')}",
        f"pair spacing {figure_text(plan, 'holes.pair_spacing')}",
        f"margin {figure_text(plan, 'holes.margin')}",
        f"edge distance {figure_text(plan, 'holes.edge_distance')}",
    )


def _notes(page: GaugePage) -> tuple[str, ...]:
    plan = page.plan
    way = "right" if page.hand > 0 else "left"
    where = "at hole a" if page.station_along else "midway between a and b"
    if not page.station_on_page:
        where = "off this page: lay a rule along the line"
    notes = [f"inner side up, edge toward you: numbers run to the {way}", f"the station is {where}"]
    if not isinstance(page.edge, RoundEdge):
        come = "are carried out from the frame" if plan.marking.on == "frame" else "are marked by the folds"
        return (*notes, "edge drawn straight: keep the margin at both holes", f"no tick: stations {come}")
    notes.append(f"edge drawn to the blank's radius, {figure_text(plan, 'head.blank_radius')}")
    notes.append(f"station to station, straight: {figure_text(plan, 'stations.chord')}")
    if page.tick is None:
        notes.append("no tick: the next station is too far for this page")
    elif page.tick.kind == "half":
        notes.append("the next station is too far: the tick is half way to it")
    return tuple(notes)


def draw_bars(canvas: Canvas, page: GaugePage) -> None:
    """Draw the level and the upright bar, with fine ticks at their ends to measure between."""
    words = f"{BAR_MM:.0f} mm: measure before use"
    x, y = HEADING_X_MM, LEVEL_BAR_Y_MM
    canvas.line((x, y), (x + BAR_MM, y), attributes='data-bar="level"')
    for end in (x, x + BAR_MM):
        canvas.line((end, y - 2), (end, y + 2), width=NARROW_MM)
    canvas.text((x + BAR_MM / 2, y - 1.2), words, SMALL_MM)
    x, y, beside = UPRIGHT_BAR_X_MM, UPRIGHT_BAR_Y_MM, 1.2 + ASCENT * SMALL_MM
    if page.bar_between:
        along = page.half_pair - page.hole_radius - INSIDE_BAR_MM
        offset = cos(radians(page.edge.lean_deg(along))) * along
        x = round(page.x_mm + page.hand * offset, 1)
        y = round(page.low_mm - page.edge.height(offset) - EDGE_MM - BAR_MM, 1)
        beside = -1.2 if page.hand > 0 else beside
    canvas.line((x, y), (x, y + BAR_MM), attributes='data-bar="upright"')
    for end in (y, y + BAR_MM):
        canvas.line((x - 2, end), (x + 2, end), width=NARROW_MM)
    canvas.text((x + beside, y + BAR_MM / 2), words, SMALL_MM, turned_deg=-90.0, halo=True)
