"""A hoop bent from one strip: how long, wide and thick the strip is, how it is joined, steamed and dried."""

from __future__ import annotations

from math import hypot, pi

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.geometry.blank import outline_of
from tauthide.quantities.movement import MOVEMENT, grown, is_bent
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

MM_PER_IN = 25.4
STEAM_LEAST_MIN_PER_MM = 30 / MM_PER_IN
"""Half an hour for each inch, for wood of 20 % moisture or more. Wood Handbook, FPL-GTR-190, from memory."""

STEAM_MOST_MIN_PER_MM = 60 / 12.7
"""An hour for half an inch, for sharp bends in very hard wood: Bangladesh Forest Research Institute, steam bending of
twenty timbers. Common advice, an hour for each inch, lies between."""

BENDING = "Lemoine and Koch 1971, Forest Products Journal 21(4): southern pine with strap and end pressure"

STEAMING = (
    "half an hour an inch (Wood Handbook, FPL-GTR-190, from memory) to an hour for half an inch (Bangladesh Forest"
    " Research Institute, steam bending properties of twenty timbers): sources disagree"
)


def is_bent_round(w: Workings) -> bool:
    """Tell whether the frame is a bent round hoop."""
    return is_bent(w) and w.word("frame.outline") == "round"


def is_bent_oval(w: Workings) -> bool:
    """Tell whether the frame is a bent oval hoop."""
    return is_bent(w) and w.word("frame.outline") == "oval"


@FIGURES.figure("bend.neutral_length", "mm", "length", "Round the middle of the wall, where the strip keeps its length",
                "frame.perimeter - pi wall", "parallel curves of a convex outline (Steiner's formulas)",
                is_bent)  # fmt: skip
def neutral_length(w: Workings) -> float:
    """Return the length of the neutral line, taken at half thickness."""
    return w["frame.perimeter"] - pi * w.given("frame.wall")


@FIGURES.figure("bend.scarf_length", "mm", "length", "Length of the scarf's taper, on each end",
                "scarf x wall", OWN_DEFINITION, is_bent)  # fmt: skip
def scarf_length(w: Workings) -> float:
    """Return the length over which each end is tapered to nothing: both lie on each other there."""
    return w.count("bending.scarf") * w.given("frame.wall")


@FIGURES.figure("bend.scarf_area", "mm2", "area", "Glue area of the scarf",
                "depth x hypot(bend.scarf_length, wall)", PLANE_GEOMETRY, is_bent)  # fmt: skip
def scarf_area(w: Workings) -> float:
    """Return the area of the sloping face that is glued."""
    return w.given("frame.depth") * hypot(w["bend.scarf_length"], w.given("frame.wall"))


@FIGURES.figure("bend.strip_length", "mm", "length", "Strip to cut, the scarf's overlap and the spare ends with it",
                "bend.neutral_length + bend.scarf_length + 2 spare", PLANE_GEOMETRY, is_bent)  # fmt: skip
def strip_length(w: Workings) -> float:
    """Return the length of the strip as it is cut."""
    return w["bend.neutral_length"] + w["bend.scarf_length"] + 2 * w.given("bending.spare")


def _before_drying(w: Workings, size_mm: float, rate: float) -> float:
    """Return how large a piece must be, wet, to be `size_mm` with its planing once it is dry."""
    dried = w.given("wood.moisture") - w.given("bending.moisture")
    return (size_mm + 2 * w.given("bending.planing")) / grown(1.0, rate, dried)


@FIGURES.figure("bend.strip_thickness", "mm", "fine_length", "Thickness of the strip before steaming",
                "(wall + 2 planing) / (1 - 10 x wood.wall_rate x (bending.moisture - wood.moisture))", MOVEMENT,
                is_bent)  # fmt: skip
def strip_thickness(w: Workings) -> float:
    """Return the strip's thickness, moist as it goes into the steam."""
    return _before_drying(w, w.given("frame.wall"), w["wood.wall_rate"])


@FIGURES.figure("bend.strip_width", "mm", "fine_length", "Width of the strip before steaming",
                "(depth + 2 planing) / (1 - 10 x wood.depth_rate x (bending.moisture - wood.moisture))", MOVEMENT,
                is_bent)  # fmt: skip
def strip_width(w: Workings) -> float:
    """Return the strip's width, moist as it goes into the steam."""
    return _before_drying(w, w.given("frame.depth"), w["wood.depth_rate"])


@FIGURES.figure("bend.radius", "mm", "length", "Least radius inside that the strip is bent to",
                "round: diameter / 2 - wall; oval: least radius of the outline - wall", PLANE_GEOMETRY,
                is_bent)  # fmt: skip
def bend_radius(w: Workings) -> float:
    """Return the least inside radius: on an oval at its ends."""
    return outline_of(w).least_radius_mm - w.given("frame.wall")


@FIGURES.figure("bend.wall_share", "1", "percentage", "The wall over that radius: easy to 1/16, breaks from 1/12",
                "wall / bend.radius", BENDING, is_bent)  # fmt: skip
def wall_share(w: Workings) -> float:
    """Return the wall's thickness as a share of the inside radius."""
    return w.given("frame.wall") / w["bend.radius"]


@FIGURES.figure("bend.steam_least", "min", "time", "Steam the strip, at the least",
                "1.18 min for each mm of bend.strip_thickness", STEAMING, is_bent)  # fmt: skip
def steam_least(w: Workings) -> float:
    """Return the shortest time that a source gives."""
    return STEAM_LEAST_MIN_PER_MM * w["bend.strip_thickness"]


@FIGURES.figure("bend.steam_most", "min", "time", "Steam the strip, at the most",
                "4.72 min for each mm of bend.strip_thickness", STEAMING, is_bent)  # fmt: skip
def steam_most(w: Workings) -> float:
    """Return the longest time that a source gives."""
    return STEAM_MOST_MIN_PER_MM * w["bend.strip_thickness"]


def _form(w: Workings, across_mm: float) -> float:
    return (across_mm - 2 * w.given("frame.wall") - 2 * w.given("bending.planing")) / (
        1 + w.given("bending.springback")
    )


@FIGURES.figure("bend.form_diameter", "mm", "length", "Diameter of the drying form",
                "(diameter - 2 wall - 2 planing) / (1 + springback)", WORKSHOP, is_bent_round)  # fmt: skip
def form_diameter(w: Workings) -> float:
    """Return the diameter of the form: what the hoop is inside once it has sprung back."""
    return _form(w, w.given("frame.diameter"))


@FIGURES.figure("bend.form_length", "mm", "length", "Length of the drying form",
                "(length - 2 wall - 2 planing) / (1 + springback)", WORKSHOP, is_bent_oval)  # fmt: skip
def form_length(w: Workings) -> float:
    """Return the longer diameter of an oval's form."""
    return _form(w, w.given("frame.length"))


@FIGURES.figure("bend.form_width", "mm", "length", "Width of the drying form",
                "(frame.width - 2 wall - 2 planing) / (1 + springback)", WORKSHOP, is_bent_oval)  # fmt: skip
def form_width(w: Workings) -> float:
    """Return the shorter diameter of an oval's form."""
    return _form(w, w.given("frame.width"))
