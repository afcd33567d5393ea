"""lacing.svg: the back of the frame with every span of the lace, in which order, and beneath which."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, hypot

from tauthide.drawings.canvas import NARROW_MM, WIDE_MM, Canvas, Point, View
from tauthide.drawings.labels import apart, base_line, label_room, shown_stations
from tauthide.drawings.outlines import curve_at, rim
from tauthide.drawings.pages import (
    CAPTION_MM,
    KEY_SAMPLE_MM,
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    SMALL_SIZE_MM,
    fit,
    key_line,
    key_text,
    scale_text,
    write_caption,
)
from tauthide.drawings.wall import draw_wall
from tauthide.geometry.holes import Pair
from tauthide.lacing.order import HUB, Step, follow, last_steps, legs_of
from tauthide.plan.plan import Plan

BOTTOM_MM = 208.0
"""Below this stands the key."""

AROUND_MM = 10.0
"""Room round the frame for the numbers of the stations."""

NUMBER_SIZE_MM = 3.4
NUMBER_OUT_MM = 4.4
"""From the frame's edge to the middle of a station's number."""

FEW_SPANS = 32
"""Up to so many spans are drawn wide, more of them narrow: the middle stays readable."""

CASING = 4.0
"""White on both sides of a span, over the span's own width: what passes beneath looks interrupted."""

CASING_CLEAR_MM = 0.8
"""The white begins and ends so far from a hole, so as not to cut into it."""

STEP_RADIUS_MM = 2.6
STEP_BACK_MM = 7.8
"""Radius of a step's circle, and from the arriving span's hole back to its middle."""

ARROW_MM = 3.4
DASHES = "1.6 0.9"
"""Behind a web: shorter than the usual dashes, for there is little of it."""

DOT_MM = 0.6
"""Radius of the dot where the holes lie out on the wall and the lace turns over the back edge."""

TAB_SHARE, TAB_MOST_MM, TAB_SLENDER = 0.6, 8.0, 0.5
"""The tab's length by the room before the next hole, at most; its width over its length."""

HUB_RADIUS_MM = 1.2
TICK_MM = 1.4
LETTER_OUT_MM, LETTER_ROOM_MM = 2.2, 1.8
"""From a hole's edge out to its letter, and what the letter needs between hole and frame's edge."""

KEY_STEP = 7
KEY_AT, KEY_ASIDE_MM = (6.0, 213.0), 92.0
"""Where the key stands, and its second column."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What all parts of the drawing need."""

    plan: Plan
    canvas: Canvas
    view: View
    radius_mm: float
    """Of a hole on the page, or of the dot where the lace turns over the back edge."""


@dataclass(frozen=True, slots=True)
class _Span:
    """A straight length of lace on the page."""

    step: int
    station: int
    """Where it arrives."""
    start: Point
    end: Point
    leaves: bool
    """Whether it starts from a hole; else from the ring."""
    arrives: bool
    """Whether it ends in a hole; else at hub or ring."""

    def back(self, by_mm: float) -> Point:
        """Return the point so far before its end."""
        x, y = self.direction
        return (self.end[0] - by_mm * x, self.end[1] - by_mm * y)

    def ahead(self, by_mm: float) -> Point:
        """Return the point so far past its start."""
        x, y = self.direction
        return (self.start[0] + by_mm * x, self.start[1] + by_mm * y)

    @property
    def direction(self) -> Point:
        """Its direction, of length 1."""
        x, y = self.end[0] - self.start[0], self.end[1] - self.start[1]
        length = hypot(x, y)
        return (x / length, y / length)


