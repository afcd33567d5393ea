"""Robust estimates from few measurements, with intervals that hold at a stated rate.

The centre is the median. Its interval lies between order statistics, and between two neighbours of them so that it
holds at the stated rate whatever the distribution's spread: T. P. Hettmansperger and S. J. Sheather, "Confidence
intervals based on interpolated order statistics", Statistics & Probability Letters 4 (1986), 75-79.
The spread is the median absolute deviation, scaled to agree with the standard deviation of a normal distribution,
with factors for few values by C. Croux and P. J. Rousseeuw, "Time-efficient algorithms for two highly robust
estimators of scale", Computational Statistics 1 (1992), 411-428. Values far out are told by the modified z-score:
B. Iglewicz and D. C. Hoaglin (1993), in the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.
A centre is drawn towards a usual value, but never out of its interval: B. Efron and C. Morris, "Limiting the risk of
Bayes and empirical Bayes estimators, part II", Journal of the American Statistical Association 67 (1972), 130-139.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, comb, pi, sqrt
from statistics import NormalDist, median

LEVEL = 0.9
"""An interval holds the truth so often. Our own choice: nine times in ten is what a bench goes by."""

LEAST_RECORDS = 5
"""With fewer values, not even the least and the greatest hold the median nine times in ten: 1 - 2/2^4 is 0.875."""

MAD_TO_SIGMA = 1 / NormalDist().inv_cdf(0.75)
"""Makes the median absolute deviation of a normal distribution its standard deviation: 1.4826."""
_FEW = {2: 1.196, 3: 1.495, 4: 1.363, 5: 1.206, 6: 1.200, 7: 1.140, 8: 1.129, 9: 1.107}
_MANY = 0.8
"""Croux and Rousseeuw: with more values the factor is n / (n - 0.8)."""

FAR_OUT = 3.5
"""Modified z-score from which a value is told as far out (Iglewicz and Hoaglin)."""

MEDIAN_VARIANCE = pi / 2
"""Variance of the median of n normal values, over sigma^2 / n: C. R. Rao, "Linear Statistical Inference and Its
Applications" (1973), 6f.2."""
MAD_VARIANCE = 1.361
"""The same of the scaled median absolute deviation: half over its efficiency of 0.3674 (Croux and Rousseeuw)."""

SPREAD_FREEDOM = 0.5
"""Degrees of freedom of that spread for each value beyond the first: our own choice between its efficiency and 1, by
simulation with 5 to 40 normal values; `tests/learning/test_learning_estimates.py` holds it to the stated rate."""


@dataclass(frozen=True, slots=True)
class Interval:
    """Where the truth lies, nine times in ten."""

    low: float
    high: float

    @property
    def half(self) -> float:
        """Half of its width."""
        return (self.high - self.low) / 2

    def __contains__(self, value: float) -> bool:
        """Tell whether a value lies in it, its ends included."""
        return self.low <= value <= self.high

    def nearest(self, value: float) -> float:
        """Return the value of the interval that lies nearest."""
        return min(max(value, self.low), self.high)


def sigma_of(values: Sequence[float]) -> float:
    """Return the spread of at least two values as a standard deviation, by their median absolute deviation."""
    middle = median(values)
    count = len(values)
    factor = _FEW.get(count, count / (count - _MANY))
    return factor * MAD_TO_SIGMA * median(abs(value - middle) for value in values)


def median_interval(values: Sequence[float], level: float = LEVEL) -> Interval:
    """Return the interval of the median; ValueError where there are too few values for one at this level."""
    ordered, count = sorted(values), len(values)
    depth = 1
    if _coverage(count, depth) < level:
        raise ValueError(f"{count} values are too few for a level of {level}")
    while _coverage(count, depth + 1) >= level:
        depth += 1
    outer, inner = _coverage(count, depth), _coverage(count, depth + 1)
    share = (outer - level) / (outer - inner)
    inward = (count - depth) * share / (depth + (count - 2 * depth) * share)
    low = (1 - inward) * ordered[depth - 1] + inward * ordered[depth]
    high = (1 - inward) * ordered[count - depth] + inward * ordered[count - depth - 1]
    return Interval(low, high)


def _coverage(count: int, depth: int) -> float:
    """Return how likely the median lies between the `depth`-th value from below and that from above."""
    return 1 - sum(comb(count, below) for below in range(depth)) / float(2 ** (count - 1))


def upper_interval(values: Sequence[float], share: float, level: float = LEVEL) -> tuple[float, Interval]:
    """Return what so great a share of values stays below, taken for normal by median and spread, and its interval.

    Median and spread of a symmetrical distribution err independently, so their variances add up.
    """
    count = len(values)
    middle, sigma = median(values), sigma_of(values)
    reach = NormalDist().inv_cdf(share)
    error = sigma * sqrt((MEDIAN_VARIANCE + reach**2 * MAD_VARIANCE) / count)
    width = t_quantile((1 + level) / 2, SPREAD_FREEDOM * (count - 1)) * error
    centre = middle + reach * sigma
    return centre, Interval(centre - width, centre + width)


def t_quantile(share: float, freedom: float) -> float:
    """Return the quantile of Student's t distribution, within 1 % from 2 degrees of freedom on up to a share of 0.95.

    M. Abramowitz and I. A. Stegun, "Handbook of Mathematical Functions" (1964), 26.7.5.
    """
    x = NormalDist().inv_cdf(share)
    terms = (
        (x**3 + x) / 4,
        (5 * x**5 + 16 * x**3 + 3 * x) / 96,
        (3 * x**7 + 19 * x**5 + 17 * x**3 - 15 * x) / 384,
        (79 * x**9 + 776 * x**7 + 1482 * x**5 - 1920 * x**3 - 945 * x) / 92160,
    )
    return x + sum(term / freedom**power for power, term in enumerate(terms, 1))


def shrunk(centre: float, interval: Interval, usual: float, prior_sigma: float) -> float:
    """Return the centre drawn towards a usual value by how far shops differ, but never out of its interval."""
    own = (interval.half / NormalDist().inv_cdf((1 + LEVEL) / 2)) ** 2
    if own == 0:
        return centre
    weight = prior_sigma**2 / (prior_sigma**2 + own)
    return interval.nearest(usual + weight * (centre - usual))


def far_out(values: Sequence[float], least_sigma: float) -> tuple[int, ...]:
    """Return the indexes of values that lie far from the rest.

    Where most values are the same, a difference that is less than `least_sigma` counts for nothing.
    """
    if len(values) < LEAST_RECORDS:
        return ()
    middle = median(values)
    scale = max(MAD_TO_SIGMA * median(abs(value - middle) for value in values), least_sigma)
    return tuple(index for index, value in enumerate(values) if abs(value - middle) > FAR_OUT * scale)


def records_needed(sigma: float, wanted_half: float, share: float | None = None) -> int:
    """Return how many records make an interval of the wanted half width, at least `LEAST_RECORDS`."""
    z = NormalDist().inv_cdf((1 + LEVEL) / 2)
    reach = 0.0 if share is None else NormalDist().inv_cdf(share)
    variance = MEDIAN_VARIANCE + reach**2 * MAD_VARIANCE
    return max(LEAST_RECORDS, ceil(variance * (z * sigma / wanted_half) ** 2))
