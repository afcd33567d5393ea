"""The strip with its scarf and spare ends, the hoop with the scarf where its ends lie on each other, and the form."""

from __future__ import annotations

from collections.abc import Sequence

from tauthide.drawings.canvas import CHAIN, DASHED, NARROW_MM, Canvas, Point, View, text_width_mm
from tauthide.drawings.pages import (
    CAPTION_MM,
    KEY_PITCH_MM,
    PAGE_WIDTH_MM,
    SIDE_MM,
    SMALL_SIZE_MM,
    figure_text,
    fit,
    key_line,
    scale_text,
    system_of,
    write_caption,
)
from tauthide.plan.plan import Plan
from tauthide.units import length, show

HOOP_MM = 96.0
"""Room for the hoop, both ways."""

STRIP_MM = 7.0
"""Thickness of the strip on the page: drawn true, it would be a line."""

PIECES = 180
"""Straight pieces of a curve: none leaves it by as much as a line is wide."""

SCARF_PIECES = 24


def draw_bent(plan: Plan) -> bytes:
    """Return the drawing of a bent hoop as SVG in millimetres; KeyError if the frame is not bent."""
    outline = plan.outline
    reduction = fit(outline.width_at(0.0), outline.length_at(0.0), (HOOP_MM, HOOP_MM))
    strip_y = CAPTION_MM + HOOP_MM + 22.0
    canvas = Canvas(
        PAGE_WIDTH_MM,
        strip_y + STRIP_MM + 22.0,
        f"Hoop of {plan.spec.drum}",
        "The bent hoop seen from the front with its scarf, the form that it dries on, and the strip before bending.",
    )
    write_caption(canvas, plan, "Bent hoop", f"hoop {scale_text(reduction)}, seen from the front")
    _hoop(canvas, plan, reduction)
    _words(canvas, plan)
    _strip(canvas, plan, strip_y)
    return canvas.bytes()


def _curve(plan: Plan, offset_mm: float) -> list[Point]:
    perimeter = plan.outline.perimeter_at(offset_mm)
    return [plan.outline.point(offset_mm, perimeter * index / PIECES) for index in range(PIECES)]


def scarf_line(plan: Plan) -> list[Point]:
    """Return the joint of the scarf, from the outside to the inside of the wall, opposite station 1."""
    outline, wall, taper = plan.outline, plan.spec.number("frame.wall"), plan["bend.scarf_length"]
    start = outline.perimeter_mm / 2 - taper / 2
    points = []
    for index in range(SCARF_PIECES + 1):
        share = index / SCARF_PIECES
        offset = -wall * share
        points.append(outline.point(offset, outline.carry(start + taper * share, offset)))
    return points


def _hoop(canvas: Canvas, plan: Plan, reduction: float) -> None:
    view = View(SIDE_MM + HOOP_MM / 2, CAPTION_MM + 6.0 + HOOP_MM / 2, 1 / reduction)
    wall = plan.spec.number("frame.wall")
    for offset in (0.0, -wall):
        canvas.polyline(_on_page(view, _curve(plan, offset)), closed=True)
    canvas.polyline(_on_page(view, _curve(plan, -wall / 2)), width=NARROW_MM, dash=CHAIN, closed=True)
    canvas.polyline(_on_page(view, scarf_line(plan)), width=NARROW_MM)
    # The form has the hoop's shape, smaller by the same share both ways.
    shrink = _form_share(plan)
    form = [(x * shrink, y * shrink) for x, y in _curve(plan, -wall)]
    canvas.polyline(_on_page(view, form), width=NARROW_MM, dash=DASHED, closed=True)
    canvas.text(view.at((0.0, 0.0)), "form", SMALL_SIZE_MM)
    first, *_, last = _on_page(view, scarf_line(plan))
    for x, y in (first, last):
        canvas.line((x, y - 3.0), (x, y + 3.0), width=NARROW_MM)
    canvas.text(((first[0] + last[0]) / 2, min(first[1], last[1]) - 2.0), "scarf", SMALL_SIZE_MM)


