"""The polygon outline, against exact cases."""

from __future__ import annotations

import math

import pytest

from tauthide.geometry.curves import ArcTo, ClosedPath, LineTo
from tauthide.geometry.outline import OUTLINES, make_outline
from tauthide.geometry.oval import OvalOutline
from tauthide.geometry.polygon import PolygonOutline
from tauthide.geometry.round import RoundOutline

SQUARE = PolygonOutline(4, 400.0)
HEXAGON = PolygonOutline(6, 400.0)
TRIANGLE = PolygonOutline(3, 400.0)
PENTAGON = PolygonOutline(5, 400.0)


def test_square_sizes() -> None:
    """A square, with rounded corners pushed out and smaller pulled in."""
    assert SQUARE.perimeter_mm == pytest.approx(1600.0)
    assert SQUARE.area_mm2 == pytest.approx(160000.0)
    assert SQUARE.least_radius_mm == 200.0
    assert SQUARE.perimeter_at(50.0) == pytest.approx(1600 + 100 * math.pi)
    assert SQUARE.area_at(50.0) == pytest.approx(160000 + 80000 + 2500 * math.pi)
    assert SQUARE.perimeter_at(-50.0) == pytest.approx(1200.0)
    assert SQUARE.area_at(-50.0) == pytest.approx(90000.0)


def test_extents() -> None:
    """Over sides, or over corners, which stand out less once they are round."""
    assert (SQUARE.length_at(10.0), SQUARE.width_at(10.0)) == pytest.approx((420.0, 420.0))
    across_corners = 400 / math.cos(math.pi / 6)
    assert (HEXAGON.length_at(10.0), HEXAGON.width_at(10.0)) == pytest.approx((420.0, across_corners + 20))
    assert HEXAGON.width_at(-100.0) == pytest.approx(across_corners / 2)
    # A triangle's corners lie twice as far out as its sides, and its side is sqrt 12 times that.
    assert TRIANGLE.length_at(0.0) == pytest.approx(600.0)
    assert TRIANGLE.width_at(0.0) == pytest.approx(200 * math.sqrt(12))
    assert TRIANGLE.length_at(10.0) == pytest.approx(620.0)
    assert TRIANGLE.width_at(10.0) == pytest.approx(200 * math.sqrt(12) + 20)
    # A pentagon's diagonal is its side times the golden section.
    side = 400 * math.tan(math.pi / 5)
    assert PENTAGON.width_at(0.0) == pytest.approx(side * (1 + math.sqrt(5)) / 2)


def test_corners_of_the_square() -> None:
    """Stations 2 of 8 and so on lie on the square's corners, carried along its diagonals."""
    stations = SQUARE.stations(8)
    expected = [(0, -200), (200, -200), (200, 0), (200, 200), (0, 200), (-200, 200), (-200, 0), (-200, -200)]
    for station, (x, y) in zip(stations, expected, strict=True):
        assert SQUARE.point(0.0, station) == pytest.approx((x, y), abs=1e-11)
    diagonal = 200 + 50 / math.sqrt(2)
    assert SQUARE.point(50.0, SQUARE.carry(stations[1], 50.0)) == pytest.approx((diagonal, -diagonal))
    assert SQUARE.point(-50.0, SQUARE.carry(stations[1], -50.0)) == pytest.approx((150.0, -150.0))


def test_carried_along_the_ray() -> None:
    """Near the middle a ray meets the moved side, near a corner the corner's arc."""
    assert SQUARE.carry(100.0, 100.0) == pytest.approx(150.0)
    assert SQUARE.carry(100.0, -100.0) == pytest.approx(50.0)
    on_arc = SQUARE.point(100.0, SQUARE.carry(180.0, 100.0))
    assert on_arc[0] / -on_arc[1] == pytest.approx(0.9)
    assert math.dist(on_arc, (200, -200)) == pytest.approx(100.0)


def test_normals() -> None:
    """Square to the sides, and half way between them in the middle of a corner."""
    assert SQUARE.normal(0.0, 150.0) == pytest.approx((0.0, -1.0))
    assert SQUARE.normal(0.0, 450.0) == pytest.approx((1.0, 0.0))
    half = math.sqrt(0.5)
    assert SQUARE.normal(40.0, 200 + 40 * math.pi / 4) == pytest.approx((half, -half))


def test_advance_along_a_side_and_round_a_corner() -> None:
    """On one side a chord is a length of side; past a sharp corner it is a hypotenuse."""
    assert SQUARE.advance(0.0, -50.0, 120.0) == pytest.approx(70.0)
    # 30 before the corner to 40 after it.
    assert SQUARE.advance(0.0, 170.0, 50.0) == pytest.approx(240.0)
    assert SQUARE.advance(0.0, 240.0, -50.0) == pytest.approx(170.0)
    # Within a corner's arc: its own radius spans a sixth of a turn.
    begin = 200 + 90 * math.radians(10)
    assert SQUARE.advance(90.0, begin, 90.0) == pytest.approx(begin + 90 * math.pi / 3)


