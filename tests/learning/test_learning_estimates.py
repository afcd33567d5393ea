"""Estimates held to what they say of themselves, by simulation and by published values."""

from __future__ import annotations

import random
from collections.abc import Callable
from statistics import NormalDist, fmean, median

import pytest
from scipy.stats import binom, t

from tauthide.learning.estimates import (
    FAR_OUT,
    LEAST_RECORDS,
    LEVEL,
    Interval,
    far_out,
    median_interval,
    records_needed,
    shrunk,
    sigma_of,
    t_quantile,
    upper_interval,
)

ROUNDS = 3000
TOLERANCE = 0.02
"""Four standard errors of a share of 0.9 in 3000 rounds: 4 sqrt(0.9 x 0.1 / 3000)."""

Draw = Callable[[random.Random], float]
SHAPES: dict[str, Draw] = {
    "normal": lambda rng: rng.gauss(0, 1),
    "flat": lambda rng: rng.uniform(-1, 1),
    "skewed": lambda rng: rng.lognormvariate(0, 0.5) - 1,
    "long tails": lambda rng: rng.gauss(0, 1) / (fmean(rng.gauss(0, 1) ** 2 for _ in range(3)) ** 0.5),
    "slips": lambda rng: rng.gauss(0, 1) if rng.random() < 0.9 else rng.choice((-1, 1)) * rng.uniform(5, 500),
}
"""Distributions whose median is 0."""


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("count", [5, 6, 9, 14, 30])
def test_interval_of_the_median_holds_nine_times_in_ten(shape: str, count: int) -> None:
    rng = random.Random(f"median {shape} {count}")
    held = sum(0 in median_interval([SHAPES[shape](rng) for _ in range(count)]) for _ in range(ROUNDS))
    assert held / ROUNDS == pytest.approx(LEVEL, abs=TOLERANCE)


@pytest.mark.parametrize("count", [5, 6, 9, 14, 30, 60])
def test_interval_of_what_is_enough_holds_nine_times_in_ten_for_normal_values(count: int) -> None:
    truth = NormalDist().inv_cdf(0.9)
    rng = random.Random(f"upper {count}")
    held = sum(
        truth in upper_interval([rng.gauss(0, 1) for _ in range(count)], 0.9)[1] for _ in range(ROUNDS)
    )  # fmt: skip
    assert held / ROUNDS == pytest.approx(LEVEL, abs=2 * TOLERANCE)


@pytest.mark.parametrize("count", [5, 8, 13, 40])
def test_spread_of_few_normal_values_is_right_on_average(count: int) -> None:
    rng = random.Random(f"spread {count}")
    mean = fmean(sigma_of([rng.gauss(3, 2) for _ in range(count)]) for _ in range(ROUNDS))
    assert mean == pytest.approx(2, rel=0.03)


@pytest.mark.parametrize("count", range(LEAST_RECORDS, 40))
def test_interval_lies_between_the_order_statistics_of_the_binomial_law(count: int) -> None:
    """The law of order statistics by scipy's binomial distribution (H. A. David, "Order Statistics", 2.5)."""
    depth = max(d for d in range(1, count) if 1 - 2 * binom.cdf(d - 1, count, 0.5) >= LEVEL)
    values = [float(value**2) for value in range(count)]
    interval = median_interval(values)
    assert values[depth - 1] <= interval.low <= values[depth]
    assert values[-depth - 1] <= interval.high <= values[-depth]


def test_too_few_values_have_no_interval() -> None:
    with pytest.raises(ValueError, match="4 values are too few"):
        median_interval([1.0] * (LEAST_RECORDS - 1))
    assert median_interval([1.0] * LEAST_RECORDS) == Interval(1.0, 1.0)


@pytest.mark.parametrize("freedom", [2, 2.5, 3, 4, 9, 30])
def test_quantiles_of_student_s_t(freedom: float) -> None:
    assert t_quantile(0.95, freedom) == pytest.approx(t.ppf(0.95, freedom), rel=0.01)


class TestOneAbsurdRecord:
    GOOD = (9.7, 9.9, 10.0, 10.1, 10.3, 10.4, 10.6, 10.8)

    @pytest.mark.parametrize("absurd", [-1e6, 0.0, 30.0, 1e6])
    def test_the_middle_moves_by_less_than_to_its_neighbour(self, absurd: float) -> None:
        assert abs(median((*self.GOOD, absurd)) - median(self.GOOD)) < 0.1 + 1e-9

    def test_how_absurd_makes_no_difference(self) -> None:
        intervals = {(median_interval((*self.GOOD, absurd)), sigma_of((*self.GOOD, absurd))) for absurd in (30.0, 1e9)}
        assert len(intervals) == 1

    def test_it_is_told(self) -> None:
        assert far_out((*self.GOOD, 30.0), 0.01) == (8,)
        assert far_out(self.GOOD, 0.01) == ()

    def test_equal_values_make_nothing_far_that_is_near(self) -> None:
        assert far_out((10.0,) * 8 + (10.1,), 0.1) == ()
        assert far_out((10.0,) * 8 + (10.0 + 0.11 * FAR_OUT,), 0.1) == (8,)


class TestShrinking:
    def test_between_usual_and_found(self) -> None:
        assert shrunk(12.0, Interval(6.0, 18.0), 10.0, 1.0) == pytest.approx(10 + 2 / (1 + (6 / 1.6449) ** 2), rel=1e-4)

    def test_never_out_of_the_interval(self) -> None:
        assert shrunk(20.0, Interval(19.0, 21.0), 0.0, 0.01) == 19.0

    def test_certain_records_are_taken_as_they_are(self) -> None:
        assert shrunk(12.0, Interval(12.0, 12.0), 10.0, 1.0) == 12.0


@pytest.mark.parametrize(("share", "sigma"), [(None, 1.0), (None, 3.0), (0.9, 1.0)])
def test_so_many_records_as_are_said_to_settle_it_do(share: float | None, sigma: float) -> None:
    rng = random.Random(f"needed {share} {sigma}")
    count = records_needed(sigma, 0.5, share)
    halves = []
    for _ in range(300):
        values = [rng.gauss(0, sigma) for _ in range(count)]
        halves.append((median_interval(values) if share is None else upper_interval(values, share)[1]).half)
    assert median(halves) == pytest.approx(0.5, rel=0.12)
