"""steps.svg: the lacing in small pictures, one for each of the first steps and one for each group that repeats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, ceil, degrees, hypot

from tauthide.drawings.canvas import NARROW_MM, WIDE_MM, Canvas, Point, View
from tauthide.drawings.outlines import curve_at
from tauthide.drawings.pages import (
    CAPTION_MM,
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    key_line,
    key_text,
    write_caption,
)
from tauthide.lacing.order import Leg, Step, hole_of, legs_of
from tauthide.plan.plan import Plan

COLUMNS, ROWS = 3, 4
FIRST_STEPS = 4
"""So many steps have a picture of their own; what comes after is shown in groups, one picture each."""

BOTTOM_MM = 222.0
"""Below this stands the key."""

TITLE_MM = 6.0
"""Above each picture, for its words."""

LAID_SHOWN = 32
"""Lengths that lie there already, drawn at most: of more, the latest, or the middle would be all black."""

WHITE = 2.4
"""Width of the white along what lies above, over a new length's own width: what passes beneath looks interrupted."""

ARROW_MM, DOT_MM, CLEAR_MM = 2.6, 0.7, 1.2
DASHES = "1.2 0.7"
KEY_AT, KEY_ASIDE_MM = (6.0, 226.0), 92.0
BEFORE, AFTER = 1.1, 0.6
"""Stations of the wall that a picture shows before those of its steps, and after them."""


@dataclass(frozen=True, slots=True)
class _Picture:
    """One picture: its steps and where it stands on the page."""

    steps: tuple[Step, ...]
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float

    @property
    def words(self) -> str:
        """Return what stands above it."""
        first, last = self.steps[0].step, self.steps[-1].step
        return f"Step {first}" if first == last else f"Steps {first} to {last}"


@dataclass(frozen=True, slots=True)
class _Line:
    """A straight length of lace on the page."""

    step: int
    start: Point
    end: Point
    arrives: bool


def groups_of(plan: Plan) -> tuple[tuple[Step, ...], ...]:
    """Return the steps of each picture: the first ones by themselves, then groups that repeat, as many as fit."""
    first, rest = plan.steps[:FIRST_STEPS], plan.steps[FIRST_STEPS:]
    unit = plan.lacing.group * (max(step.lace for step in plan.steps) if plan.lacing.across else 1)
    room = COLUMNS * ROWS - len(first)
    size = unit * max(1, ceil(len(rest) / unit / room))
    return (*((step,) for step in first), *(rest[at : at + size] for at in range(0, len(rest), size)))


def draw_steps(plan: Plan) -> bytes:
    """Return the drawing of the steps as an SVG file."""
    what = f"{plan.lacing.title}, step by step"
    groups = groups_of(plan)
    line = f"{len(groups)} pictures of {len(plan.steps)} steps, " + (
        "the wall from outside" if plan.lacing.heads > 1 else "seen from behind (inner side)"
    )
    canvas = Canvas(PAGE_WIDTH_MM, PAGE_HEIGHT_MM, f"{plan.spec.drum}: {what}", line)
    write_caption(canvas, plan, what, line)
    width, height = (PAGE_WIDTH_MM - 2 * SIDE_MM) / COLUMNS, (BOTTOM_MM - CAPTION_MM) / ROWS
    for number, steps in enumerate(groups):
        row, column = divmod(number, COLUMNS)
        picture = _Picture(steps, SIDE_MM + column * width, CAPTION_MM + row * height, width, height)
        canvas.group(f'data-picture="{number + 1}" data-steps="{steps[0].step} {steps[-1].step}"')
        canvas.text((picture.left_mm + 2.0, picture.top_mm + 4.5), picture.words, SMALL_SIZE_MM, anchor="start",
                    bold=True)  # fmt: skip
        (_draw_wall if plan.lacing.heads > 1 else _draw_back)(canvas, plan, picture)
        canvas.end_group()
    _write_key(canvas, plan)
    return canvas.bytes()


def _draw_back(canvas: Canvas, plan: Plan, picture: _Picture) -> None:
    """Draw the back of the frame with all that is laid up to the picture's last step."""
    outline = plan.outline
    room = (picture.width_mm - 4.0, picture.height_mm - TITLE_MM - 3.0)
    scale = min(room[0] / outline.width_at(0.0), room[1] / outline.length_at(0.0))
    bottom = picture.top_mm + TITLE_MM + room[1] - (room[1] - scale * outline.length_at(0.0)) / 2
    view = View(picture.left_mm + picture.width_mm / 2, bottom + scale * outline.point(0.0, 0.0)[1], scale)
    canvas.path(curve_at(outline, 0.0, view), width=NARROW_MM)
    ring = plan.steps[0].ring
    if ring is not None:
        canvas.circle(view.at((0.0, 0.0)), scale * hypot(*ring), width=NARROW_MM)
    last, first = picture.steps[-1].step, picture.steps[0].step
    lines = [_line(leg, view) for leg in legs_of(plan.steps[:last], plan.mounted) if _is_laid(leg, plan, last)]
    _draw_lines(canvas, lines, first)
    for step in plan.steps[:last]:
        _draw_hold(canvas, plan, view, step, step.step >= first)


def _is_laid(leg: Leg, plan: Plan, last: int) -> bool:
    """Tell whether a length belongs on a picture: the way to the hub only on that of the last steps."""
    to_hub = not leg.arrives and plan.steps[0].ring is None
    return not to_hub or last == len(plan.steps)


def _line(leg: Leg, view: View) -> _Line:
    return _Line(leg.step, view.at(leg.start), view.at(leg.end), leg.arrives)


