"""The circle that a lace's disc and tab are cut out of: it holds both, and none smaller does."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from tauthide.quantities.lace import circle_for


@given(st.floats(90, 600), st.floats(0, 30), st.floats(20, 90))
def test_the_least_circle_by_search(disc: float, beyond: float, tab_length: float) -> None:
    """A circle's middle lies on the axis through the tab's: its least radius is found by trying, as a maker would."""
    radius, top = disc / 2, disc / 2 + beyond

    def needed(shift: float) -> float:
        return max(radius + abs(shift), math.hypot(tab_length / 2, top - shift))

    found = minimize_scalar(needed, bounds=(0, disc), method="bounded", options={"xatol": 1e-9})
    assert circle_for(disc, beyond, tab_length) / 2 == pytest.approx(found.fun, abs=1e-4)


def test_one_by_hand() -> None:
    # Disc of 140, tab 50 long that stands out 18: s = (625 + 2520 + 324) / 316 = 10.978.
    assert circle_for(140, 18, 50) == pytest.approx(140 + 2 * 3469 / 316)