def draw_lacing(plan: Plan) -> bytes:
    """Return the drawing of the laced back as an SVG file; of two heads, of the laced wall."""
    if plan.lacing.heads > 1:
        return draw_wall(plan)
    outline = plan.outline
    length_mm, width_mm = outline.length_at(0.0), outline.width_at(0.0)
    room = (PAGE_WIDTH_MM - 2 * AROUND_MM, BOTTOM_MM - CAPTION_MM - 2 * AROUND_MM)
    reduction = fit(width_mm, length_mm, room)
    bottom = BOTTOM_MM - AROUND_MM - (room[1] - length_mm / reduction) / 2
    view = View(PAGE_WIDTH_MM / 2, bottom + outline.point(0.0, 0.0)[1] / reduction, 1 / reduction)
    what = f"{plan.lacing.title}, seen from behind (inner side)"
    line = (
        f"Scale {scale_text(reduction)} · {len(plan.stations)} stations, {_lengths(plan)}, "
        f"numbered {plan.spec.word('stations.hand')}"
    )
    canvas = Canvas(PAGE_WIDTH_MM, PAGE_HEIGHT_MM, f"{plan.spec.drum}: {what}", line)
    write_caption(canvas, plan, what, line)
    on_back = plan["holes.inset"] >= 0
    radius = plan.spec.number("stations.hole") / 2 / reduction if on_back else DOT_MM
    sheet = _Sheet(plan, canvas, view, radius)
    _draw_frame(sheet)
    _draw_holes(sheet)
    _draw_lace(sheet)
    _write_stations(sheet)
    _write_key(sheet, on_back)
    return canvas.bytes()


def _lengths(plan: Plan) -> str:
    if has_ring(plan):
        return "each to the ring and back"
    spans, laces = len(plan.steps) - len(last_steps(plan.steps)), len(last_steps(plan.steps))
    return f"{spans} spans" + (f" in {laces} laces" if laces > 1 else "")


def has_ring(plan: Plan) -> bool:
    """Tell whether the lace runs to a ring at the hub."""
    return any(step.ring is not None for step in plan.steps)


def _draw_frame(sheet: _Sheet) -> None:
    outline, canvas, view = sheet.plan.outline, sheet.canvas, sheet.view
    canvas.path(curve_at(outline, 0.0, view), attributes='data-curve="frame"')
    inner = curve_at(outline, -sheet.plan.spec.number("frame.wall"), view)
    if inner:
        canvas.path(inner, width=NARROW_MM, attributes='data-curve="wall"')


def _draw_holes(sheet: _Sheet) -> None:
    canvas, view = sheet.canvas, sheet.view
    for pair in sheet.plan.mounted:
        for name, hole in (("a", pair.a), ("b", pair.b)):
            marks = f'data-station="{pair.station}" data-hole="{name}"'
            canvas.circle(view.at(hole), sheet.radius_mm, width=NARROW_MM, fill="#fff", attributes=marks)


def _draw_lace(sheet: _Sheet) -> None:
    """Draw the lace from its end to its beginning: whatever is laid later lies nearer the head, beneath."""
    plan, canvas, view = sheet.plan, sheet.canvas, sheet.view
    width = WIDE_MM if len(plan.steps) <= FEW_SPANS else NARROW_MM
    for step in plan.steps:
        pair = plan.mounted[step.station - 1]
        ends = (view.at(_hole(pair, step.enter)), view.at(_hole(pair, step.leave)))
        canvas.line(*ends, dash=DASHES, attributes=f'data-bridge="{step.step}"')
    spans = _spans(sheet)
    hub = view.at(HUB)
    if has_ring(plan):
        _draw_ring(sheet)
    for span in (span for span in spans if not span.arrives):
        part = "to-ring" if has_ring(plan) else "to-hub"
        canvas.line(span.start, span.end, width=width, attributes=f'data-part="{part}"')
    clear = sheet.radius_mm + CASING_CLEAR_MM
    for span in reversed([span for span in spans if span.arrives]):
        if span.leaves:
            canvas.line(span.ahead(clear), span.back(clear), width=(1 + CASING) * width, stroke="#fff")
        canvas.line(span.start, span.end, width=width, attributes=f'data-step="{span.step}"')
    if not has_ring(plan):
        canvas.circle(hub, HUB_RADIUS_MM, fill="#fff")
        for before, first in follow(plan.steps):
            if before is None:
                _draw_anchor(sheet, first)
    _write_steps(sheet, spans)


