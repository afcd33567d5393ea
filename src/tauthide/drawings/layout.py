"""layout.svg: the blank seen from the inner side, to a round scale: stations, holes, folds, dimensions."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, hypot

from tauthide.drawings.blank_measures import draw_measures, extension_lines, is_stepped
from tauthide.drawings.canvas import CHAIN, CREASE, NARROW_MM, Canvas, Point, View, text_width_mm
from tauthide.drawings.enlargements import draw_enlargement
from tauthide.drawings.labels import apart, base_line, clear_of, fits, label_room, shown_stations
from tauthide.drawings.outlines import RimPlace, curve_at, hand_sign, rim, stretch_of_curve
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
    system_of,
    write_caption,
)
from tauthide.plan.plan import Plan
from tauthide.units import length

BOTTOM_MM = 186.0
"""Below this stand the enlargement and the key."""

ABOVE_MM, BELOW_MM, BESIDE_MM = 14.0, 18.0, 16.0
"""Room round the blank for station numbers and dimensions."""

NUMBER_SIZE_MM = 3.4
NUMBER_OUT_MM = 4.4
"""From the blank's edge to the middle of a station's number."""

TICK_MM = 1.6
ANCHOR_DOWN_MM, ANCHOR_ASIDE_MM = 4.6, 0.8
"""From the number of station 1 to the word below it, and aside where the chord's dimension needs the room."""

LETTER_IN_MM = 2.4
FOLD_IN_MM, FOLD_DEEPER_MM = 7.5, 5.0
"""From a hole's edge in to the letters a and b, to the marks of the folds, and deeper for a crowded fold."""

FOLD_CLEAR_MM = 2.3
"""Radius within which a crease is interrupted for its mark."""

WHOLE_FOLDS = 2
SHORT_CREASE = 0.55
"""The first folds are drawn through the middle, later ones only as far in as this share."""

ARROW_PAST, ARROW_BEFORE = (0.09, 0.17), (-0.17, -0.09)
ARROW_OUT_MM, ARROW_HEAD_MM, ARROW_PIECES = 9.2, 4.0, 12
"""The arrow of numbering: from and to which share of the rim, how far out, and its straight pieces."""

CENTRE_MM = 3.0
KEY_AT = (118.0, 196.0)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What all parts of the drawing need."""

    plan: Plan
    canvas: Canvas
    view: View
    edge: tuple[RimPlace, ...]
    """The stations on the blank's edge."""


def draw_layout(plan: Plan) -> bytes:
    """Return the drawing of the blank as an SVG file."""
    reduction, view = _fit_view(plan)
    which = f" of head {plan.head}" if plan.lacing.heads > 1 else ""
    what = f"Blank{which}, seen from the inner side"
    count = len(plan.stations)
    line = (
        f"Scale {scale_text(reduction)} · {count} stations, {2 * count} holes, "
        f"numbered {plan.spec.word('stations.hand')}"
    )
    canvas = Canvas(PAGE_WIDTH_MM, PAGE_HEIGHT_MM, f"{plan.spec.drum}: {what.lower()}", line)
    write_caption(canvas, plan, what, line)
    sheet = _Sheet(plan, canvas, view, rim(plan, plan["skin.reach"]))
    _draw_creases(sheet)
    _draw_curves(sheet)
    _draw_holes(sheet)
    _draw_numbering_arrow(sheet)
    _mark_centre(canvas, view.at((0.0, 0.0)))
    _write_fold_marks(sheet)
    draw_measures(canvas, plan, view, sheet.edge)
    _write_stations(sheet)
    draw_enlargement(canvas, plan)
    _write_key(sheet)
    return canvas.bytes()


def _fit_view(plan: Plan) -> tuple[float, View]:
    """Return the scale, as millimetres to one on the page, and the view that centres the blank."""
    outline, reach = plan.outline, plan["skin.reach"]
    length_mm, width_mm = outline.length_at(reach), outline.width_at(reach)
    height = BOTTOM_MM - CAPTION_MM - ABOVE_MM - BELOW_MM
    reduction = fit(width_mm, length_mm, (PAGE_WIDTH_MM - 2 * BESIDE_MM, height))
    scale = 1 / reduction
    below_mm = -outline.point(reach, 0.0)[1]
    spare = height - scale * length_mm
    bottom = BOTTOM_MM - BELOW_MM - spare / 2
    return reduction, View(PAGE_WIDTH_MM / 2, bottom - scale * below_mm, scale)


