"""The blank: how large a piece of wet skin the head needs."""

from __future__ import annotations

from math import pi

from tauthide.figures import OWN_DEFINITION, FigureSet, Workings
from tauthide.geometry.outline import Outline, make_outline

FIGURES = FigureSet()

BEND_ALLOWANCE = (
    "sheet-metal bend allowance, angle x (inside radius + K x thickness), with K = 0.5 for a neutral line "
    "at half thickness (standard handbooks)"
)
PARALLEL_CURVE = "parallel curves of a convex outline (Steiner's formulas)"


def is_round(workings: Workings) -> bool:
    """Tell whether the frame is round."""
    return workings.word("frame.outline") == "round"


def is_not_round(workings: Workings) -> bool:
    """Tell whether the frame is a polygon or an oval."""
    return not is_round(workings)


def is_turned_in(workings: Workings) -> bool:
    """Tell whether the skin turns in over the back edge; where two heads face each other it ends on the wall."""
    return not workings.has("head.drop")


def ends_on_wall(workings: Workings) -> bool:
    """Tell whether the skin comes down the wall by a stated drop, as where two heads face each other."""
    return not is_turned_in(workings)


def is_round_and_turned_in(workings: Workings) -> bool:
    """Tell whether the frame is round and its skin turns in over the back edge."""
    return is_round(workings) and is_turned_in(workings)


@FIGURES.figure("head.count", "1", "count", "Heads on the frame", "two where the skin has a drop; else one",
                OWN_DEFINITION)  # fmt: skip
def head_count(w: Workings) -> float:
    """Return the number of heads: two that are drawn to each other, each with a drop, or one."""
    return 2 if ends_on_wall(w) else 1


@FIGURES.shape("frame.outline")
def frame_outline(w: Workings) -> Outline:
    """Return the frame's outside edge."""
    kind = w.word("frame.outline")
    if kind == "round":
        return make_outline("round", diameter_mm=w.given("frame.diameter"))
    if kind == "oval":
        return make_outline("oval", length_mm=w.given("frame.length"), width_mm=w.given("frame.width"))
    return make_outline("polygon", sides=w.count("frame.sides"), across_flats_mm=w.given("frame.across_flats"))


def outline_of(w: Workings) -> Outline:
    """Return the frame's outline, worked out once."""
    outline: Outline = w.shape("frame.outline")
    return outline


@FIGURES.figure("frame.perimeter", "mm", "length", "Round the outside of the frame", "perimeter of the frame's outline")
def frame_perimeter(w: Workings) -> float:
    """Return the frame's outside perimeter."""
    return outline_of(w).perimeter_mm


@FIGURES.figure(
    "frame.half_span", "mm", "length", "From the centre to the outside of the frame",
    "round: diameter / 2; polygon: across_flats / 2; oval: (length + width) / 4", OWN_DEFINITION,
)  # fmt: skip
def frame_half_span(w: Workings) -> float:
    """Return half the frame's width across, the mean of both axes on an oval."""
    kind = w.word("frame.outline")
    if kind == "round":
        return w.given("frame.diameter") / 2
    if kind == "polygon":
        return w.given("frame.across_flats") / 2
    return (w.given("frame.length") + w.given("frame.width")) / 4


@FIGURES.figure(
    "skin.corner", "mm", "fine_length", "What each rounded edge adds to the skin's path (less than nothing: it saves)",
    "(pi / 2) (edge_radius + thickness / 2) - 2 edge_radius", BEND_ALLOWANCE,
)  # fmt: skip
def corner(w: Workings) -> float:
    """Return the skin's length round one edge less what a sharp corner would take."""
    edge = w.given("frame.edge_radius")
    return pi / 2 * (edge + w.given("head.thickness") / 2) - 2 * edge


@FIGURES.figure(
    "skin.reach", "mm", "length", "Skin needed outside the frame's outline",
    "depth + turnover + 2 skin.corner; or drop + skin.corner", BEND_ALLOWANCE,
)  # fmt: skip
def reach(w: Workings) -> float:
    """Return how far the blank's edge lies outside the outline of a frame laid on it."""
    if ends_on_wall(w):
        return w.given("head.drop") + w["skin.corner"]
    return w.given("frame.depth") + w.given("head.turnover") + 2 * w["skin.corner"]


@FIGURES.figure(
    "skin.path_to_back", "mm", "length", "Along the skin, from its middle to where it lies flat on the back",
    "diameter / 2 - edge_radius + depth - 2 edge_radius + pi (edge_radius + thickness / 2)", BEND_ALLOWANCE,
    is_round_and_turned_in,
)  # fmt: skip
def path_to_back(w: Workings) -> float:
    """Return the skin's mid-surface length from the centre to the end of the back edge's curve."""
    edge = w.given("frame.edge_radius")
    flat = w.given("frame.diameter") / 2 - edge
    wall = w.given("frame.depth") - 2 * edge
    return flat + wall + pi * (edge + w.given("head.thickness") / 2)


@FIGURES.figure(
    "head.blank_radius", "mm", "length", "Radius of the blank",
    "diameter / 2 + skin.reach", BEND_ALLOWANCE, is_round,
)  # fmt: skip
def blank_radius(w: Workings) -> float:
    """Return the round blank's radius."""
    return w.given("frame.diameter") / 2 + w["skin.reach"]


@FIGURES.figure(
    "head.blank_diameter", "mm", "length", "Diameter of the blank",
    "2 head.blank_radius", OWN_DEFINITION, is_round,
)  # fmt: skip
def blank_diameter(w: Workings) -> float:
    """Return the round blank's diameter."""
    return 2 * w["head.blank_radius"]


@FIGURES.figure(
    "head.blank_length", "mm", "length", "Length of the blank",
    "extent of the frame's outline pushed out by skin.reach, upward", PARALLEL_CURVE, is_not_round,
)  # fmt: skip
def blank_length(w: Workings) -> float:
    """Return the extent of a blank that is not round, along y."""
    return outline_of(w).length_at(w["skin.reach"])


@FIGURES.figure(
    "head.blank_width", "mm", "length", "Width of the blank",
    "extent of the frame's outline pushed out by skin.reach, sideways", PARALLEL_CURVE, is_not_round,
)  # fmt: skip
def blank_width(w: Workings) -> float:
    """Return the extent of a blank that is not round, along x."""
    return outline_of(w).width_at(w["skin.reach"])


@FIGURES.figure(
    "head.blank_perimeter", "mm", "length", "Round the edge of the blank",
    "perimeter of the frame's outline + 2 pi skin.reach", PARALLEL_CURVE,
)  # fmt: skip
def blank_perimeter(w: Workings) -> float:
    """Return the length of the blank's edge."""
    return outline_of(w).perimeter_at(w["skin.reach"])


@FIGURES.figure(
    "head.blank_area", "mm2", "area", "Area of the blank",
    "area of the frame's outline + its perimeter x skin.reach + pi skin.reach^2", PARALLEL_CURVE,
)  # fmt: skip
def blank_area(w: Workings) -> float:
    """Return the area of the blank."""
    return outline_of(w).area_at(w["skin.reach"])
