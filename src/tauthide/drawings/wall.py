"""lacing.svg of two heads: the wall rolled out flat, with every leg of the lace from head to head.

The drum stands on its first head, seen from outside: the first head's bearing edge is the lower line of each row.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, ceil, degrees, hypot

from tauthide.drawings.canvas import NARROW_MM, WIDE_MM, Canvas, Point
from tauthide.drawings.labels import base_line
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
from tauthide.lacing.order import Step
from tauthide.plan.plan import Plan

BOTTOM_MM = 212.0
"""Below this stands the key."""

SIDE_MM = 8.0
ROW_ROOM_MM = 13.0
"""Room at each side, and above and below the rows together, for the numbers of the stations."""

MOST_ROWS = 8
CASING = 4.0
"""White on both sides of a leg, over the leg's own width: what passes beneath looks interrupted."""

CLEAR_MM = 0.8
STEP_RADIUS_MM, STEP_BACK = 2.4, 0.24
"""Radius of a step's circle, and the share of the leg from its end back to its middle."""

NUMBER_CLEAR_MM = 2.0
"""From a step's circle to where its leg crosses another: what passes beneath must be seen."""

ARROW_MM = 2.8
DASHES = "1.6 0.9"
NUMBER_SIZE_MM, NUMBER_OUT_MM = 3.4, 3.4
TAB_MM = (5.0, 2.6)
KEY_AT, KEY_ASIDE_MM = (6.0, 218.0), 92.0


@dataclass(frozen=True, slots=True)
class _Wall:
    """The wall on the page, in rows."""

    plan: Plan
    canvas: Canvas
    reduction: float
    rows: int
    per_row: int
    """Stations of each head in a row."""

    @property
    def pitch(self) -> float:
        """From station to station along the rim, in mm."""
        return self.plan["stations.rim_spacing"]

    @property
    def height(self) -> float:
        """Of the wall, on the page."""
        return self.plan.spec.number("frame.depth") / self.reduction

    @property
    def width(self) -> float:
        """Of a row: its stations, and half a step on for legs that go on in the next."""
        pair = self.plan["holes.pair_spacing"]
        return (self.per_row * self.pitch + pair) / self.reduction

    @property
    def before(self) -> float:
        """Of a row, before its first station's mark: half a pair where that is the pair's middle."""
        centred = self.plan.spec.word("stations.mark_at") == "pair_centre"
        return self.plan["holes.pair_spacing"] / 2 if centred else 0.0

    def at(self, row: int, along_mm: float, up_mm: float) -> Point:
        """Return a point of the wall on the page: along the rim from the row's first station, up from the first head.

        Seen from outside numbers rise to the right where they run anticlockwise seen from the first head's inner side.
        """
        left = (PAGE_WIDTH_MM - self.width) / 2
        x = (along_mm + self.before) / self.reduction
        if self.plan.spec.word("stations.hand") == "clockwise":
            x = self.width - x
        room = (BOTTOM_MM - CAPTION_MM) / self.rows
        bottom = CAPTION_MM + room * row + (room + self.height) / 2
        return (left + x, bottom - up_mm / self.reduction)

    def hole(self, row: int, place: int, which: str) -> Point:
        """Return where a hole lies, by its station's place in lacing order from 0 on."""
        plan = self.plan
        pair = plan["holes.pair_spacing"]
        along = (place / 2 - row * self.per_row) * self.pitch - self.before + (pair if which == "b" else 0.0)
        drop, depth = plan["holes.drop"], plan.spec.number("frame.depth")
        return self.at(row, along, depth - drop if place % 2 else drop)


