"""A ring glued up from staves: their mitre, width and length, what they take of a board, and what is rounded away.

Staves lie along the rim, their ends mitred. A polygon is as it is glued, but for planing. A round ring is glued as a
polygon that the ring fits into, and then rounded outside and inside, so its staves are thicker than its wall.
Each stave is counted on the board at its longer, outer side; turning the board over after each cut saves a little.
"""

from __future__ import annotations

from math import cos, pi, sin, tan

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.quantities.movement import MOVEMENT, TEN, is_of_staves
from tauthide.quantities.nesting import Boards, Cut, bought_mm, longest_piece_mm, nest
from tauthide.quantities.wood import HALF_TURN_DEG
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

STAVE = "stave"


def can_be_cut(w: Workings) -> bool:
    """Tell whether a stave comes out of the longest board on offer: else there is no cutting list."""
    if not is_of_staves(w):
        return False
    most_mm = longest_piece_mm(w.numbers("staves.boards"), w.given("staves.ends"))
    return w["stave.cut"] <= most_mm


def _half_angle(w: Workings) -> float:
    return pi / w["stave.count"]


@FIGURES.figure("stave.count", "1", "count", "Staves of the ring",
                "round: staves.count; polygon: sides", OWN_DEFINITION, is_of_staves)  # fmt: skip
def stave_count(w: Workings) -> float:
    """Return how many staves the ring has."""
    return w.count("staves.count" if w.word("frame.outline") == "round" else "frame.sides")


