"""Values with more digits than a bench measures, so that a formula can be worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping
from math import floor, log10
from types import MappingProxyType
from typing import Final

from tauthide.units.catalogue import KINDS
from tauthide.units.display import System, number

DIGITS: Final = 5
"""Significant digits of a value that is no length."""
MOST_DECIMALS: Final = 6
LEAST_DIGITS: Final = 4
"""Significant digits of a length that is too small for the decimals of lengths."""
METRIC_DECIMALS: Final = 2
INCH_DECIMALS: Final = 4

_MM_PER_IN: Final = KINDS["length"].unit("in").size
_MM2_PER_M2: Final = KINDS["area"].unit("m2").size
_MM2_PER_SQ_FT: Final = KINDS["area"].unit("sq ft").size
_G_PER_LB: Final = KINDS["mass"].unit("lb").size
_G_PER_KG: Final = KINDS["mass"].unit("kg").size

_LENGTHS: Final = frozenset({"length", "fine_length", "long_length", "nominal"})

_Unit = tuple[str, float]

_UNITS: Final[Mapping[str, tuple[_Unit, _Unit]]] = MappingProxyType(
    {
        "area": (("m²", float(_MM2_PER_M2)), ("sq ft", float(_MM2_PER_SQ_FT))),
        "force": (("N", 1.0), ("lbf", float(KINDS["force"].unit("lbf").size))),
        "tension": (("N/m", 1.0), ("lbf/in", float(KINDS["tension"].unit("lbf/in").size))),
        "tear": (("N/mm", 1.0), ("lbf/in", float(KINDS["tear"].unit("lbf/in").size))),
        "density": (("kg/m³", 1.0), ("lb/ft³", float(KINDS["density"].unit("lb/ft3").size))),
        "stress": (("N/mm²", 1.0), ("psi", float(KINDS["stress"].unit("psi").size))),
        "surface_density": (
            ("kg/m²", 1.0),
            ("lb/sq ft", float(_G_PER_LB / _G_PER_KG / (_MM2_PER_SQ_FT / _MM2_PER_M2))),
        ),
    }
)
"""By kind the metric unit and the other one, each with its size in base units."""

_AFTER: Final[Mapping[str, tuple[str, int]]] = MappingProxyType(
    {"percentage": (" %", 100), "angle": ("°", 1), "fine_angle": ("°", 1), "pitch": (" Hz", 1), "count": ("", 1)}
)
"""By kind what stands after a value that is the same in both systems, and by how much it is multiplied."""


def exact(kind: str, value: float, system: System) -> str:
    """Show a value in one system: a length to 0.01 mm or 0.0001 in, a small one to four digits, others to five.

    KeyError for a kind that is not in `EXACT`: a time, a temperature or a mass is shown by `show` alone.
    """
    if kind in _LENGTHS:
        if system == "inch":
            return f"{_digits(value / _MM_PER_IN, LEAST_DIGITS, INCH_DECIMALS)} in"
        return f"{_digits(value, LEAST_DIGITS, METRIC_DECIMALS)} mm"
    if kind in _UNITS:
        unit, size = _UNITS[kind][system == "inch"]
        return f"{_digits(value / size)} {unit}"
    after, times = _AFTER[kind]
    return f"{_digits(value * times)}{after}"


EXACT: Final = _LENGTHS | frozenset(_UNITS) | frozenset(_AFTER)
"""Names of the kinds that `exact` knows."""


def _digits(value: float, digits: int = DIGITS, least_decimals: int = 0) -> str:
    decimals = digits - 1 - floor(log10(abs(value))) if value else 0
    return number(value, min(max(decimals, least_decimals), MOST_DECIMALS))
