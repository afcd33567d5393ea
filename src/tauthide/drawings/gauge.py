"""The station gauge: one station at true size, to print, check, cut out and lay on the skin.

The skin's edge lies toward the maker, the middle of the skin away: as at station 1 of the layout.
"""

from __future__ import annotations

from math import atan2, degrees, hypot

from tauthide.drawings.canvas import ASCENT, CHAIN, NARROW_MM, Canvas, Point, number, text_width_mm
from tauthide.drawings.dimensions import ARROW_MM, OUTSIDE_RUN_MM
from tauthide.drawings.gauge_heading import draw_bars, draw_heading
from tauthide.drawings.gauge_page import MARK_CLEAR_MM, MARK_MM, SMALL_MM, GaugePage, lay_out
from tauthide.plan.plan import Plan

CROSS_MM = 1.5
"""How far a centre cross reaches beyond its hole."""

WORD_GAP_MM = 1.2
"""Between a dimension line and its word."""


def draw_gauge(plan: Plan) -> bytes:
    """Return the station gauge as SVG: a unit of its view box is 1 mm, all content fits A4 and Letter."""
    page = lay_out(plan)
    canvas = gauge_canvas(page)
    return canvas.bytes()


def gauge_canvas(page: GaugePage) -> Canvas:
    """Draw the gauge of a page that is laid out."""
    canvas = Canvas(
        page.width_mm,
        page.height_mm,
        f"Station gauge of {page.plan.spec.drum}",
        "One station at true size: skin's edge, margin, both holes and web, with bars of 100 mm to check a print.",
    )
    draw_gauge_on(canvas, page)
    return canvas


def draw_gauge_on(canvas: Canvas, page: GaugePage) -> None:
    """Draw the gauge, with its heading and bars, from the canvas's (0, 0) on."""
    draw_heading(canvas, page)
    draw_bars(canvas, page)
    _outline(canvas, page)
    _hole_line(canvas, page)
    _holes(canvas, page)
    _across(canvas, page)
    _inward(canvas, page)
    _marks(canvas, page)


def _outline(canvas: Canvas, page: GaugePage) -> None:
    """Draw the skin's edge, the rest of the outline, and what the piece is."""
    left, right = page.corner(-1), page.corner(+1)
    edge = page.edge.line_to(right, 0.0)
    canvas.path(f"M{number(left[0])} {number(left[1])}{edge}", attributes='data-part="skin-edge"')
    top = page.top_mm
    canvas.polyline((left, (left[0], top), (right[0], top), right), width=NARROW_MM)
    middle = (left[0] + right[0]) / 2
    canvas.text((middle, top - 1.2), "cut out along this outline", SMALL_MM)
    canvas.text((middle, top + 4.5), page.plan.spec.drum, SMALL_MM, bold=True)
    which = f"head {page.plan.head} · " if page.plan.lacing.heads > 1 else ""
    canvas.text((middle, top + 9.0), f"{which}digest {page.plan.digest}", SMALL_MM)


def _hole_line(canvas: Canvas, page: GaugePage) -> None:
    """Draw the line of the holes from beyond one to beyond the other."""
    reach = page.half_pair + page.hole_radius + CROSS_MM
    first, last = (page.at(page.hand * side * reach, page.edge_distance) for side in (-1, 1))
    arc = page.edge.line_to(last, page.edge_distance)
    data = f"M{number(first[0])} {number(first[1])}{arc}"
    canvas.path(data, width=NARROW_MM, dash=CHAIN, attributes='data-part="hole-line"')


def _holes(canvas: Canvas, page: GaugePage) -> None:
    for letter, along in (("a", -page.half_pair), ("b", page.half_pair)):
        centre = page.at(along, page.edge_distance)
        canvas.circle(centre, page.hole_radius, attributes=f'data-hole="{letter}"')
        reach = page.hole_radius + CROSS_MM
        x, y = centre
        canvas.line((x - reach, y), (x + reach, y), width=NARROW_MM)
        canvas.line((x, y - reach), (x, y + reach), width=NARROW_MM)
        outward = page.hand * (1 if letter == "b" else -1)
        canvas.text((x + 3.2 * outward, y - page.hole_radius - 0.8), letter, SMALL_MM, bold=True, halo=True)