def _draw_creases(sheet: _Sheet) -> None:
    for fold in sheet.plan.marking.folds:
        inner = 0.0 if fold.number <= WHOLE_FOLDS else SHORT_CREASE
        for station in fold.stations:
            x, y = sheet.edge[station - 1].point
            ends = (sheet.view.at((x, y)), sheet.view.at((inner * x, inner * y)))
            sheet.canvas.line(*ends, width=NARROW_MM, dash=CREASE, attributes=f'data-fold="{fold.number}"')


def _draw_curves(sheet: _Sheet) -> None:
    plan, canvas, view = sheet.plan, sheet.canvas, sheet.view
    frame = curve_at(plan.outline, 0.0, view)
    canvas.path(frame, width=NARROW_MM, attributes='data-curve="frame"')
    holes = curve_at(plan.outline, plan["holes.line_reach"], view)
    canvas.path(holes, width=NARROW_MM, dash=CHAIN, attributes='data-curve="holes"')
    canvas.path(curve_at(plan.outline, plan["skin.reach"], view), attributes='data-curve="edge"')


def _draw_holes(sheet: _Sheet) -> None:
    canvas, view = sheet.canvas, sheet.view
    radius = view.scale * sheet.plan.spec.number("stations.hole") / 2
    for pair in sheet.plan.blank:
        for name, hole in (("a", pair.a), ("b", pair.b)):
            marks = f'data-station="{pair.station}" data-hole="{name}"'
            canvas.circle(view.at(hole), radius, width=NARROW_MM, fill="#fff", attributes=marks)
    first = sheet.plan.blank[0]
    letters = apart(view.at(first.a), view.at(first.b), label_room("ab", SMALL_SIZE_MM)[0])
    for letter, (x, y) in zip("ab", letters, strict=True):
        at = (x, y - radius - LETTER_IN_MM)
        canvas.text(base_line(at, SMALL_SIZE_MM), letter, SMALL_SIZE_MM, halo=True)


def _draw_numbering_arrow(sheet: _Sheet) -> None:
    """Draw an arrow along the numbers: past station 1, or before it where the chord is measured."""
    plan = sheet.plan
    offset = plan["skin.reach"] + ARROW_OUT_MM / sheet.view.scale
    whole = plan.outline.perimeter_at(offset)
    begin, end = (share * whole for share in (ARROW_BEFORE if is_stepped(plan) else ARROW_PAST))
    points = [sheet.view.at(p) for p in stretch_of_curve(plan, offset, begin, end, ARROW_PIECES)]
    sheet.canvas.polyline(points)
    (x1, y1), (x2, y2) = points[-2:]
    sheet.canvas.arrowhead((x2, y2), degrees(atan2(y2 - y1, x2 - x1)), ARROW_HEAD_MM)


def _mark_centre(canvas: Canvas, centre: Point) -> None:
    x, y = centre
    canvas.line((x - CENTRE_MM, y), (x + CENTRE_MM, y), width=NARROW_MM)
    canvas.line((x, y - CENTRE_MM), (x, y + CENTRE_MM), width=NARROW_MM)


def _write_fold_marks(sheet: _Sheet) -> None:
    """Write F1, F2, ... on the ends of the creases; where they crowd, the last fold's go further in."""
    plan, scale = sheet.plan, sheet.view.scale
    folds = plan.marking.folds
    if not folds:
        return
    texts = {station: f"F{fold.number}" for fold in folds for station in fold.stations}
    last = set(folds[-1].stations)
    radius = scale * plan.spec.number("stations.hole") / 2
    room = label_room(tuple(texts.values()), SMALL_SIZE_MM)
    ring = _fold_ring(sheet, radius + FOLD_IN_MM)
    rings = [(sorted(texts), ring)]
    if not fits([ring[station - 1] for station in sorted(texts)], *room):
        deeper = _fold_ring(sheet, radius + FOLD_IN_MM + FOLD_DEEPER_MM)
        rings = [(sorted(set(texts) - last), ring), (sorted(last), deeper)]
    for stations, places in rings:
        for index in shown_stations([places[station - 1] for station in stations], *room):
            station = stations[index - 1]
            sheet.canvas.circle(places[station - 1], FOLD_CLEAR_MM, fill="#fff", stroke="none")
            at = base_line(places[station - 1], SMALL_SIZE_MM)
            sheet.canvas.text(at, texts[station], SMALL_SIZE_MM)