def test_advance_takes_the_first_place() -> None:
    """From the middle of a triangle's side a chord of a third of it meets that side, not a further one."""
    half_side = 200 * math.sqrt(3)
    assert TRIANGLE.advance(0.0, 0.0, half_side) == pytest.approx(half_side)
    beyond = TRIANGLE.advance(0.0, 0.0, half_side + 1)
    # Along the next side the distance falls, and is back at half a side in that side's middle.
    assert beyond > 2 * half_side
    assert math.dist(TRIANGLE.point(0.0, beyond), (0, -200)) == pytest.approx(half_side + 1)


def test_advance_to_the_top_of_an_arc() -> None:
    """The furthest place may lie within a corner's arc, past which the distance falls again."""
    furthest = 600.0 + 20.0
    arc = TRIANGLE.advance(20.0, 0.0, furthest + 20.0 - 1e-9)
    assert TRIANGLE.point(20.0, arc) == pytest.approx((0.0, 420.0), abs=0.01)
    with pytest.raises(ValueError, match="no place"):
        TRIANGLE.advance(20.0, 0.0, furthest + 20.0 + 1e-9)


def test_straddle_a_corner() -> None:
    """About a sharp corner of a square both ends lie on the sides, 45 degrees off the chord."""
    assert SQUARE.straddle(0.0, 200.0, 50 * math.sqrt(2)) == pytest.approx((150.0, 250.0))
    assert SQUARE.straddle(0.0, 0.0, 50.0) == pytest.approx((-25.0, 25.0))


def test_refuses_a_chord_too_long() -> None:
    """No two places on a square are further apart than its diagonal."""
    with pytest.raises(ValueError, match="no place"):
        SQUARE.advance(0.0, 200.0, 400 * math.sqrt(2) + 1e-6)
    with pytest.raises(ValueError, match="no two places"):
        SQUARE.straddle(0.0, 0.0, 400.1)


def test_path() -> None:
    """Sides only when sharp; sides and arcs about the frame's corners when pushed out."""
    sharp = SQUARE.path(-50.0)
    assert sharp.start == (0.0, -150.0)
    ends = [(150, -150), (150, 150), (-150, 150), (-150, -150), (0, -150)]
    for piece, (x, y) in zip(sharp.segments, ends, strict=True):
        assert isinstance(piece, LineTo)
        assert (piece.x_mm, piece.y_mm) == pytest.approx((x, y))
    rounded: ClosedPath = SQUARE.path(50.0)
    assert [type(piece) for piece in rounded.segments] == [LineTo, ArcTo] * 4 + [LineTo]
    corner = rounded.segments[1]
    assert isinstance(corner, ArcTo)
    assert (corner.radius_mm, corner.x_mm, corner.y_mm) == pytest.approx((50.0, 250.0, -200.0))
    last = rounded.segments[-1]
    assert (last.x_mm, last.y_mm) == rounded.start == (0.0, -250.0)


@pytest.mark.parametrize("sides", [2, 0, -4])
def test_refuses_too_few_sides(sides: int) -> None:
    """A polygon has at least three sides."""
    with pytest.raises(ValueError, match="3 sides or more"):
        PolygonOutline(sides, 400.0)


def test_refuses_an_offset_beyond_the_centre() -> None:
    """Pulled in by the distance of its sides a polygon is a point."""
    with pytest.raises(ValueError, match="does not leave a curve"):
        SQUARE.point(-200.0, 0.0)


class TestMaking:
    """An outline by its kind."""

    def test_each_kind(self) -> None:
        """Each kind of the register makes its own outline, and further sizes are passed over."""
        sizes = {"diameter_mm": 330.2, "length_mm": 500.0, "width_mm": 400.0, "sides": 8.0}
        made = {kind: make_outline(kind, across_flats_mm=350.0, **sizes) for kind in OUTLINES}
        assert made == {
            "round": RoundOutline(330.2),
            "oval": OvalOutline(500.0, 400.0),
            "polygon": PolygonOutline(8, 350.0),
        }
        assert all(outline.kind == kind for kind, outline in made.items())

    def test_refuses_the_unknown(self) -> None:
        """An unknown kind and a missing size are faults of the caller's."""
        with pytest.raises(KeyError):
            make_outline("heart", diameter_mm=1.0)
        with pytest.raises(KeyError):
            make_outline("oval", length_mm=1.0)

    @pytest.mark.parametrize("count", [0, -2])
    @pytest.mark.parametrize("outline", [RoundOutline(400.0), OvalOutline(500.0, 400.0), SQUARE])
    def test_refuses_no_stations(self, outline: RoundOutline | OvalOutline | PolygonOutline, count: int) -> None:
        """A perimeter is divided into one part or more."""
        with pytest.raises(ValueError, match="1 part or more"):
            outline.stations(count)
