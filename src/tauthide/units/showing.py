"""One way to show any figure by the name of its kind."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from tauthide.units.display import (
    System,
    angle,
    area,
    count,
    density,
    fine_angle,
    fine_length,
    force,
    length,
    long_length,
    mass,
    nominal_length,
    percentage,
    pitch,
    stress,
    surface_density,
    tear,
    temperature,
    tension,
    time,
)

_IN_BOTH: Final[Mapping[str, Callable[[float, System], str]]] = MappingProxyType(
    {
        "length": length,
        "fine_length": fine_length,
        "long_length": long_length,
        "nominal": nominal_length,
        "area": area,
        "mass": mass,
        "force": force,
        "tension": tension,
        "tear": tear,
        "temperature": temperature,
        "density": density,
        "stress": stress,
        "surface_density": surface_density,
    }
)

_IN_ONE: Final[Mapping[str, Callable[[float], str]]] = MappingProxyType(
    {
        "angle": angle,
        "fine_angle": fine_angle,
        "time": time,
        "percentage": percentage,
        "pitch": pitch,
        "count": count,
    }
)

SHOWN: Final = frozenset(_IN_BOTH) | frozenset(_IN_ONE)
"""Names of the kinds that `show` knows: those of `KINDS`, `count`, and lengths that are measured otherwise."""


def show(kind: str, value: float, system: System) -> str:
    """Show a value, given in the base unit of its kind; KeyError for a kind that is not in `SHOWN`.

    Lengths that are measured otherwise are `fine_length` (a skin's thickness), `long_length` (a lace) and
    `nominal` (a size that is set with a tool).
    """
    both = _IN_BOTH.get(kind)
    return both(value, system) if both is not None else _IN_ONE[kind](value)