def draw_wall(plan: Plan) -> bytes:
    """Return the drawing of the laced wall as an SVG file."""
    reduction, rows, per_row = _lay_out(plan)
    what = f"{plan.lacing.title}, the wall rolled out, seen from outside"
    laces = round(plan["lace.laces"])
    line = (
        f"Scale {scale_text(reduction)} · {len(plan.stations)} stations a head, {len(plan.steps)} legs"
        f"{f' in {laces} laces' if laces > 1 else ''}, numbered {plan.spec.word('stations.hand')}"
    )
    canvas = Canvas(PAGE_WIDTH_MM, PAGE_HEIGHT_MM, f"{plan.spec.drum}: {what}", line)
    write_caption(canvas, plan, what, line)
    wall = _Wall(plan, canvas, reduction, rows, per_row)
    for row in range(rows):
        _draw_row(wall, row)
    _write_key(canvas)
    return canvas.bytes()


def _lay_out(plan: Plan) -> tuple[float, int, int]:
    """Return the largest scale at which all rows fit, how many rows, and the stations of each head in one."""
    count, depth = len(plan.stations), plan.spec.number("frame.depth")
    found = []
    for rows in range(1, min(MOST_ROWS, count) + 1):
        per_row = ceil(count / rows)
        width = per_row * plan["stations.rim_spacing"] + plan["holes.pair_spacing"]
        room = (PAGE_WIDTH_MM - 2 * SIDE_MM, (BOTTOM_MM - CAPTION_MM) / rows - ROW_ROOM_MM)
        found.append((fit(width, depth, room), ceil(count / per_row), per_row))
    return min(found)


