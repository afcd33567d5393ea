"""The lace: how much of it, and the disc that gives it."""

from __future__ import annotations

from math import ceil, hypot, pi, sqrt

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.lacing.lacings import lacing_of
from tauthide.lacing.order import laces_of
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

CUT_STEP_MM = 50.0
"""Laces are cut to the next 50 mm: nobody measures wet strip closer. Workshop practice, no published source."""

ROUNDING_SLACK = 1e-9
"""So that a length that is a whole number of steps but for floating point is not raised by another step."""

BUNDLE_FILL = 0.7
"""Share of a bundle's cross-section that the strands fill. Workshop practice, no published source."""

SPIRAL = "length of material on a roll: area of the ring over the width; the wedges of first and last turn are waste"


@FIGURES.figure("lace.laces", "1", "count", "Laces", "laces, as given; or 1", OWN_DEFINITION)
def laces(w: Workings) -> float:
    """Return the number of laces, each with its own anchor and tail."""
    return laces_of(w)


@FIGURES.figure("lace.handle", "mm", "long_length", "Wrapping the handle",
                "arms wrap / width x hypot(pi (handle.bundle + thickness), width); no arms: 0 mm",
                WORKSHOP)  # fmt: skip
def handle(w: Workings) -> float:
    """Return the lace that wraps the arms of the handle; 0 without arms."""
    arms = w.count("handle.arms")
    if arms == 0:
        return 0.0
    width, thickness = w.given("lace.width"), w.given("lace.thickness")
    turns = w.given("handle.wrap") / width
    return arms * turns * hypot(pi * (w["handle.bundle"] + thickness), width)


@FIGURES.figure("handle.bundle", "mm", "length", "Thickness of the bundle in each arm of the handle",
                "sqrt(4 k width thickness / (0.7 pi)), k = lace.strands / arms",
                WORKSHOP, lambda w: w.count("handle.arms") > 0)  # fmt: skip
def bundle(w: Workings) -> float:
    """Return the diameter of the bundle of strands that one arm gathers."""
    strands = w["lace.strands"] / w.count("handle.arms")
    return bundle_of(strands, w.given("lace.width"), w.given("lace.thickness"))


def bundle_of(strands: float, width_mm: float, thickness_mm: float) -> float:
    """Return the diameter in mm of a bundle of so many strands of lace."""
    return sqrt(4 * strands * width_mm * thickness_mm / (BUNDLE_FILL * pi))


@FIGURES.figure("lace.tail", "mm", "length", "Tail: held in the hand, and for the last hitches",
                "lace.laces tail", OWN_DEFINITION)  # fmt: skip
def tail(w: Workings) -> float:
    """Return the tails of all laces."""
    return w["lace.laces"] * w.given("lace.tail")


def parts_of(w: Workings) -> tuple[str, ...]:
    """Return the names of the figures that add up to the net length of this drum's lace."""
    return (*lacing_of(w).parts, "lace.handle", "lace.tail")


@FIGURES.figure("lace.net_length", "mm", "long_length", "Net length of the lace", "sum of the parts of the lace",
                OWN_DEFINITION)  # fmt: skip
def net_length(w: Workings) -> float:
    """Return the sum of the lace's parts."""
    return sum(w[part] for part in parts_of(w))


@FIGURES.figure("lace.each_length", "mm", "long_length", "Cut each lace this long",
                "lace.longest_net (1 + allowance), raised to the next 50 mm", WORKSHOP)  # fmt: skip
def each_length(w: Workings) -> float:
    """Return the length to cut of each lace, a whole number of steps of 50 mm: all are cut alike."""
    return raised(w["lace.longest_net"] * (1 + w.given("lace.allowance")))


@FIGURES.figure("lace.cut_length", "mm", "long_length", "Lace to cut, in all",
                "lace.laces lace.each_length", WORKSHOP)  # fmt: skip
def cut_length(w: Workings) -> float:
    """Return the length to cut for all laces together."""
    return w["lace.laces"] * w["lace.each_length"]


@FIGURES.figure("lace.disc_diameter", "mm", "length", "Disc that gives a lace as one spiral",
                "2 R, R = width / 2 + sqrt((core + width / 2)^2 + lace.each_length width / pi)", SPIRAL)  # fmt: skip
