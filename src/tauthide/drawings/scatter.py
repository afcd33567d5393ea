"""Planned against measured: a point for each drum, lines for what was planned and for what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from tauthide.drawings.canvas import DASHED, NARROW_MM, WIDE_MM, Canvas, Point, TextBox, overlapping
from tauthide.drawings.pages import CAPTION_MM, LINE_SIZE_MM, NAME_SIZE_MM, PAGE_WIDTH_MM, SIDE_MM, SMALL_SIZE_MM
from tauthide.units import percentage

PLOT_MM = 104.0
"""Side of the square that is plotted in."""
LEFT_MM = 20.0
BELOW_MM = 16.0
"""Left of and below the square, for the numbers and names of the axes."""
KEY_LEFT_MM = 130.0
KEY_PITCH_MM = 5.2
RADIUS_MM = 1.1
MOST_TICKS = 7
MOST_FAR = 12
"""So many drums that are far out are named; the page's table has them all."""
ROOM, ROOM_BESIDE = 0.08, 0.2
"""Left free at both ends of the upright and of the level axis, over its length: dots stand beside each other."""
LEAST_ROOM, LEAST_BESIDE = 0.1, 0.5
"""The room is that of an axis as long as so great a share of its largest value, at least."""
ARROW_MM, EDGE_MM = 3.0, 3.0
"""Length of the arrow for what lies beyond the plot, and how far from its edge it stands."""
FINE_DASH = "0.6 1"


@dataclass(frozen=True, slots=True)
class Dot:
    """A drum: what was planned and measured, in the plot's unit."""

    name: str
    planned: float
    measured: float
    far: bool
    """Whether it lies far from the rest."""


@dataclass(frozen=True, slots=True)
class Plot:
    """What is plotted."""

    title: str
    unit: str
    dots: tuple[Dot, ...]
    middle: float
    """Median of measured over planned."""
    low: float
    """Nine drums in ten lie from here ..."""
    high: float
    """... to here, measured over planned."""
    decimals: int


@dataclass(frozen=True, slots=True)
class _Axis:
    """Values along one side of the square, from the left or from below."""

    low: float
    high: float
    step: float

    def along(self, value: float) -> float:
        return PLOT_MM * (value - self.low) / (self.high - self.low)

    @property
    def ticks(self) -> list[tuple[float, str]]:
        """Where the ticks lie, and their numbers."""
        first, last = ceil(self.low / self.step - 1e-9), floor(self.high / self.step + 1e-9)
        decimals = max(0, -floor(log10(self.step) + 1e-9))
        values = [index * self.step for index in range(first, last + 1)]
        return [(self.along(value), f"{value:.{decimals}f}") for value in values]


def draw_scatter(plot: Plot) -> bytes:
    """Draw the plot; far points beyond its edge are drawn at the edge, with an arrow, and all are named."""
    return scatter_canvas(plot).bytes()


def scatter_canvas(plot: Plot) -> Canvas:
    """Return the plot as a canvas, whose texts can be asked for their room."""
    height = CAPTION_MM + PLOT_MM + BELOW_MM
    what = f"{plot.title}: measured over planned, {len(plot.dots)} drums"
    canvas = Canvas(PAGE_WIDTH_MM, height, what, what)
    canvas.text((SIDE_MM, 6.5), plot.title, NAME_SIZE_MM, anchor="start", bold=True)
    canvas.text((SIDE_MM, 12.5), f"measured over planned, {len(plot.dots)} drums", LINE_SIZE_MM, anchor="start")
    planned = _axis_of([dot.planned for dot in plot.dots], LEAST_BESIDE, ROOM_BESIDE)
    shares = [_share(dot) for dot in plot.dots if not dot.far]
    measured = _axis_of([100.0, *(100 * each for each in (plot.low, plot.high)), *shares], LEAST_ROOM, ROOM)
    _axes(canvas, plot, planned, measured)
    for level, width, dash in ((1.0, NARROW_MM, DASHED), (plot.middle, WIDE_MM, ""), (plot.low, NARROW_MM, FINE_DASH),
                               (plot.high, NARROW_MM, FINE_DASH)):  # fmt: skip
        y = _height(measured.along(100 * level))
        canvas.line((LEFT_MM, y), (LEFT_MM + PLOT_MM, y), width=width, dash=dash)
    _dots(canvas, plot, planned, measured)
    _key(canvas, plot)
    return canvas


def _share(dot: Dot) -> float:
    return 100 * dot.measured / dot.planned


def _height(along_mm: float) -> float:
    return CAPTION_MM + PLOT_MM - along_mm


def _axis_of(values: Sequence[float], least: float, room: float) -> _Axis:
    low, high = min(values), max(values)
    spare = room * max(high - low, least * high)
    low, high = max(0.0, low - spare), high + spare
    raw = (high - low) / MOST_TICKS
    power: float = 10.0 ** floor(log10(raw))
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= raw)
    return _Axis(low, high, step)


