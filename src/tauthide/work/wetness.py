"""How long the skin is out of the water and wet, and how long it may be."""

from __future__ import annotations

from itertools import pairwise

from tauthide.figures import Workings
from tauthide.work.operations import HOUR_MIN, order_of_work

DRAWN_TIGHT = "head.tighten_again"
"""The operation with which the head is drawn tight; what is still wet after it only dries."""

LONGEST_WET: tuple[tuple[float, float], ...] = (
    (10, 24 * HOUR_MIN),
    (15, 12 * HOUR_MIN),
    (20, 8 * HOUR_MIN),
    (25, 4 * HOUR_MIN),
    (30, 2 * HOUR_MIN),
    (35, 0.0),
)
"""Longest time in minutes that wet skin may wait, by the air's temperature in degrees C.

That it spoils within hours above 20 C: CSIRO Meat Technology Update 98/3. The times themselves are workshop practice
from memory, no published source; beyond 30 C the last straight line goes on down to nothing.
"""

LONGEST_UNDRIED_MIN = 18 * HOUR_MIN
"""A head that is drawn tight may lie overnight, not over a weekend, before its drum is laid to dry: it is still wet.

Workshop practice from memory, no published source.
"""

LONGEST_SOAK: tuple[tuple[float, float], ...] = ((15, 72 * HOUR_MIN), (20, 48 * HOUR_MIN), (25, 24 * HOUR_MIN))
"""Longest time in minutes that a skin may lie in water changed daily, by the temperature in degrees C of the room.

Workshop practice from memory, no published source.
"""
AFTER_SOAK_MIN = 18 * HOUR_MIN
"""So much longer than its least time a skin may soak in any case: until the morning after."""


def longest_soak(least_min: float, air_c: float) -> float:
    """Return the longest time in minutes that a skin may lie in the water which needs so long in a room so warm."""
    return max(least_min + AFTER_SOAK_MIN, _between(LONGEST_SOAK, air_c))


def _between(points: tuple[tuple[float, float], ...], air_c: float) -> float:
    """Return the minutes at a temperature on straight lines between points; beyond the ends, the ends' minutes."""
    if air_c <= points[0][0]:
        return points[0][1]
    for (cooler, longer), (warmer, shorter) in pairwise(points):
        if air_c <= warmer:
            return longer + (shorter - longer) * (air_c - cooler) / (warmer - cooler)
    return points[-1][1]


def wet_time(w: Workings) -> float:
    """Return the minutes from lifting the skin out of the water to drawn tight: hands and waiting, one after another.

    One maker with two hands: nothing is taken to be done meanwhile. What is waited for after the head is tight
    does not count.
    """
    total = 0.0
    for operation in order_of_work(w):
        if operation.wet:
            total += operation.hand_min
            if operation.name == DRAWN_TIGHT:
                break
            total += operation.wait_min
    return total


def longest_wet_time(air_c: float) -> float:
    """Return the longest time in minutes that wet skin may wait in air of a temperature in degrees C."""
    return _between(LONGEST_WET, air_c)


def warmest_air(minutes: float) -> float | None:
    """Return the warmest air in degrees C in which wet skin may wait so long; None where no air is cool enough."""
    if minutes > LONGEST_WET[0][1]:
        return None
    for (cooler, longer), (warmer, shorter) in pairwise(LONGEST_WET):
        if minutes >= shorter:
            return cooler + (warmer - cooler) * (longer - minutes) / (longer - shorter)
    raise ValueError(f"a time is 0 or longer, not {minutes!r} min")