def disc_diameter(w: Workings) -> float:
    """Return the diameter of the disc of skin from which each lace is cut in one spiral."""
    return disc_for(w["lace.each_length"], w.given("lace.width"), w.given("lace.core"))


@FIGURES.figure("lace.half_length", "mm", "long_length", "Each lace in two pieces: cut each this long",
                "(lace.longest_net (1 + allowance) + join) / 2, raised to the next 50 mm", WORKSHOP)  # fmt: skip
def half_length(w: Workings) -> float:
    """Return the length of each of two pieces that make a lace with one join."""
    return piece_length(w["lace.longest_net"], w.given("lace.allowance"), w.given("lace.join"), 2)


@FIGURES.figure("lace.half_disc_diameter", "mm", "length", "Each lace in two pieces: disc for each",
                "2 R, R = width / 2 + sqrt((core + width / 2)^2 + lace.half_length width / pi)", SPIRAL)  # fmt: skip
def half_disc_diameter(w: Workings) -> float:
    """Return the diameter of the disc for each of two pieces."""
    return disc_for(w["lace.half_length"], w.given("lace.width"), w.given("lace.core"))


@FIGURES.figure("lace.circle_diameter", "mm", "length", "Circle of skin that holds the disc and its tab",
                "lace.disc_diameter + (tab_length^2 / 4 + lace.disc_diameter lace.tab_beyond + lace.tab_beyond^2)"
                " / (lace.disc_diameter + lace.tab_beyond)", PLANE_GEOMETRY)  # fmt: skip
def circle_diameter(w: Workings) -> float:
    """Return the diameter of the circle to cut out for the lace: the disc touches it opposite the tab."""
    return circle_for(w["lace.disc_diameter"], w["lace.tab_beyond"], w.given("lace.tab_length"))


@FIGURES.figure("lace.tab_beyond", "mm", "length", "The tab stands out beyond the disc's rim by",
                "max(tab_width - width, 0)", OWN_DEFINITION)  # fmt: skip
def tab_beyond(w: Workings) -> float:
    """Return how far the tab stands out beyond the lace's first turn; 0 where it is no wider."""
    return beyond_rim(w.given("lace.tab_width"), w.given("lace.width"))


@FIGURES.figure("lace.area", "mm2", "area", "Skin that the discs of all laces take",
                "lace.laces pi / 4 lace.disc_diameter^2", PLANE_GEOMETRY)  # fmt: skip
def disc_area(w: Workings) -> float:
    """Return the area of the discs for all laces."""
    return w["lace.laces"] * pi / 4 * w["lace.disc_diameter"] ** 2


def piece_length(net_mm: float, allowance: float, join_mm: float, pieces: int) -> float:
    """Return the length in mm of each of so many pieces that make a lace, each join taking some; in whole steps."""
    return raised((net_mm * (1 + allowance) + (pieces - 1) * join_mm) / pieces)


def beyond_rim(tab_width_mm: float, width_mm: float) -> float:
    """Return in mm how far a tab stands out beyond the rim of the disc; 0 where it is no wider than the lace."""
    return max(0.0, tab_width_mm - width_mm)


def circle_for(disc_mm: float, beyond_mm: float, tab_length_mm: float) -> float:
    """Return the diameter of the least circle that holds a disc and the tab on its rim.

    The tab lies along the rim, its middle on the axis: it is as wide as the lace's first turn and what stands out
    beyond the disc. The circle touches the disc opposite the tab, and the tab's two outer corners;
    for a tab longer than the disc is wide it is a little larger than need be.
    """
    shift = (tab_length_mm**2 / 4 + disc_mm * beyond_mm + beyond_mm**2) / (2 * (disc_mm + beyond_mm))
    return disc_mm + 2 * shift


def raised(length_mm: float) -> float:
    """Return the length raised to the next whole step of 50 mm."""
    return CUT_STEP_MM * ceil(length_mm / CUT_STEP_MM - ROUNDING_SLACK)


def disc_for(length_mm: float, width_mm: float, core_mm: float) -> float:
    """Return the diameter of the disc that gives a strip so long in one spiral round a core of that radius."""
    half = width_mm / 2
    return 2 * (half + sqrt((core_mm + half) ** 2 + length_mm * width_mm / pi))
