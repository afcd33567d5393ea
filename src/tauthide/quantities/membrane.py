"""The ideal membrane: its modes, the air that moves with it, and the water that skin holds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, sqrt
from types import MappingProxyType

LOWEST = "01"
"""The mode that is heard as the drum's pitch: no node but the rim."""

BESSEL_ZEROS: Mapping[str, float] = MappingProxyType(
    {
        "01": 2.404825557695773,
        "11": 3.8317059702075125,
        "21": 5.135622301840683,
        "02": 5.520078110286311,
        "31": 6.380161895923983,
        "12": 7.015586669815619,
        "41": 7.588342434503804,
        "22": 8.417244140399864,
        "03": 8.653727912911013,
        "51": 8.771483815959954,
        "32": 9.761023129981669,
        "61": 9.936109524217685,
    }
)
"""Zeros of the Bessel functions, from low to high: of mode mn (m node lines across, n circles, the rim
among them) the nth zero of J_m (Abramowitz and Stegun, table 9.5)."""

AIR_COEFFICIENTS: Mapping[str, float] = MappingProxyType(
    {
        "01": 0.98593,
        "11": 0.57359,
        "21": 0.41599,
        "02": 0.39356,
        "31": 0.32986,
        "12": 0.30235,
        "41": 0.27477,
        "22": 0.24878,
        "03": 0.24406,
        "51": 0.23619,
        "32": 0.21280,
        "61": 0.20754,
    }
)
"""Air that moves with each mode of an unbaffled membrane, both faces together, over air density x radius.

Computed from the potential flow about a flat disc that moves as the mode does: right where sound waves are
long beside the head, less so for the high modes of a large one.
"""

AIR_COEFFICIENT_BAFFLED = 1.49
"""The same for mode 01 with the hoop as an endless baffle: the upper end of the range."""

AIR_DENSITY = 1.2
"""kg/m3, of air at about 20 degrees C and sea level."""

COLLAGEN_WATER: tuple[tuple[float, float], ...] = (
    (0.05, 0.0545), (0.10, 0.0739), (0.20, 0.1006), (0.30, 0.1244), (0.40, 0.1514), (0.50, 0.1795),
    (0.60, 0.2106), (0.70, 0.2505), (0.80, 0.3020), (0.90, 0.4070), (0.95, 0.5001),
)  # fmt: skip
"""Water in collagen by relative humidity, over its dry mass, at 25 degrees C (Heritage Science 1:14, table 1)."""

MM_PER_M = 1000.0


@dataclass(frozen=True, slots=True)
class Mode:
    """One mode of a head under tension."""

    name: str
    """Node lines across, then node circles with the rim among them: `01`, `11`, ..."""
    ideal_hz: float
    """Without air."""
    ratio: float
    """Over the lowest mode, both without air."""
    loaded_hz: float
    """With the air that moves with an unbaffled head."""


def frequency(mode: str, radius_m: float, tension_n_m: float, density_kg_m2: float) -> float:
    """Return the frequency in Hz of a mode of a membrane under tension, without what is not in its density.

    KeyError for a mode that is not in `BESSEL_ZEROS`.
    """
    return BESSEL_ZEROS[mode] / (2 * pi * radius_m) * sqrt(tension_n_m / density_kg_m2)


def tension_for(mode: str, radius_m: float, frequency_hz: float, density_kg_m2: float) -> float:
    """Return the tension in N/m that gives a mode this frequency; KeyError as for `frequency`."""
    return density_kg_m2 * (2 * pi * radius_m * frequency_hz / BESSEL_ZEROS[mode]) ** 2


def air_load(coefficient: float, radius_m: float) -> float:
    """Return the air in kg/m2 that moves with a membrane, by the coefficient of its mode."""
    return coefficient * AIR_DENSITY * radius_m


def find_modes(radius_m: float, tension_n_m: float, density_kg_m2: float) -> tuple[Mode, ...]:
    """Return the twelve lowest modes of a membrane under tension, in the order of their ideal frequencies.

    The density is the skin's own. With air the order may change: air slows the lower modes most.
    """
    found = []
    for name, zero in BESSEL_ZEROS.items():
        moving = density_kg_m2 + air_load(AIR_COEFFICIENTS[name], radius_m)
        ideal = frequency(name, radius_m, tension_n_m, density_kg_m2)
        loaded = frequency(name, radius_m, tension_n_m, moving)
        found.append(Mode(name, ideal, zero / BESSEL_ZEROS[LOWEST], loaded))
    return tuple(found)


def water_content(humidity: float) -> float:
    """Return the water in collagen over its dry mass, between the table's values on a straight line.

    Humidity is a fraction; outside 0.05 to 0.95 the nearest value of the table holds.
    """
    humidities = [row[0] for row in COLLAGEN_WATER]
    index = bisect_right(humidities, humidity)
    if index == 0:
        return COLLAGEN_WATER[0][1]
    if index == len(COLLAGEN_WATER):
        return COLLAGEN_WATER[-1][1]
    (h1, w1), (h2, w2) = COLLAGEN_WATER[index - 1 : index + 1]
    return w1 + (w2 - w1) * (humidity - h1) / (h2 - h1)
