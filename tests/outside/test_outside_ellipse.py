"""Ellipses against figures from outside: complete elliptic integrals and equal divisions.

Source of the formulas: perimeter 4 a E(m), m = 1 - b^2/a^2, NIST Digital Library of Mathematical
Functions (DLMF) 19.30(i). The figures are worked out again here to 30 digits by mpmath, a
general-purpose library of functions of high precision; the digits written out are its own, too.
"""

from __future__ import annotations

import math

import mpmath
import pytest

from tauthide.geometry.elliptic import integrate_second_kind, measure_arc
from tauthide.geometry.oval import OvalOutline

# Half-axes a and b, and the perimeter as 4 a E(m) to the digits given.
PERIMETERS = [
    (10.0, 5.0, "48.4422411027"),
    (200.0, 150.0, "1105.1746080"),
    (225.0, 200.0, "1336.3321251"),
    (5.0, 3.0, "25.5269988634"),
]

# Parameter m, and the complete integral of the second kind (also in Abramowitz and Stegun, table 17.1).
COMPLETE = [(0.25, "1.46746220934"), (0.5, "1.35064388105"), (0.75, "1.21105602757")]

# Sixteen equal arcs of the ellipse with half-axes 200 and 150, the first quarter after (200, 0).
EQUAL_ARCS = [
    (180.139178, 65.167520),
    (131.214714, 113.204541),
    (68.278934, 140.988006),
    (0.0, 150.0),
]


def count_places(digits: str) -> int:
    """How many decimal places a written figure has."""
    return len(digits.partition(".")[2])


@pytest.mark.parametrize(("a", "b", "digits"), PERIMETERS)
@pytest.mark.parametrize("lying", [False, True])
def test_perimeters(a: float, b: float, digits: str, lying: bool) -> None:
    """4 a E(m), by mpmath and as written, whichever way the oval lies."""
    outline = OvalOutline(2 * b, 2 * a) if lying else OvalOutline(2 * a, 2 * b)
    with mpmath.workdps(30):
        exact = 4 * mpmath.mpf(a) * mpmath.ellipe(1 - (mpmath.mpf(b) / mpmath.mpf(a)) ** 2)
        assert abs(outline.perimeter_mm - exact) < 2e-15 * exact
    assert abs(outline.perimeter_mm - float(digits)) <= 0.51 * 10.0 ** -count_places(digits)


def test_often_quoted_perimeter_is_an_approximation() -> None:
    """For half-axes 10 and 5 the often quoted 48.4422410807 is Ramanujan's second formula, not exact.

    Source: S. Ramanujan, "Modular equations and approximations to pi", 1914:
    pi (a + b) (1 + 3 h / (10 + sqrt(4 - 3 h))), h = ((a - b) / (a + b))^2.
    """
    h = (5 / 15) ** 2
    ramanujan = math.pi * 15 * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    assert f"{ramanujan:.10f}" == "48.4422410807"
    perimeter = OvalOutline(20.0, 10.0).perimeter_mm
    assert perimeter - ramanujan == pytest.approx(2.2e-8, abs=0.1e-8)


@pytest.mark.parametrize(("m", "digits"), COMPLETE)
def test_complete_integrals(m: float, digits: str) -> None:
    """E(m), by mpmath and as tabulated."""
    ours = integrate_second_kind(math.pi / 2, m)
    with mpmath.workdps(30):
        assert abs(ours - mpmath.ellipe(mpmath.mpf(m))) < 1e-15
    assert f"{ours:.{count_places(digits)}f}" == digits


@pytest.mark.parametrize("m", [0.1, 0.4375, 0.75, -0.7777777777777778, -3.0])
@pytest.mark.parametrize("phi", [0.01, 0.4, 0.9, 1.3, 1.57])
def test_incomplete_integrals(phi: float, m: float) -> None:
    """E(phi | m) by mpmath, to about 1e-15 of itself."""
    with mpmath.workdps(30):
        exact = mpmath.ellipe(mpmath.mpf(phi), mpmath.mpf(m))
        assert abs(integrate_second_kind(phi, m) - exact) < 2e-15 * exact


def test_equal_arcs() -> None:
    """Sixteen stations, from the end of the longer axis on, to the six places given."""
    outline = OvalOutline(400.0, 300.0)
    for station, (along, across) in zip(outline.stations(16)[1:], EQUAL_ARCS, strict=False):
        x, y = outline.point(0.0, station)
        # The outline's longer axis is y and it starts at the lower end.
        assert (-y, x) == pytest.approx((along, across), abs=0.51e-6)


def test_equal_arcs_by_mpmath() -> None:
    """The same places from mpmath's own integral and root search."""
    outline = OvalOutline(400.0, 300.0)
    with mpmath.workdps(30):
        m = 1 - mpmath.mpf(200) ** 2 / mpmath.mpf(150) ** 2
        quarter = 150 * mpmath.ellipe(m)
        for number in range(1, 4):
            wanted = quarter * number / 4
            # Wanted and m are bound as defaults: each root search has its own.
            t = mpmath.findroot(
                lambda at, wanted=wanted, m=m: 150 * mpmath.ellipe(at, m) - wanted, mpmath.pi * number / 8
            )
            x, y = outline.point(0.0, outline.stations(16)[number])
            assert abs(x - 150 * mpmath.sin(t)) < 1e-12 * 400
            assert abs(y + 200 * mpmath.cos(t)) < 1e-12 * 400


@pytest.mark.parametrize("offset", [-40.0, 95.0])
def test_offset_curve_by_mpmath(offset: float) -> None:
    """Length along the curve at a distance, as mpmath's quadrature of |dP/dt| of its points."""
    with mpmath.workdps(20):

        def x(t: mpmath.mpf) -> mpmath.mpf:
            return 150 * mpmath.sin(t) + offset * 200 * mpmath.sin(t) / stretch(t)

        def y(t: mpmath.mpf) -> mpmath.mpf:
            return -200 * mpmath.cos(t) - offset * 150 * mpmath.cos(t) / stretch(t)

        def stretch(t: mpmath.mpf) -> mpmath.mpf:
            return mpmath.sqrt((200 * mpmath.sin(t)) ** 2 + (150 * mpmath.cos(t)) ** 2)

        exact = mpmath.quad(lambda t: mpmath.hypot(mpmath.diff(x, t), mpmath.diff(y, t)), [0, 0.5, 1.1])
        assert abs(measure_arc(150.0, 200.0, offset, 1.1) - exact) < 1e-11 * exact
