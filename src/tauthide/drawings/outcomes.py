"""What became of the drums: a bar for all of them, and one for each step at which something went wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.drawings.canvas import NARROW_MM, Canvas, text_width_mm
from tauthide.drawings.pages import CAPTION_MM, LINE_SIZE_MM, NAME_SIZE_MM, PAGE_WIDTH_MM, SIDE_MM, SMALL_SIZE_MM

LABEL_MM = 60.0
ROW_MM, BAR_MM = 7.0, 5.0
KEY_MM = 10.0
FILLS = ("#fff", "#bbb", "#000")
"""Of good, mended and lost drums."""
WORDS = ("good", "mended", "lost")


@dataclass(frozen=True, slots=True)
class Bar:
    """So many drums of each outcome."""

    title: str
    counts: tuple[int, int, int]
    """Good, mended, lost."""


def draw_outcomes(bars: Sequence[Bar]) -> bytes:
    """Draw the bars, the first of all drums; beside each stand its numbers."""
    return outcomes_canvas(bars).bytes()


def outcomes_canvas(bars: Sequence[Bar]) -> Canvas:
    """Return the bars as a canvas, whose texts can be asked for their room."""
    height = CAPTION_MM + ROW_MM * len(bars) + KEY_MM
    drums = sum(bars[0].counts)
    canvas = Canvas(PAGE_WIDTH_MM, height, "What became of the drums", f"Outcomes of {drums} drums, and of each step")
    canvas.text((SIDE_MM, 6.5), "What became of the drums", NAME_SIZE_MM, anchor="start", bold=True)
    line = f"{drums} drums; below, those with trouble, by the step at which it came"
    canvas.text((SIDE_MM, 12.5), line, LINE_SIZE_MM, anchor="start")
    longest = max(text_width_mm(_counts(bar), SMALL_SIZE_MM) for bar in bars)
    room = PAGE_WIDTH_MM - 2 * SIDE_MM - LABEL_MM - longest - 1.0
    for row, bar in enumerate(bars):
        _bar(canvas, bar, CAPTION_MM + row * ROW_MM, room / max(1, drums))
    x, y = SIDE_MM, CAPTION_MM + ROW_MM * len(bars) + 2.0
    for fill, words in zip(FILLS, WORDS, strict=True):
        canvas.rectangle((x, y), 5.0, 4.0, width=NARROW_MM, fill=fill)
        canvas.text((x + 6.5, y + 3.1), words, SMALL_SIZE_MM, anchor="start")
        x += 12.0 + text_width_mm(words, SMALL_SIZE_MM)
    return canvas


def _bar(canvas: Canvas, bar: Bar, top: float, scale: float) -> None:
    base = top + BAR_MM - 1.5
    most = int(LABEL_MM / text_width_mm("x", SMALL_SIZE_MM))
    title = bar.title if len(bar.title) <= most else f"{bar.title[: most - 1]}…"
    canvas.text((SIDE_MM, base), title, SMALL_SIZE_MM, anchor="start")
    x = SIDE_MM + LABEL_MM
    for count, fill in zip(bar.counts, FILLS, strict=True):
        if count:
            canvas.rectangle((x, top), count * scale, BAR_MM, width=NARROW_MM, fill=fill)
            x += count * scale
    canvas.text((x + 1.0, base), _counts(bar), SMALL_SIZE_MM, anchor="start")


def _counts(bar: Bar) -> str:
    return ", ".join(f"{count} {word}" for count, word in zip(bar.counts, WORDS, strict=True) if count)