def _draw_row(wall: _Wall, row: int) -> None:
    plan, canvas = wall.plan, wall.canvas
    depth, drop = plan.spec.number("frame.depth"), plan.spec.number("head.drop")
    end = wall.width * wall.reduction
    for up, width in ((0.0, WIDE_MM), (depth, WIDE_MM), (drop, NARROW_MM), (depth - drop, NARROW_MM)):
        canvas.line(wall.at(row, -wall.before, up), wall.at(row, end - wall.before, up), width=width)
    own = [step for step in plan.steps if (step.step - 1) // (2 * wall.per_row) == row]
    # What is laid later lies beneath: ends first, then the legs that come down, then white round those that go up.
    for layer in range(3):
        for step in own:
            if _layer(plan, step) == layer:
                _draw_leg(wall, row, step)
    for step in own:
        _draw_station(wall, row, step)


def _layer(plan: Plan, step: Step) -> int:
    """Return how far from the wall the leg lies that leaves a station: 0 nearest, 2 above all that it crosses."""
    if _next(plan, step).span_mm is None:
        return 0
    return 2 if step.head == 1 else 1


def _next(plan: Plan, step: Step) -> Step:
    """Return the step at which the leg arrives that leaves a station: after the last the first."""
    return plan.steps[step.step % len(plan.steps)]


def _draw_leg(wall: _Wall, row: int, step: Step) -> None:
    """Draw the leg that leaves a station: to the next one, or, where the lace ends, to the next lace's tab."""
    plan, canvas = wall.plan, wall.canvas
    radius = plan.spec.number("stations.hole") / 2 / wall.reduction
    start, end = (wall.hole(row, step.step - 1 + on, step.leave) for on in (0, 1))
    reached = _next(plan, step)
    closes = reached.span_mm is None
    marks = f'data-part="closing" data-lace="{step.lace}"' if closes else f'data-step="{reached.step}"'
    length = hypot(end[0] - start[0], end[1] - start[1])
    x, y = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    clear = radius + CLEAR_MM
    # An end that goes up passes beneath the first leg of the lace whose tab it comes to.
    covers = _layer(plan, step) == 2 or (not closes and step.span_mm is None)
    if covers and length > 2 * clear:
        canvas.line((start[0] + clear * x, start[1] + clear * y), (end[0] - clear * x, end[1] - clear * y),
                    width=(1 + CASING) * WIDE_MM, stroke="#fff")  # fmt: skip
    canvas.line(start, end, attributes=marks)
    canvas.arrowhead((end[0] - radius * x, end[1] - radius * y), degrees(atan2(y, x)), ARROW_MM)
    if not closes:
        back = _number_back(wall, step, length, radius)
        _write_step(canvas, (end[0] - back * x, end[1] - back * y), reached.step)


def _number_back(wall: _Wall, step: Step, length: float, radius: float) -> float:
    """Return how far from its end a leg has its number, off the place where it crosses another."""
    share = wall.plan["holes.pair_spacing"] / wall.pitch
    crossing = (share if step.head == 1 else 1 - share) * length
    back = STEP_BACK * length + radius
    if abs(back - crossing) >= STEP_RADIUS_MM + NUMBER_CLEAR_MM:
        return back
    beyond = crossing + STEP_RADIUS_MM + NUMBER_CLEAR_MM
    return beyond if beyond <= length - radius - STEP_RADIUS_MM else back


def _draw_station(wall: _Wall, row: int, step: Step) -> None:
    plan, canvas = wall.plan, wall.canvas
    radius = plan.spec.number("stations.hole") / 2 / wall.reduction
    ends = {which: wall.hole(row, step.step - 1, which) for which in "ab"}
    for which, at in ends.items():
        marks = f'data-station="{step.station}" data-hole="{which}" data-head="{step.head}"'
        canvas.circle(at, radius, width=NARROW_MM, fill="#fff", attributes=marks)
    canvas.line(ends[step.enter], ends[step.leave], dash=DASHES, attributes=f'data-bridge="{step.step}"')
    (ax, ay), (bx, _) = ends["a"], ends["b"]
    out = 1 if step.head == 1 else -1
    edge = wall.at(row, 0.0, 0.0 if step.head == 1 else plan.spec.number("frame.depth"))[1]
    at = ((ax + bx) / 2, edge + out * NUMBER_OUT_MM)
    canvas.text(base_line(at, NUMBER_SIZE_MM), str(step.station), NUMBER_SIZE_MM, bold=step.span_mm is None)
    if step.step == 1:
        for which, (x, _) in ends.items():
            canvas.text(base_line((x, ay + radius + 2.4), SMALL_SIZE_MM), which, SMALL_SIZE_MM, halo=True)
    if step.span_mm is None:
        x, y = ends[step.leave]
        outward = 1 if x > ends[step.enter][0] else -1
        left = x + outward * (radius + TAB_MM[0] / 2) - TAB_MM[0] / 2
        canvas.rectangle((left, y - TAB_MM[1] / 2), *TAB_MM, width=NARROW_MM, fill="#fff")
        canvas.line((left + 1.2, y), (left + TAB_MM[0] - 1.2, y), width=NARROW_MM)


def _write_step(canvas: Canvas, centre: Point, step: int) -> None:
    canvas.circle(centre, STEP_RADIUS_MM, width=NARROW_MM, fill="#fff")
    canvas.text(base_line(centre, SMALL_SIZE_MM), str(step), SMALL_SIZE_MM)


def _write_key(canvas: Canvas) -> None:
    half = (KEY_SAMPLE_MM - 2.0) / 2
    at = KEY_AT
    _write_step(canvas, (at[0] + half, at[1]), 7)
    at = key_text(canvas, at, "step 7: its leg arrives here")
    at = key_line(canvas, at, "behind the web", dash=DASHES)
    canvas.line(at, (at[0] + 2 * half, at[1]))
    canvas.line((at[0] + half, at[1] - 2.0), (at[0] + half, at[1] + 2.0), width=(1 + CASING) * WIDE_MM, stroke="#fff")
    canvas.line((at[0] + half, at[1] - 2.2), (at[0] + half, at[1] + 2.2))
    at = key_text(canvas, at, "broken line: passes beneath, nearer the wall")
    canvas.text((at[0] + half, at[1] + 1.0), "7", NUMBER_SIZE_MM)
    key_text(canvas, at, "outside: number of the station, below on head 1")
    at = (KEY_AT[0] + KEY_ASIDE_MM, KEY_AT[1])
    canvas.rectangle((at[0] + half - TAB_MM[0] / 2, at[1] - TAB_MM[1] / 2), *TAB_MM, width=NARROW_MM)
    at = key_text(canvas, at, "anchor: the tab; an end is drawn through it")
    at = key_line(canvas, at, "bearing edge")
    key_line(canvas, at, "edge of the skin", width=NARROW_MM)
