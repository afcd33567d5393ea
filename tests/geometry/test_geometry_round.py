"""The round outline, against exact cases."""

from __future__ import annotations

import math

import pytest

from tauthide.geometry.curves import ArcTo, ClosedPath
from tauthide.geometry.round import RoundOutline

FRAME = RoundOutline(400.0)


def test_sizes() -> None:
    """Perimeter, area and extents of a circle, pushed out and pulled in."""
    assert FRAME.perimeter_mm == pytest.approx(400 * math.pi)
    assert FRAME.area_mm2 == pytest.approx(40000 * math.pi)
    assert FRAME.least_radius_mm == 200.0
    assert (FRAME.length_at(90.0), FRAME.width_at(-10.0)) == (580.0, 380.0)
    assert FRAME.perimeter_at(-50.0) == pytest.approx(300 * math.pi)
    assert FRAME.area_at(100.0) == pytest.approx(90000 * math.pi)


def test_quarter_points() -> None:
    """Four stations lie below, right, above and left of the centre."""
    expected = [(0, -250), (250, 0), (0, 250), (-250, 0)]
    points = [FRAME.point(50.0, FRAME.carry(station, 50.0)) for station in FRAME.stations(4)]
    for point, (x, y) in zip(points, expected, strict=True):
        assert point == pytest.approx((x, y), abs=1e-12)


def test_normal_points_outward() -> None:
    """At a quarter of the way round the normal points right."""
    assert FRAME.normal(50.0, 250 * math.pi / 2) == pytest.approx((1.0, 0.0), abs=1e-15)


def test_advance_by_the_radius() -> None:
    """A chord as long as the radius spans a sixth of the circle, either way."""
    assert FRAME.advance(0.0, 10.0, 200.0) == pytest.approx(10 + 400 * math.pi / 6)
    assert FRAME.advance(0.0, 10.0, -200.0) == pytest.approx(10 - 400 * math.pi / 6)
    assert FRAME.straddle(0.0, 10.0, 200.0) == pytest.approx((10 - 400 * math.pi / 12, 10 + 400 * math.pi / 12))


def test_diameter_is_the_longest_chord() -> None:
    """The diameter reaches half way round; a hair more is refused."""
    assert FRAME.advance(0.0, 0.0, 400.0) == pytest.approx(200 * math.pi)
    with pytest.raises(ValueError, match="no chord of"):
        FRAME.advance(0.0, 0.0, 400.001)
    with pytest.raises(ValueError, match="no chord of"):
        FRAME.straddle(0.0, 0.0, 400.001)


def test_path_is_two_half_circles() -> None:
    """From the lowest point to the highest and back."""
    assert FRAME.path(-20.0) == ClosedPath((0.0, -180.0), (ArcTo(180.0, 0.0, 180.0), ArcTo(180.0, 0.0, -180.0)))


@pytest.mark.parametrize("diameter", [0.0, -1.0, math.nan, math.inf])
def test_refuses_no_circle(diameter: float) -> None:
    """A diameter is a finite length above 0."""
    with pytest.raises(ValueError, match="diameter_mm"):
        RoundOutline(diameter)


def test_refuses_an_offset_beyond_the_centre() -> None:
    """Pulled in by its radius a circle is a point."""
    with pytest.raises(ValueError, match="does not leave a curve"):
        FRAME.perimeter_at(-200.0)


def test_refuses_to_straddle_backwards() -> None:
    """A chord to straddle has no direction."""
    with pytest.raises(ValueError, match="0 or longer"):
        FRAME.straddle(0.0, 0.0, -1.0)
