"""In which order pieces are cut from a skin, and how their centres are found with two tapes from its fixed points.

A centre lies where two arcs cross, and how well it is found depends on the angle at which they do. If each tape is
wrong by `e`, the place is wrong by at most `e / sin(half the angle)`, of the angle and the rest of the straight angle
the lesser: 1.4 `e` for a right angle, 2 `e` for 60 or 120 degrees, 2.5 `e` for 47 or 133, 4 `e` for 29, 11 `e` for 10.
(Each tape holds the place within a strip of `2 e`; the two strips cross in a rhombus, whose longer half diagonal this
is. It holds while `e` is small beside the tape's length.) So the fixed points are chosen for the pieces that lie on
the skin, and where two of them do not serve all pieces, there is a third, and each piece has the two that cross best.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot, inf, sqrt

from tauthide.cutting.forms import form_of
from tauthide.cutting.hides import Hide
from tauthide.cutting.pieces import Layout, Placement
from tauthide.cutting.thickness import span_over
from tauthide.runs.skins import Point, Skin

MOST_ERROR = 2.5
"""A centre should not be wrong by more than so many times what a tape is wrong by: 5 mm of tape are then 12 mm."""

POINT_NAMES = "ABC"
"""Of the fixed points; more than three are hard to keep apart on a floor."""

LEAST_APART_MM = 150.0
"""Fixed points nearer to each other than this add nothing."""

LEAST_TAPE_MM = 60.0
"""A centre nearer to a fixed point than this is not measured from there: the arc is too small to be drawn well."""

MOST_CORNERS = 10
"""So many corners of a skin are tried, the sharpest first."""

BLUNT = -0.95
"""A corner with more than about 162 degrees within it (the cosine) is not found again for certain."""

DIGITS = 9
"""Cosines are rounded to this before they decide, so that they decide alike on every machine."""

ORDER = {"head": 0, "lace": 1, "scrap": 2}
"""Heads are cut first, while the skin still lies as it was measured, then laces, then scraps."""


@dataclass(frozen=True, slots=True)
class FixedPoint:
    """A point that a tape is held to."""

    name: str
    """`A`, `B` or `C`."""
    at_mm: Point
    kind: str
    """`tail` or `neck` end of the spine, `corner` of the edge, or `own`: named by the maker."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece on a skin, as it is cut."""

    number: int
    """In cutting order on its skin, from 1."""
    placement: Placement
    fixed: tuple[FixedPoint, ...]
    """The skin's fixed points: A, B, and C if there is one."""
    tapes: tuple[FixedPoint, FixedPoint]
    """The two of them from which this piece's centre is found."""
    side: str
    """`left` or `right` of the line between these two, as seen from the first, looking to the second."""
    error: float
    """How far off the centre is found at the most, as a multiple of the error of each tape."""
    thickness_mm: float
    """Of the skin, soaked, at the piece's centre."""
    thinnest_mm: float
    thickest_mm: float
    """Over the whole piece, as far as readings and what lies between them tell."""

    def reading_mm(self, point: FixedPoint) -> float:
        """Return the distance from a fixed point to the piece's centre."""
        return _apart(self.placement.centre, point.at_mm)

    @property
    def from_a_mm(self) -> float:
        """From A to the piece's centre, whether or not it is found from there."""
        return self.reading_mm(self.fixed[0])

    @property
    def from_b_mm(self) -> float:
        """From B to the piece's centre, whether or not it is found from there."""
        return self.reading_mm(self.fixed[1])

    @property
    def from_c_mm(self) -> float | None:
        """From C to the piece's centre; None where there is no third fixed point."""
        return self.reading_mm(self.fixed[2]) if len(self.fixed) > len("AB") else None


def cuts_of(skin: Skin, hide: Hide, layout: Layout) -> tuple[Cut, ...]:
    """Return the pieces of a skin in cutting order: heads, laces, scraps, each from the tail on."""
    tail, neck = skin.spine_mm
    placements = sorted(layout.on_hide(skin.name), key=lambda each: _order(each, tail, neck))
    fixed = fixed_points(skin, [each.centre for each in placements])
    return tuple(_cut(number, each, fixed, hide) for number, each in enumerate(placements, 1))


def all_cuts(skins: Sequence[Skin], layout: Layout) -> dict[str, tuple[Cut, ...]]:
    """Return the pieces of every skin in cutting order, by the skin's name."""
    hides = {hide.name: hide for hide in layout.task.hides}
    return {skin.name: cuts_of(skin, hides[skin.name], layout) for skin in skins}


