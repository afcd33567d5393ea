"""How many stations a rim wants, best first."""

from __future__ import annotations

from math import lcm

USUAL_SPACING_MM = 72.0
LEAST_SPACING_MM = 65.0
MOST_SPACING_MM = 80.0
"""Rim that each station takes, usually. Workshop practice, no published source."""

LEAST_COUNT = 4
MOST_COUNT = 64


def likely_counts(perimeter_mm: float, sides: int = 0) -> tuple[int, ...]:
    """Return even station counts for a rim, best first.

    Counts that give a polygon's sides equal shares come before others, then those within the usual spacing
    that can be marked by folding (powers of two, then multiples of four), then the nearest to that spacing.
    """
    step = lcm(2, sides) if sides else 2
    fair = [count for count in range(LEAST_COUNT, MOST_COUNT + 1, 2) if count % step == 0]
    others = [count for count in range(LEAST_COUNT, MOST_COUNT + 1, 2) if count % step]

    def rank(count: int) -> tuple[int, float, int]:
        spacing = perimeter_mm / count
        usual = LEAST_SPACING_MM <= round(spacing) <= MOST_SPACING_MM  # as it is said, to the millimetre
        return (_folds(count) if usual else _LAST), abs(spacing - USUAL_SPACING_MM), count

    return (*sorted(fair, key=rank), *sorted(others, key=rank))


_LAST = 3


def _folds(count: int) -> int:
    if count & (count - 1) == 0:
        return 0
    return 1 if count % 4 == 0 else 2


def count_reason(perimeter_mm: float, count: int, sides: int = 0) -> str:
    """Say why a count was chosen, with the rim that each station then takes."""
    spacing = perimeter_mm / count
    usual = f"{LEAST_SPACING_MM:.0f} to {MOST_SPACING_MM:.0f} mm"
    said = f"{spacing:.0f} mm of rim each; {usual} is usual"
    if sides and count % sides == 0:
        said += f", and every one of the {sides} sides gets {count // sides}"
    elif count & (count - 1) == 0:
        said += ", and the places are found by folding"
    return said
