"""What all outlines share: points, the pieces of a drawn path, a bracketed Newton search.

The plane is that of the whole library: x right, y up, lengths in mm, curves run anticlockwise.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]
"""A place (x, y) in mm, or a direction of length 1."""

Rising: TypeAlias = Callable[[float], tuple[float, float]]
"""A function that gives its value and its slope at a place."""

SEARCH_LIMIT = 100
"""Steps before a search gives up; halving alone settles a double in about 60."""

STRADDLE_SETTLED_MM = 1e-11
"""A straddled chord this close is at the limit of doubles for frames of a few metres."""

STRADDLE_STEPS = 16
"""Steps from the middle to a quarter of the way round, to bracket a straddled chord."""


@dataclass(frozen=True, slots=True)
class LineTo:
    """A straight piece to (x, y)."""

    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class ArcTo:
    """A circular piece, anticlockwise and at most half a turn, to (x, y)."""

    radius_mm: float
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class CurveTo:
    """A cubic Bézier piece to (x, y), with the first and the second control point before it."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    x_mm: float
    y_mm: float


Segment: TypeAlias = LineTo | ArcTo | CurveTo


@dataclass(frozen=True, slots=True)
class ClosedPath:
    """A closed curve as a pen draws it, anticlockwise; the last segment ends at the start."""

    start: Point
    segments: tuple[Segment, ...]


def divide_evenly(total_mm: float, count: int) -> tuple[float, ...]:
    """Divide a closed length into equal parts: n distances from 0 on, the total not repeated.

    Raises ValueError for a count below 1.
    """
    if count < 1:
        raise ValueError(f"a curve is divided into 1 part or more, not {count}")
    return tuple(total_mm * number / count for number in range(count))


def require_sizes(**sizes_mm: float) -> None:
    """Raise ValueError unless every size is a finite length above 0."""
    for name, size_mm in sizes_mm.items():
        if not (math.isfinite(size_mm) and size_mm > 0):
            raise ValueError(f"{name} must be a finite length above 0, not {size_mm!r}")


def require_offset(offset_mm: float, least_radius_mm: float) -> None:
    """Raise ValueError for an offset so far inward that the curve would fold over itself."""
    if not -least_radius_mm < offset_mm < math.inf:
        raise ValueError(f"an offset of {offset_mm!r} mm does not leave a curve: least {-least_radius_mm!r}")


def solve_rising(rising: Rising, low: float, high: float, guess: float, settled: float) -> float:
    """Find where a function that is below 0 at `low` and not below 0 at `high` passes 0.

    Newton's steps, halving the bracket instead wherever a step would leave it. Once the value is
    within `settled` of 0 the next step is the last, so a smooth function ends far closer than that.
    """
    place = guess if low <= guess <= high else (low + high) / 2
    for _ in range(SEARCH_LIMIT):
        value, slope = rising(place)
        if value < 0:
            low = place
        else:
            high = place
        step_to = place - value / slope if slope > 0 else math.inf
        if abs(value) <= settled:
            # Rounding may set the last step just past an end that is itself the answer.
            return min(max(step_to, low), high) if slope > 0 else place
        following = step_to if low <= step_to <= high else (low + high) / 2
        if following == place or high <= low:
            return place
        place = following
    return place


def bracket_rising(rising: Rising, start: float, step: float, limit: float) -> tuple[float, float] | None:
    """Step from `start`, where the function is below 0, until it is not: the last two places.

    None where it stays below 0 as far as `limit`.
    """
    low = start
    while low < limit:
        high = min(low + step, limit)
        if rising(high)[0] >= 0:
            return low, high
        low = high
    return None


def straddle_along(
    locate: Callable[[float], tuple[Point, Point]], arc_mm: float, chord_mm: float, quarter_mm: float
) -> tuple[float, float]:
    """Find the two places at equal lengths of curve either side of `arc_mm`, a chord apart.

    `locate` gives the point and the outward normal at an arc length; `quarter_mm` is a quarter of
    the way round. On a convex curve the distance grows with the length taken for as long as the
    curve turns by less than half a turn in between. Raises ValueError for a chord below 0 or too long.
    """
    if chord_mm == 0:
        return arc_mm, arc_mm

    def gap(half_mm: float) -> tuple[float, float]:
        (x_a, y_a), (nx_a, ny_a) = locate(arc_mm - half_mm)
        (x_b, y_b), (nx_b, ny_b) = locate(arc_mm + half_mm)
        across_x, across_y = x_b - x_a, y_b - y_a
        distance = math.hypot(across_x, across_y)
        if distance == 0:
            return -chord_mm, 2.0
        # A tangent is its normal turned by +90 degrees; both ends move apart along theirs.
        slope = ((nx_a + nx_b) * across_y - (ny_a + ny_b) * across_x) / distance
        return distance - chord_mm, slope

    start = chord_mm / 2
    step = max(quarter_mm - start, 0.0) / STRADDLE_STEPS
    # The curve is never shorter than its chord, so half the chord is where to begin.
    if not 0 < start < quarter_mm or (bracket := bracket_rising(gap, start, step, quarter_mm)) is None:
        raise ValueError(f"no two places either side of {arc_mm!r} mm lie {chord_mm!r} mm apart")
    half_mm = solve_rising(gap, *bracket, bracket[0], STRADDLE_SETTLED_MM)
    return arc_mm - half_mm, arc_mm + half_mm
