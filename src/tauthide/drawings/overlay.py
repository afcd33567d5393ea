"""The overlay: the hole layouts of two plans of one drum over each other, old dashed and new solid."""

from __future__ import annotations

from math import atan2, degrees, dist

from tauthide.drawings.canvas import CHARACTER_WIDTH, CREASE, NARROW_MM, Canvas, Point, View
from tauthide.drawings.labels import base_line, label_room, shown_stations
from tauthide.drawings.layout import ABOVE_MM, BELOW_MM, BESIDE_MM, BOTTOM_MM, KEY_AT, NUMBER_OUT_MM, NUMBER_SIZE_MM
from tauthide.drawings.outlines import curve_at, rim
from tauthide.drawings.pages import (
    CAPTION_MM,
    KEY_SAMPLE_MM,
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    fit,
    key_line,
    key_text,
    scale_text,
    system_of,
)
from tauthide.plan.plan import Plan
from tauthide.units import fine_length

MARK = "both hole layouts over each other"
"""Stands in the title of each overlay, and of nothing else."""

LEAST_ARROW_MM = 2.5
"""A hole that moves by less on the page has no arrow."""

LISTED = 8
"""So many of the holes that move furthest are listed."""

LIST_PITCH_MM = 4.6
HOLE_DASH = "0.8 0.6"
NAME_SIZE_MM, WHAT_SIZE_MM, LINE_SIZE_MM = 5.0, 4.0, 3.2


def draw_overlay(old: Plan, new: Plan) -> bytes:
    """Return the drawing of both layouts as an SVG file; it is not to be cut from."""
    reduction, view = _fit_view(old, new)
    canvas = Canvas(
        PAGE_WIDTH_MM, PAGE_HEIGHT_MM, f"{new.spec.drum}: {MARK}",
        "The blank seen from the inner side, before the change in dashes and after it in full lines.",
    )  # fmt: skip
    _write_heading(canvas, old, new, reduction)
    for plan, dash in ((old, CREASE), (new, "")):
        _draw_layout(canvas, plan, view, dash)
    _draw_moves(canvas, old, new, view)
    _write_stations(canvas, new, view)
    at = key_line(canvas, KEY_AT, "after: edge, frame and holes")
    at = key_line(canvas, at, "before: edge, frame and holes", dash=CREASE)
    canvas.line(at, (at[0] + KEY_SAMPLE_MM - 3.0, at[1]), width=NARROW_MM)
    canvas.arrowhead((at[0] + KEY_SAMPLE_MM - 2.0, at[1]), 0.0)
    key_text(canvas, at, "where a hole goes")
    _list_moves(canvas, old, new)
    return canvas.bytes()


def is_overlay(content: bytes) -> bool:
    """Tell whether a file's content is a drawing of ours that may be drawn anew."""
    return content.startswith(b"<svg") and MARK.encode() in content.partition(b"</title>")[0]


def _fit_view(old: Plan, new: Plan) -> tuple[float, View]:
    """Return the scale and the view at which the larger of both blanks fits."""
    sizes = [(plan.outline.width_at(plan["skin.reach"]), plan.outline.length_at(plan["skin.reach"]))
             for plan in (old, new)]  # fmt: skip
    width_mm, length_mm = (max(sizes_of) for sizes_of in zip(*sizes, strict=True))
    room = BOTTOM_MM - CAPTION_MM - ABOVE_MM - BELOW_MM
    reduction = fit(width_mm, length_mm, (PAGE_WIDTH_MM - 2 * BESIDE_MM, room))
    below_mm = max(-plan.outline.point(plan["skin.reach"], 0.0)[1] for plan in (old, new))
    bottom = BOTTOM_MM - BELOW_MM - (room - length_mm / reduction) / 2
    return reduction, View(PAGE_WIDTH_MM / 2, bottom - below_mm / reduction, 1 / reduction)