def _draw_ring(sheet: _Sheet) -> None:
    """Draw the ring's rod, and the tab round it at the first station's place."""
    plan, canvas, view = sheet.plan, sheet.canvas, sheet.view
    hub, outer = view.at(HUB), view.scale * plan.spec.number("lace.ring") / 2
    inner = outer - view.scale * plan.spec.number("lace.ring_section")
    canvas.circle(hub, outer, attributes='data-curve="ring"')
    canvas.circle(hub, inner, width=NARROW_MM)
    first = plan.steps[0].ring
    if first is not None:
        x, y = view.at(first)
        out = ((x - hub[0]) / outer, (y - hub[1]) / outer)
        half = min(TAB_MOST_MM, outer - inner + 2.0) * TAB_SLENDER / 2
        ends = ((x + 1.2 * out[0], y + 1.2 * out[1]),
                (hub[0] + (inner - 1.2) * out[0], hub[1] + (inner - 1.2) * out[1]))  # fmt: skip
        corners = [(px - side * half * out[1], py + side * half * out[0]) for (px, py), side in
                   ((ends[0], -1), (ends[1], -1), (ends[1], 1), (ends[0], 1))]  # fmt: skip
        canvas.polyline(corners, width=NARROW_MM, fill="#fff", closed=True)


def _spans(sheet: _Sheet) -> list[_Span]:
    """Return the lace's straight lengths, in the order in which they are laid."""
    plan, at = sheet.plan, sheet.view.at
    return [
        _Span(leg.step, leg.station, at(leg.start), at(leg.end), leg.leaves, leg.arrives)
        for leg in legs_of(plan.steps, plan.mounted)
    ]


def _write_steps(sheet: _Sheet, spans: list[_Span]) -> None:
    """Put an arrowhead on every span, and its number in a circle on as many as have room."""
    canvas = sheet.canvas
    back = sheet.radius_mm + STEP_BACK_MM
    arriving = [span for span in spans if span.arrives]
    for span in arriving:
        x, y = span.direction
        canvas.arrowhead(span.back(sheet.radius_mm), degrees(atan2(y, x)), ARROW_MM)
    places = {span.station: span.back(back) for span in arriving}
    places |= {step.station: _anchor_number(sheet, step) for step in sheet.plan.steps if step.station not in places}
    numbers = {step.station: step.step for step in sheet.plan.steps}
    stations = sorted(places)
    room = 2 * STEP_RADIUS_MM
    for place in shown_stations([places[station] for station in stations], room, room):
        station = stations[place - 1]
        _write_step(canvas, places[station], numbers[station])


def _write_step(canvas: Canvas, centre: Point, step: int) -> None:
    canvas.circle(centre, STEP_RADIUS_MM, width=NARROW_MM, fill="#fff")
    canvas.text(base_line(centre, SMALL_SIZE_MM), str(step), SMALL_SIZE_MM)


def _anchor_number(sheet: _Sheet, first: Step) -> Point:
    """Return where the number of a lace's first step goes: inward of the hole where its lace goes in."""
    x, y = sheet.view.at(_hole(sheet.plan.mounted[first.station - 1], first.enter))
    hub_x, hub_y = sheet.view.at((0.0, 0.0))
    share = (sheet.radius_mm + STEP_BACK_MM) / hypot(hub_x - x, hub_y - y)
    return (x + share * (hub_x - x), y + share * (hub_y - y))


def _draw_anchor(sheet: _Sheet, first: Step) -> None:
    """Draw the tab where it comes out at a lace's first station, with its slit, and the lace across the web."""
    plan, canvas, at = sheet.plan, sheet.canvas, sheet.view.at
    pair = plan.mounted[first.station - 1]
    enter, leave = at(_hole(pair, first.enter)), at(_hole(pair, first.leave))
    spacing = hypot(leave[0] - enter[0], leave[1] - enter[1])
    x, y = (leave[0] - enter[0]) / spacing, (leave[1] - enter[1]) / spacing
    others = [at(hole) for other in plan.mounted if other is not pair for hole in (other.a, other.b)]
    room = min(hypot(hole[0] - leave[0], hole[1] - leave[1]) for hole in others) - sheet.radius_mm
    length = min(TAB_SHARE * room, TAB_MOST_MM)
    half = TAB_SLENDER * length / 2
    end = (leave[0] + length * x, leave[1] + length * y)
    corners = [(px - side * half * y, py + side * half * x) for (px, py), side in
               ((leave, -1), (end, -1), (end, 1), (leave, 1))]  # fmt: skip
    canvas.polyline(corners, width=NARROW_MM, fill="#fff", closed=True)
    slit = [(leave[0] + share * length * x, leave[1] + share * length * y) for share in (0.3, 0.75)]
    canvas.line(slit[0], slit[1], width=NARROW_MM)
    aside = sheet.radius_mm / 2
    across = [(px + aside * y, py - aside * x) for px, py in (enter, leave)]
    canvas.line(across[0], across[1])


