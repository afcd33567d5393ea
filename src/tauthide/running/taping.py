"""In which order pieces are cut from a skin, and how their centres are found with a tape from two fixed points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from tauthide.cutting.hides import Hide
from tauthide.cutting.pieces import Layout, Placement
from tauthide.runs.skins import Point, Skin

ON_THE_LINE_MM = 2.0
"""Centres no farther from the line of the fixed points are called on it: closer than a tape tells on a floor."""

ORDER = {"head": 0, "lace": 1, "scrap": 2}
"""Heads are cut first, while the skin still lies as it was measured, then laces, then scraps."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece on a skin, as it is cut."""

    number: int
    """In cutting order on its skin, from 1."""
    placement: Placement
    from_a_mm: float
    """From the first fixed point to the piece's centre."""
    from_b_mm: float
    """From the second fixed point to the piece's centre."""
    side: str
    """`left` or `right` of the line from the first fixed point to the second, as seen from the first; or `on` it."""
    thickness_mm: float
    """Of the skin, soaked, at the piece's centre."""


def cuts_of(skin: Skin, hide: Hide, layout: Layout) -> tuple[Cut, ...]:
    """Return the pieces of a skin in cutting order: heads, laces, scraps, each from the first fixed point on."""
    first, second = skin.fixed_points_mm
    placements = sorted(layout.on_hide(skin.name), key=lambda each: _order(each, first, second))
    return tuple(
        Cut(
            number,
            each,
            hypot(each.centre[0] - first[0], each.centre[1] - first[1]),
            hypot(each.centre[0] - second[0], each.centre[1] - second[1]),
            _side(each.centre, first, second),
            hide.thickness_at(each.centre),
        )
        for number, each in enumerate(placements, 1)
    )


def all_cuts(skins: Sequence[Skin], layout: Layout) -> dict[str, tuple[Cut, ...]]:
    """Return the pieces of every skin in cutting order, by the skin's name."""
    hides = {hide.name: hide for hide in layout.task.hides}
    return {skin.name: cuts_of(skin, hides[skin.name], layout) for skin in skins}


def _order(placement: Placement, first: Point, second: Point) -> tuple[int, float, str, int]:
    along = (placement.centre[0] - first[0]) * (second[0] - first[0])
    along += (placement.centre[1] - first[1]) * (second[1] - first[1])
    return (ORDER[placement.use], round(along, 3), placement.name, placement.part)


def _side(centre: Point, first: Point, second: Point) -> str:
    dx, dy = second[0] - first[0], second[1] - first[1]
    off_mm = (dx * (centre[1] - first[1]) - dy * (centre[0] - first[0])) / hypot(dx, dy)
    if abs(off_mm) <= ON_THE_LINE_MM:
        return "on"
    return "left" if off_mm > 0 else "right"
