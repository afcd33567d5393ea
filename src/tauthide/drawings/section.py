"""The section: a cut through wall and skin at a hole, enlarged, with the skin's path round the frame."""

from __future__ import annotations

from tauthide.drawings.canvas import CHAIN, DECIMALS, NARROW_MM, WIDE_MM, Canvas, Point, number, text_width_mm
from tauthide.drawings.dimensions import ARROW_MM, OUTSIDE_RUN_MM, leader
from tauthide.drawings.pages import PAGE_WIDTH_MM, SMALL_SIZE_MM, figure_text, write_caption
from tauthide.drawings.profile import hatch
from tauthide.drawings.section_page import (
    HEAD_MM,
    LACE_CLEAR_MM,
    ROW_MM,
    Row,
    Sheet,
    bearing_label_y,
    depth_text,
    lay_out,
    particulars,
    wall_labels_y,
)
from tauthide.plan.plan import Plan
from tauthide.units import length

SOLID_BELOW_MM = 1.8
"""Skin that is drawn thinner than this is drawn solid: thin sections may be (ISO 128-50)."""

HATCH_PITCH_MM = 3.0
APART_MM = 1.0
"""Extension lines nearer to one another than this are taken apart."""

EXTENSION_PAST_MM = 1.5
"""How far an extension line runs past the dimension line."""

CENTRE_MM = 3.5
"""How far the hole's centre line reaches beyond the skin."""


def draw_section(plan: Plan) -> bytes:
    """Return the section as SVG in millimetres, at the scale that it states."""
    sheet = lay_out(plan)
    lowest = sheet.stage.y_mm + sheet.skin_mm + 11.0 + ROW_MM * (len(sheet.below) - 1)
    depth_end = (sheet.back_y + sheet.stage.y_mm + text_width_mm(depth_text(plan), SMALL_SIZE_MM)) / 2
    canvas = Canvas(
        PAGE_WIDTH_MM,
        max(lowest, bearing_label_y(sheet), depth_end) + 4.0,
        f"Section of {plan.spec.drum}",
        "A cut through the frame's wall at a hole: the skin's path from the head round the wall to the back.",
    )
    write_caption(canvas, plan, _what(plan), particulars(sheet))
    _frame(canvas, sheet)
    _skin(canvas, sheet)
    _lace(canvas, sheet)
    _edges(canvas, sheet)
    _depth(canvas, sheet)
    _rows(canvas, sheet, sheet.above, sheet.lace_y - 8.0, -1)
    _rows(canvas, sheet, sheet.below, sheet.stage.y_mm + sheet.skin_mm + 11.0, 1)
    if not sheet.on_back:
        _holes_on_wall(canvas, sheet)
    return canvas.bytes()


def _what(plan: Plan) -> str:
    if plan.has("holes.drop"):
        return "Section through a hole of one head; the other lies the same way"
    return "Section through a hole, head down and back up as on the bench"


def _frame(canvas: Canvas, sheet: Sheet) -> None:
    """Draw the wall, hatched, with break lines where a piece is left out."""
    stage = sheet.stage
    hatching = []
    for polygon in sheet.profile.frame(stage.left_out):
        for start, end in hatch(polygon, HATCH_PITCH_MM / stage.scale):
            (x1, y1), (x2, y2) = stage.at(start), stage.at(end)
            hatching.append(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}")
    canvas.path("".join(hatching), width=NARROW_MM, attributes='data-part="hatch"')
    canvas.path(sheet.profile.frame_path(stage), attributes='data-part="frame"')
    if stage.left_out is not None:
        left = stage.x_mm - sheet.skin_mm - 3.0
        right = stage.x_mm + sheet.profile.wall * stage.scale + 3.0
        for z in (stage.left_out.low_mm, stage.left_out.high_mm):
            y = stage.at((0.0, z))[1]
            canvas.polyline(_zigzag((left, y), (right, y)), width=NARROW_MM)


def _skin(canvas: Canvas, sheet: Sheet) -> None:
    """Draw the skin along its middle surface, cut at the hole, and where the head runs on."""
    profile, stage = sheet.profile, sheet.stage
    end_x = sheet.column_mm + HEAD_MM
    head = profile.bounds[0] - ((end_x - stage.x_mm) / stage.scale - profile.edge)
    half = profile.hole / 2
    pieces = [(head, profile.hole_at - half), (profile.hole_at + half, profile.end)]
    if stage.left_out is not None and not profile.ends_on_wall:
        low, high = (profile.place_on_wall(z) for z in (stage.left_out.low_mm, stage.left_out.high_mm))
        pieces[:1] = [(head, low), (high, profile.hole_at - half)]
    for begin, end in pieces:
        canvas.path(profile.path(stage, begin, end), width=sheet.skin_mm, attributes='data-part="skin"')
        cap = WIDE_MM / stage.scale
        if sheet.skin_mm >= SOLID_BELOW_MM and end - begin > 2 * cap:
            # Open where the head runs on.
            inner = profile.path(stage, begin + (0.0 if begin == head else cap), end - cap)
            canvas.path(inner, width=sheet.skin_mm - 2 * WIDE_MM, stroke="#fff")
    top, bottom = stage.y_mm - 3.0, stage.y_mm + sheet.skin_mm + 3.0
    canvas.polyline(_zigzag((end_x, top), (end_x, bottom)), width=NARROW_MM)
    middle = stage.y_mm + sheet.skin_mm / 2
    canvas.text((end_x + 3.0, middle + 1.1), "head", SMALL_SIZE_MM, anchor="start")
    canvas.text((sheet.column_mm, stage.y_mm - 1.3), "inner side", SMALL_SIZE_MM, anchor="start")
    below = stage.y_mm + sheet.skin_mm + 4.2
    canvas.text((sheet.column_mm, below), "playing side", SMALL_SIZE_MM, anchor="start")


