"""Lengths along ellipses, against exact cases and a numerical library."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipeinc, elliprd, elliprf

from tauthide.geometry.elliptic import (
    find_parameter,
    integrate_rd,
    integrate_rf,
    integrate_second_kind,
    measure_arc,
    measure_quarter,
    turn_normal,
)

arguments = st.floats(1e-3, 1e3)
half_axes = st.floats(25.0, 1000.0)
parameters = st.floats(-12.0, 12.0)


class TestCarlson:
    """The symmetric integrals themselves."""

    @given(arguments, arguments, arguments)
    def test_agrees_with_scipy(self, x: float, y: float, z: float) -> None:
        """Both integrals agree with scipy's to a few units in the last place."""
        assert integrate_rf(x, y, z) == pytest.approx(float(elliprf(x, y, z)), rel=2e-15, abs=0)
        assert integrate_rd(x, y, z) == pytest.approx(float(elliprd(x, y, z)), rel=3e-15, abs=0)

    @given(arguments)
    def test_equal_arguments(self, x: float) -> None:
        """With three equal arguments they are powers: x^-1/2 and x^-3/2."""
        assert integrate_rf(x, x, x) == pytest.approx(x**-0.5, rel=1e-15, abs=0)
        assert integrate_rd(x, x, x) == pytest.approx(x**-1.5, rel=1e-15, abs=0)

    def test_one_argument_zero(self) -> None:
        """R_F(0, 1, 1) is half of pi; R_D(0, 1, 1) three quarters of it."""
        assert integrate_rf(0.0, 1.0, 1.0) == pytest.approx(math.pi / 2, rel=1e-15)
        assert integrate_rd(0.0, 1.0, 1.0) == pytest.approx(3 * math.pi / 4, rel=1e-15)


class TestSecondKind:
    """E(phi | m)."""

    @given(st.floats(-math.pi / 2, math.pi / 2), st.floats(-20.0, 0.99))
    def test_agrees_with_scipy(self, phi: float, m: float) -> None:
        """For moduli of both signs, up to a right angle either way."""
        assert integrate_second_kind(phi, m) == pytest.approx(float(ellipeinc(phi, m)), rel=4e-15, abs=1e-300)

    @pytest.mark.parametrize("phi", [0.0, 0.3, 1.0, math.pi / 2])
    def test_closed_ends(self, phi: float) -> None:
        """E(phi | 0) is the angle; E(phi | 1) its sine."""
        assert integrate_second_kind(phi, 0.0) == pytest.approx(phi, rel=1e-15)
        assert integrate_second_kind(phi, 1.0) == pytest.approx(math.sin(phi), rel=1e-15)


class TestLengths:
    """Lengths along an ellipse and the curves at a distance from it."""

    @given(half_axes, half_axes, st.floats(0.0, 200.0), st.floats(0.001, 6.5))
    def test_against_quadrature(self, half_x: float, half_y: float, offset: float, t: float) -> None:
        """The closed form is the integral of the speed along the curve."""

        def speed(at: float) -> float:
            ellipse = math.hypot(half_x * math.cos(at), half_y * math.sin(at))
            return ellipse + offset * half_x * half_y / ellipse**2

        knots = [k * math.pi / 2 for k in range(6) if k * math.pi / 2 < t] + [t]
        numeric = sum(quad(speed, a, b, epsabs=1e-9, epsrel=1e-11, limit=200)[0] for a, b in pairwise(knots))
        assert measure_arc(half_x, half_y, offset, t) == pytest.approx(numeric, rel=1e-10, abs=1e-8)

    @given(half_axes, half_axes, st.floats(-0.9, 2.0), parameters)
    def test_found_again(self, half_x: float, half_y: float, share: float, t: float) -> None:
        """The place found for a measured length is the place measured to."""
        offset = share * min(half_x**2 / half_y, half_y**2 / half_x)
        arc = measure_arc(half_x, half_y, offset, t)
        again = find_parameter(half_x, half_y, offset, arc)
        quarter = measure_quarter(half_x, half_y)
        assert measure_arc(half_x, half_y, offset, again) == pytest.approx(arc, rel=1e-14, abs=1e-14 * quarter)

    @given(half_axes, half_axes, parameters, st.integers(-3, 3))
    def test_half_turns_add_up(self, half_x: float, half_y: float, t: float, turns: int) -> None:
        """Each half turn of t adds half the perimeter, and half a turn of the normal."""
        half = 2 * measure_quarter(half_x, half_y)
        whole = measure_arc(half_x, half_y, 0.0, t + turns * math.pi)
        scale = abs(whole) + 8 * half
        assert abs(whole - measure_arc(half_x, half_y, 0.0, t) - turns * half) <= 1e-14 * scale
        turned = turn_normal(half_x, half_y, t + turns * math.pi) - turn_normal(half_x, half_y, t)
        assert turned == pytest.approx(turns * math.pi, abs=1e-12)

    @given(half_axes, parameters)
    def test_a_circle(self, radius: float, t: float) -> None:
        """Equal half-axes make the length the angle times the radius."""
        assert measure_arc(radius, radius, 7.0, t) == pytest.approx((radius + 7.0) * t, rel=1e-14, abs=1e-12)

    @given(half_axes, half_axes, parameters)
    def test_is_odd(self, half_x: float, half_y: float, t: float) -> None:
        """Backwards is forwards mirrored, to the last bit."""
        assert measure_arc(half_x, half_y, 5.0, -t) == -measure_arc(half_x, half_y, 5.0, t)
        assert find_parameter(half_x, half_y, 5.0, -t) == -find_parameter(half_x, half_y, 5.0, t)