def _across(canvas: Canvas, page: GaugePage) -> None:
    """Draw web and pair spacing, one above the other."""
    a, b = (page.at(side * page.half_pair, page.edge_distance) for side in (-1, 1))
    r = page.hole_radius
    for reach, word, level, start in (
        (-r, "web", page.web_level_mm, 0.8),
        (0.0, "pair spacing", page.pair_level_mm, r + CROSS_MM + 0.8),
    ):
        first, last = ((a[0] - page.hand * reach, a[1]), (b[0] + page.hand * reach, b[1]))
        for x, y in (first, last):
            canvas.line((x, y - start), (x, level - 1.5), width=NARROW_MM)
        _arrows(canvas, (first[0], level), (last[0], level))
        span, width = abs(last[0] - first[0]), text_width_mm(word, SMALL_MM)
        if span >= width + 2.0:
            canvas.text(((first[0] + last[0]) / 2, level - 1.2), word, SMALL_MM)
            continue
        # Too narrow: the word stands beyond the line, on the side of hole b, where nothing else is.
        clear = OUTSIDE_RUN_MM + 0.8 if span < 3 * ARROW_MM else MARK_CLEAR_MM
        side = page.hand
        beyond = max(abs(last[0] - page.x_mm), abs(b[0] - page.x_mm)) + clear
        text_x = page.x_mm + side * beyond
        canvas.line((last[0], level), (text_x - side * WORD_GAP_MM, level), width=NARROW_MM)
        canvas.text((text_x, level + 1.1), word, SMALL_MM,
                    anchor="start" if side > 0 else "end")  # fmt: skip


def _inward(canvas: Canvas, page: GaugePage) -> None:
    """Draw margin and edge distance, each from the skin's edge inward."""
    for place in page.inward:
        foot, head = page.at(place.along_mm, 0.0), page.at(place.along_mm, place.length_mm)
        if place.from_mm is not None:
            start, end = sorted((place.from_mm, place.past_mm), key=lambda along: page.hand * along)
            first, last = page.at(start, place.length_mm), page.at(end, place.length_mm)
            arc = page.edge.line_to(last, place.length_mm)
            canvas.path(f"M{number(first[0])} {number(first[1])}{arc}", width=NARROW_MM)
        _arrows(canvas, foot, head, inside_from=ARROW_MM * 2.2, tail=head)
        width = text_width_mm(place.word, SMALL_MM)
        side = page.hand * place.side
        if place.beyond_from_mm is None:
            middle = page.at(place.along_mm, place.word_mm)
            lean = page.lean_deg(place.along_mm)
            shift = WORD_GAP_MM + (0.0 if side < 0 else ASCENT * SMALL_MM)
            at = (middle[0] + side * shift, middle[1])
            canvas.text(at, place.word, SMALL_MM, turned_deg=-90 + lean)
        else:
            start_point = page.at(place.along_mm, place.beyond_from_mm)
            canvas.line(head, start_point, width=NARROW_MM)
            shift = 0.28 * SMALL_MM
            top = (start_point[0] + shift, start_point[1] - 0.8 - width / 2)
            canvas.text(top, place.word, SMALL_MM, turned_deg=-90, halo=True)


def _marks(canvas: Canvas, page: GaugePage) -> None:
    """Draw the station's line and the tick, with their labels under the skin's edge."""
    foot = page.station_foot()
    inner = page.edge_distance - (page.hole_radius if page.station_along else 0.0)
    canvas.line(foot, page.at(page.station_along, inner), attributes='data-mark="station"')
    labels: list[tuple[Point, str]] = []
    if page.station_on_page:
        labels.append((foot, "station"))
    if page.tick is not None:
        point = page.at(page.tick.along_mm, 0.0)
        canvas.line(point, page.at(page.tick.along_mm, MARK_MM), attributes=f'data-mark="{page.tick.kind}"')
        labels.append((point, page.tick.label))
    taken: list[tuple[float, float, float]] = []
    for point, word in labels:
        half = text_width_mm(word, SMALL_MM) / 2
        x = min(max(point[0], half + 2), page.width_mm - half - 2)
        # The edge is lowest toward the pair's middle: the text has to clear it there.
        near = min(max(page.x_mm, x - half), x + half)
        y = max(page.low_mm - page.edge.height(near - page.x_mm), point[1]) + 6.0
        for left, right, base in taken:
            if x - half < right + 1 and x + half > left - 1:
                y = max(y, base + 4.0)
        taken.append((x - half, x + half, y))
        canvas.polyline((point, (point[0], y - 3.0)), width=NARROW_MM)
        canvas.text((x, y), word, SMALL_MM)


def _arrows(
    canvas: Canvas, start: Point, end: Point, *, inside_from: float = 3 * ARROW_MM, tail: Point | None = None
) -> None:
    """Draw a dimension line with its arrows: between the ends, or from outside where there is no room."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    direction = degrees(atan2(along[1], along[0]))
    inside = length >= inside_from
    out = 0.0 if inside else OUTSIDE_RUN_MM
    canvas.line(
        (start[0] - along[0] * out, start[1] - along[1] * out),
        (end[0] + along[0] * out, end[1] + along[1] * out),
        width=NARROW_MM,
    )
    turn = 0.0 if inside else 180.0
    canvas.arrowhead(start, direction + 180 + turn, ARROW_MM)
    canvas.arrowhead(end, direction + turn, ARROW_MM)
