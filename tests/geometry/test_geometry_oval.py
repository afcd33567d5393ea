"""The oval outline, against exact cases."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.geometry.curves import CurveTo, Point
from tauthide.geometry.oval import OvalOutline
from tauthide.geometry.round import RoundOutline

FRAME = OvalOutline(500.0, 400.0)


def measure_outside(frame: OvalOutline, point: Point) -> float:
    """Distance from an ellipse to a point, below 0 inside, from the foot of the perpendicular."""
    half_x, half_y = frame.width_mm / 2, frame.length_mm / 2
    t = math.atan2(point[0] / half_x, -point[1] / half_y)
    for _ in range(25):
        x, y = half_x * math.sin(t), -half_y * math.cos(t)
        dx, dy = half_x * math.cos(t), half_y * math.sin(t)
        off = (point[0] - x) * dx + (point[1] - y) * dy
        t += off / (dx * dx + dy * dy + (point[0] - x) * x + (point[1] - y) * y)
    distance = math.dist(point, (half_x * math.sin(t), -half_y * math.cos(t)))
    return math.copysign(distance, (point[0] / half_x) ** 2 + (point[1] / half_y) ** 2 - 1)


def follow(start: Point, piece: CurveTo, steps: int) -> list[Point]:
    """Points along a Bézier piece, after its start, its end included."""
    x_values = (start[0], piece.x1_mm, piece.x2_mm, piece.x_mm)
    y_values = (start[1], piece.y1_mm, piece.y2_mm, piece.y_mm)

    def blend(values: tuple[float, float, float, float], u: float) -> float:
        a, b, c, d = values
        return (1 - u) ** 3 * a + 3 * (1 - u) ** 2 * u * b + 3 * (1 - u) * u**2 * c + u**3 * d

    return [(blend(x_values, k / steps), blend(y_values, k / steps)) for k in range(1, steps + 1)]


def test_extents_and_area() -> None:
    """Length along y, width along x, both grown by twice the offset; Steiner's area."""
    assert (FRAME.length_at(90.0), FRAME.width_at(90.0)) == (680.0, 580.0)
    assert FRAME.area_mm2 == pytest.approx(math.pi * 250 * 200)
    grown = FRAME.area_mm2 + 10 * FRAME.perimeter_mm + 100 * math.pi
    assert FRAME.area_at(10.0) == pytest.approx(grown)
    assert FRAME.perimeter_at(10.0) == pytest.approx(FRAME.perimeter_mm + 20 * math.pi)


def test_area_along_the_curve() -> None:
    """Steiner's area is what a fine polygon of points along the curve encloses."""
    for offset in (80.0, -60.0):
        count = 4000
        step = FRAME.perimeter_at(offset) / count
        points = [FRAME.point(offset, number * step) for number in range(count + 1)]
        twice = sum(x_a * y_b - x_b * y_a for (x_a, y_a), (x_b, y_b) in pairwise(points))
        assert twice / 2 == pytest.approx(FRAME.area_at(offset), rel=2e-6)


def test_least_radius_at_the_ends() -> None:
    """Half the shorter axis squared over half the longer, whichever way the oval lies."""
    assert FRAME.least_radius_mm == pytest.approx(160.0)
    assert OvalOutline(400.0, 500.0).least_radius_mm == pytest.approx(160.0)


def test_quarter_points() -> None:
    """Four stations lie at the ends of the axes, and are carried along them."""
    expected = [(0, -300), (250, 0), (0, 300), (-250, 0)]
    points = [FRAME.point(50.0, FRAME.carry(station, 50.0)) for station in FRAME.stations(4)]
    for point, (x, y) in zip(points, expected, strict=True):
        assert point == pytest.approx((x, y), abs=1e-11)


def test_carried_along_the_normal() -> None:
    """The carried point lies at the offset from the frame's, square to the frame."""
    arc = FRAME.perimeter_mm / 8
    (x, y), (normal_x, normal_y) = FRAME.point(0.0, arc), FRAME.normal(0.0, arc)
    carried = FRAME.carry(arc, 70.0)
    assert FRAME.point(70.0, carried) == pytest.approx((x + 70 * normal_x, y + 70 * normal_y), abs=1e-10)
    assert FRAME.normal(70.0, carried) == pytest.approx((normal_x, normal_y), abs=1e-12)


