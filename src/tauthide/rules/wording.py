"""How rules write lengths: in the maker's units, a mend rounded so that it still mends."""

from __future__ import annotations

from tauthide.figures import Workings
from tauthide.units import KINDS, Direction, inch_length, inch_long_length, metric_long_length, number

METRIC_STEP_MM = 0.5
"""Mends are given in steps of 0.5 mm or 1/16 in: what a bench can set."""

FINE_STEP_MM = 0.1
"""Mends of a thickness are given in steps of 0.1 mm: what a thickness gauge shows."""

SLACK_MM = 1e-6
"""A limit is passed by more than this: less is lost in converting units, and no bench can measure it."""

MM_PER_IN = KINDS["length"].unit("in").size

METRIC_DECIMALS, INCH_DECIMALS = 1, 2
MOST_DECIMALS = 8
"""Two lengths that still look alike with so many decimals, in inches too, differ by less than `SLACK_MM`."""


def is_inch(w: Workings) -> bool:
    """Tell whether the maker's sheet counts in inches."""
    return w.spec.word("bench.units") == "inch"


def length(w: Workings, mm: float, beside: float | None = None, direction: Direction = "nearest") -> str:
    """Return a length in the maker's units, to 0.1 mm or 0.01 in.

    With as many decimals more as it takes to look different from the length `beside` it, which is shown so too:
    what was found and what is allowed must not read the same.
    """
    size, unit, decimals = (MM_PER_IN, "in", INCH_DECIMALS) if is_inch(w) else (1.0, "mm", METRIC_DECIMALS)
    return f"{_apart(mm / size, None if beside is None else beside / size, decimals, direction)} {unit}"


def no_less(w: Workings, mm: float, beside: float | None = None) -> str:
    """Return a lower limit as `length` does, rounded up so that what is said is also enough."""
    return length(w, mm, beside, "up")


def no_more(w: Workings, mm: float, beside: float | None = None) -> str:
    """Return an upper limit as `length` does, rounded down so that what is said is not too much."""
    return length(w, mm, beside, "down")


def long_length(w: Workings, mm: float) -> str:
    """Return the length of a lace in the maker's units, to 0.01 m or 1/4 in."""
    return inch_long_length(mm) if is_inch(w) else metric_long_length(mm)


def percent(share: float, beside: float | None = None) -> str:
    """Return a share in percent without decimals, but as many as it takes to look different from `beside`."""
    return f"{_apart(share * _PER_HUNDRED, None if beside is None else beside * _PER_HUNDRED, 0)} %"


def section(mm2: float) -> str:
    """Return an area as small as a hole's or a lace's, to 0.1 mm²."""
    return f"{number(mm2, 1)} mm²"


def at_least(w: Workings, mm: float) -> str:
    """Return a length in the maker's units that is not below `mm`, ready to be written into a spec."""
    return inch_length(mm, "up") if is_inch(w) else _metric(mm, METRIC_STEP_MM, up=True)


def at_most(w: Workings, mm: float) -> str:
    """Return a length in the maker's units that is not above `mm`, ready to be written into a spec."""
    return inch_length(mm, "down") if is_inch(w) else _metric(mm, METRIC_STEP_MM, up=False)


def thick_at_least(mm: float) -> str:
    """Return a thickness that is not below `mm`, ready to be written into a spec: in mm, whatever the maker's units."""
    return _metric(mm, FINE_STEP_MM, up=True)


def thick_at_most(mm: float) -> str:
    """Return a thickness that is not above `mm`, ready to be written into a spec: in mm, whatever the maker's units."""
    return _metric(mm, FINE_STEP_MM, up=False)


def _metric(mm: float, step_mm: float, *, up: bool) -> str:
    steps = float(number(mm / step_mm, 0, "up" if up else "down"))
    return f"{number(steps * step_mm, METRIC_DECIMALS)} mm"


def _apart(value: float, beside: float | None, decimals: int, direction: Direction = "nearest") -> str:
    text = number(value, decimals, direction)
    while beside is not None and decimals < MOST_DECIMALS and text == number(beside, decimals):
        decimals += 1
        text = number(value, decimals, direction)
    return text


_PER_HUNDRED = 100
