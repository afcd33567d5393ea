"""A change of a figure as text: before, after, and the difference, in both systems."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from tauthide.units.catalogue import KINDS
from tauthide.units.display import System, frequency, number, percentage
from tauthide.units.showing import show

MOST_DECIMALS: Final = 6
"""A millionth of a unit is told apart; what differs by less is the same."""


def _pair(kind: str, metric: str, inch: str, name: str = "") -> tuple[str, float, str, float]:
    return name or metric, KINDS[kind].unit(metric).size, inch, KINDS[kind].unit(inch).size


_LENGTH: Final = _pair("length", "mm", "in")
_FINE: Final[Mapping[str, tuple[str, float, str, float]]] = MappingProxyType(
    {
        **dict.fromkeys(("length", "fine_length", "long_length", "nominal"), _LENGTH),
        "area": _pair("area", "mm2", "sq in", "mm²"),
        "mass": _pair("mass", "g", "oz"),
        "force": _pair("force", "N", "lbf"),
        "tension": _pair("tension", "N/m", "lbf/in"),
        "tear": _pair("tear", "N/mm", "lbf/in"),
        "density": _pair("density", "kg/m3", "lb/ft3", "kg/m³"),
        "stress": _pair("stress", "N/mm2", "psi", "N/mm²"),
    }
)
"""By style: the units in which what differs by less than a sheet shows is told apart, and their sizes."""


def show_change(style: str, unit: str, old: float, new: float, system: System) -> tuple[str, str, str]:
    """Return before, after and difference; finer than on a sheet where that would not tell them apart.

    `unit` is the base unit of the three, for styles that have no finer form of their own.
    """
    before, after = show(style, old, system), show(style, new, system)
    difference = show_difference(style, new - old, system)
    nothing = _parts(show_difference(style, 0.0, system))
    if before != after and not any(map(str.__eq__, _parts(difference), nothing)):
        return before, after, difference
    decimals = _decimals(style, old, new)
    fine = (_fine(style, unit, value, decimals, system) for value in (old, new, new - old))
    before, after, difference = fine
    return before, after, _signed(difference, new - old)


def show_difference(style: str, delta: float, system: System) -> str:
    """Return a difference with its sign: `+2 mm (+1/16 in)`, `-3 Hz`, `+1.2 percentage points`."""
    if style == "pitch":
        text = frequency(delta)
    elif style == "percentage":
        text = f"{percentage(delta).removesuffix(' %')} percentage points"
    else:
        text = show(style, delta, system)
    return _signed(text, delta)


def _signed(text: str, delta: float) -> str:
    """Put a plus before a difference that is more than nothing, in both systems."""
    return f"+{text}".replace(" (", " (+") if delta > 0 else text


def _parts(text: str) -> list[str]:
    """Return a difference in each of the systems, without sign."""
    return [part.rstrip(")").lstrip("+-") for part in text.split(" (")]


def _decimals(style: str, old: float, new: float) -> int:
    """Return the fewest decimals that tell two values apart in every unit in which they are shown."""
    sizes = (_FINE[style][1], _FINE[style][3]) if style in _FINE else (1.0,)
    for decimals in range(MOST_DECIMALS):
        if all(
            number(old / size, decimals) != number(new / size, decimals) and number((new - old) / size, decimals) != "0"
            for size in sizes
        ):
            return decimals
    return MOST_DECIMALS


def _fine(style: str, unit: str, value: float, decimals: int, system: System) -> str:
    if style not in _FINE:
        return f"{number(value, decimals)}{'' if unit == '1' else f' {unit}'}"
    metric_unit, metric_size, inch_unit, inch_size = _FINE[style]
    metric, inch = (
        f"{number(value / metric_size, decimals)} {metric_unit}",
        f"{number(value / inch_size, decimals)} {inch_unit}",
    )
    return f"{inch} ({metric})" if system == "inch" else f"{metric} ({inch})"