def _axes(canvas: Canvas, plot: Plot, planned: _Axis, measured: _Axis) -> None:
    canvas.rectangle((LEFT_MM, CAPTION_MM), PLOT_MM, PLOT_MM, width=NARROW_MM)
    bottom = CAPTION_MM + PLOT_MM
    for along, text in planned.ticks:
        x = LEFT_MM + along
        canvas.line((x, bottom), (x, bottom + 1.2), width=NARROW_MM)
        canvas.text((x, bottom + 4.6), text, SMALL_SIZE_MM)
    for along, text in measured.ticks:
        y = _height(along)
        canvas.line((LEFT_MM - 1.2, y), (LEFT_MM, y), width=NARROW_MM)
        canvas.text((LEFT_MM - 2.0, y + 1.0), text, SMALL_SIZE_MM, anchor="end")
    middle = CAPTION_MM + PLOT_MM / 2
    canvas.text((LEFT_MM + PLOT_MM / 2, bottom + 10.5), f"planned, {plot.unit}", LINE_SIZE_MM)
    canvas.text((SIDE_MM + 2.4, middle), "measured, % of planned", LINE_SIZE_MM, turned_deg=-90)


def _dots(canvas: Canvas, plot: Plot, planned: _Axis, measured: _Axis) -> None:
    placed: list[Point] = []
    far = 0
    for dot in sorted(plot.dots, key=lambda each: (each.far, each.planned, each.measured, each.name)):
        share = _share(dot)
        above, below = share > measured.high, share < measured.low
        edge = EDGE_MM if below else PLOT_MM - EDGE_MM if above else measured.along(share)
        at = _free(placed, (LEFT_MM + planned.along(dot.planned), _height(edge)))
        placed.append(at)
        if above or below:
            tip = (at[0], at[1] + (-ARROW_MM / 2 if above else ARROW_MM / 2))
            canvas.arrowhead(tip, -90 if above else 90, ARROW_MM)
        else:
            canvas.circle(at, RADIUS_MM, width=NARROW_MM, fill="#000" if dot.far else "#fff")
        if dot.far:
            far += 1
            if far <= MOST_FAR:
                _number(canvas, at, str(far))


def _free(placed: Sequence[Point], at: Point) -> Point:
    """Return the place nearest beside a point where no other dot lies."""
    for turn in range(2 * len(placed) + 1):
        x = at[0] + (turn + 1) // 2 * (2 * RADIUS_MM + 0.2) * (-1 if turn % 2 else 1)
        if all((x - u) ** 2 + (at[1] - v) ** 2 >= (2 * RADIUS_MM) ** 2 for u, v in placed):
            return x, at[1]
    return at


def _number(canvas: Canvas, at: Point, text: str) -> None:
    """Write a dot's number where it covers no other text."""
    x, y = at
    sides = ((x + 2.2, y + 1.0, "start"), (x - 2.2, y + 1.0, "end"), (x, y - 2.2, "middle"), (x, y + 4.4, "middle"))
    for u, v, anchor in sides:
        box = TextBox((u, v), text, SMALL_SIZE_MM, anchor, 0.0)
        if all(not overlapping((box, other)) for other in canvas.texts):
            break
    else:
        u, v, anchor = sides[0]
    canvas.text((u, v), text, SMALL_SIZE_MM, anchor=anchor, halo=True)


def _key(canvas: Canvas, plot: Plot) -> None:
    y = CAPTION_MM + 2.0
    canvas.circle((KEY_LEFT_MM + 4, y), RADIUS_MM, width=NARROW_MM, fill="#fff")
    y = _words(canvas, y, "a drum")
    rows = (
        ("100 %: as planned", NARROW_MM, DASHED),
        (f"the middle, {percentage(plot.middle)}", WIDE_MM, ""),
        ("nine drums in ten lie", NARROW_MM, FINE_DASH),
    )
    for words, width, dash in rows:
        canvas.line((KEY_LEFT_MM, y), (KEY_LEFT_MM + 8, y), width=width, dash=dash)
        y = _words(canvas, y, words)
    y = _words(canvas, y, f"{percentage(plot.low)} to {percentage(plot.high)}")
    far = sorted((dot for dot in plot.dots if dot.far), key=lambda each: (each.planned, each.measured, each.name))
    if not far:
        return
    y += 2.0
    canvas.circle((KEY_LEFT_MM + 4, y), RADIUS_MM, width=NARROW_MM, fill="#000")
    y = _words(canvas, y, "far out:")
    for place, dot in enumerate(far[:MOST_FAR], 1):
        canvas.text((KEY_LEFT_MM + 6, y + 1.0), str(place), SMALL_SIZE_MM, anchor="end")
        measured = f"{dot.measured:.{plot.decimals}f} {plot.unit}"
        room = int((PAGE_WIDTH_MM - SIDE_MM - KEY_LEFT_MM - 9) / (0.62 * SMALL_SIZE_MM)) - len(measured) - 2
        name = dot.name if len(dot.name) <= room else f"…{dot.name[1 - room :]}"
        y = _words(canvas, y, f"{name}: {measured}", 9.0)
    if len(far) > MOST_FAR:
        _words(canvas, y, f"and {len(far) - MOST_FAR} more")


def _words(canvas: Canvas, y: float, text: str, indent: float = 10.0) -> float:
    canvas.text((KEY_LEFT_MM + indent, y + 1.0), text, SMALL_SIZE_MM, anchor="start")
    return y + KEY_PITCH_MM
