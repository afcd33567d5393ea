"""Figures as text: each kind, each system, and which way they are rounded."""

from __future__ import annotations

import pytest

from tauthide import units
from tauthide.units import KINDS, SHOWN, Direction, show

IN_MM = 25.4


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [
        (520.34, "520 mm", "20 1/2 in"),
        (0.0, "0 mm", "0 in"),
        (0.4, "0 mm", "0 in"),
        (11.1, "11 mm", "7/16 in"),
        (330.2, "330 mm", "13 in"),
        (520.5, "521 mm", "20 1/2 in"),
        (0.5 / 16 * IN_MM, "1 mm", "1/16 in"),
        (12.7, "13 mm", "1/2 in"),
        (-10.0, "-10 mm", "-3/8 in"),
        (-0.2, "0 mm", "0 in"),
        (1000.0, "1000 mm", "39 3/8 in"),
    ],
)
def test_a_length_is_shown_in_both_systems(mm: float, metric: str, inch: str) -> None:
    assert units.metric_length(mm) == metric
    assert units.inch_length(mm) == inch
    assert units.length(mm, "metric") == f"{metric} ({inch})"
    assert units.length(mm, "inch") == f"{inch} ({metric})"


@pytest.mark.parametrize(
    ("direction", "shown"),
    [
        ("nearest", "520 mm (20 1/2 in)"),
        ("up", "521 mm (20 1/2 in)"),
        ("down", "520 mm (20 7/16 in)"),
    ],
)
def test_a_length_is_rounded_the_way_that_is_asked(direction: Direction, shown: str) -> None:
    assert units.length(520.34, "metric", direction) == shown


@pytest.mark.parametrize("direction", ["nearest", "up", "down"])
@pytest.mark.parametrize("sixteenths", range(1, 400, 7))
def test_an_exact_sixteenth_stays_itself_in_every_direction(sixteenths: int, direction: Direction) -> None:
    exact = units.parse("length", units.inch_length(sixteenths * IN_MM / 16))
    assert units.inch_length(exact, direction) == units.inch_length(sixteenths * IN_MM / 16)
    assert units.parse("length", units.inch_length(exact, direction)) * 16 / IN_MM == pytest.approx(sixteenths)


def test_thickness_keeps_its_last_digit() -> None:
    assert units.fine_length(0.9, "metric") == "0.9 mm (0.035 in)"
    assert units.fine_length(1.0, "inch") == "0.039 in (1.0 mm)"
    assert units.fine_length(0.91, "metric", "up") == "1.0 mm (0.036 in)"


@pytest.mark.parametrize(
    ("mm", "shown"),
    [
        (12350.0, "12.35 m (40 ft 6 1/4 in)"),
        (7200.0, "7.20 m (23 ft 7 7/16 in)"),
        (1000.0, "1.00 m (3 ft 3 3/8 in)"),
        (-1000.0, "-1.00 m (-3 ft 3 3/8 in)"),
        (999.0, "999 mm (39 5/16 in)"),
        (304.8, "305 mm (12 in)"),
        (0.0, "0 mm (0 in)"),
        (6096.0, "6.10 m (20 ft)"),
    ],
)
def test_a_lace_is_shown_in_metres_and_feet_a_short_one_as_any_length(mm: float, shown: str) -> None:
    assert units.long_length(mm, "metric") == shown
    metric, inch = shown.rstrip(")").split(" (")
    assert units.long_length(mm, "inch") == f"{inch} ({metric})"


