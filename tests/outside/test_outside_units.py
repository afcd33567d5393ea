"""Units against what others have published."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pint
import pytest

from tauthide.units import KINDS, parse, show

IN_PINT = {
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "in": "inch",
    "ft": "foot",
    "mm2": "millimeter ** 2",
    "cm2": "centimeter ** 2",
    "m2": "meter ** 2",
    "sq in": "inch ** 2",
    "sq ft": "foot ** 2",
    "deg": "degree",
    "rad": "radian",
    "g": "gram",
    "kg": "kilogram",
    "oz": "ounce",
    "lb": "pound",
    "min": "minute",
    "h": "hour",
    "d": "day",
    "wk": "week",
    "%": "percent",
    "1": "dimensionless",
    "Hz": "hertz",
    "kHz": "kilohertz",
    "kg/m3": "kilogram / meter ** 3",
    "g/cm3": "gram / centimeter ** 3",
    "lb/ft3": "pound / foot ** 3",
    "kg/m2": "kilogram / meter ** 2",
    "lb/sq ft": "pound / foot ** 2",
    "N/mm2": "newton / millimeter ** 2",
    "MPa": "megapascal",
    "kPa": "kilopascal",
    "psi": "pound_force_per_square_inch",
    "C": "degree_Celsius",
    "deg C": "degree_Celsius",
    "F": "degree_Fahrenheit",
    "N": "newton",
    "kN": "kilonewton",
    "lbf": "pound_force",
    "kgf": "kilogram_force",
    "N/m": "newton / meter",
    "kN/m": "kilonewton / meter",
    "N/mm": "newton / millimeter",
    "N/cm": "newton / centimeter",
    "lbf/in": "pound_force / inch",
}
"""Our names of units, and those of pint, a general-purpose library of units."""

BASES = {**{name: kind.base for name, kind in KINDS.items()}, "surface_density": "kg/m2"}
"""For each kind the unit that its values are kept in."""


@pytest.fixture(scope="module")
def registry() -> Any:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("kind", "unit"), [(kind.name, unit.name) for kind in KINDS.values() for unit in kind.units])
@pytest.mark.parametrize("amount", ["1", "2.75", "1234.5", "0.001"])
def test_every_unit_agrees_with_pint(registry: Any, kind: str, unit: str, amount: str) -> None:
    theirs = registry.Quantity(float(amount), registry.Unit(IN_PINT[unit])).to(registry.Unit(IN_PINT[KINDS[kind].base]))
    assert parse(kind, f"{amount} {unit}") == pytest.approx(theirs.magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "value", "step"),
    [
        ("length", 520.34, 1 / 16),
        ("area", 212_654.0, 0.1),
        ("area", 4321.0, 0.01),
        ("mass", 250.0, 0.1),
        ("mass", 1250.0, 0.01),
        ("force", 120.0, 1.0),
        ("tension", 2000.0, 0.1),
        ("tear", 29.0, 1.0),
        ("temperature", 18.0, 1.0),
        ("density", 1200.0, 0.1),
        ("stress", 12.5, 1.0),
        ("surface_density", 0.72, 0.001),
        ("surface_density", 2.4, 0.001),
    ],
)
def test_the_figure_in_brackets_agrees_with_pint(registry: Any, kind: str, value: float, step: float) -> None:
    """Converted by pint, the value lies within half a step of the figure that is shown for it."""
    match = re.fullmatch(r"[^(]+\(([0-9. /]+?) ([^0-9() ][^()]*)\)", show(kind, value, "metric"))
    assert match is not None
    shown = float(sum(Fraction(part) for part in match[1].split(" ")))
    name = match[2].removeprefix("°").replace("³", "3").replace("²", "2")
    theirs = registry.Quantity(value, registry.Unit(IN_PINT[BASES[kind]])).to(registry.Unit(IN_PINT[name]))
    assert abs(shown - theirs.magnitude) <= step / 2


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        # International yard and pound agreement of 1959: yard 0.9144 m and pound 0.45359237 kg, exact.
        ("length", "1 in", 25.4),
        ("length", "3 ft", 914.4),
        ("mass", "1 lb", 453.59237),
        ("mass", "1 oz", 28.349523125),
        # Standard gravity of the 3rd General Conference on Weights and Measures, 1901: 9.80665 m/s2.
        ("force", "1 kgf", 9.80665),
        # NIST Special Publication 811, appendix B.8: factors that it gives as exact (from memory).
        ("force", "1 lbf", 4.4482216152605),
        ("area", "1 sq ft", 92_903.04),
        ("area", "1 sq in", 645.16),
    ],
)
def test_units_that_are_exact_by_definition_are_exact(kind: str, text: str, value: float) -> None:
    assert parse(kind, text) == value


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        # NIST Special Publication 811, appendix B.8, factors to seven digits (from memory).
        ("stress", "1 psi", 6.894757e-3),
        ("tension", "1 lbf/in", 175.1268),
        ("density", "1 lb/ft3", 16.01846),
        ("angle", "1 rad", 57.29578),
    ],
)
def test_units_agree_with_published_factors(kind: str, text: str, value: float) -> None:
    assert parse(kind, text) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    # Fixed points of the two scales: ice, steam, and where they meet (common knowledge).
    [("32 F", 0.0), ("212 F", 100.0), ("-40 F", -40.0)],
)
def test_the_two_temperature_scales_meet_at_their_fixed_points(fahrenheit: str, celsius: float) -> None:
    assert parse("temperature", fahrenheit) == celsius


@pytest.mark.parametrize(
    ("note", "hz"),
    [
        # ISO 16:1975, standard tuning frequency.
        ("A4", 440.0),
        # Tables of the equal-tempered scale at A4 = 440 Hz, to 0.01 Hz (many textbooks; from memory).
        ("C0", 16.35),
        ("E2", 82.41),
        ("A2", 110.00),
        ("C#3", 138.59),
        ("C4", 261.63),
        ("Eb4", 311.13),
        ("F#4", 369.99),
        ("G4", 392.00),
        ("B4", 493.88),
        ("C8", 4186.01),
    ],
)
def test_notes_agree_with_published_tables(note: str, hz: float) -> None:
    assert parse("pitch", note) == pytest.approx(hz, abs=0.0051)
    # Back again: the table's rounding is under half a cent from E2 up.
    assert show("pitch", parse("pitch", note), "metric").endswith(f" Hz, {note}")
