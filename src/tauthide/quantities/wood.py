"""The wood of the frame: the staves of a polygon, and the moisture that wood settles to.

Moisture is a fraction of the oven-dry weight, humidity a fraction, temperature in degrees C.
"""

from __future__ import annotations

from math import pi, tan

from tauthide.figures import PLANE_GEOMETRY, FigureSet, Workings

FIGURES = FigureSet()

HALF_TURN_DEG = 180.0

# Coefficients of powers of the temperature in degrees C. Source: W. T. Simpson, Equilibrium moisture content of
# wood in outdoor locations in the United States and worldwide, USDA Forest Products Laboratory, FPL-RN-0268, 1998.
_MASS = (349.0, 1.29, 0.0135)
_FREE = (0.805, 0.000736, -0.00000273)
_FIRST = (6.27, -0.00938, -0.000303)
_SECOND = (1.91, 0.0407, -0.000293)

_SCALE = 18.0
"""1800 in the source, for per cent: the molar mass of water, g/mol."""


def moisture_content(temperature_c: float, humidity: float) -> float:
    """Return the moisture that wood settles to, over its oven-dry weight; 0 in dry air.

    For humidity from 0 to 1 and the temperatures of rooms and drying sheds. ValueError beyond 0 to 1.
    Source: Simpson 1998.
    """
    if not 0 <= humidity <= 1:
        raise ValueError(f"relative humidity is a fraction from 0 to 1, not {humidity!r}")
    mass, free, first, second = (_power_sum(row, temperature_c) for row in (_MASS, _FREE, _FIRST, _SECOND))
    wet = free * humidity
    bound = first * wet + second * first * wet**2
    return _SCALE / mass * (wet / (1 - wet) + (bound + second * first * wet**2) / (1 + bound))


def _power_sum(coefficients: tuple[float, float, float], temperature_c: float) -> float:
    constant, linear, square = coefficients
    return constant + linear * temperature_c + square * temperature_c**2


def is_polygon(w: Workings) -> bool:
    """Tell whether the frame is a polygon, made of staves."""
    return w.word("frame.outline") == "polygon"


@FIGURES.figure("frame.mitre", "deg", "angle", "Mitre at each end of a stave, from square",
                "180° / sides", PLANE_GEOMETRY, is_polygon)  # fmt: skip
def mitre(w: Workings) -> float:
    """Return the angle to which the ends of the staves are cut, measured from a square cut."""
    return HALF_TURN_DEG / w.count("frame.sides")


@FIGURES.figure("frame.side", "mm", "length", "Outside length of each stave",
                "across_flats tan(pi / sides)", PLANE_GEOMETRY, is_polygon)  # fmt: skip
def side(w: Workings) -> float:
    """Return the length of a side, on the outside of the frame: across flats / cot(pi / sides)."""
    return w.given("frame.across_flats") * tan(pi / w.count("frame.sides"))
