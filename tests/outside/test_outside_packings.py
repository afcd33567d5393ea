"""Packing problems with published answers: how near the cutting engine comes, with so many rounds and a fixed seed.

The bounds are the project's own; the time that this takes is measured by the bench.
"""

from __future__ import annotations

import math

import pytest

import packings
from cutting_bounds import most_discs
from tauthide.cutting.hides import Hide

NEAR = 0.99
"""Share of the best known radius at which all equal circles must be laid."""

GROWING_BEYOND, STRIP_BEYOND = 1.005, 1.06
"""The most of the least known radius or length, for radii 1 to N and for the strip."""

ROUNDS = 1500


@pytest.mark.parametrize(("count", "best"), list(enumerate(packings.BEST_IN_SQUARE, 2)))
def test_equal_circles_in_a_square(count: int, best: float) -> None:
    """E. Specht, The best known packings of equal circles in a square."""
    assert packings.packs(packings.square(1.0), (best * NEAR,) * count, ROUNDS)


@pytest.mark.parametrize(("count", "best"), list(enumerate(packings.BEST_IN_CIRCLE, 2)))
def test_equal_circles_in_a_circle(count: int, best: float) -> None:
    """E. Specht, The best known packings of equal circles in a circle."""
    assert packings.packs(packings.inscribed(1.0), (best * NEAR,) * count, ROUNDS)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 7, 8, 9])
def test_no_circle_is_larger_than_proven_best(count: int) -> None:
    """The square's best radii are proven optimal up to 30: a tenth of a percent more cannot be laid."""
    radius = packings.BEST_IN_SQUARE[count - 2] * 1.001
    assert not packings.packs(packings.square(1.0), (radius,) * count, 60)


@pytest.mark.parametrize("seed", [0, 1, 2])
@pytest.mark.parametrize(("count", "best"), list(packings.LEAST_ROUND_1_TO.items()))
def test_growing_circles_in_a_circle(count: int, best: float, seed: int) -> None:
    """Radii 1 to N: table of the iterated tabu search for unequal circles (Fu, Huang and Lu); N = 9, 10 from memory.

    Nor is anything found that is smaller than the least known by more than a thousandth of a unit.
    """
    found = packings.least_size(packings.CIRCLE, packings.growing(count), packings.growing_rounds(count), seed)
    assert best - 0.001 < found <= best * GROWING_BEYOND


def test_thirty_circles_in_a_strip() -> None:
    """E. Specht, Circles in a circular open dimension problem (packomania, 2012): 17.039663 long."""
    assert packings.packs(packings.strip(packings.LEAST_STRIP * STRIP_BEYOND), packings.STRIP_RADII, ROUNDS)


@pytest.mark.parametrize(("count", "best"), list(enumerate(packings.BEST_IN_SQUARE, 2)))
def test_the_bound_is_not_below_the_best_known(count: int, best: float) -> None:
    """And, being by area, not far above it: less than a third, and one."""
    hide = Hide("square", "goat", packings.square(1.0), 1.0)
    assert count <= most_discs(hide, best * packings.SCALE_MM * (1 - 1e-6)) <= math.ceil(count * 4 / 3) + 1
