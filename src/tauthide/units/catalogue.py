"""The kinds of quantity that a spec holds, and the units that each takes."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from tauthide.units.kinds import Kind, Unit

# International yard and pound agreement (1959): 1 in = 25.4 mm and 1 lb = 453.59237 g, both exact.
_INCH: Final = (254, 10)
_POUND: Final = (45_359_237, 100_000)
# Standard gravity 9.80665 m/s2 (3rd CGPM, 1901), exact; a pound-force in N is a pound in kg times this.
_GRAVITY: Final = (980_665, 100_000)
_KILO: Final = 1000
_IN_PER_FT: Final = 12
_OZ_PER_LB: Final = 16
_POUND_FORCE: Final = (_POUND[0] * _GRAVITY[0], _POUND[1] * _KILO * _GRAVITY[1])
_MIN_PER_H: Final = 60
_MIN_PER_DAY: Final = 24 * _MIN_PER_H
_DAYS_PER_WEEK: Final = 7
_HUNDRED: Final = 100
_HALF_TURN_DEG: Final = 180
_FREEZING_F: Final = 32
"""Freezing point of water on the Fahrenheit scale; the scale's degree is 5/9 of a Celsius one."""


def _spell(text: str) -> tuple[str, ...]:
    """Split spellings at bars; a blank within one stands for one or more blanks."""
    return tuple(text.split("|"))


_INCHES: Final = Unit("in", _spell("in|in.|inch|inches|\"|″|”|''|′′|’’"), *_INCH)
_FEET: Final = Unit("ft", _spell("ft|foot|feet|'|′|’"), _INCH[0] * _IN_PER_FT, _INCH[1])
_POUNDS: Final = Unit("lb", _spell("lb|lbs|pound|pounds"), *_POUND)