def _draw_hold(canvas: Canvas, plan: Plan, view: View, step: Step, new: bool) -> None:
    """Draw the lace behind a station's web, and of a new step the station's number."""
    enter, leave = (view.at(hole_of(plan.mounted, step.station, which)) for which in (step.enter, step.leave))
    canvas.line(enter, leave, width=WIDE_MM if new else NARROW_MM, dash=DASHES)
    if new:
        canvas.circle(enter, DOT_MM, width=NARROW_MM, fill="#fff")
        x0, y0 = view.at((0.0, 0.0))
        x, y = (enter[0] + leave[0]) / 2, (enter[1] + leave[1]) / 2
        away = hypot(x - x0, y - y0)
        inward = (away - 4.6) / away if away > 8 else 1.0
        at = (x0 + (x - x0) * inward, y0 + (y - y0) * inward + SMALL_SIZE_MM / 3)
        canvas.text(at, str(step.station), SMALL_SIZE_MM, halo=True, counts=False)


def _draw_lines(canvas: Canvas, lines: Sequence[_Line], first: int) -> None:
    """Draw what is new wide and beneath, then white round what lay there, and that narrow, on top of it."""
    new = [line for line in lines if line.step >= first]
    laid = [line for line in lines if line.step < first][-LAID_SHOWN:]
    for line in reversed(new):
        _draw_white(canvas, line)
        canvas.line(line.start, line.end, attributes=f'data-new="{line.step}"')
    for line in reversed(laid):
        _draw_white(canvas, line)
        canvas.line(line.start, line.end, width=NARROW_MM, attributes=f'data-laid="{line.step}"')
    for line in new:
        if line.arrives:
            turn = degrees(atan2(line.end[1] - line.start[1], line.end[0] - line.start[0]))
            canvas.arrowhead(line.end, turn, ARROW_MM)


def _draw_white(canvas: Canvas, line: _Line) -> None:
    """Draw white along a length, so that what is drawn already looks interrupted: it passes beneath."""
    x, y = line.end[0] - line.start[0], line.end[1] - line.start[1]
    length = hypot(x, y)
    if length > 2 * CLEAR_MM:
        by = (CLEAR_MM * x / length, CLEAR_MM * y / length)
        start, end = (line.start[0] + by[0], line.start[1] + by[1]), (line.end[0] - by[0], line.end[1] - by[1])
        canvas.line(start, end, width=WHITE * WIDE_MM, stroke="#fff")


def _draw_wall(canvas: Canvas, plan: Plan, picture: _Picture) -> None:
    """Draw the stretch of the wall round the picture's steps, rolled out, with what is laid there."""
    pitch, pair, depth = plan["stations.rim_spacing"], plan["holes.pair_spacing"], plan.spec.number("frame.depth")
    last, first = picture.steps[-1].step, picture.steps[0].step
    begin = ((first - 1) / 2 - BEFORE) * pitch
    end = ((last - 1) / 2 + AFTER) * pitch + pair
    room = (picture.width_mm - 6.0, picture.height_mm - TITLE_MM - 8.0)
    scale = min(room[0] / (end - begin), room[1] / depth)
    left = picture.left_mm + (picture.width_mm - scale * (end - begin)) / 2
    bottom = picture.top_mm + TITLE_MM + 2.0 + (room[1] + scale * depth) / 2
    sign = 1.0 if plan.spec.word("stations.hand") == "anticlockwise" else -1.0

    def at(along: float, up: float) -> Point:
        x = scale * (along - begin)
        return (left + (x if sign > 0 else scale * (end - begin) - x), bottom - scale * up)

    def hole(step: Step, which: str) -> Point:
        up = plan["holes.drop"] if step.head == 1 else depth - plan["holes.drop"]
        return at((step.step - 1) / 2 * pitch + (pair if which == "b" else 0.0), up)

    for up in (0.0, depth):
        canvas.line(at(begin, up), at(end, up), width=NARROW_MM)
    shown = [step for step in plan.steps[:last] if step.step >= first - 2 and (step.step - 1) / 2 * pitch >= begin]
    lines = []
    for step in shown:
        before = plan.steps[step.step - 2] if step.span_mm is not None else None
        if before is not None and before in shown:
            lines.append(_Line(step.step, hole(before, before.leave), hole(step, step.enter), True))
    _draw_lines(canvas, lines, first)
    for step in shown:
        enter, leave = hole(step, step.enter), hole(step, step.leave)
        canvas.line(enter, leave, width=WIDE_MM if step.step >= first else NARROW_MM, dash=DASHES)
        out = 3.6 if step.head == 1 else -1.4
        edge = at(0.0, 0.0 if step.head == 1 else depth)[1]
        if step.step >= first:
            canvas.text(((enter[0] + leave[0]) / 2, edge + out), str(step.station), SMALL_SIZE_MM, counts=False)


def _write_key(canvas: Canvas, plan: Plan) -> None:
    at = key_line(canvas, KEY_AT, "new; broken where it passes beneath, nearer the "
                  f"{'wall' if plan.lacing.heads > 1 else 'head'}")  # fmt: skip
    key_line(canvas, at, "lies there already", width=NARROW_MM)
    at = (KEY_AT[0] + KEY_ASIDE_MM, KEY_AT[1])
    at = key_line(canvas, at, "behind the web", dash=DASHES)
    canvas.text((at[0] + 5.0, at[1] + 1.0), "7", SMALL_SIZE_MM)
    key_text(canvas, at, "number of the station")