def fixed_points(skin: Skin, centres: Sequence[Point]) -> tuple[FixedPoint, ...]:
    """Return the points to hold tapes to, for pieces with these centres: two if they serve all, else three.

    A maker's own two are always the first. Else they are chosen among the ends of the spine and the skin's sharpest
    corners: those from which the piece that is found worst is found best, and of equal ones the first.
    """
    candidates = list(candidates_of(skin))
    own = [each for each in candidates if each[1] == "own"]
    places = [at for at, _ in candidates]
    pairs = {pair: [_flatness(centre, places[pair[0]], places[pair[1]]) for centre in centres]
             for pair in combinations(range(len(places)), 2)}  # fmt: skip
    chosen: tuple[int, ...] = ()
    for count in range(2, min(len(POINT_NAMES), len(places)) + 1):
        listed = (each for each in combinations(range(len(places)), count) if each[: len(own)] == (0, 1)[: len(own)])
        worst, chosen = min((_worst(each, pairs), each) for each in listed)
        if worst[0] <= _flatness_at(MOST_ERROR):
            break
    return tuple(FixedPoint(POINT_NAMES[n], *candidates[index]) for n, index in enumerate(chosen))


def candidates_of(skin: Skin) -> Iterator[tuple[Point, str]]:
    """Yield the points that a maker can find again, with their kinds: own ones or the spine's ends, then corners."""
    given = "fixed_points" in skin.parts
    taken = list(skin.fixed_points_mm if given else skin.spine_mm)
    yield from zip(taken, ("own", "own") if given else ("tail", "neck"), strict=True)
    ring = skin.outline_mm
    sharp = sorted((_cosine(ring[n], ring[n - 1], ring[(n + 1) % len(ring)]), n) for n in range(len(ring)))
    convex = [n for cosine, n in sharp if cosine >= BLUNT and _turns_left(ring, n)]
    # What is leftmost, rightmost, lowest or highest can be found on the grid even where it is blunt.
    ends = [max(range(len(ring)), key=lambda n: (x * ring[n][0] + y * ring[n][1], -n))
            for x, y in ((-1, 0), (1, 0), (0, -1), (0, 1))]  # fmt: skip
    corners: list[int] = []
    for n in dict.fromkeys((*reversed(convex), *ends)):
        if len(corners) < MOST_CORNERS and all(_apart(ring[n], other) >= LEAST_APART_MM for other in taken):
            taken.append(ring[n])
            corners.append(n)
    yield from ((ring[n], "corner") for n in sorted(corners))


def error_of(centre: Point, one: Point, other: Point) -> float:
    """Return how far off a centre is found from two points, as a multiple of the error of each tape."""
    room = (1 - _flatness(centre, one, other)) / 2
    return 1 / sqrt(room) if room > 0 else inf


def _flatness_at(error: float) -> float:
    return 1 - 2 / error**2


def _flatness(centre: Point, one: Point, other: Point) -> float:
    """Return how flatly arcs from two points cross at a centre: 0 for a right angle, 1 where it is on their line."""
    if min(_apart(centre, one), _apart(centre, other)) < LEAST_TAPE_MM:
        return 1.0
    return abs(_cosine(centre, one, other))


def _cosine(corner: Point, one: Point, other: Point) -> float:
    """Return the cosine of the angle at a corner between the ways to two points."""
    ax, ay, bx, by = one[0] - corner[0], one[1] - corner[1], other[0] - corner[0], other[1] - corner[1]
    sizes = hypot(ax, ay) * hypot(bx, by)
    return round((ax * bx + ay * by) / sizes, DIGITS) if sizes > 0 else 1.0


def _worst(points: tuple[int, ...], pairs: dict[tuple[int, int], list[float]]) -> tuple[float, float]:
    """Return the flatness of the piece that is found worst from these points, and the sum over all pieces."""
    best = [min(each) for each in zip(*(pairs[pair] for pair in combinations(points, 2)), strict=True)]
    return max(best, default=0.0), round(sum(best), DIGITS - 2)


def _cut(number: int, placement: Placement, fixed: tuple[FixedPoint, ...], hide: Hide) -> Cut:
    centre = placement.centre
    tapes = min(combinations(fixed, 2), key=lambda pair: _flatness(centre, pair[0].at_mm, pair[1].at_mm))
    first, second = (each.at_mm for each in tapes)
    side = "left" if _across(centre, first, second) >= 0 else "right"
    span_mm = span_over(hide, form_of(placement.shape, placement.use, placement.angle_deg, 0.0), centre)
    error = error_of(centre, first, second)
    return Cut(number, placement, fixed, tapes, side, error, hide.thickness_at(centre), *span_mm)


def _order(placement: Placement, first: Point, second: Point) -> tuple[int, float, str, int]:
    along = (placement.centre[0] - first[0]) * (second[0] - first[0])
    along += (placement.centre[1] - first[1]) * (second[1] - first[1])
    return (ORDER[placement.use], round(along, 3), placement.name, placement.part)


def _turns_left(ring: Sequence[Point], n: int) -> bool:
    return _across(ring[(n + 1) % len(ring)], ring[n - 1], ring[n]) > 0


def _across(point: Point, first: Point, second: Point) -> float:
    """Return above 0 for a point left of the line from the first to the second, below 0 for one right of it."""
    dx, dy = second[0] - first[0], second[1] - first[1]
    return dx * (point[1] - first[1]) - dy * (point[0] - first[0])


def _apart(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])
