"""Laws that hold for every outline, every even count of stations and every sensible size."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipeinc

from tauthide.geometry.curves import ArcTo, LineTo, Point
from tauthide.geometry.outline import Outline
from tauthide.geometry.oval import OvalOutline
from tauthide.geometry.polygon import PolygonOutline
from tauthide.geometry.round import RoundOutline

sizes = st.floats(100.0, 2000.0)
aspects = st.floats(0.5, 1.0)
rounds = st.builds(RoundOutline, sizes)
standing = st.builds(lambda length, aspect: OvalOutline(length, length * aspect), sizes, aspects)
lying = st.builds(lambda width, aspect: OvalOutline(width * aspect, width), sizes, aspects)
ovals = standing | lying
polygons = st.builds(PolygonOutline, st.integers(3, 16), sizes)
outlines: st.SearchStrategy[Outline] = st.one_of(rounds, ovals, polygons)
counts = st.integers(2, 32).map(lambda half: 2 * half)
"""Every station count that a drum may have: even, 4 to 64."""

# Drawn as whole numbers of thousandths: floats would be drawn mostly near 0 and 1, and miss the corners.
shares = st.integers(-900, 1500).map(lambda thousandths: thousandths / 1000)
"""An offset over the least radius: from nearly folding to well outside."""

parts = st.integers(-1000, 1000).map(lambda thousandths: thousandths / 1000)
"""A place over the perimeter, either way round."""

chord_shares = st.floats(0.001, 0.95)
"""A chord over the radius within which every oval and circle has just one place so far along."""


def offset_of(outline: Outline, share: float) -> float:
    """An offset in mm from its share of the least radius."""
    return share * outline.least_radius_mm


def size_of(outline: Outline) -> float:
    """What rounding errors scale with."""
    return outline.length_at(0.0) + outline.width_at(0.0)


def measure_frame(outline: Outline, point: Point) -> float:
    """Length along the frame from the lowest point to one on it, measured without the library."""
    x, y = point
    if isinstance(outline, RoundOutline):
        return math.atan2(x, -y) % (2 * math.pi) * outline.diameter_mm / 2
    if isinstance(outline, OvalOutline):
        half_x, half_y = outline.width_mm / 2, outline.length_mm / 2
        t = math.atan2(x / half_x, -y / half_y) % (2 * math.pi)
        return half_x * float(ellipeinc(t, 1 - (half_y / half_x) ** 2))
    assert isinstance(outline, PolygonOutline)
    sector = 2 * math.pi / outline.sides
    number = round(math.atan2(x, -y) / sector)
    angle = number * sector
    along = x * math.cos(angle) + y * math.sin(angle)
    side = outline.across_flats_mm * math.tan(sector / 2)
    return (number * side + along) % (side * outline.sides)


def measure_to_frame(outline: Outline, point: Point) -> float:
    """Distance from the frame's outline to a point, without the library's curves."""
    if isinstance(outline, RoundOutline):
        return abs(math.hypot(*point) - outline.diameter_mm / 2)
    if isinstance(outline, PolygonOutline):
        radius = outline.across_flats_mm / 2 / math.cos(math.pi / outline.sides)
        angles = [(2 * number - 1) * math.pi / outline.sides for number in range(outline.sides + 1)]
        corners = [(radius * math.sin(angle), -radius * math.cos(angle)) for angle in angles]
        return min(measure_to_line(point, a, b) for a, b in pairwise(corners))
    assert isinstance(outline, OvalOutline)
    half_x, half_y = outline.width_mm / 2, outline.length_mm / 2

    def away(t: float) -> float:
        return math.dist(point, (half_x * math.sin(t), -half_y * math.cos(t)))

    # The nearest of 720 places, then thirds of the interval about it: no slopes, no normals.
    step = math.pi / 360
    best = min((number * step for number in range(720)), key=away)
    low, high = best - step, best + step
    for _ in range(60):
        third = (high - low) / 3
        if away(low + third) < away(high - third):
            high -= third
        else:
            low += third
    return away((low + high) / 2)


def measure_to_line(point: Point, a: Point, b: Point) -> float:
    """Distance from a point to the straight line between two others."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, share))
    return math.dist(point, (a[0] + share * dx, a[1] + share * dy))


