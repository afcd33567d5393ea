"""Rings: crossings and inside, against plain definitions worked out another way."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.runs.polygons import contains, crossings, distance_outside, overlap, repeats, side_of

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
NOTCHED = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.2, 10.0), (5.0, 4.0), (4.8, 10.0), (0.0, 10.0))
EL = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 10.0), (0.0, 10.0))

WHOLE = st.integers(-4, 4).map(float)
POINT = st.tuples(WHOLE, WHOLE)
FINE = st.floats(-1e6, 1e6)


@given(*[st.tuples(FINE, FINE)] * 3)
def test_side_is_exact(a: tuple[float, float], b: tuple[float, float], p: tuple[float, float]) -> None:
    (ax, ay), (bx, by), (px, py) = (tuple(map(Fraction, point)) for point in (a, b, p))
    area = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
    assert side_of(a, b, p) == (area > 0) - (area < 0)


def test_side_where_floats_would_be_wrong() -> None:
    # Kettner and others, "Classroom examples of robustness problems in geometric computations" (2008):
    # points one step of a float apart, near (0.5, 0.5), seen from (12, 12) and (24, 24).
    step = 2.0**-53
    signs = {
        side_of((0.5 + x * step, 0.5 + y * step), (12.0, 12.0), (24.0, 24.0)) == (x < y) - (x > y)
        for x in range(8)
        for y in range(8)
    }
    assert signs == {True}


def _meet(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]) -> bool:
    """Tell whether two segments between whole points have a point in common, by solving for it exactly."""
    r = Fraction(b[0] - a[0]), Fraction(b[1] - a[1])
    s = Fraction(d[0] - c[0]), Fraction(d[1] - c[1])
    q = Fraction(c[0] - a[0]), Fraction(c[1] - a[1])
    cross = r[0] * s[1] - r[1] * s[0]
    if cross:
        t, u = (q[0] * s[1] - q[1] * s[0]) / cross, (q[0] * r[1] - q[1] * r[0]) / cross
        return 0 <= t <= 1 and 0 <= u <= 1
    if q[0] * r[1] - q[1] * r[0]:
        return False
    size = r[0] * r[0] + r[1] * r[1]
    ends = [(q[0] * r[0] + q[1] * r[1]) / size, ((q[0] + s[0]) * r[0] + (q[1] + s[1]) * r[1]) / size]
    return bool(max(min(ends), Fraction(0)) <= min(max(ends), Fraction(1)))


@pytest.mark.parametrize(
    ("ring", "wanted"),
    [
        (SQUARE, []),
        (NOTCHED, []),
        (((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)), [(0, 2)]),
        # A corner that touches the first edge: both its edges do.
        (((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 0.0), (0.0, 10.0)), [(0, 2), (0, 3)]),
        # An edge that runs back over the one before.
        (((0.0, 0.0), (10.0, 0.0), (5.0, 0.0), (5.0, 10.0)), [(0, 1), (0, 2)]),
    ],
)
def test_rings_that_cross_themselves(ring: tuple[tuple[float, float], ...], wanted: list[tuple[int, int]]) -> None:
    assert sorted(crossings(ring)) == wanted


@given(st.lists(POINT, min_size=4, max_size=7, unique=True))
def test_edges_that_are_no_neighbours_cross_where_they_have_a_point_in_common(ring: list[tuple[float, float]]) -> None:
    count = len(ring)
    ends = [(ring[i], ring[(i + 1) % count]) for i in range(count)]
    apart = [(i, j) for i in range(count) for j in range(i + 2, count) if (j + 1) % count != i]
    expected = [(i, j) for i, j in apart if _meet(*ends[i], *ends[j])]
    assert sorted(pair for pair in crossings(ring) if pair in apart) == expected


def test_neighbours_may_not_turn_back() -> None:
    assert sorted(crossings(((0.0, 0.0), (10.0, 0.0), (5.0, 0.0), (5.0, 5.0)))) == [(0, 1), (0, 2)]
    assert list(crossings(EL)) == []
    assert list(crossings(tuple(reversed(EL)))) == []


def test_repeats_look_at_neighbours_only() -> None:
    assert list(repeats(SQUARE)) == []
    assert list(repeats(((0.0, 0.0), (0.0, 0.005), (5.0, 5.0), (0.0, 0.0)))) == [(1, 0), (3, 0)]


@given(POINT)
def test_inside_a_square_is_between_its_sides(p: tuple[float, float]) -> None:
    ring = ((-2.0, -2.0), (2.0, -2.0), (2.0, 2.0), (-2.0, 2.0))
    assert contains(ring, p) == (max(map(abs, p)) <= 2)
    assert contains(tuple(reversed(ring)), p) == contains(ring, p)
    outside = math.hypot(*(max(abs(step) - 2, 0) for step in p))
    assert distance_outside(ring, p) == pytest.approx(outside)


@given(st.integers(3, 40), st.floats(0, 300), st.floats(0, math.tau))
def test_inside_a_many_sided_ring(count: int, radius: float, angle: float) -> None:
    ring = [(100 * math.cos(math.tau * i / count), 100 * math.sin(math.tau * i / count)) for i in range(count)]
    p = (radius * math.cos(angle), radius * math.sin(angle))
    if radius > 100:
        assert not contains(ring, p)
    if radius < 100 * math.cos(math.pi / count) - 1e-9:
        assert contains(ring, p)


def test_overlap_by_corner_by_edge_and_by_enclosing() -> None:
    cross = ((4.0, -5.0), (6.0, -5.0), (6.0, 15.0), (4.0, 15.0))
    assert overlap(SQUARE, cross)
    assert overlap(SQUARE, ((2.0, 2.0), (3.0, 2.0), (3.0, 3.0)))
    assert overlap(((2.0, 2.0), (3.0, 2.0), (3.0, 3.0)), SQUARE)
    assert not overlap(EL, ((5.0, 5.0), (9.0, 5.0), (9.0, 9.0)))
