"""Water in skin and in wood by humidity, against published tables.

Sources: Heritage Science 1:14, table 1 (collagen at 25 degrees C, per cent of dry mass); Wood Handbook, USDA
Forest Products Laboratory, GTR-190, table 4-2 (wood at 70 degrees F); W. T. Simpson, FPL-RN-0268, 1998 (formula).
"""

from __future__ import annotations

import pytest

from tauthide.quantities.membrane import water_content
from tauthide.quantities.wood import moisture_content

COLLAGEN = {
    5: 5.45, 10: 7.39, 20: 10.06, 30: 12.44, 40: 15.14, 50: 17.95,
    60: 21.06, 70: 25.05, 80: 30.20, 90: 40.70, 95: 50.01,
}  # fmt: skip

WOOD_AT_70_F = {30: 6.2, 50: 9.2, 60: 11.0, 70: 13.1, 80: 16.0, 90: 20.5}

C_OF_70_F = (70 - 32) * 5 / 9


@pytest.mark.parametrize("humidity", COLLAGEN)
def test_collagen(humidity: int) -> None:
    """Heritage Science 1:14, table 1."""
    assert 100 * water_content(humidity / 100) == pytest.approx(COLLAGEN[humidity], abs=1e-9)


@pytest.mark.parametrize("humidity", WOOD_AT_70_F)
def test_wood(humidity: int) -> None:
    """Simpson's formula gives the Wood Handbook's table 4-2 within 0.3 %."""
    assert 100 * moisture_content(C_OF_70_F, humidity / 100) == pytest.approx(WOOD_AT_70_F[humidity], abs=0.3)


@pytest.mark.parametrize("temperature", [0.0, 21.0, 45.0])
@pytest.mark.parametrize("humidity", [0.1, 0.5, 0.9])
def test_formula_as_published(temperature: float, humidity: float) -> None:
    """Simpson 1998, written out as printed, in per cent: the table alone would not tell a slip in a coefficient."""
    t, h = temperature, humidity
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    bound = (k1 * k * h + 2 * k1 * k2 * k**2 * h**2) / (1 + k1 * k * h + k1 * k2 * k**2 * h**2)
    percent = 1800 / w * (k * h / (1 - k * h) + bound)
    assert 100 * moisture_content(temperature, humidity) == pytest.approx(percent, rel=1e-12)


def test_skin_takes_up_more_than_wood() -> None:
    """The two published tables, of different stuffs, are not mixed up: skin holds about twice as much."""
    for humidity in WOOD_AT_70_F:
        assert water_content(humidity / 100) > 1.8 * moisture_content(C_OF_70_F, humidity / 100)
