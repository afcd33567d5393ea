"""How sure blank and lace are: their low and high values, from the tolerances that the spec states.

Tolerances are put together at their worst: every one at the end that makes the piece smallest or largest, all at
once. Blank and lace are, as near as matters, straight-line functions of what varies, so this is the sum of
|change per unit| x tolerance; a skin that comes out too small is lost, and adding the squares would let one
drum in a few come out short.

What varies, and what it moves:

* thickness: the path round both edges, and the bundles that the handle wraps;
* turnover: the blank's edge, and with it the holes on the frame;
* stretch: a skin that gives more or less under the hands moves the holes in or out while it is laced. The blank
  is not reduced for stretch, so its size does not vary with it;
* play: each span's slack, never less than none.
"""

from __future__ import annotations

from math import hypot, pi, sqrt

from tauthide.figures import FigureSet, Workings
from tauthide.geometry.blank import BEND_ALLOWANCE, ends_on_wall, is_round

FIGURES = FigureSet()

WORST_CASE = "worst case: every tolerance at the end that counts, all at once (definition)"

EDGES = 2
"""The skin of a single head goes round the bearing edge and the back edge; each of two heads round one."""


@FIGURES.figure("skin.reach_low", "mm", "length", "Skin needed outside the frame's outline, at the least",
                "skin.reach - pi / 2 head.thickness tolerances.thickness / head.count"
                " - min(tolerances.turnover, head.turnover);"
                " or skin.reach - pi / 2 head.thickness tolerances.thickness / head.count"
                " - min(tolerances.turnover, head.drop)",
                f"{BEND_ALLOWANCE}; {WORST_CASE}")  # fmt: skip
def reach_low(w: Workings) -> float:
    """Return the reach of a blank whose skin is as thin and whose turnover as narrow as they may be."""
    narrower = min(w.given("tolerances.turnover"), w.given("head.drop" if ends_on_wall(w) else "head.turnover"))
    return w["skin.reach"] - _corners_vary(w) - narrower


@FIGURES.figure("skin.reach_high", "mm", "length", "Skin needed outside the frame's outline, at the most",
                "skin.reach + pi / 2 head.thickness tolerances.thickness / head.count + tolerances.turnover",
                f"{BEND_ALLOWANCE}; {WORST_CASE}")  # fmt: skip
def reach_high(w: Workings) -> float:
    """Return the reach of a blank whose skin is as thick and whose turnover as wide as they may be."""
    return w["skin.reach"] + _corners_vary(w) + w.given("tolerances.turnover")


@FIGURES.figure("head.blank_low", "mm", "length", "Diameter of the blank, at the least",
                "diameter + 2 skin.reach_low", WORST_CASE, is_round)  # fmt: skip
def blank_low(w: Workings) -> float:
    """Return the least diameter that the round blank may need."""
    return w.given("frame.diameter") + 2 * w["skin.reach_low"]


@FIGURES.figure("head.blank_high", "mm", "length", "Diameter of the blank, at the most",
                "diameter + 2 skin.reach_high", WORST_CASE, is_round)  # fmt: skip
def blank_high(w: Workings) -> float:
    """Return the greatest diameter that the round blank may need."""
    return w.given("frame.diameter") + 2 * w["skin.reach_high"]


@FIGURES.figure("holes.varies", "mm", "length", "The holes may lie so much further in or out on the frame",
                "tolerances.turnover + tolerances.stretch frame.half_span", WORST_CASE)  # fmt: skip
def holes_vary(w: Workings) -> float:
    """Return how far in or out from where they should lie the holes may come on the frame."""
    return w.given("tolerances.turnover") + w.given("tolerances.stretch") * w["frame.half_span"]


@FIGURES.figure("lace.net_low", "mm", "long_length", "Net length of the lace, at the least",
                "lace.net_length - lace.net_per_inset holes.varies"
                " - lace.span_count min(tolerances.play, lace.play) - what the handle saves in thin lace",
                WORST_CASE)  # fmt: skip
def net_low(w: Workings) -> float:
    """Return the net length with the holes as far in, the play as small and the lace as thin as they may be."""
    tighter = min(w.given("tolerances.play"), w.given("lace.play"))
    return (
        w["lace.net_length"]
        - w["lace.net_per_inset"] * w["holes.varies"]
        - w["lace.span_count"] * tighter
        + _handle_in(w, 1 - w.given("tolerances.thickness"))
    )


@FIGURES.figure("lace.net_high", "mm", "long_length", "Net length of the lace, at the most",
                "lace.net_length + lace.net_per_inset holes.varies"
                " + lace.span_count tolerances.play + what the handle takes more in thick lace",
                WORST_CASE)  # fmt: skip
def net_high(w: Workings) -> float:
    """Return the net length with the holes as far out, the play as large and the lace as thick as they may be."""
    return (
        w["lace.net_length"]
        + w["lace.net_per_inset"] * w["holes.varies"]
        + w["lace.span_count"] * w.given("tolerances.play")
        + _handle_in(w, 1 + w.given("tolerances.thickness"))
    )


def _corners_vary(w: Workings) -> float:
    """Return how much the skin's path round the edges varies with the skin's thickness, either way."""
    return EDGES / w["head.count"] * pi / 2 * w.given("head.thickness") / 2 * w.given("tolerances.thickness")


def _handle_in(w: Workings, share: float) -> float:
    """Return what the handle takes more in lace of `share` times the thickness; a bundle grows with its root."""
    if w.count("handle.arms") == 0:
        return 0.0
    width, thickness, bundle = w.given("lace.width"), w.given("lace.thickness"), w["handle.bundle"]
    turn = hypot(pi * (bundle + thickness), width)
    return w["lace.handle"] * (hypot(pi * (bundle * sqrt(share) + thickness * share), width) / turn - 1)
