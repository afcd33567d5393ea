"""A check of a layout, whoever laid it: every distance is measured anew, with none of the code that lays.

It is slow and plain on purpose: all corners against all sides.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from tauthide.cutting.hides import Hide, Point, RoundFlaw
from tauthide.cutting.pieces import Disc, LaceNeed, Layout, Piece, Placement

TOLERANCE_MM = 1e-6
"""A distance may be short by this much."""

TOLERANCE_THICKNESS_MM = 1e-5
"""A thickness may be beyond its limit by this much: a thousandth of what a gauge shows. Rims are worked out here by
angle functions, and thicknesses rounded to 1e-6 mm."""

DIRECTIONS = 12
"""Into so many directions of the hide's grid a piece's thickness is looked at."""

TOLERANCE_DEG = 1e-4
"""A direction may be off by this much: 0.001 mm on a metre and a half."""

FaultKind = Literal["unknown", "twice", "shape", "edge", "flaw", "zone", "overlap", "species", "thickness", "direction"]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something about a layout that must not be."""

    kind: FaultKind
    hide: str
    names: tuple[str, ...]
    """Of the pieces and laces concerned."""
    beyond: float
    """By how much: mm, or degrees for a direction; 0 where there is no measure."""


@dataclass(frozen=True, slots=True)
class _Body:
    """A piece in place: its corners (of a disc, the centre) and what radius it has round them."""

    placement: Placement
    corners: tuple[Point, ...]
    radius_mm: float


def faults(layout: Layout) -> tuple[Fault, ...]:
    """Return all that is wrong with a layout; nothing if it can be cut as it stands."""
    wanted: dict[str, Piece | LaceNeed] = {piece.name: piece for piece in layout.task.pieces}
    wanted.update((lace.name, lace) for lace in layout.task.laces)
    hides = {hide.name: hide for hide in layout.task.hides}
    found = list(_check_names(layout, wanted, hides))
    if found:
        return tuple(found)
    found += _check_shapes(layout, wanted)
    for hide in layout.task.hides:
        bodies = [_body(placement) for placement in layout.placements if placement.hide == hide.name]
        for body in bodies:
            found += _check_place(body, hide, layout.task.knife_mm)
            found += _check_skin(body, wanted[body.placement.name], hide)
        for one, other in combinations(bodies, 2):
            apart_mm = _apart(one.corners, other.corners) - one.radius_mm - other.radius_mm
            names = (one.placement.name, other.placement.name)
            found += _short("overlap", hide, names, layout.task.knife_mm - apart_mm)
    return tuple(found)


def _check_names(layout: Layout, wanted: dict[str, Piece | LaceNeed], hides: dict[str, Hide]) -> Iterator[Fault]:
    for placement in layout.placements:
        numbers = (*placement.centre, placement.angle_deg)
        if placement.name not in wanted or placement.hide not in hides or not all(map(math.isfinite, numbers)):
            yield Fault("unknown", placement.hide, (placement.name,), 0.0)
    for (name, _), count in Counter((placement.name, placement.part) for placement in layout.placements).items():
        if count > 1:
            yield Fault("twice", "", (name,), 0.0)


def _check_shapes(layout: Layout, wanted: dict[str, Piece | LaceNeed]) -> Iterator[Fault]:
    laid: dict[str, list[Placement]] = {}
    for placement in layout.placements:
        laid.setdefault(placement.name, []).append(placement)
    for name, parts in laid.items():
        one, parts = wanted[name], sorted(parts, key=lambda part: part.part)
        use = one.use if isinstance(one, Piece) else "lace"
        ways = ((one.shape,),) if isinstance(one, Piece) else one.ways
        as_wanted = tuple(part.shape for part in parts) in ways and all(part.use == use for part in parts)
        if not as_wanted or [part.part for part in parts] != list(range(len(parts))):
            yield Fault("shape", parts[0].hide, (name,), 0.0)