def _lace(canvas: Canvas, sheet: Sheet) -> None:
    """Draw the lace out of the hole, over the back edge where the hole is on the wall, toward the hub."""
    profile, stage = sheet.profile, sheet.stage
    out = sheet.skin_mm / 2 + LACE_CLEAR_MM
    if sheet.plan.has("holes.drop"):
        _lace_up_the_wall(canvas, sheet, out)
        return
    tip = (sheet.column_mm + 4.0, sheet.lace_y)
    end = (tip[0] - stage.x_mm - ARROW_MM / 2) / stage.scale - profile.edge
    ends = [sheet.along(profile.hole_at, side * (sheet.skin_mm / 2 + CENTRE_MM)) for side in (-1, 1)]
    canvas.line(ends[0], ends[1], width=NARROW_MM, dash=CHAIN)
    x, y = sheet.along(profile.hole_at, -sheet.skin_mm / 2)
    # The offset path begins with a move: a line to there instead, out of the hole.
    path = profile.path(stage, profile.hole_at, end, out / stage.scale).replace("M", "L", 1)
    canvas.path(f"M{number(x)} {number(y)}{path}", attributes='data-part="lace"')
    canvas.arrowhead(tip, 0.0, ARROW_MM)
    canvas.text((tip[0] + 2.0, tip[1] - 0.6), "lace, to the hub", SMALL_SIZE_MM, anchor="start")


def _lace_up_the_wall(canvas: Canvas, sheet: Sheet, out_mm: float) -> None:
    """Draw the lace out of the hole and up the wall, toward the other head."""
    profile, stage = sheet.profile, sheet.stage
    ends = [sheet.along(profile.hole_at, side * (sheet.skin_mm / 2 + CENTRE_MM)) for side in (-1, 1)]
    canvas.line(ends[0], ends[1], width=NARROW_MM, dash=CHAIN)
    inner, outer = (sheet.along(profile.hole_at, off) for off in (-sheet.skin_mm / 2, out_mm))
    tip = (outer[0], stage.at((0.0, profile.depth - profile.edge))[1])
    path = "".join(f"L{number(x)} {number(y)}" for x, y in (outer, tip))
    canvas.path(f"M{number(inner[0])} {number(inner[1])}{path}", attributes='data-part="lace"')
    canvas.arrowhead(tip, -90.0, ARROW_MM)
    left = stage.x_mm - sheet.skin_mm - 7.0
    place = stage.left_out.high_mm if stage.left_out is not None else profile.depth / 2
    y = stage.at((0.0, place))[1] - 4.0
    leader(canvas, (outer[0], y), (left, y), ("lace, to the other head",), size_mm=SMALL_SIZE_MM)


def _edges(canvas: Canvas, sheet: Sheet) -> None:
    """Name both edges of the frame."""
    head, wall, back, flat = sheet.profile.bounds
    left = sheet.stage.x_mm - sheet.skin_mm - 4.0
    for name, s, y in (
        (
            "other bearing edge" if sheet.plan.has("holes.drop") else "back edge",
            (back + flat) / 2,
            sheet.back_y - sheet.skin_mm - 3.0,
        ),
        ("bearing edge", (head + wall) / 2, bearing_label_y(sheet)),
    ):
        tip = sheet.along(s, sheet.skin_mm / 2)
        leader(canvas, tip, (left, y), (name,), size_mm=SMALL_SIZE_MM)


