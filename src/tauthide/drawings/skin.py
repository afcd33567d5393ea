"""A skin on its grid, to scale: flaws, weak regions, and the pieces that come out of it, in cutting order."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, floor, radians, sin

from tauthide.cutting.pieces import Disc
from tauthide.drawings.canvas import (
    CHAIN,
    DASHED,
    NARROW_MM,
    WIDE_MM,
    Canvas,
    Point,
    TextBox,
    View,
    overlapping,
    text_width_mm,
)
from tauthide.drawings.hatching import hatch
from tauthide.drawings.pages import (
    CAPTION_MM,
    KEY_PITCH_MM,
    LINE_SIZE_MM,
    NAME_SIZE_MM,
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    WHAT_SIZE_MM,
    draw_stamp,
    fit,
    scale_text,
)
from tauthide.drawings.skin_key import FLAW_FILL, GRID_MM, GRID_STROKE, HATCH_MM, KEY_COLUMNS_MM, draw_key, key_rows
from tauthide.running.taping import Cut, FixedPoint, fixed_points
from tauthide.runs.skins import Circle, Skin
from tauthide.units import System, inch_length, length, metric_length

LETTER_AWAY_MM = 4.0
"""From a fixed point to the middle of its letter."""
HALF_CAPITAL = 0.36
"""Of a text's size: from a capital's foot to its middle."""
COMPASS = ((1, 0), (-1, 0), (0, -1), (0, 1), (0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7))
"""Where a letter may stand, seen from its point."""
ROW_MM = 5.0
LABEL_ROOM_MM = 7.0
"""Left of the grid and beneath it, for its numbers."""
GRID_LABEL_GAP_MM = 9.0
"""Least room between two numbers of the grid."""
MARK_MM, SMALL_MARK_MM = 2.5, 0.8
"""Half the length of the strokes that mark a centre, and that of a small piece."""
NUMBER_SIZE_MM, NUMBER_SHARE = 6.0, 0.55
"""A number's size, and its share of a piece's radius where that is small."""
COLUMNS = (
    (0.0, "No."),
    (8.0, "Piece, side of the line"),
    (60.0, "Size"),
    (94.0, "First tape, from"),
    (139.0, "Second tape, from"),
)
"""Where the columns of the list begin, in mm from the left edge, and their heads."""


def draw_skin(skin: Skin, cuts: Sequence[Cut], system: System = "metric", *, stamped: bool = False) -> bytes:
    """Draw a skin with its pieces, and beneath it the list of pieces with the tape's readings; `system` leads.

    It is stamped where it must not be cut yet.
    """
    fixed = cuts[0].fixed if cuts else fixed_points(skin, ())
    left, right, low, high = bounds(skin, fixed)
    key = key_rows(skin, cuts, system)
    list_mm = ROW_MM * (len(cuts) + 3) + KEY_PITCH_MM * ceil(len(key) / len(KEY_COLUMNS_MM))
    room = (
        PAGE_WIDTH_MM - 2 * SIDE_MM - LABEL_ROOM_MM,
        max(PAGE_HEIGHT_MM - CAPTION_MM - LABEL_ROOM_MM - list_mm, PAGE_WIDTH_MM / 2),
    )
    reduction = fit(right - left, high - low, room)
    scale = 1 / reduction
    drawn_mm = (high - low) * scale
    height_mm = CAPTION_MM + drawn_mm + LABEL_ROOM_MM + list_mm
    title = f"Skin {skin.name} with {len(cuts)} pieces"
    canvas = Canvas(PAGE_WIDTH_MM, height_mm, title, f"{title}, on its grid, seen as it lies on the floor")
    _caption(canvas, skin, reduction, system, draw_stamp(canvas) if stamped else 0.0)
    x_mm = SIDE_MM + LABEL_ROOM_MM + (room[0] - (right - left) * scale) / 2
    view = View(x_mm - left * scale, CAPTION_MM + high * scale, scale)
    _grid(canvas, view, skin, (left, right, low, high))
    _weak(canvas, view, skin)
    _edge(canvas, view, skin)
    for cut in cuts:
        _piece(canvas, view, cut)
    _flaws(canvas, view, skin)
    _fixed_points(canvas, view, fixed, cuts)
    top_mm = draw_key(canvas, CAPTION_MM + drawn_mm + LABEL_ROOM_MM + ROW_MM, key)
    _list(canvas, top_mm, cuts, system)
    return canvas.bytes()


def bounds(skin: Skin, fixed: Sequence[FixedPoint]) -> tuple[float, float, float, float]:
    """Return the grid lines that hold the skin and its fixed points: left, right, lowest and highest, in mm."""
    xs = [x for x, _ in (*skin.outline_mm, *(point.at_mm for point in fixed))]
    ys = [y for _, y in (*skin.outline_mm, *(point.at_mm for point in fixed))]
    grid = skin.grid_mm
    return (
        grid * floor(min(xs) / grid), grid * ceil(max(xs) / grid),
        grid * floor(min(ys) / grid), grid * ceil(max(ys) / grid),
    )  # fmt: skip


def _caption(canvas: Canvas, skin: Skin, reduction: float, system: System, taken_mm: float) -> None:
    beside_mm = PAGE_WIDTH_MM - 2 * SIDE_MM - taken_mm
    name_mm = min(NAME_SIZE_MM, NAME_SIZE_MM * beside_mm / text_width_mm(skin.name, NAME_SIZE_MM))
    canvas.text((SIDE_MM, 6.5), skin.name, name_mm, anchor="start", bold=True)
    what = f"{skin.hide} skin, {skin.kept}" + (f": {skin.title}" if skin.title else "")
    room = PAGE_WIDTH_MM - 2 * SIDE_MM
    canvas.text((SIDE_MM, 12.5), what, min(WHAT_SIZE_MM, WHAT_SIZE_MM * room / text_width_mm(what, WHAT_SIZE_MM)),
                anchor="start")  # fmt: skip
    line = (
        f"scale {scale_text(reduction)} · numbers in cutting order · left, right: as seen from the first tape's point"
    )
    canvas.text((SIDE_MM, 17.8), line, LINE_SIZE_MM, anchor="start")


def _grid(canvas: Canvas, view: View, skin: Skin, edges: tuple[float, float, float, float]) -> None:
    left, right, low, high = edges
    grid = skin.grid_mm
    stride = max(1, ceil(GRID_LABEL_GAP_MM / (grid * view.scale)))
    for column in range(round(left / grid), round(right / grid) + 1):
        top, bottom = view.at((column * grid, high)), view.at((column * grid, low))
        canvas.line(top, bottom, width=GRID_MM, stroke=GRID_STROKE)
        if column % stride == 0:
            canvas.text((bottom[0], bottom[1] + LABEL_ROOM_MM - 3.0), str(column), SMALL_SIZE_MM)
    for row in range(round(low / grid), round(high / grid) + 1):
        start, end = view.at((left, row * grid)), view.at((right, row * grid))
        canvas.line(start, end, width=GRID_MM, stroke=GRID_STROKE)
        if row % stride == 0:
            canvas.text((start[0] - 2.2, start[1] + 1.0), str(row), SMALL_SIZE_MM, anchor="end")


def _weak(canvas: Canvas, view: View, skin: Skin) -> None:
    if not skin.weak:
        return
    clip = f"skin-{skin.name}"
    canvas.clip(clip, [view.at(point) for point in skin.outline_mm])
    canvas.group(f'clip-path="url(#{clip})"')
    for index, weak in enumerate(skin.weak, 1):
        points = [view.at(point) for point in weak.ring.points_mm]
        canvas.polyline(points, width=NARROW_MM, closed=True)
        hatch(canvas, f"{clip}-{index}", points, HATCH_MM[weak.laces], crossed=not weak.laces)
    canvas.end_group()


def _edge(canvas: Canvas, view: View, skin: Skin) -> None:
    canvas.polyline([view.at(point) for point in skin.outline_mm], width=2 * WIDE_MM, closed=True)
    canvas.line(view.at(skin.spine_mm[0]), view.at(skin.spine_mm[1]), width=NARROW_MM, dash=CHAIN)


def _flaws(canvas: Canvas, view: View, skin: Skin) -> None:
    for flaw in skin.flaws:
        if isinstance(flaw.region, Circle):
            canvas.circle(view.at(flaw.region.centre_mm), flaw.region.radius_mm * view.scale,
                          width=NARROW_MM, fill=FLAW_FILL)  # fmt: skip
        else:
            points = [view.at(point) for point in flaw.region.points_mm]
            canvas.polyline(points, width=NARROW_MM, fill=FLAW_FILL, closed=True)


def _piece(canvas: Canvas, view: View, cut: Cut) -> None:
    placement = cut.placement
    centre = view.at(placement.centre)
    dash = "" if placement.use == "head" else DASHED
    shape = placement.shape
    if isinstance(shape, Disc):
        canvas.circle(centre, shape.radius_mm * view.scale, width=WIDE_MM, dash=dash, fill="#fff")
        room = shape.radius_mm * view.scale
    else:
        turn = radians(placement.angle_deg)
        corners = [_turned(point, turn) for point in shape.outline]
        canvas.polyline(
            [view.at((placement.centre[0] + x, placement.centre[1] + y)) for x, y in corners],
            width=WIDE_MM, dash=dash, fill="#fff", closed=True,
        )  # fmt: skip
        room = min(abs(x) + abs(y) for x, y in shape.outline) * view.scale / 2
    size = min(NUMBER_SIZE_MM, max(SMALL_SIZE_MM, room * NUMBER_SHARE))
    text, bold = str(cut.number), placement.use == "head"
    if text_width_mm(text, size) + 0.3 * size < room:
        _cross(canvas, centre, min(MARK_MM, room / 3))
        canvas.text((centre[0] + 0.3 * size, centre[1] - 0.2 * size), text, size, anchor="start", bold=bold, halo=True)
    else:  # In a small piece it stands over the middle, so that it does not reach beyond the edge.
        canvas.text((centre[0], centre[1] - SMALL_MARK_MM), text, size, bold=bold, halo=True)
        _cross(canvas, centre, SMALL_MARK_MM)


def _turned(point: Point, turn: float) -> Point:
    return (point[0] * cos(turn) - point[1] * sin(turn), point[0] * sin(turn) + point[1] * cos(turn))


def _cross(canvas: Canvas, at: Point, half_mm: float) -> None:
    canvas.line((at[0] - half_mm, at[1]), (at[0] + half_mm, at[1]), width=NARROW_MM)
    canvas.line((at[0], at[1] - half_mm), (at[0], at[1] + half_mm), width=NARROW_MM)


def _fixed_points(canvas: Canvas, view: View, fixed: Sequence[FixedPoint], cuts: Sequence[Cut]) -> None:
    """Mark the points, their letters where they lie on no piece and on no other text, if there is such a place."""
    for point in fixed:
        at = view.at(point.at_mm)
        canvas.circle(at, 1.2, width=WIDE_MM, fill="#000")
        spots = [
            (at[0] + LETTER_AWAY_MM * x, at[1] + LETTER_AWAY_MM * y + HALF_CAPITAL * WHAT_SIZE_MM) for x, y in COMPASS
        ]
        best = min(spots, key=lambda spot: _crowd(canvas, view, spot, cuts))
        canvas.text(best, point.name, WHAT_SIZE_MM, bold=True, halo=True)


def _crowd(canvas: Canvas, view: View, spot: Point, cuts: Sequence[Cut]) -> int:
    """Return how many texts and pieces a letter at a spot would lie on."""
    box = TextBox(spot, "A", WHAT_SIZE_MM, "middle", 0.0)
    texts = sum(bool(overlapping((box, other))) for other in canvas.texts)
    middle = (spot[0], spot[1] - HALF_CAPITAL * WHAT_SIZE_MM)
    for cut in cuts:
        x, y = view.at(cut.placement.centre)
        reach = cut.placement.shape.reach_mm * view.scale + WHAT_SIZE_MM / 2
        texts += (x - middle[0]) ** 2 + (y - middle[1]) ** 2 < reach**2
    outside = not (SIDE_MM < spot[0] < PAGE_WIDTH_MM - SIDE_MM)
    return texts + 2 * outside


def _list(canvas: Canvas, top_mm: float, cuts: Sequence[Cut], system: System) -> None:
    for x_mm, head in COLUMNS:
        canvas.text((SIDE_MM + x_mm, top_mm), head, SMALL_SIZE_MM, anchor="start", bold=True)
    canvas.line((SIDE_MM, top_mm + 1.5), (PAGE_WIDTH_MM - SIDE_MM, top_mm + 1.5), width=NARROW_MM)
    for row, cut in enumerate(cuts, 1):
        y_mm = top_mm + row * ROW_MM
        taped = (f"{point.name}: {length(cut.reading_mm(point), system)}" for point in cut.tapes)
        cells = (str(cut.number), piece_text(cut), size_text(cut, system), *taped)
        for (x_mm, _), text in zip(COLUMNS, cells, strict=True):
            canvas.text((SIDE_MM + x_mm, y_mm), text, SMALL_SIZE_MM, anchor="start")


def piece_text(cut: Cut) -> str:
    """Return what a piece is, and on which side of the line between its two fixed points its centre lies."""
    placement = cut.placement
    part = f" {placement.part + 1}" if placement.use == "lace" and placement.part else ""
    return f"{placement.name}{part}, {cut.side}"


def size_text(cut: Cut, system: System) -> str:
    """Return the size of a piece in the units that lead: a disc's diameter, or length and width."""
    show_one = inch_length if system == "inch" else metric_length
    shape = cut.placement.shape
    if isinstance(shape, Disc):
        return f"Ø {show_one(2 * shape.radius_mm)}"
    xs, ys = [x for x, _ in shape.outline], [y for _, y in shape.outline]
    return " × ".join(map(show_one, (max(ys) - min(ys), max(xs) - min(xs))))
