"""Crossing chords: the lacing's walk across a circle, and the diagonals of regular polygons."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest

from drums import Point, crosses, plan_of
from tauthide.geometry.round import RoundOutline
from tauthide.lacing.cross import order

# Length of the walk 0, n/2, 1, n/2 + 1, ... over the circle's diameter, n/2 + (n/2 - 1) cos(pi / n).
# Worked out from the chord of a circle, diameter x sin(half the angle at the centre) (any table of chords).
WALKS = {
    6: "4.732051", 8: "6.771639", 10: "8.804226", 12: "10.829629",
    16: "14.865497", 20: "18.889195", 24: "22.905893", 32: "30.927771",
}  # fmt: skip

# Intersection points inside a regular polygon of 4, 5, ... 16 sides with all diagonals drawn.
# Source: The On-Line Encyclopedia of Integer Sequences, A006561.
A006561 = (1, 5, 13, 35, 49, 126, 161, 330, 301, 715, 757, 1365, 1377)


def regular(count: int) -> list[Point]:
    """The corners of a regular polygon in a circle of diameter 1."""
    outline = RoundOutline(1.0)
    return [outline.point(0.0, arc) for arc in outline.stations(count)]


def walk(count: int) -> list[Point]:
    """The corners in the order in which the lacing takes them."""
    corners = regular(count)
    return [corners[station - 1] for station in order(count)]


def meet(p: Point, q: Point, r: Point, s: Point) -> Point:
    """Where the lines p-q and r-s meet."""
    along_x, along_y, other_x, other_y = q[0] - p[0], q[1] - p[1], s[0] - r[0], s[1] - r[1]
    share = ((r[0] - p[0]) * other_y - (r[1] - p[1]) * other_x) / (along_x * other_y - along_y * other_x)
    return p[0] + share * along_x, p[1] + share * along_y


def count_apart(points: list[Point], near: float = 1e-9) -> int:
    """How many different points there are, those nearer than `near` counted as one."""
    apart: list[Point] = []
    for point in sorted(points):
        # Sorted by x: only the last few can be as near as that.
        if not any(math.dist(point, other) < near for other in reversed(apart[-40:])):
            apart.append(point)
    return len(apart)


@pytest.mark.parametrize(("sides", "wanted"), list(enumerate(A006561, 4)))
def test_diagonals_of_regular_polygons(sides: int, wanted: int) -> None:
    """Found between a round frame's stations by the test for crossing that the laws of the lacing use."""
    corners = regular(sides)
    diagonals = [(p, q) for p, q in combinations(range(sides), 2) if q - p not in (1, sides - 1)]
    found = [
        meet(corners[p], corners[q], corners[r], corners[s])
        for (p, q), (r, s) in combinations(diagonals, 2)
        if len({p, q, r, s}) == 4 and crosses(corners[p], corners[q], corners[r], corners[s])
    ]
    assert count_apart(found) == wanted


@pytest.mark.parametrize(("count", "digits"), WALKS.items())
def test_length_of_the_walk(count: int, digits: str) -> None:
    """The lacing's order, walked from station to station across a circle of diameter 1."""
    assert f"{sum(math.dist(p, q) for p, q in pairwise(walk(count))):.6f}" == digits


@pytest.mark.parametrize(("count", "digits"), WALKS.items())
def test_spans_of_a_drum(count: int, digits: str) -> None:
    """A drum's spans are shorter than the walk, since the pairs lie astride it: by less than a pair each."""
    plan = plan_of(frame_diameter="2 m", stations_count=count, stations_web="2 mm", stations_hole="2 mm",
                   lace_width="1 mm")  # fmt: skip
    walked = float(digits) * 2 * plan["holes.mounted_radius"]
    assert walked - (count - 1) * plan["holes.pair_spacing"] < plan["lace.spans"] < walked


@pytest.mark.parametrize("count", [4, *WALKS, 64])
def test_chords_that_do_not_follow_one_another_cross(count: int) -> None:
    """Every two of them: their ends take turns round the circle (plane geometry)."""
    chords = list(pairwise(walk(count)))
    for (first, chord), (second, other) in combinations(enumerate(chords), 2):
        assert crosses(*chord, *other) == (second - first > 1)
    assert len(chords) == count - 1


@pytest.mark.parametrize("count", [4, *WALKS, 64])
def test_half_of_them_are_diameters(count: int) -> None:
    """n/2 chords run through the middle; the n/2 - 1 between them over n/2 - 1 stations."""
    lengths = [math.dist(p, q) for p, q in pairwise(walk(count))]
    assert lengths[::2] == pytest.approx([1.0] * (count // 2))
    over = math.sin(math.pi / count * (count // 2 - 1))
    assert lengths[1::2] == pytest.approx([over] * (count // 2 - 1))