def _check_place(body: _Body, hide: Hide, knife_mm: float) -> Iterator[Fault]:
    names = (body.placement.name,)
    inside_mm = _apart_from_sides(body.corners, hide.outline)
    if not all(_holds(hide.outline, corner) for corner in body.corners):
        inside_mm = -abs(inside_mm)
    yield from _short("edge", hide, names, knife_mm + body.radius_mm - inside_mm)
    for flaw in hide.flaws:
        corners, radius_mm = ((flaw.centre,), flaw.radius_mm) if isinstance(flaw, RoundFlaw) else (flaw.outline, 0.0)
        apart_mm = _apart(body.corners, corners) - radius_mm
        yield from _short("flaw", hide, names, knife_mm + body.radius_mm - apart_mm)
    for zone in hide.zones:
        closed = {"head": not zone.heads, "lace": not zone.laces}
        if closed.get(body.placement.use, False):
            yield from _short("zone", hide, names, body.radius_mm - _apart(body.corners, zone.outline))


def _check_skin(body: _Body, wanted: Piece | LaceNeed, hide: Hide) -> Iterator[Fault]:
    placement = body.placement
    names = (placement.name,)
    if wanted.species and hide.species not in wanted.species:
        yield Fault("species", hide.name, names, 0.0)
    found_mm = list(_thicknesses(body, hide))
    least_mm = min(found_mm) if wanted.least_mm is None else wanted.least_mm
    most_mm = max(found_mm) if wanted.most_mm is None else wanted.most_mm
    beyond_mm = max(least_mm - min(found_mm), max(found_mm) - most_mm)
    if not beyond_mm <= TOLERANCE_THICKNESS_MM:
        yield Fault("thickness", hide.name, names, beyond_mm)
    if isinstance(wanted, Piece) and wanted.direction != "any":
        off_deg = 180.0 if hide.spine is None else _off_spine(placement.angle_deg, wanted.direction, hide.spine)
        if off_deg > TOLERANCE_DEG:
            yield Fault("direction", hide.name, names, off_deg)


def _thicknesses(body: _Body, hide: Hide) -> Iterator[float]:
    """The hide's thickness in a piece's middle, half-way to its rim, on the rim, and at each reading within it."""
    x, y = body.placement.centre
    yield hide.thickness_at((x, y))
    for number in range(DIRECTIONS):
        angle = 2 * math.pi * number / DIRECTIONS
        reach_mm = _reach(body, angle)
        for away_mm in (reach_mm, reach_mm / 2):
            yield hide.thickness_at((x + away_mm * math.cos(angle), y + away_mm * math.sin(angle)))
    for reading in hide.thickness if isinstance(hide.thickness, tuple) else ():
        away_mm = math.dist(reading.place, (x, y))
        within = _holds(body.corners, reading.place) if len(body.corners) > 1 else away_mm <= body.radius_mm
        if within:
            yield reading.thickness_mm


def _reach(body: _Body, angle: float) -> float:
    """How far a piece reaches from its middle in one direction: where that crosses one of its sides."""
    if len(body.corners) == 1:
        return body.radius_mm
    x, y = body.placement.centre
    turn = complex(math.cos(angle), -math.sin(angle))
    reach_mm = 0.0
    for a, b in _sides(body.corners):
        # Turned so that the direction is the x axis: where does the side cross it?
        p, q = (turn * complex(corner[0] - x, corner[1] - y) for corner in (a, b))
        if min(p.imag, q.imag) <= 0 <= max(p.imag, q.imag) and p.imag != q.imag:
            reach_mm = max(reach_mm, p.real + (q.real - p.real) * p.imag / (p.imag - q.imag))
    return reach_mm


def _off_spine(angle_deg: float, direction: str, spine: tuple[Point, Point]) -> float:
    """How many degrees a piece's axis, its y, lies off the direction asked for."""
    (ax, ay), (bx, by) = spine
    angle = math.radians(angle_deg)
    axis_x, axis_y = -math.sin(angle), math.cos(angle)
    ahead, beside = axis_x * (bx - ax) + axis_y * (by - ay), axis_x * (by - ay) - axis_y * (bx - ax)
    if direction == "across":
        ahead, beside = beside, ahead
    return math.degrees(math.atan2(abs(beside), abs(ahead)))