def _holes_on_wall(canvas: Canvas, sheet: Sheet) -> None:
    """Point out margin, hole and skin's edge where they lie on the wall, measured along the skin."""
    plan, profile, system = sheet.plan, sheet.profile, sheet.system
    begin = profile.hole_at + profile.hole / 2
    # Rather on the wall than on the back, so that no line crosses the frame.
    strip = max(begin, min((begin + profile.end) / 2, profile.bounds[2] / 2))
    if plan.has("holes.drop"):
        run, end = f"head to hole {figure_text(plan, 'holes.drop')}", plan.spec.number("head.drop")
        ends = f"drop {length(end, system)}"
    else:
        run = f"hole to back edge {length(plan['holes.end_run'], system)}"
        ends = f"turnover {length(profile.turnover, system)}"
    distance = f"edge distance {figure_text(plan, 'holes.edge_distance')}"
    labels: list[tuple[tuple[str, ...], float]] = [
        ((f"margin {figure_text(plan, 'holes.margin')}",), strip),
        ((distance, run), profile.hole_at),
    ]
    if profile.end <= 0:
        labels.insert(0, ((ends,), profile.end))
    left = sheet.stage.x_mm - sheet.skin_mm - 7.0
    for row, (lines, s) in enumerate(labels):
        y = wall_labels_y(sheet) + ROW_MM * row
        leader(canvas, sheet.along(s, sheet.skin_mm / 2), (left, y), lines, size_mm=SMALL_SIZE_MM)


def _depth(canvas: Canvas, sheet: Sheet) -> None:
    """Draw the depth at the far left, its text beside the line however short that is."""
    x = sheet.stage.x_mm - sheet.skin_mm - sheet.labels_mm
    top, bottom = sheet.back_y, sheet.stage.y_mm
    for y in (top, bottom):
        canvas.line((x - 1.5, y), (sheet.stage.x_mm - sheet.skin_mm - 0.8, y), width=NARROW_MM)
    _arrow_line(canvas, (x, top), (x, bottom))
    middle = (x - 1.9, (top + bottom) / 2)
    canvas.text(middle, depth_text(sheet.plan), SMALL_SIZE_MM, turned_deg=-90.0)


def _rows(canvas: Canvas, sheet: Sheet, rows: tuple[Row, ...], first_y: float, step: int) -> None:
    """Draw dimension rows one beyond the other, away from the drawing, texts in one column."""
    stage = sheet.stage
    begin = sheet.lace_y - 1.5 if step < 0 else stage.y_mm + sheet.skin_mm + 0.8
    reached: dict[float, list[float]] = {}
    for index, row in enumerate(rows):
        y = first_y + step * ROW_MM * index
        for x in (row.start_mm, row.end_mm):
            if x is not None:
                reached.setdefault(round(stage.x_mm + stage.scale * x, DECIMALS), []).append(y)
        start = stage.x_mm + stage.scale * row.start_mm
        end = sheet.column_mm - 1.0 if row.end_mm is None else stage.x_mm + stage.scale * row.end_mm
        if end > start:
            _arrow_line(canvas, (start, y), (end, y))
            canvas.line((end, y), (sheet.column_mm - 1.0, y), width=NARROW_MM)
        else:
            canvas.line((start, y), (sheet.column_mm - 1.0, y), width=NARROW_MM)
        canvas.text((sheet.column_mm, y + 1.1), row.text, SMALL_SIZE_MM, anchor="start")
    for x, levels in reached.items():
        start = _extension_start(reached, x, begin, step)
        canvas.line((x, start), (x, levels[-1] + step * EXTENSION_PAST_MM), width=NARROW_MM)


def _extension_start(reached: dict[float, list[float]], x: float, begin: float, step: int) -> float:
    """Return where an extension line begins: beyond one that nearly coincides, or both would run into one.

    `reached` has the levels of the rows that each line serves, the nearest first.
    """
    ends = [
        levels[-1]
        for other, levels in reached.items()
        if 0 < abs(other - x) < APART_MM and step * (reached[x][0] - levels[-1]) > 0
    ]
    return max([begin, *(end + step * ROW_MM * 0.75 for end in ends)], key=lambda y: step * y)


def _arrow_line(canvas: Canvas, start: Point, end: Point) -> None:
    """Draw a level or upright dimension line; short ones have their arrows outside."""
    upright = start[0] == end[0]
    direction = 90.0 if upright else 0.0
    span = end[1] - start[1] if upright else end[0] - start[0]
    inside = span >= 3 * ARROW_MM
    out = 0.0 if inside else OUTSIDE_RUN_MM
    step = (0.0, out) if upright else (out, 0.0)
    canvas.line((start[0] - step[0], start[1] - step[1]), (end[0] + step[0], end[1] + step[1]), width=NARROW_MM)
    canvas.arrowhead(start, direction + (180.0 if inside else 0.0), ARROW_MM)
    canvas.arrowhead(end, direction + (0.0 if inside else 180.0), ARROW_MM)


def _zigzag(start: Point, end: Point) -> tuple[Point, ...]:
    """Return a straight line with a zigzag at its middle, as where something is broken off (ISO 128-2)."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = (dx * dx + dy * dy) ** 0.5
    along, side = (dx / size, dy / size), (-dy / size, dx / size)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)

    def place(far: float, off: float) -> Point:
        return (middle[0] + along[0] * far + side[0] * off, middle[1] + along[1] * far + side[1] * off)

    return (start, place(-1.0, 0.0), place(-0.5, 2.0), place(0.5, -2.0), place(1.0, 0.0), end)