class TestEqualArcs:
    """Stations divide the frame's outside perimeter equally."""

    @given(outlines, counts)
    def test_equal_to_a_thousand_millionth(self, outline: Outline, count: int) -> None:
        """Measured independently, every arc is the same to 1e-9 of the perimeter."""
        stations = outline.stations(count)
        assert len(stations) == count
        assert stations[0] == 0.0
        at = [measure_frame(outline, outline.point(0.0, station)) for station in stations]
        whole = outline.perimeter_mm
        wrapped = [math.remainder(a, whole) if number == 0 else a for number, a in enumerate(at)]
        for number, a in enumerate(wrapped):
            assert abs(a - whole * number / count) <= 1e-9 * whole

    @given(outlines)
    def test_perimeter_measured_independently(self, outline: Outline) -> None:
        """Half way round, measured independently, is half the perimeter."""
        half = measure_frame(outline, outline.point(0.0, outline.perimeter_mm / 2))
        x, y = outline.point(0.0, outline.perimeter_mm / 2)
        assert (x, y) == pytest.approx((0.0, outline.length_at(0.0) + outline.point(0.0, 0.0)[1]), abs=1e-8)
        assert half == pytest.approx(outline.perimeter_mm / 2, rel=1e-12)


class TestSymmetry:
    """Outlines are their own mirror image; ovals and even-sided polygons turn onto themselves too."""

    @given(outlines, counts, shares)
    def test_mirror(self, outline: Outline, count: int, share: float) -> None:
        """Station k mirrored is station n + 2 - k, on every curve."""
        offset = offset_of(outline, share)
        points = [outline.point(offset, outline.carry(s, offset)) for s in outline.stations(count)]
        for number in range(count):
            x, y = points[-number % count]
            assert points[number] == pytest.approx((-x, y), abs=1e-12 * size_of(outline))

    @given(outlines, counts, shares)
    def test_half_turn(self, outline: Outline, count: int, share: float) -> None:
        """Station k + n/2 lies opposite station k."""
        if isinstance(outline, PolygonOutline) and outline.sides % 2:
            outline = PolygonOutline(outline.sides + 1, outline.across_flats_mm)
        offset = offset_of(outline, share)
        points = [outline.point(offset, outline.carry(s, offset)) for s in outline.stations(count)]
        for (x_a, y_a), b in zip(points, points[count // 2 :], strict=False):
            assert b == pytest.approx((-x_a, -y_a), abs=1e-12 * size_of(outline))

    @given(polygons, shares, parts)
    def test_polygon_turns_by_a_side(self, outline: PolygonOutline, share: float, part: float) -> None:
        """A place one sector further on is turned by one side's angle."""
        offset = offset_of(outline, share)
        whole, turn = outline.perimeter_at(offset), 2 * math.pi / outline.sides
        x, y = outline.point(offset, part * whole)
        turned = (
            x * math.cos(turn) - y * math.sin(turn),
            x * math.sin(turn) + y * math.cos(turn),
        )
        further = outline.point(offset, part * whole + whole / outline.sides)
        assert further == pytest.approx(turned, abs=1e-11 * size_of(outline))

    @given(outlines, shares, parts, st.integers(-2, 2))
    def test_wraps(self, outline: Outline, share: float, part: float, turns: int) -> None:
        """Whole times round end at the same place."""
        offset = offset_of(outline, share)
        whole = outline.perimeter_at(offset)
        once, again = (outline.point(offset, (part + extra) * whole) for extra in (0, turns))
        assert again == pytest.approx(once, abs=1e-11 * size_of(outline))


class TestCarrying:
    """How stations reach the curves at a distance."""

    @given(rounds | ovals, counts, shares)
    def test_along_the_normal(self, outline: Outline, count: int, share: float) -> None:
        """On circles and ovals the carried point lies off the frame's by the offset, square to it."""
        offset = offset_of(outline, share)
        for station in outline.stations(count):
            x, y = outline.point(0.0, station)
            carried = outline.point(offset, outline.carry(station, offset))
            normal_x, normal_y = outline.normal(0.0, station)
            expected = (x + offset * normal_x, y + offset * normal_y)
            assert carried == pytest.approx(expected, abs=1e-12 * size_of(outline))

    @given(polygons, counts, shares)
    def test_along_the_ray(self, outline: PolygonOutline, count: int, share: float) -> None:
        """On polygons it lies on the ray from the centre, on the same side of it."""
        offset = offset_of(outline, share)
        for station in outline.stations(count):
            x, y = outline.point(0.0, station)
            carried_x, carried_y = outline.point(offset, outline.carry(station, offset))
            distance = math.hypot(x, y)
            assert abs(carried_x * y - carried_y * x) / distance <= 1e-11 * size_of(outline)
            assert carried_x * x + carried_y * y > 0

    @given(outlines, counts, shares)
    def test_keeps_the_order(self, outline: Outline, count: int, share: float) -> None:
        """Carried stations follow one another and stay within one time round."""
        offset = offset_of(outline, share)
        arcs = [outline.carry(station, offset) for station in outline.stations(count)]
        assert arcs[0] == 0.0
        assert all(a < b for a, b in pairwise([*arcs, outline.perimeter_at(offset)]))

    @given(outlines, counts)
    def test_frame_to_frame(self, outline: Outline, count: int) -> None:
        """Carried by nothing, a station stays where it is."""
        for station in outline.stations(count):
            assert outline.carry(station, 0.0) == pytest.approx(station, abs=1e-12 * size_of(outline))


class TestCurves:
    """The curves at a distance from an outline."""

    @given(outlines, shares, parts)
    def test_distance_from_the_frame(self, outline: Outline, share: float, part: float) -> None:
        """Every point of the curve lies at that distance from the frame's outline."""
        offset = offset_of(outline, share)
        point = outline.point(offset, part * outline.perimeter_at(offset))
        assert measure_to_frame(outline, point) == pytest.approx(abs(offset), abs=1e-9 * size_of(outline))

    @given(outlines, shares, parts)
    def test_length_is_length(self, outline: Outline, share: float, part: float) -> None:
        """A short way along the curve is as long as it says, and square to the normal."""
        offset = offset_of(outline, share)
        whole = outline.perimeter_at(offset)
        step = whole * 1e-6
        sector = whole / outline.sides if isinstance(outline, PolygonOutline) else whole
        # Away from the ends of a polygon's sectors, where a sharp corner cuts the way short.
        place = (0.4 * math.remainder(part * 2, 1.0) + math.floor(part * 5)) * sector
        (x_a, y_a), (x_b, y_b) = outline.point(offset, place), outline.point(offset, place + step)
        assert math.hypot(x_b - x_a, y_b - y_a) == pytest.approx(step, rel=1e-6)
        normal_x, normal_y = outline.normal(offset, place)
        assert math.hypot(normal_x, normal_y) == pytest.approx(1.0, rel=1e-14)
        # The tangent is the normal turned anticlockwise.
        assert ((y_b - y_a) * normal_x - (x_b - x_a) * normal_y) / step == pytest.approx(1.0, abs=1e-6)

    @given(outlines, shares)
    def test_extents(self, outline: Outline, share: float) -> None:
        """No point of the curve lies outside its length and width, and some reach them."""
        offset = offset_of(outline, share)
        whole = outline.perimeter_at(offset)
        # 16 sides at most and 4 places to a side's half: every corner, end and top is among them.
        count = 8 * (outline.sides if isinstance(outline, PolygonOutline) else 4)
        points = [outline.point(offset, whole * number / count) for number in range(count)]
        height = max(y for _, y in points) - min(y for _, y in points)
        breadth = max(x for x, _ in points) - min(x for x, _ in points)
        small = 1e-11 * size_of(outline)
        assert height == pytest.approx(outline.length_at(offset), abs=small)
        assert breadth <= outline.width_at(offset) + small
        if not (isinstance(outline, PolygonOutline) and outline.sides % 2 and offset > 0):
            # An odd polygon's round corner is widest off its middle, which the places may miss.
            assert breadth == pytest.approx(outline.width_at(offset), abs=small)

    @given(st.integers(1, 7).map(lambda half: 2 * half + 1), sizes, st.floats(0.01, 1.5))
    def test_width_of_odd_polygons(self, sides: int, across: float, share: float) -> None:
        """An odd polygon's round corner adds its radius to each side of the sharp one's width."""
        outline = PolygonOutline(sides, across)
        offset = offset_of(outline, share)
        # The normal points right where it has turned by a quarter: sides and corner arcs up to there.
        sector = 2 * math.pi / sides
        number = math.floor(math.pi / 2 / sector)
        side = outline.perimeter_mm / sides
        arc = (number + 0.5) * side + offset * math.pi / 2
        x, _ = outline.point(offset, arc)
        assert outline.normal(offset, arc) == pytest.approx((1.0, 0.0), abs=1e-9)
        assert 2 * x == pytest.approx(outline.width_at(offset), rel=1e-12)

    @given(outlines, st.floats(0.0, 1.5), st.floats(0.001, 1.0))
    def test_steiner(self, outline: Outline, share: float, further_share: float) -> None:
        """Pushed out, perimeter and area grow as Steiner's formulas say, also from a curve to a curve."""
        first, more = offset_of(outline, share), offset_of(outline, further_share)
        perimeter, area = outline.perimeter_at(first), outline.area_at(first)
        assert outline.perimeter_at(first + more) == pytest.approx(perimeter + 2 * math.pi * more)
        assert outline.area_at(first + more) == pytest.approx(area + perimeter * more + math.pi * more**2)
        assert outline.perimeter_at(0.0) == pytest.approx(outline.perimeter_mm)
        assert outline.area_at(0.0) == pytest.approx(outline.area_mm2)


def check_advance(outline: Outline, offset: float, arc: float, chord: float) -> None:
    """Assert that the place found lies at the chord's distance, on its side, and is the first to."""
    found = outline.advance(offset, arc, chord)
    start = outline.point(offset, arc)
    assert math.dist(start, outline.point(offset, found)) == pytest.approx(abs(chord), abs=1e-10)
    assert math.copysign(found - arc, chord) == found - arc
    assert abs(found - arc) >= abs(chord) - 1e-10
    for number in range(1, 20):
        between = outline.point(offset, arc + (found - arc) * number / 20)
        assert math.dist(start, between) < abs(chord)


class TestChords:
    """Places a straight distance apart."""

    @given(outlines, shares, parts, chord_shares, st.sampled_from([1, -1]))
    def test_advance(self, outline: Outline, share: float, part: float, chord_share: float, sign: int) -> None:
        """The place found lies at the chord's distance, in its direction, and is the first to do so."""
        offset = offset_of(outline, share)
        arc = part * outline.perimeter_at(offset)
        chord = chord_share * (outline.least_radius_mm + offset)
        check_advance(outline, offset, arc, sign * chord)

    @pytest.mark.parametrize("share", [-0.5, 0.0, 0.3, 1.5])
    @pytest.mark.parametrize("sides", [3, 4, 5, 8, 16])
    def test_advance_all_round(self, sides: int, share: float) -> None:
        """From every part of a polygon's sides and corners, either way, to the first place so far off."""
        outline = PolygonOutline(sides, 400.0)
        offset = offset_of(outline, share)
        # 37 places fall at different parts of every sector, whatever the number of sides.
        for number in range(37):
            for chord in (5.0, 30.0, 95.0, -30.0, -95.0):
                check_advance(outline, offset, outline.perimeter_at(offset) * number / 37, chord)

    @given(rounds | ovals, shares, parts, chord_shares)
    def test_there_and_back(self, outline: Outline, share: float, part: float, chord_share: float) -> None:
        """On curves without corners the same chord backwards returns to the start."""
        offset = offset_of(outline, share)
        arc = part * outline.perimeter_at(offset)
        chord = chord_share * (outline.least_radius_mm + offset)
        back = outline.advance(offset, outline.advance(offset, arc, chord), -chord)
        assert back == pytest.approx(arc, abs=1e-11 * size_of(outline) + 1e-10)

    @given(outlines, shares, parts, chord_shares)
    def test_straddle(self, outline: Outline, share: float, part: float, chord_share: float) -> None:
        """Both places lie at equal lengths of curve from the middle, the chord apart."""
        offset = offset_of(outline, share)
        arc = part * outline.perimeter_at(offset)
        chord = chord_share * (outline.least_radius_mm + offset)
        first, second = outline.straddle(offset, arc, chord)
        assert first < arc < second
        assert arc - first == pytest.approx(second - arc, abs=1e-10)
        distance = math.dist(outline.point(offset, first), outline.point(offset, second))
        assert distance == pytest.approx(chord, abs=1e-10)

    @given(outlines, shares, chord_shares)
    def test_straddle_the_start(self, outline: Outline, share: float, chord_share: float) -> None:
        """About the lowest point the two places are each other's mirror image."""
        offset = offset_of(outline, share)
        chord = chord_share * (outline.least_radius_mm + offset)
        first, second = (outline.point(offset, arc) for arc in outline.straddle(offset, 0.0, chord))
        assert first == pytest.approx((-second[0], second[1]), abs=1e-12 * size_of(outline))
        assert second[0] == pytest.approx(chord / 2, abs=1e-10)


class TestScaling:
    """An outline k times as large has lengths k times as long."""

    @given(outlines, st.floats(0.25, 4.0), counts, shares, chord_shares)
    def test_scaling(self, outline: Outline, k: float, count: int, share: float, chord_share: float) -> None:
        """Lengths grow by k, areas by k squared, directions stay."""
        larger = scale_outline(outline, k)
        offset, wide = offset_of(outline, share), offset_of(larger, share)
        small = 1e-12 * size_of(larger) * (1 + k) + 1e-10
        assert larger.perimeter_at(wide) == pytest.approx(k * outline.perimeter_at(offset))
        assert larger.area_at(wide) == pytest.approx(k * k * outline.area_at(offset))
        chord = chord_share * (outline.least_radius_mm + offset)
        for a, b in zip(outline.stations(count), larger.stations(count), strict=True):
            arc, wide_arc = outline.carry(a, offset), larger.carry(b, wide)
            assert wide_arc == pytest.approx(k * arc, abs=small)
            x, y = outline.point(offset, arc)
            assert larger.point(wide, wide_arc) == pytest.approx((k * x, k * y), abs=small)
            if not isinstance(outline, PolygonOutline):
                # On a polygon a chord that just reaches a corner may pass it by after rounding.
                found = outline.advance(offset, arc, chord)
                assert larger.advance(wide, wide_arc, k * chord) == pytest.approx(k * found, abs=100 * small)


def scale_outline(outline: Outline, k: float) -> Outline:
    """The same outline, k times as large."""
    if isinstance(outline, RoundOutline):
        return RoundOutline(k * outline.diameter_mm)
    if isinstance(outline, OvalOutline):
        return OvalOutline(k * outline.length_mm, k * outline.width_mm)
    assert isinstance(outline, PolygonOutline)
    return PolygonOutline(outline.sides, k * outline.across_flats_mm)


class TestPaths:
    """Drawn curves follow the computed ones."""

    @given(outlines, shares)
    def test_ends_lie_on_the_curve(self, outline: Outline, share: float) -> None:
        """A path starts at the lowest point, closes there, and every piece ends on the curve."""
        offset = offset_of(outline, share)
        path = outline.path(offset)
        assert path.start == pytest.approx(outline.point(offset, 0.0), abs=1e-12 * size_of(outline))
        last = path.segments[-1]
        assert (last.x_mm, last.y_mm) == path.start
        for piece in path.segments:
            away = measure_to_frame(outline, (piece.x_mm, piece.y_mm))
            assert away == pytest.approx(abs(offset), abs=1e-9 * size_of(outline))

    @given(rounds | polygons, shares)
    def test_pieces_add_up(self, outline: Outline, share: float) -> None:
        """Lines and arcs together are as long as the curve."""
        offset = offset_of(outline, share)
        path = outline.path(offset)
        place, total = path.start, 0.0
        for piece in path.segments:
            end = (piece.x_mm, piece.y_mm)
            apart = math.dist(place, end)
            if isinstance(piece, LineTo):
                total += apart
            else:
                assert isinstance(piece, ArcTo)
                total += 2 * piece.radius_mm * math.asin(min(1.0, apart / (2 * piece.radius_mm)))
            place = end
        assert total == pytest.approx(outline.perimeter_at(offset), rel=1e-7)
