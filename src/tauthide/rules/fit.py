"""How a lace goes through a hole."""

from __future__ import annotations

from math import pi, sqrt

from tauthide.figures import Workings

FILL = 0.4
"""Of a hole's area a running lace may fill: wet lace swells, and must slide while it is drawn tight.

Workshop practice, no published source.
"""

SLACK_SHARE = 0.5
"""A lace of less than this share of the hole's width lies loose in it. Workshop practice, no published source."""


def hole_area(w: Workings) -> float:
    """Return the area of a hole in mm2."""
    return pi / 4 * w.given("stations.hole") ** 2


def lace_section(w: Workings) -> float:
    """Return the cross-section of the lace in mm2."""
    return w.given("lace.width") * w.given("lace.thickness")


def least_hole(w: Workings) -> float:
    """Return the least hole in mm in which the lace runs: it fills no more than its share, nor overlaps itself.

    Curled into the hole the lace lies along its wall, half its thickness inside: pi (hole - thickness) long.
    """
    return max(sqrt(4 * lace_section(w) / (FILL * pi)), w.given("lace.width") / pi + w.given("lace.thickness"))


def passing_hole(w: Workings) -> float:
    """Return the hole in mm below which the lace can't pass at all: it is as large as the lace, and as thick."""
    return max(sqrt(4 * lace_section(w) / pi), w.given("lace.thickness"))


def widest_lace(w: Workings) -> float:
    """Return the width in mm of the widest lace of this thickness that runs in the holes; 0 or less for none."""
    hole, thickness = w.given("stations.hole"), w.given("lace.thickness")
    return min(FILL * hole_area(w) / thickness, pi * (hole - thickness))


def most_hole(w: Workings) -> float:
    """Return the hole in mm above which the lace lies loose in it."""
    return w.given("lace.width") / SLACK_SHARE
