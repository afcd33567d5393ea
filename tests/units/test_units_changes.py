"""Changes of figures as text: told apart, with the difference and its sign, in both systems."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.units import KINDS, SHOWN, show_change, show_difference

CHANGES = [
    ("length", "mm", 518.0, 520.0, ("518 mm (20 3/8 in)", "520 mm (20 1/2 in)", "+2 mm (+1/16 in)")),
    ("length", "mm", 520.0, 518.0, ("520 mm (20 1/2 in)", "518 mm (20 3/8 in)", "-2 mm (-1/16 in)")),
    ("length", "mm", 55.1, 55.3, ("55.1 mm (2.17 in)", "55.3 mm (2.18 in)", "+0.2 mm (+0.01 in)")),
    ("percentage", "1", 0.03, 0.042, ("3 %", "4.2 %", "+1.2 percentage points")),
    ("pitch", "Hz", 110.0, 112.0, ("110 Hz, A2", "112 Hz, A2 +31 cents", "+2 Hz")),
    ("area", "mm2", 62220.8, 62632.5, ("62221 mm² (96 sq in)", "62633 mm² (97 sq in)", "+412 mm² (+1 sq in)")),
    ("count", "1", 32.0, 36.0, ("32", "36", "+4")),
    ("time", "min", 60.0, 45.0, ("1 h", "45 min", "-15 min")),
]


@pytest.mark.parametrize(("style", "unit", "old", "new", "told"), CHANGES, ids=str)
def test_told(style: str, unit: str, old: float, new: float, told: tuple[str, str, str]) -> None:
    assert show_change(style, unit, old, new, "metric") == told


def test_inches_first() -> None:
    assert show_change("length", "mm", 518.0, 520.0, "inch")[2] == "+1/16 in (+2 mm)"
    assert show_difference("force", -12.0, "inch") == "-2.7 lbf (-12 N)"


@given(st.sampled_from(sorted(SHOWN - {"pitch", "temperature"})), st.integers(1, 10**7), st.integers(1, 10**7))
def test_what_differs_is_told_apart(style: str, old: int, new: int) -> None:
    """Down to a thousandth of the base unit, whatever a sheet rounds to."""
    unit = KINDS[style].base if style in KINDS else "1"
    before, after, difference = show_change(style, unit, old / 1000, new / 1000, "metric")
    assert (before == after) is (old == new)
    assert difference.startswith("+") is (new > old)
    assert difference.startswith("-") is (new < old)