def _form_share(plan: Plan) -> float:
    """Return the form's size over that of the hoop inside."""
    inside = plan.outline.length_at(-plan.spec.number("frame.wall"))
    name = "bend.form_diameter" if plan.has("bend.form_diameter") else "bend.form_length"
    return plan[name] / inside


def _on_page(view: View, points: Sequence[Point]) -> list[Point]:
    return [view.at(point) for point in points]


def _words(canvas: Canvas, plan: Plan) -> None:
    at: Point = (SIDE_MM + HOOP_MM + 6.0, CAPTION_MM + 12.0)
    at = key_line(canvas, at, "wall")
    at = key_line(canvas, at, "middle of the wall", width=NARROW_MM, dash=CHAIN)
    at = key_line(canvas, at, "drying form", width=NARROW_MM, dash=DASHED)
    at = (at[0], at[1] + KEY_PITCH_MM)
    form = {"Form": "bend.form_diameter", "Form, length": "bend.form_length", "Form, width": "bend.form_width"}
    rows = [
        ("Round the outside", figure_text(plan, "frame.perimeter")),
        ("Round the middle", figure_text(plan, "bend.neutral_length")),
        ("Least radius inside", figure_text(plan, "bend.radius")),
        *((title, figure_text(plan, name)) for title, name in form.items() if plan.has(name)),
        ("Steam", f"{figure_text(plan, 'bend.steam_least')} to {figure_text(plan, 'bend.steam_most')}"),
        ("On the form", show("time", plan.spec.number("bending.drying"), system_of(plan))),
    ]
    for title, text in rows:
        canvas.text(at, f"{title}: {text}", SMALL_SIZE_MM, anchor="start")
        at = (at[0], at[1] + KEY_PITCH_MM)


def _strip(canvas: Canvas, plan: Plan, top: float) -> None:
    """Draw the strip on its edge: spare ends, the two tapers, one on each face."""
    whole, taper, spare = plan["bend.strip_length"], plan["bend.scarf_length"], plan.spec.number("bending.spare")
    scale = (PAGE_WIDTH_MM - 2 * SIDE_MM) / whole
    left, right, lower = SIDE_MM, PAGE_WIDTH_MM - SIDE_MM, top + STRIP_MM
    system = system_of(plan)
    title = f"The strip, {figure_text(plan, 'bend.strip_length')} long; thickness not to scale"
    canvas.text((left, top - 8.5), title, SMALL_SIZE_MM, anchor="start", bold=True)
    canvas.rectangle((left, top), right - left, STRIP_MM)
    first, second = left + spare * scale, right - spare * scale
    for x in (first, second):
        canvas.line((x, top - 2.5), (x, lower + 2.5), width=NARROW_MM, dash=DASHED)
    # One end is tapered from above, the other from beneath, so that both close to one thickness.
    canvas.line((first, lower), (first + taper * scale, top), width=NARROW_MM)
    canvas.line((second, top), (second - taper * scale, lower), width=NARROW_MM)
    _spare(canvas, left, top, f"spare {length(spare, system)}", "start")
    _spare(canvas, right, top, f"spare {length(spare, system)}", "end")
    wide, thick = figure_text(plan, "bend.strip_width"), figure_text(plan, "bend.strip_thickness")
    words = (
        f"scarf {figure_text(plan, 'bend.scarf_length')} at each end, one cut from outside, one from inside",
        f"before steaming {wide} wide, {thick} thick",
    )
    for row, text in enumerate(words):
        canvas.text((left, lower + 7.0 + row * KEY_PITCH_MM), text, SMALL_SIZE_MM, anchor="start")


def _spare(canvas: Canvas, x: float, top: float, text: str, anchor: str) -> None:
    canvas.text((x, top - 3.2), text, min(SMALL_SIZE_MM, _fitting(text)), anchor=anchor)


def _fitting(text: str) -> float:
    """Return the size at which a text takes no more than two fifths of the page."""
    room = 0.4 * (PAGE_WIDTH_MM - 2 * SIDE_MM)
    return SMALL_SIZE_MM * min(1.0, room / text_width_mm(text, SMALL_SIZE_MM))