def _fold_ring(sheet: _Sheet, in_mm: float) -> list[Point]:
    """Return the places `in_mm` on the page inside the line of the holes, towards the middle."""
    places = []
    for place in rim(sheet.plan, sheet.plan["holes.line_reach"]):
        x, y = place.point
        share = 1 - in_mm / sheet.view.scale / hypot(x, y)
        places.append(sheet.view.at((share * x, share * y)))
    return places


def _write_stations(sheet: _Sheet) -> None:
    canvas, view = sheet.canvas, sheet.view
    centres = []
    for rim_place in sheet.edge:
        (x, y), (normal_x, normal_y) = view.at(rim_place.point), rim_place.normal
        centres.append((x + NUMBER_OUT_MM * normal_x, y - NUMBER_OUT_MM * normal_y))
        tick = (x + TICK_MM * normal_x, y - TICK_MM * normal_y)
        canvas.line((x, y), tick, width=NARROW_MM, attributes=f'data-tick="{rim_place.station}"')
    room = label_room([str(len(centres))], NUMBER_SIZE_MM)
    shown = shown_stations(centres, *room)
    places = [_beside_lines(sheet, station, centres[station - 1]) for station in shown]
    if not fits(places, *room):
        places = [centres[station - 1] for station in shown]
    for station, place in zip(shown, places, strict=True):
        at = base_line(place, NUMBER_SIZE_MM)
        canvas.text(at, str(station), NUMBER_SIZE_MM, bold=station == 1, halo=True)
    x, y = view.at(sheet.edge[0].point)
    canvas.arrowhead((x, y), -90.0, 2.2)
    x, y = base_line((x, centres[0][1] + ANCHOR_DOWN_MM), SMALL_SIZE_MM)
    if is_stepped(sheet.plan):
        # The dimension of the chord leads away on the other side.
        x -= hand_sign(sheet.plan) * (text_width_mm("anchor", SMALL_SIZE_MM) / 2 + ANCHOR_ASIDE_MM)
    if sheet.plan.head == 1:
        canvas.text((x, y), "anchor", SMALL_SIZE_MM, halo=True)


def _beside_lines(sheet: _Sheet, station: int, centre: Point) -> Point:
    """Return where a station's number stands clear of the lines that carry the blank's dimensions."""
    normal_x, normal_y = sheet.edge[station - 1].normal
    room = label_room([str(station)], NUMBER_SIZE_MM)
    return clear_of(centre, (normal_x, -normal_y), room, extension_lines(sheet.plan, sheet.view))


def _write_key(sheet: _Sheet) -> None:
    plan, canvas = sheet.plan, sheet.canvas
    at = key_line(canvas, KEY_AT, "edge of the blank")
    at = key_line(canvas, at, "frame, bearing edge on the skin", width=NARROW_MM)
    at = key_line(canvas, at, "line of the holes", width=NARROW_MM, dash=CHAIN)
    if plan.has("holes.circle_radius"):
        radius = length(plan["holes.circle_radius"], system_of(plan))
        at = key_text(canvas, at, f"radius {radius}")
    if plan.marking.folds:
        at = key_line(canvas, at, "F1: crease of the first fold", width=NARROW_MM, dash=CREASE)
    _mark_centre(canvas, (at[0] + (KEY_SAMPLE_MM - 2.0) / 2, at[1]))
    at = key_text(canvas, at, "centre of frame and blank")
    canvas.line(at, (at[0] + KEY_SAMPLE_MM - 3.0, at[1]))
    canvas.arrowhead((at[0] + KEY_SAMPLE_MM - 2.0, at[1]), 0.0, ARROW_HEAD_MM)
    key_text(canvas, at, "the way the numbers run")
