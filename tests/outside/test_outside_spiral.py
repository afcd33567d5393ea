"""Strip cut from a disc against the length of a spiral and of material on a roll."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from scipy.integrate import quad

from drums import Fields, drums, mm, plan_of, some


def measure_spiral(outer: float, inner: float, pitch: float) -> float:
    """Length of an Archimedean spiral r = a theta, pitch 2 pi a, between two radii.

    Source: the arc length (a / 2) (theta sqrt(1 + theta^2) + arsinh theta) of standard tables of curves.
    """
    a = pitch / math.tau

    def from_middle(radius: float) -> float:
        theta = radius / a
        return a / 2 * (theta * math.sqrt(1 + theta**2) + math.asinh(theta))

    return from_middle(outer) - from_middle(inner)


def measure_roll(outer: float, inner: float, thickness: float) -> float:
    """Length of material on a roll: the ring's area over the thickness."""
    return math.pi * (outer**2 - inner**2) / thickness


# Outer and inner radius and pitch; length of the spiral, and of a roll. Worked out at high precision from
# the two formulas above.
LENGTHS = [
    (150.0, 20.0, 6.0, "11572.4949", "11571.5329"),
    (120.0, 15.0, 5.0, "8907.2424", "8906.4152"),
    (80.0, 10.0, 4.0, "4948.6702", "4948.0084"),
]

CARPET = (120.0, 40.0, 10.0, 4020.0)
"""A roll of carpet 12 cm in radius on a core of 4 cm, 1 cm thick: 402 cm (The Math Forum, question 56471)."""


@pytest.mark.parametrize(("outer", "inner", "pitch", "spiral", "roll"), LENGTHS)
def test_both_formulas(outer: float, inner: float, pitch: float, spiral: str, roll: str) -> None:
    """Both ways to measure agree with the figures, and with a spiral that is integrated along its angle."""
    assert f"{measure_spiral(outer, inner, pitch):.4f}" == spiral
    assert f"{measure_roll(outer, inner, pitch):.4f}" == roll
    a = pitch / math.tau
    length, _ = quad(lambda theta: a * math.hypot(theta, 1), inner / a, outer / a)
    assert float(length) == pytest.approx(float(spiral), abs=1e-3)


def test_roll_of_carpet() -> None:
    """The published roll, to the centimetre that it is given in."""
    outer, inner, thickness, length = CARPET
    assert round(measure_roll(outer, inner, thickness) / 10) * 10 == length


def test_disc_the_size_of_the_carpet() -> None:
    """From a disc the size of that roll comes a lace as long as the carpet, less the wedges at both ends.

    A roll's thickness may end anywhere; a strip of full width begins and ends with a turn that runs out to
    nothing, pi (R + r) in all. What is left, 3518 mm, lies between two whole steps of 50 mm.
    """
    outer, inner, width, carpet = CARPET
    wanted = carpet - math.pi * (outer + inner)
    shorter, longer = math.floor(wanted / 50) * 50, math.ceil(wanted / 50) * 50
    discs = [disc_for(length, width, inner) for length in (shorter, longer)]
    share = (wanted - shorter) / (longer - shorter)
    assert discs[0] < 2 * outer < discs[1]
    assert discs[0] + share * (discs[1] - discs[0]) == pytest.approx(2 * outer, abs=0.1)


def disc_for(length: float, width: float, core: float) -> float:
    """Diameter of the disc for a lace of that length: of a small drum, its tail as long as it takes."""
    small: Fields = {
        "frame.outline": "round",
        "frame.diameter": "8 in",
        "frame.depth": "40 mm",
        "head.hide": "goat",
        "stations.count": 4,
        "lace.width": mm(width),
        "lace.core": mm(core),
        "lace.play": "0 mm",
        "lace.allowance": "0 %",
        "handle.arms": 0,
    }
    bare = plan_of(small, lace_tail="0 mm")["lace.net_length"]
    plan = plan_of(small, lace_tail=mm(length - bare))
    assert plan["lace.cut_length"] == length
    return plan["lace.disc_diameter"]


@some
@given(drums())
def test_disc_gives_the_lace(fields: Fields) -> None:
    """The strip's middle is a spiral from half a width inside the disc's edge to as much outside the core.

    Exactly measured it is never shorter than the lace that is wanted, and longer by a few mm at most.
    """
    plan = plan_of(fields)
    width, core = plan.spec.number("lace.width"), plan.spec.number("lace.core")
    for disc, wanted in (("disc_diameter", "cut_length"), ("half_disc_diameter", "half_length")):
        outer = plan[f"lace.{disc}"] / 2
        found = measure_spiral(outer - width / 2, core + width / 2, width)
        assert 0 <= found - plan[f"lace.{wanted}"] < width