def _write_stations(sheet: _Sheet) -> None:
    plan, canvas, view = sheet.plan, sheet.canvas, sheet.view
    # Letters stand outside the holes of station 1: where these lie near the edge, the numbers make room.
    inside = view.scale * plan["holes.mounted_inset"] - sheet.radius_mm
    out = NUMBER_OUT_MM + max(0.0, LETTER_ROOM_MM - inside)
    places = rim(plan, 0.0)
    centres = []
    for place in places:
        (x, y), (normal_x, normal_y) = view.at(place.point), place.normal
        centres.append((x + out * normal_x, y - out * normal_y))
        canvas.line((x, y), (x + TICK_MM * normal_x, y - TICK_MM * normal_y), width=NARROW_MM)
    room = label_room([str(len(centres))], NUMBER_SIZE_MM)
    for station in shown_stations(centres, *room):
        at = base_line(centres[station - 1], NUMBER_SIZE_MM)
        canvas.text(at, str(station), NUMBER_SIZE_MM, bold=station == 1)
    first, down = plan.mounted[0], sheet.radius_mm + LETTER_OUT_MM
    letters = apart(view.at(first.a), view.at(first.b), label_room("ab", SMALL_SIZE_MM)[0])
    for letter, (x, y) in zip("ab", letters, strict=True):
        canvas.text(base_line((x, y + down), SMALL_SIZE_MM), letter, SMALL_SIZE_MM, halo=True)


def _write_key(sheet: _Sheet, on_back: bool) -> None:
    canvas, first = sheet.canvas, sheet.plan.steps[0]
    half = (KEY_SAMPLE_MM - 2.0) / 2
    at = KEY_AT
    _write_step(canvas, (at[0] + half, at[1]), KEY_STEP)
    ring = has_ring(sheet.plan)
    at = key_text(canvas, at, f"step {KEY_STEP}: {'the lace' if ring else 'its span'} arrives here")
    if not ring:
        at = _write_beneath(canvas, at, half)
    at = key_line(canvas, at, f"behind the web, from {first.enter} to {first.leave}", dash=DASHES)
    canvas.text((at[0] + half, at[1] + 1.0), str(KEY_STEP), NUMBER_SIZE_MM)
    key_text(canvas, at, "outside the frame: number of the station")
    at = (KEY_AT[0] + KEY_ASIDE_MM, KEY_AT[1])
    canvas.rectangle((at[0], at[1] - 1.4), 6.0, 2.8, width=NARROW_MM)
    if not ring:
        canvas.line((at[0] + 1.8, at[1]), (at[0] + 4.5, at[1]), width=NARROW_MM)
    at = key_text(canvas, at, "anchor: the tab round the ring" if ring else "anchor: the tab, with its slit")
    canvas.circle((at[0] + half, at[1]), HUB_RADIUS_MM)
    if ring:
        canvas.circle((at[0] + half, at[1]), HUB_RADIUS_MM / 2, width=NARROW_MM)
    at = key_text(canvas, at, "the ring at the hub" if ring else "hub: the last length ends here")
    canvas.circle((at[0] + half, at[1]), 1.8 if on_back else DOT_MM, width=NARROW_MM)
    at = key_text(canvas, at, "hole" if on_back else "over the back edge, out to its hole")
    canvas.line((at[0], at[1] - 0.8), (at[0] + 2 * half, at[1] - 0.8))
    canvas.line((at[0], at[1] + 0.8), (at[0] + 2 * half, at[1] + 0.8), width=NARROW_MM)
    key_text(canvas, at, "frame: outside and inside of the wall")


def _write_beneath(canvas: Canvas, at: Point, half: float) -> Point:
    canvas.line(at, (at[0] + 2 * half, at[1]))
    canvas.line((at[0] + half, at[1] - 2.0), (at[0] + half, at[1] + 2.0), width=(1 + CASING) * WIDE_MM, stroke="#fff")
    canvas.line((at[0] + half, at[1] - 2.2), (at[0] + half, at[1] + 2.2))
    return key_text(canvas, at, "broken line: passes beneath, nearer the head")


def _hole(pair: Pair, name: str) -> Point:
    return pair.a if name == "a" else pair.b