def _write_heading(canvas: Canvas, old: Plan, new: Plan, reduction: float) -> None:
    name = new.spec.drum if old.spec.drum == new.spec.drum else f"{old.spec.drum} -> {new.spec.drum}"
    size = min(NAME_SIZE_MM, (canvas.width_mm - 2 * SIDE_MM) / (CHARACTER_WIDTH * len(name)))
    canvas.text((SIDE_MM, 6.5), name, size, anchor="start", bold=True)
    what = "Before and after a change: not to be cut from"
    canvas.text((SIDE_MM, 12.5), what, WHAT_SIZE_MM, anchor="start")
    line = f"Scale {scale_text(reduction)}, seen from the inner side · digest {old.digest} -> {new.digest}"
    canvas.text((SIDE_MM, 17.8), line, LINE_SIZE_MM, anchor="start")


def _draw_layout(canvas: Canvas, plan: Plan, view: View, dash: str) -> None:
    which = "old" if dash else "new"
    canvas.path(curve_at(plan.outline, plan["skin.reach"], view), dash=dash, attributes=f'data-edge="{which}"')
    canvas.path(curve_at(plan.outline, 0.0, view), width=NARROW_MM, dash=dash, attributes=f'data-frame="{which}"')
    radius = view.scale * plan.spec.number("stations.hole") / 2
    for pair in plan.blank:
        for hole, point in (("a", pair.a), ("b", pair.b)):
            marks = f'data-{which}="{pair.station}{hole}"'
            canvas.circle(view.at(point), radius, width=NARROW_MM, dash=dash and HOLE_DASH, attributes=marks)


def _moves(old: Plan, new: Plan) -> list[tuple[str, Point, Point]]:
    """Return the holes that both plans have and that lie elsewhere, with both places."""
    before, after = (
        {f"{pair.station}{hole}": point for pair in plan.blank for hole, point in (("a", pair.a), ("b", pair.b))}
        for plan in (old, new)
    )
    return [(name, before[name], point) for name, point in after.items() if name in before and before[name] != point]


def _draw_moves(canvas: Canvas, old: Plan, new: Plan, view: View) -> None:
    if len(old.stations) != len(new.stations):
        return  # the numbers stand for other places, so arrows between them would only confuse
    for _, before, after in _moves(old, new):
        start, end = view.at(before), view.at(after)
        if dist(start, end) >= LEAST_ARROW_MM:
            canvas.line(start, end, width=NARROW_MM)
            canvas.arrowhead(end, degrees(atan2(end[1] - start[1], end[0] - start[0])), LEAST_ARROW_MM - 0.5)


def _write_stations(canvas: Canvas, new: Plan, view: View) -> None:
    centres = []
    for place in rim(new, new["skin.reach"]):
        (x, y), (normal_x, normal_y) = view.at(place.point), place.normal
        centres.append((x + NUMBER_OUT_MM * normal_x, y - NUMBER_OUT_MM * normal_y))
    for station in shown_stations(centres, *label_room([str(len(centres))], NUMBER_SIZE_MM)):
        at = base_line(centres[station - 1], NUMBER_SIZE_MM)
        canvas.text(at, str(station), NUMBER_SIZE_MM, bold=station == 1, halo=True)


def _list_moves(canvas: Canvas, old: Plan, new: Plan) -> None:
    """Write below the drawing how far the holes go, the furthest first."""
    moves = sorted(_moves(old, new), key=lambda move: -round(dist(move[1], move[2]), 6))
    told = [(name, fine_length(dist(before, after), system_of(new))) for name, before, after in moves]
    counts = " and ".join(str(2 * len(plan.stations)) for plan in (old, new))
    lines = [f"{len(moves)} holes move; holes before and after: {counts}"]
    if len({text for _, text in told}) == 1:
        lines.append(f"each by {told[0][1]}")
    else:
        lines += ["the furthest:"] if len(told) > LISTED else []
        lines += [f"{name}: {text}" for name, text in told[:LISTED]]
    x, y = SIDE_MM + 4.0, KEY_AT[1]
    for row, line in enumerate(lines):
        canvas.text((x, y + 1.0 + LIST_PITCH_MM * row), line, SMALL_SIZE_MM, anchor="start")
