"""What all pages share: their size, round scales, the caption and the key."""

from __future__ import annotations

from math import ceil

from tauthide.drawings.canvas import CHARACTER_WIDTH, WIDE_MM, Canvas, Point, text_width_mm
from tauthide.plan.plan import Plan
from tauthide.units import System, nominal_length, show

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 188.0, 240.0
"""Both A4 (ISO 216) and US Letter hold this at true size with margins of 10 mm."""

SIDE_MM = 4.0
"""Kept clear at the left and right edge of a page."""

REDUCTIONS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0)
"""Round scales, as millimetres of the drum to one on the page; 2, 5 and 10 are those of ISO 5455."""

ENLARGEMENTS = (0.2, 0.5)
"""5:1 and 2:1 (ISO 5455), for details."""

CAPTION_MM = 20.0
"""Height of the caption at the head of a page."""

NAME_SIZE_MM, WHAT_SIZE_MM, LINE_SIZE_MM = 5.5, 4.0, 3.2
SMALL_SIZE_MM = 3.0
"""Nothing is smaller than this: drawings are read at a bench. Workshop practice, no published source."""

STAMP = "NOT APPROVED: do not cut"
STAMP_SIZE_MM, STAMP_PAD_MM, STAMP_TOP_MM = 3.4, 1.5, 2.0
"""What stands on every drawing of a drum that is not approved: size, room round it, and its upper edge."""

KEY_PITCH_MM = 5.4
KEY_SAMPLE_MM = 12.0
"""Rows of the key, and the room for each row's sample."""


def fit(width_mm: float, height_mm: float, room: tuple[float, float], scales: tuple[float, ...] = REDUCTIONS) -> float:
    """Return the largest round scale at which a size fits the room, as millimetres to one on the page."""
    needed = max(width_mm / room[0], height_mm / room[1])
    for scale in scales:
        if needed <= scale:
            return scale
    return float(ceil(needed))


def scale_text(reduction: float) -> str:
    """Return a scale as it is written: 1:4, 1:2.5, 2:1."""
    return f"1:{reduction:g}" if reduction >= 1 else f"{1 / reduction:g}:1"


def system_of(plan: Plan) -> System:
    """Return the units that the sheet puts first."""
    return "inch" if plan.spec.word("bench.units") == "inch" else "metric"


def figure_text(plan: Plan, name: str) -> str:
    """Return a figure as the sheet shows it: in its own style, the sheet's units first."""
    reading = plan.figures[name]
    return show(reading.figure.style, reading.value, system_of(plan))


def tool_text(plan: Plan, path: str) -> str:
    """Return a size of the spec that is set with a tool, such as the hole's, as the sheet shows it."""
    return nominal_length(plan.spec.number(path), system_of(plan))


def write_caption(canvas: Canvas, plan: Plan, what: str, line: str) -> None:
    """Write the drum's name, what the drawing shows, and a line of particulars with the digest."""
    room = canvas.width_mm - 2 * SIDE_MM - write_stamp(canvas, plan)
    size = min(NAME_SIZE_MM, room / (CHARACTER_WIDTH * len(plan.spec.drum)))
    canvas.text((SIDE_MM, 6.5), plan.spec.drum, size, anchor="start", bold=True)
    canvas.text((SIDE_MM, 12.5), what, WHAT_SIZE_MM, anchor="start")
    canvas.text((SIDE_MM, 17.8), f"{line} · digest {plan.digest}", LINE_SIZE_MM, anchor="start")


def write_stamp(canvas: Canvas, plan: Plan) -> float:
    """Write at the top right that the drum is not approved, where it is not, and return the width that this takes."""
    return 0.0 if plan.standing is None or plan.standing.approved else draw_stamp(canvas)


def draw_stamp(canvas: Canvas) -> float:
    """Write the stamp at the top right, and return the width that it takes."""
    width = text_width_mm(STAMP, STAMP_SIZE_MM) + 2 * STAMP_PAD_MM
    left = canvas.width_mm - SIDE_MM - width
    canvas.rectangle((left, STAMP_TOP_MM), width, STAMP_SIZE_MM + 2 * STAMP_PAD_MM)
    canvas.text((left + width / 2, 6.5), STAMP, STAMP_SIZE_MM, bold=True)
    return width + STAMP_PAD_MM


def key_line(canvas: Canvas, at: Point, text: str, *, width: float = WIDE_MM, dash: str = "") -> Point:
    """Write a row of the key that explains a line, and return where the next row goes."""
    canvas.line(at, (at[0] + KEY_SAMPLE_MM - 2.0, at[1]), width=width, dash=dash)
    return key_text(canvas, at, text)


def key_text(canvas: Canvas, at: Point, text: str) -> Point:
    """Write the words of a row of the key, beside its sample, and return where the next row goes."""
    canvas.text((at[0] + KEY_SAMPLE_MM, at[1] + 1.0), text, SMALL_SIZE_MM, anchor="start")
    return (at[0], at[1] + KEY_PITCH_MM)
