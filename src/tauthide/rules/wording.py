"""How rules write lengths: in the maker's units, a mend rounded so that it still mends."""

from __future__ import annotations

from math import ceil, floor

from tauthide.figures import Workings
from tauthide.units import KINDS, number

METRIC_STEP_MM = 0.5
INCH_STEPS = 16
"""Mends are given in steps of 0.5 mm or 1/16 in: what a bench can set."""

SLACK_MM = 1e-6
"""A limit is passed by more than this: less is lost in converting units, and no bench can measure it."""

GUARD = 1e-9
"""So that a limit that lies on a step but for floating point is not moved by another step."""

MM_PER_IN = KINDS["length"].unit("in").size


def is_inch(w: Workings) -> bool:
    """Tell whether the maker's sheet counts in inches."""
    return w.spec.word("bench.units") == "inch"


def length(w: Workings, mm: float) -> str:
    """Return a length in the maker's units, to 0.1 mm or 0.01 in."""
    return f"{number(mm / MM_PER_IN, 2)} in" if is_inch(w) else f"{number(mm, 1)} mm"


def at_least(w: Workings, mm: float) -> str:
    """Return a length in the maker's units that is not below `mm`, ready to be written into a spec."""
    steps = ceil(mm / _step_mm(w) - GUARD)
    return _written(w, steps)


def at_most(w: Workings, mm: float) -> str:
    """Return a length in the maker's units that is not above `mm`, ready to be written into a spec."""
    steps = floor(mm / _step_mm(w) + GUARD)
    return _written(w, steps)


def _step_mm(w: Workings) -> float:
    return MM_PER_IN / INCH_STEPS if is_inch(w) else METRIC_STEP_MM


def _written(w: Workings, steps: int) -> str:
    if is_inch(w):
        whole, rest = divmod(steps, INCH_STEPS)
        fraction = f"{rest}/{INCH_STEPS}" if rest else ""
        return f"{' '.join(part for part in (str(whole) if whole or not rest else '', fraction) if part)} in"
    return f"{number(steps * METRIC_STEP_MM, 1)} mm"
