"""The key of a skin's drawing: what is drawn how, told apart in black and white."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from tauthide.drawings.canvas import CHAIN, DASHED, NARROW_MM, WIDE_MM, Canvas
from tauthide.drawings.hatching import hatch
from tauthide.drawings.pages import KEY_PITCH_MM, KEY_SAMPLE_MM, SIDE_MM, key_line, key_text
from tauthide.running.taping import Cut
from tauthide.runs.skins import Skin
from tauthide.units import System, length

GRID_MM = 0.13
GRID_STROKE = "#999"
FLAW_FILL = "#bbb"
HATCH_MM = {True: 4.0, False: 2.0}
"""Between the strokes of a weak region: wide where laces may be cut, else narrow, and crossed."""
KEY_COLUMNS_MM = (0.0, 60.0, 124.0)
MOST_KEY_LETTERS = 24
"""More do not stand in a column of the key."""
_KEY_LINES = {"head": (WIDE_MM, ""), "lace": (WIDE_MM, DASHED), "spine": (NARROW_MM, CHAIN)}
"""What is drawn as a line: its width and dashes."""
AFTER_MM = 2.5
"""Between the key and what stands beneath it."""


def key_rows(skin: Skin, cuts: Sequence[Cut], system: System) -> list[tuple[str, str]]:
    """Return what the drawing shows: how it is drawn, and what it is."""
    rows = [("head", "head"), ("lace", "lace disc or scrap")]
    rows = [row for row in rows if any((cut.placement.use == "head") == (row[0] == "head") for cut in cuts)]
    if skin.flaws:
        kinds = dict.fromkeys("flaw" if flaw.kind == "other" else flaw.kind for flaw in skin.flaws)
        named = f"{', '.join(kinds)}: nothing"
        rows.append(("flaw", named if len(named) <= MOST_KEY_LETTERS else "flaws: nothing"))
    if any(weak.laces for weak in skin.weak):
        rows.append(("laces", "weak: laces, but no head"))
    if not all(weak.laces for weak in skin.weak):
        rows.append(("nothing", "weak: nothing at all"))
    rows += [("spine", "spine, tail below" if skin.spine_mm[1][1] > skin.spine_mm[0][1] else "spine")]
    return [*rows, ("point", "fixed point for a tape"), ("square", f"grid {length(skin.grid_mm, system)}")]


def draw_key(canvas: Canvas, top_mm: float, rows: Sequence[tuple[str, str]]) -> float:
    """Draw the key in columns, and return where the list goes."""
    for index, (what, text) in enumerate(rows):
        line, column = divmod(index, len(KEY_COLUMNS_MM))
        at = (SIDE_MM + KEY_COLUMNS_MM[column], top_mm + line * KEY_PITCH_MM)
        if what in _KEY_LINES:
            width, dash = _KEY_LINES[what]
            key_line(canvas, at, text, width=width, dash=dash)
            continue
        corner, wide_mm, high_mm = (at[0], at[1] - 1.9), KEY_SAMPLE_MM - 2.0, 3.8
        if what == "point":
            canvas.circle((at[0] + wide_mm / 2, at[1]), 1.2, width=WIDE_MM, fill="#000")
        elif what == "square":
            canvas.rectangle((at[0] + (wide_mm - high_mm) / 2, corner[1]), high_mm, high_mm, width=GRID_MM,
                             stroke=GRID_STROKE)  # fmt: skip
        else:
            canvas.rectangle(corner, wide_mm, high_mm, width=NARROW_MM, fill=FLAW_FILL if what == "flaw" else "none")
        if what in ("laces", "nothing"):
            right, low = corner[0] + wide_mm, corner[1] + high_mm
            points = [corner, (right, corner[1]), (right, low), (corner[0], low)]
            hatch(canvas, f"key-{what}", points, HATCH_MM[what == "laces"], crossed=what == "nothing")
        key_text(canvas, at, text)
    return top_mm + KEY_PITCH_MM * ceil(len(rows) / len(KEY_COLUMNS_MM)) + AFTER_MM