_LENGTH: Final = Kind(
    "length",
    "mm",
    (
        Unit("mm", _spell("mm|millimetre|millimetres|millimeter|millimeters")),
        Unit("cm", _spell("cm|centimetre|centimetres|centimeter|centimeters"), 10),
        Unit("m", _spell("m|metre|metres|meter|meters"), 1000),
        _INCHES,
        _FEET,
    ),
    bare=("mm", "in"),
    chain=("ft", "in"),
)
_AREA: Final = Kind(
    "area",
    "mm2",
    (
        Unit("mm2", _spell("mm2|mm²|mm^2")),
        Unit("cm2", _spell("cm2|cm²|cm^2"), 10**2),
        Unit("m2", _spell("m2|m²|m^2"), 1000**2),
        Unit("sq in", _spell("sq in|in2|in²|in^2"), _INCH[0] ** 2, _INCH[1] ** 2),
        Unit("sq ft", _spell("sq ft|ft2|ft²|ft^2"), (_INCH[0] * _IN_PER_FT) ** 2, _INCH[1] ** 2),
    ),
    bare=("m2", "sq ft"),
)
_ANGLE: Final = Kind(
    "angle",
    "deg",
    (
        Unit("deg", _spell("deg|°|degree|degrees")),
        Unit("rad", _spell("rad|radian|radians"), _HALF_TURN_DEG, over_pi=True),
    ),
    bare=("deg", "rad"),
)
_MASS: Final = Kind(
    "mass",
    "g",
    (
        Unit("g", _spell("g|gram|grams")),
        Unit("kg", _spell("kg|kilogram|kilograms"), _KILO),
        Unit("oz", _spell("oz|ounce|ounces"), _POUND[0], _POUND[1] * _OZ_PER_LB),
        _POUNDS,
    ),
    bare=("g", "oz"),
    chain=("lb", "oz"),
)
_TIME: Final = Kind(
    "time",
    "min",
    (
        Unit("min", _spell("min|mins|minute|minutes")),
        Unit("h", _spell("h|hr|hrs|hour|hours"), _MIN_PER_H),
        Unit("d", _spell("d|day|days"), _MIN_PER_DAY),
        Unit("wk", _spell("wk|week|weeks"), _MIN_PER_DAY * _DAYS_PER_WEEK),
    ),
    bare=("min", "h"),
    chain=("wk", "d", "h", "min"),
)
_PERCENTAGE: Final = Kind(
    "percentage",
    "1",
    (Unit("%", _spell("%|percent|per cent"), 1, _HUNDRED),),
    bare=("%",),
)
_PITCH: Final = Kind(
    "pitch",
    "Hz",
    (Unit("Hz", _spell("hz|hertz")), Unit("kHz", _spell("khz"), _KILO)),
    bare=("Hz",),
)
_DENSITY: Final = Kind(
    "density",
    "kg/m3",
    (
        Unit("kg/m3", _spell("kg/m3|kg/m³|kg/m^3")),
        Unit("g/cm3", _spell("g/cm3|g/cm³|g/cm^3|g/cc"), 1000),
        # lb/ft3 in kg/m3: pound in g over (foot in mm) cubed, a g/mm3 being 10^6 kg/m3.
        Unit(
            "lb/ft3",
            _spell("lb/ft3|lb/ft³|lb/ft^3|lb/cu ft"),
            _POUND[0] * 10**6 * _INCH[1] ** 3,
            _POUND[1] * (_INCH[0] * _IN_PER_FT) ** 3,
        ),
    ),
    bare=("kg/m3", "g/cm3"),
)
_STRESS: Final = Kind(
    "stress",
    "N/mm2",
    (
        Unit("N/mm2", _spell("n/mm2|n/mm²|n/mm^2")),
        # Only with its capitals: a small m before Pa is a thousandth.
        Unit("MPa", _spell("MPa")),
        Unit("kPa", _spell("kpa"), 1, _KILO),
        Unit("psi", _spell("psi|lbf/in2"), _POUND_FORCE[0] * _INCH[1] ** 2, _POUND_FORCE[1] * _INCH[0] ** 2),
    ),
    bare=("N/mm2", "psi"),
)
_TEMPERATURE: Final = Kind(
    "temperature",
    "deg C",
    (
        Unit("C", _spell("c|°c|deg c|celsius")),
        Unit("F", _spell("f|°f|deg f|fahrenheit"), 5, 9, zero=_FREEZING_F),
    ),
    bare=("C", "F"),
    signed=True,
)
_FORCE: Final = Kind(
    "force",
    "N",
    (
        Unit("N", _spell("n|newton|newtons")),
        Unit("kN", _spell("kn"), _KILO),
        Unit("lbf", _spell("lbf"), *_POUND_FORCE),
        Unit("kgf", _spell("kgf"), *_GRAVITY),
    ),
    bare=("N", "lbf"),
)
_TENSION: Final = Kind(
    "tension",
    "N/m",
    (
        Unit("N/m", _spell("n/m")),
        Unit("kN/m", _spell("kn/m"), _KILO),
        Unit("N/mm", _spell("n/mm"), _KILO),
        Unit("lbf/in", _spell("lbf/in"), _POUND_FORCE[0] * _INCH[1] * 1000, _POUND_FORCE[1] * _INCH[0]),
    ),
    bare=("N/m", "lbf/in"),
)
_TEAR: Final = Kind(
    "tear",
    "N/mm",
    (
        Unit("N/mm", _spell("n/mm")),
        Unit("N/cm", _spell("n/cm"), 1, 10),
        Unit("lbf/in", _spell("lbf/in"), _POUND_FORCE[0] * _INCH[1], _POUND_FORCE[1] * _INCH[0]),
    ),
    bare=("N/mm", "lbf/in"),
)

KINDS: Final[Mapping[str, Kind]] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            _LENGTH, _AREA, _ANGLE, _MASS, _TIME, _PERCENTAGE, _PITCH, _DENSITY, _STRESS, _TEMPERATURE,
            _FORCE, _TENSION, _TEAR,
        )
    }
)  # fmt: skip
"""Every kind of quantity by its name."""
