"""Thickness over a whole piece, for laying: in its middle, half-way out, on its rim, and at each reading within it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from tauthide.cutting.forms import DiscForm, Form
from tauthide.cutting.hides import Hide, Point

ROOT_3_HALVES = 0.8660254037844386
"""Sine of 60 degrees, written out: it must be the same on every machine."""

DIRECTIONS: tuple[Point, ...] = (
    (1.0, 0.0), (ROOT_3_HALVES, 0.5), (0.5, ROOT_3_HALVES), (0.0, 1.0), (-0.5, ROOT_3_HALVES), (-ROOT_3_HALVES, 0.5),
    (-1.0, 0.0), (-ROOT_3_HALVES, -0.5), (-0.5, -ROOT_3_HALVES), (0.0, -1.0), (0.5, -ROOT_3_HALVES),
    (ROOT_3_HALVES, -0.5),
)  # fmt: skip
"""Every 30 degrees of the hide's grid: on the rim of a 500 mm head, every 130 mm."""

SHARES = (1.0, 0.5)
"""How far out it is looked at, of the way from the middle to the rim."""

TOUCH_MM = 0.001
"""A reading this little beyond the rim counts as within: places are rounded."""


def reaches_of(form: Form) -> tuple[float, ...]:
    """How far a form reaches from its middle in each direction."""
    if isinstance(form, DiscForm):
        return (form.shape.radius_mm,) * len(DIRECTIONS)
    reaches = []
    for dx, dy in DIRECTIONS:
        # Convex, with the middle inside: the nearest of the sides' lines that lie ahead.
        ahead = ((dx * edge.uy - dy * edge.ux, edge.x * edge.uy - edge.y * edge.ux) for edge in form.edges)
        reaches.append(min(away / towards for towards, away in ahead if towards > 0))
    return tuple(reaches)


def holds(form: Form, middle: Point, place: Point) -> bool:
    """Whether a place lies within a form, or on its rim."""
    x, y = place[0] - middle[0], place[1] - middle[1]
    if isinstance(form, DiscForm):
        reach = form.shape.radius_mm + TOUCH_MM
        return x * x + y * y <= reach * reach
    return all((x - edge.x) * edge.uy - (y - edge.y) * edge.ux <= TOUCH_MM for edge in form.edges)


def thicknesses(hide: Hide, form: Form, reaches: tuple[float, ...], middle: Point) -> Iterator[float]:
    """Yield the thicknesses in mm of a form laid on a hide, its middle's first."""
    yield hide.thickness_at(middle)
    if not isinstance(hide.thickness, tuple) or len(hide.thickness) == 1:
        return
    for reading in hide.thickness:
        if holds(form, middle, reading.place):
            yield reading.thickness_mm
    for (dx, dy), reach in zip(DIRECTIONS, reaches, strict=True):
        for share in SHARES:
            yield hide.thickness_at((middle[0] + share * reach * dx, middle[1] + share * reach * dy))


def span_over(hide: Hide, form: Form, middle: Point) -> tuple[float, float]:
    """The least and greatest thickness in mm of a form laid on a hide."""
    found = list(thicknesses(hide, form, reaches_of(form), middle))
    return min(found), max(found)


class Gauge:
    """A hide's thickness under pieces, whether it is within limits; what was asked before is kept."""

    MOST_KEPT = 50_000

    def __init__(self, hide: Hide) -> None:
        """Make a hide ready."""
        values = [r.thickness_mm for r in hide.thickness] if isinstance(hide.thickness, tuple) else [hide.thickness]
        self._hide = hide
        self._least_mm, self._most_mm = min(values), max(values)
        self._reaches: dict[Form, tuple[float, ...]] = {}
        self._found: dict[tuple[Form, Point, float, float], bool] = {}

    def keeps(self, form: Form, middle: Point, least_mm: float | None, most_mm: float | None) -> bool:
        """Whether a form's thickness is everywhere within limits."""
        least = -math.inf if least_mm is None else least_mm
        most = math.inf if most_mm is None else most_mm
        if least <= self._least_mm and self._most_mm <= most:
            return True  # between readings it is never beyond them
        if most < self._least_mm or self._most_mm < least:
            return False
        key = (form, middle, least, most)
        kept = self._found.get(key)
        if kept is None:
            if form not in self._reaches:
                self._reaches[form] = reaches_of(form)
            found = thicknesses(self._hide, form, self._reaches[form], middle)
            kept = all(least <= thickness_mm <= most for thickness_mm in found)
            if len(self._found) >= self.MOST_KEPT:
                self._found.clear()
            self._found[key] = kept
        return kept
