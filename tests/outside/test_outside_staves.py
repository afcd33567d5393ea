"""Staves of a polygon frame against the factors of joiners' tables.

Source: tables of regular polygons: mitre 180 / n degrees; across flats over side = cot(pi / n), to five decimals.
"""

from __future__ import annotations

import math

import pytest

from force_drums import force_workings
from tauthide.figures import Workings

FACTORS = {8: 2.41421, 12: 3.73205, 16: 5.02734}
MITRES_DEG = {8: 22.5, 12: 15.0, 16: 11.25}


def polygon(sides: int, across_flats: float = 360.0) -> Workings:
    """The workings of a polygon frame."""
    return force_workings(
        frame_outline="polygon", frame_diameter=None, frame_sides=sides, frame_across_flats=across_flats
    )


@pytest.mark.parametrize("sides", FACTORS)
def test_side(sides: int) -> None:
    """Across flats over the factor."""
    assert polygon(sides)["frame.side"] == pytest.approx(360 / FACTORS[sides], rel=2e-6)


@pytest.mark.parametrize("sides", MITRES_DEG)
def test_mitre(sides: int) -> None:
    """From a square cut."""
    assert polygon(sides)["frame.mitre"] == MITRES_DEG[sides]


@pytest.mark.parametrize("sides", [3, 5, 8, 24])
def test_staves_close_the_ring(sides: int) -> None:
    """Laid end to end, each turned by two mitres, the staves come back to where they began."""
    w = polygon(sides)
    x = y = heading = 0.0
    for _ in range(sides):
        x += w["frame.side"] * math.cos(math.radians(heading))
        y += w["frame.side"] * math.sin(math.radians(heading))
        heading += 2 * w["frame.mitre"]
    assert math.hypot(x, y) == pytest.approx(0, abs=1e-9)
    assert heading == pytest.approx(360)
    assert sides * w["frame.side"] == pytest.approx(w["frame.perimeter"])