def _short(kind: FaultKind, hide: Hide, names: tuple[str, ...], short_mm: float) -> Iterator[Fault]:
    # So written that what is not a number is a fault too.
    if not short_mm <= TOLERANCE_MM:
        yield Fault(kind, hide.name, names, short_mm)


def _body(placement: Placement) -> _Body:
    x, y = placement.centre
    if isinstance(placement.shape, Disc):
        return _Body(placement, ((x, y),), placement.shape.radius_mm)
    turn = complex(math.cos(math.radians(placement.angle_deg)), math.sin(math.radians(placement.angle_deg)))
    places = [complex(x, y) + turn * complex(*corner) for corner in placement.shape.outline]
    return _Body(placement, tuple((place.real, place.imag) for place in places), 0.0)


def _sides(corners: tuple[Point, ...]) -> list[tuple[Point, Point]]:
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _apart(one: tuple[Point, ...], other: tuple[Point, ...]) -> float:
    """Distance between a piece and another polygon or point; below 0, by some depth, where they overlap."""
    middle = (sum(x for x, _ in one) / len(one), sum(y for _, y in one) / len(one))
    deep_mm = max(_depth((middle, *_places(one)), other), _depth(_places(other), one))
    away_mm = _apart_from_sides(one, other)
    return min(away_mm, -deep_mm) if deep_mm > 0 else away_mm


def _places(corners: tuple[Point, ...]) -> tuple[Point, ...]:
    """Corners, and the middles of sides: of two outlines that lie on each other, corners alone show nothing."""
    return corners + tuple(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in _sides(corners))


def _depth(places: tuple[Point, ...], outline: tuple[Point, ...]) -> float:
    """How deep the deepest of some places lies within a polygon; 0 if none does."""
    within = (place for place in places if len(outline) > 1 and _holds(outline, place))
    return max((_apart_from_sides((place,), outline) for place in within), default=0.0)


def _apart_from_sides(one: tuple[Point, ...], other: tuple[Point, ...]) -> float:
    """Distance between the sides of two polygons or points; below 0 where they cross."""
    return min(_between(p, q, r, s) for p, q in _sides(one) for r, s in _sides(other))


def _between(p: Point, q: Point, r: Point, s: Point) -> float:
    """Distance between two straight lines, p to q and r to s, either of which may be a point.

    Where they cross, it is below 0: by how far one of them would have to draw back.
    """
    away_mm = min(_away(p, r, s), _away(q, r, s), _away(r, p, q), _away(s, p, q))
    crossed = _turn(p, q, r) * _turn(p, q, s) < 0 and _turn(r, s, p) * _turn(r, s, q) < 0
    return -away_mm if crossed else away_mm


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _away(point: Point, a: Point, b: Point) -> float:
    """Distance of a point from a straight line of some length, by the angles at its ends."""
    if math.dist(a, b) == 0.0:
        return math.dist(point, a)
    at_a = (point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])
    at_b = (point[0] - b[0]) * (a[0] - b[0]) + (point[1] - b[1]) * (a[1] - b[1])
    if at_a <= 0:
        return math.dist(point, a)
    return math.dist(point, b) if at_b <= 0 else abs(_turn(a, b, point)) / math.dist(a, b)


def _holds(outline: tuple[Point, ...], point: Point) -> bool:
    """Whether a point lies within a polygon: the sides wind round it."""
    winding = 0
    for a, b in _sides(outline):
        if a[1] <= point[1] < b[1] and _turn(a, b, point) > 0:
            winding += 1
        elif b[1] <= point[1] < a[1] and _turn(a, b, point) < 0:
            winding -= 1
    return winding != 0