@FIGURES.figure("stave.mitre", "deg", "fine_angle", "Mitre at each end of a stave of the ring, from square",
                "180° / stave.count", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def stave_mitre(w: Workings) -> float:
    """Return the angle to which the ends are cut, measured from a square cut."""
    return HALF_TURN_DEG / w["stave.count"]


@FIGURES.figure("stave.ring_across", "mm", "length", "Ring as glued, across the flats",
                "round: diameter + 2 staves.planing; polygon: across_flats + 2 staves.planing", PLANE_GEOMETRY,
                is_of_staves)  # fmt: skip
def ring_across(w: Workings) -> float:
    """Return the width of the ring before it is rounded and planed."""
    across = w.given("frame.diameter" if w.word("frame.outline") == "round" else "frame.across_flats")
    return across + 2 * w.given("staves.planing")


@FIGURES.figure("stave.ring_corners", "mm", "length", "Ring as glued, across its corners' circle",
                "stave.ring_across / cos(pi / stave.count)", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def ring_corners(w: Workings) -> float:
    """Return the diameter of the circle on which the outer corners lie, before rounding."""
    return w["stave.ring_across"] / cos(_half_angle(w))


@FIGURES.figure("stave.least_thickness", "mm", "fine_length", "Thickness that a stave needs, so that the wall is left",
                "round: diameter / 2 + planing - (diameter / 2 - wall - planing) cos(pi / stave.count);"
                " polygon: wall + 2 planing", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def least_thickness(w: Workings) -> float:
    """Return the least thickness: outside the flats touch the round, inside the corners do."""
    wall, planing = w.given("frame.wall"), w.given("staves.planing")
    if w.word("frame.outline") != "round":
        return wall + 2 * planing
    radius = w.given("frame.diameter") / 2
    return radius + planing - (radius - wall - planing) * cos(_half_angle(w))


@FIGURES.figure("stave.thickness", "mm", "fine_length", "Thickness of the staves",
                "staves.thickness, as given; or stave.least_thickness", OWN_DEFINITION, is_of_staves)  # fmt: skip
def stave_thickness(w: Workings) -> float:
    """Return the thickness of the boards that the staves are cut from."""
    return w.given("staves.thickness") if w.has("staves.thickness") else w["stave.least_thickness"]


@FIGURES.figure("stave.ring_hole", "mm", "length", "Ring as glued, across the flats inside",
                "stave.ring_across - 2 stave.thickness", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def ring_hole(w: Workings) -> float:
    """Return the width of the hole inside, before rounding."""
    return w["stave.ring_across"] - 2 * w["stave.thickness"]


@FIGURES.figure("stave.width", "mm", "fine_length", "Width of the staves",
                "depth + 2 staves.planing", OWN_DEFINITION, is_of_staves)  # fmt: skip
def stave_width(w: Workings) -> float:
    """Return the width of the boards that the staves are cut from."""
    return w.given("frame.depth") + 2 * w.given("staves.planing")


@FIGURES.figure("stave.outer", "mm", "fine_length", "Length of a stave, along its outer side",
                "stave.ring_across tan(pi / stave.count)", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def stave_outer(w: Workings) -> float:
    """Return the longer side of a stave."""
    return w["stave.ring_across"] * tan(_half_angle(w))


@FIGURES.figure("stave.inner", "mm", "fine_length", "Length of a stave, along its inner side",
                "stave.ring_hole tan(pi / stave.count)", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def stave_inner(w: Workings) -> float:
    """Return the shorter side of a stave."""
    return w["stave.ring_hole"] * tan(_half_angle(w))


@FIGURES.figure("stave.cut", "mm", "fine_length", "What a stave takes of its board, with the saw's slanting cut",
                "stave.outer + kerf / cos(pi / stave.count)", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def stave_cut(w: Workings) -> float:
    """Return what a stave takes of a board's length."""
    return w["stave.outer"] + w.given("staves.kerf") / cos(_half_angle(w))


@FIGURES.figure("stave.board_least", "mm", "length", "Shortest board that gives a stave",
                "stave.cut + 2 ends", OWN_DEFINITION, is_of_staves)  # fmt: skip
def board_least(w: Workings) -> float:
    """Return the length of the shortest board that is of use."""
    return w["stave.cut"] + 2 * w.given("staves.ends")


@FIGURES.figure("stave.joint_area", "mm2", "area", "Glue area of each joint",
                "stave.width stave.thickness / cos(pi / stave.count)", PLANE_GEOMETRY, is_of_staves)  # fmt: skip
def joint_area(w: Workings) -> float:
    """Return the area of one mitred end."""
    return w["stave.width"] * w["stave.thickness"] / cos(_half_angle(w))


@FIGURES.figure("stave.joint_moves", "mm", "fine_length", "A joint would open so far if its glue let go",
                "2 stave.thickness sin(pi / stave.count) x 10 x wood.wall_rate"
                " x max(wood.damp_moisture - wood.moisture, wood.moisture - wood.dry_moisture)", MOVEMENT,
                is_of_staves)  # fmt: skip
def joint_moves(w: Workings) -> float:
    """Return the gap by which mitres open as staves get thicker or thinner but no longer: the larger of both."""
    moisture = w.given("wood.moisture")
    change = max(w["wood.damp_moisture"] - moisture, moisture - w["wood.dry_moisture"])
    return 2 * w["stave.thickness"] * sin(_half_angle(w)) * TEN * w["wood.wall_rate"] * change


@FIGURES.shape("stave.cutting")
def stave_cutting(w: Workings) -> Boards:
    """Return the boards for one ring, and how many staves come out of each."""
    cuts = [Cut(STAVE, w["stave.cut"])] * round(w["stave.count"])
    return nest(cuts, w.numbers("staves.boards"), w.given("staves.ends"))


@FIGURES.figure("stave.boards", "1", "count", "Boards for one ring",
                "from the cutting list", WORKSHOP, can_be_cut)  # fmt: skip
def board_count(w: Workings) -> float:
    """Return how many boards one ring takes, if no other is cut with it."""
    return len(w.shape("stave.cutting"))


@FIGURES.figure("stave.board_length", "mm", "long_length", "All boards for one ring, end to end",
                "sum of the boards of the cutting list", WORKSHOP, can_be_cut)  # fmt: skip
def board_length(w: Workings) -> float:
    """Return the length of all boards for one ring."""
    return bought_mm(w.shape("stave.cutting"))


@FIGURES.figure("stave.waste", "1", "percentage", "Of those boards left over or lost in saw cuts and ends",
                "1 - stave.count (stave.outer + stave.inner) / 2 / stave.board_length", WORKSHOP,
                can_be_cut)  # fmt: skip
def waste(w: Workings) -> float:
    """Return the share of the boards that is not in the ring as glued."""
    mean = (w["stave.outer"] + w["stave.inner"]) / 2
    return 1 - w["stave.count"] * mean / w["stave.board_length"]