@pytest.mark.parametrize(
    ("kind", "value", "metric", "inch"),
    [
        ("area", 95_400.0, "0.10 m² (1.0 sq ft)", "1.0 sq ft (0.10 m²)"),
        ("area", 212_654.0, "0.21 m² (2.3 sq ft)", "2.3 sq ft (0.21 m²)"),
        ("area", 78.5, "79 mm² (0.12 sq in)", "0.12 sq in (79 mm²)"),
        ("angle", 22.5, "22.5°", "22.5°"),
        ("angle", 30.04, "30°", "30°"),
        ("fine_angle", 11.25, "11.25°", "11.25°"),
        ("fine_angle", 22.5, "22.5°", "22.5°"),
        ("mass", 250.0, "250 g (8.8 oz)", "8.8 oz (250 g)"),
        ("mass", 1250.0, "1.25 kg (2.76 lb)", "2.76 lb (1.25 kg)"),
        ("time", 0.0, "0 min", "0 min"),
        ("time", 45.0, "45 min", "45 min"),
        ("time", 90.0, "1 h 30 min", "1 h 30 min"),
        ("time", 360.0, "6 h", "6 h"),
        ("time", 36 * 60.0, "36 h", "36 h"),
        ("time", 48 * 60.0, "2 days", "2 days"),
        ("time", 60 * 60.0 + 5, "2 days 12 h 5 min", "2 days 12 h 5 min"),
        ("percentage", 0.08, "8 %", "8 %"),
        ("percentage", 0.0853, "8.5 %", "8.5 %"),
        ("pitch", 110.0, "110 Hz, A2", "110 Hz, A2"),
        ("pitch", 110.765, "110.8 Hz, A2 +12 cents", "110.8 Hz, A2 +12 cents"),
        ("pitch", 109.94, "109.9 Hz, A2 -1 cent", "109.9 Hz, A2 -1 cent"),
        ("pitch", 5.0, "5 Hz", "5 Hz"),
        ("force", 120.0, "120 N (27 lbf)", "27 lbf (120 N)"),
        ("force", 3.0, "3 N (0.7 lbf)", "0.7 lbf (3 N)"),
        ("tension", 2000.0, "2000 N/m (11.4 lbf/in)", "11.4 lbf/in (2000 N/m)"),
        ("tear", 29.0, "29 N/mm (166 lbf/in)", "166 lbf/in (29 N/mm)"),
        ("temperature", 18.0, "18 °C (64 °F)", "64 °F (18 °C)"),
        ("temperature", -20.0, "-20 °C (-4 °F)", "-4 °F (-20 °C)"),
        ("density", 1200.0, "1200 kg/m³ (74.9 lb/ft³)", "74.9 lb/ft³ (1200 kg/m³)"),
        ("stress", 10.0, "10 N/mm² (1450 psi)", "1450 psi (10 N/mm²)"),
        ("surface_density", 0.72, "0.72 kg/m² (0.147 lb/sq ft)", "0.147 lb/sq ft (0.72 kg/m²)"),
        ("surface_density", 0.0, "0 kg/m² (0 lb/sq ft)", "0 lb/sq ft (0 kg/m²)"),
        # Half a step either way; and zeros at the end are dropped.
        ("surface_density", 0.125, "0.13 kg/m² (0.026 lb/sq ft)", "0.026 lb/sq ft (0.13 kg/m²)"),
        ("surface_density", 2.4, "2.4 kg/m² (0.492 lb/sq ft)", "0.492 lb/sq ft (2.4 kg/m²)"),
        ("count", 32.0, "32", "32"),
        ("length", 520.34, "520 mm (20 1/2 in)", "20 1/2 in (520 mm)"),
        ("nominal", 9.525, "9.5 mm (3/8 in)", "3/8 in (9.5 mm)"),
        ("nominal", 27.5, "27.5 mm (1 1/16 in)", "1 1/16 in (27.5 mm)"),
        ("nominal", 10.0, "10 mm (3/8 in)", "3/8 in (10 mm)"),
        ("nominal", 12.7, "12.5 mm (1/2 in)", "1/2 in (12.5 mm)"),
        ("fine_length", 0.9, "0.9 mm (0.035 in)", "0.035 in (0.9 mm)"),
        ("long_length", 12350.0, "12.35 m (40 ft 6 1/4 in)", "40 ft 6 1/4 in (12.35 m)"),
    ],
)
def test_a_figure_is_shown_by_the_name_of_its_kind(kind: str, value: float, metric: str, inch: str) -> None:
    assert show(kind, value, "metric") == metric
    assert show(kind, value, "inch") == inch


def test_every_kind_that_is_read_can_be_shown() -> None:
    assert SHOWN - set(KINDS) == {"fine_angle", "fine_length", "long_length", "nominal", "surface_density", "count"}
    assert set(KINDS) <= SHOWN
    with pytest.raises(KeyError):
        show("colour", 1.0, "metric")


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [
        (0.1 + 0.2, 1, "0.3"),
        (2.675, 2, "2.68"),
        (1.005, 2, "1.01"),
        (0.5, 0, "1"),
        (1.5, 0, "2"),
        (2.5, 0, "3"),
        (-2.5, 0, "-3"),
        (-0.04, 1, "0"),
        (12.5, 3, "12.5"),
        (100.0, 0, "100"),
        (100.0, 2, "100"),
        (1e15, 0, "1000000000000000"),
    ],
)
def test_a_number_is_shown_without_float_noise(value: float, decimals: int, shown: str) -> None:
    assert units.number(value, decimals) == shown


def test_a_number_keeps_its_zeros_when_asked() -> None:
    assert units.number(12.5, 3, fixed=True) == "12.500"
    assert units.number(-0.0, 1, fixed=True) == "0.0"


def test_the_nearest_note_changes_half_way() -> None:
    quarter_tone = 2.0 ** (1 / 24)
    assert units.note(110.0 * quarter_tone * 0.9994) == "A2 +49 cents"
    assert units.note(110.0 * quarter_tone * 1.0006) == "Bb2 -49 cents"
    assert units.note(0.0) == ""