def test_chord_through_the_centre() -> None:
    """From one end of the length the other is its own length away, half the perimeter along."""
    assert FRAME.advance(0.0, 0.0, 499.0) < FRAME.perimeter_mm / 2
    x, y = FRAME.point(0.0, FRAME.advance(0.0, 0.0, 499.0))
    assert math.hypot(x, y + 250) == pytest.approx(499.0, abs=1e-10)


@pytest.mark.parametrize("chord", [500.1, 1e6])
def test_refuses_a_chord_too_long(chord: float) -> None:
    """Nothing on the oval lies further off than its length."""
    with pytest.raises(ValueError, match="no place"):
        FRAME.advance(0.0, 0.0, chord)
    with pytest.raises(ValueError, match="no two places"):
        FRAME.straddle(0.0, 0.0, chord)


def test_no_chord_at_all() -> None:
    """A chord of 0 stays where it is; one below 0 cannot be straddled."""
    assert FRAME.advance(5.0, 33.0, 0.0) == 33.0
    assert FRAME.straddle(5.0, 33.0, 0.0) == (33.0, 33.0)
    with pytest.raises(ValueError, match="no two places"):
        FRAME.straddle(0.0, 0.0, -1.0)


def test_refuses_an_offset_that_folds() -> None:
    """Pulled in by its least radius the curve has a cusp."""
    assert FRAME.perimeter_at(-159.9) > 0
    for ask in (FRAME.perimeter_at, FRAME.area_at, FRAME.length_at, FRAME.width_at, FRAME.path):
        with pytest.raises(ValueError, match="does not leave a curve"):
            ask(-160.0)


@pytest.mark.parametrize(("length", "width"), [(0.0, 1.0), (1.0, -1.0), (math.nan, 1.0), (1.0, math.inf)])
def test_refuses_no_ellipse(length: float, width: float) -> None:
    """Both axes are finite lengths above 0."""
    with pytest.raises(ValueError, match="_mm must be a finite length above 0"):
        OvalOutline(length, width)


@given(
    st.floats(100.0, 2000.0),
    st.floats(1 / 3, 1.0),
    st.booleans(),
    st.floats(-0.9, 1.0),
    st.floats(0.0, 300.0),
)
def test_path_within_a_hundredth(length: float, aspect: float, lying: bool, share: float, reach: float) -> None:
    """The drawn curve strays from the true one by less than 0.01 mm, and closes."""
    frame = OvalOutline(length * aspect, length) if lying else OvalOutline(length, length * aspect)
    offset = share * frame.least_radius_mm if share < 0 else share * reach
    path = frame.path(offset)
    place = path.start
    for piece in path.segments:
        assert isinstance(piece, CurveTo)
        for point in follow(place, piece, 8):
            assert abs(measure_outside(frame, point) - offset) < 0.01
        place = (piece.x_mm, piece.y_mm)
    assert place == path.start


@given(st.floats(100.0, 2000.0), st.integers(2, 32), st.floats(-0.4, 1.0), st.floats(-0.8, 0.8))
def test_equal_axes_make_a_circle(diameter: float, half_count: int, share: float, chord_share: float) -> None:
    """An oval as wide as long agrees with the round outline in everything."""
    oval, circle = OvalOutline(diameter, diameter), RoundOutline(diameter)
    offset, scale = share * diameter, diameter * 1e-12
    chord = chord_share * circle.width_at(min(offset, 0.0))
    for a, b in zip(oval.stations(2 * half_count), circle.stations(2 * half_count), strict=True):
        assert a == pytest.approx(b, abs=scale * 10)
        arc = circle.carry(b, offset)
        assert oval.carry(a, offset) == pytest.approx(arc, abs=scale * 20)
        assert oval.point(offset, arc) == pytest.approx(circle.point(offset, arc), abs=scale * 20)
        assert oval.normal(offset, arc) == pytest.approx(circle.normal(offset, arc), abs=1e-11)
        assert oval.advance(offset, arc, chord) == pytest.approx(circle.advance(offset, arc, chord), abs=scale * 50)
        assert oval.straddle(offset, arc, abs(chord)) == pytest.approx(
            circle.straddle(offset, arc, abs(chord)), abs=scale * 50
        )
