"""Laws of symmetry: a drum looks the same from every station that its outline treats alike."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import pytest
from hypothesis import given

from drums import Fields, Point, drums, few, plan_of, sign_of, some, turn
from tauthide.geometry.holes import Pair
from tauthide.plan.plan import Plan

NEAR_MM = 1e-7
"""How near is the same place, on drums of up to 2 m."""


def shift(pairs: Sequence[Pair], by: int) -> list[tuple[Point, Point]]:
    """The holes a and b of every station, counted from the station that lies `by` further."""
    return [(pair.a, pair.b) for pair in (*pairs[by:], *pairs[:by])]


def turn_all(plan: Plan, pairs: Iterable[Pair], degrees: float) -> list[tuple[Point, Point]]:
    """The holes turned in the direction in which the stations are numbered."""
    angle = sign_of(plan) * degrees
    return [(turn(pair.a, angle), turn(pair.b, angle)) for pair in pairs]


def mirror(point: Point) -> Point:
    """Turn a point over, about the line through the middle and station 1."""
    return -point[0], point[1]


def assert_same(found: list[tuple[Point, Point]], wanted: list[tuple[Point, Point]]) -> None:
    """Hole by hole, each lies where it should."""
    assert len(found) == len(wanted)
    for ends, others in zip(found, wanted, strict=True):
        for one, other in zip(ends, others, strict=True):
            assert math.dist(one, other) < NEAR_MM


def assert_maps(plan: Plan, degrees: float, by: int) -> None:
    """Turning by an angle takes each hole to the one `by` stations on, on the blank and on the frame."""
    for pairs in (plan.blank, plan.mounted):
        assert_same(turn_all(plan, pairs, degrees), shift(pairs, by))


class TestOneStationOn:
    """Turned by one station, or by as many as the outline's own symmetry has, the holes fall on holes."""

    @some
    @given(drums(("round",)))
    def test_round(self, fields: Fields) -> None:
        """A round drum falls on itself station by station."""
        plan = plan_of(fields)
        assert_maps(plan, 360 / len(plan.stations), 1)

    @some
    @given(drums(("polygon",)))
    def test_polygon(self, fields: Fields) -> None:
        """A polygon falls on itself at every angle that is both a number of sides and one of stations.

        Where its sides divide the count that is by one side; with as many sides as stations, by one station.
        """
        plan = plan_of(fields)
        count = len(plan.stations)
        alike = math.gcd(count, plan.spec.count("frame.sides"))
        assert_maps(plan, 360 / alike, count // alike)

    @pytest.mark.parametrize(("sides", "count"), [(8, 8), (8, 16), (12, 12), (6, 12), (8, 4), (5, 10), (3, 12)])
    def test_polygons_in_step(self, sides: int, count: int) -> None:
        """The usual ones by name, side by side or station by station, whichever is larger."""
        plan = plan_of(
            {"frame.outline": "polygon", "frame.sides": sides, "frame.across_flats": "16 in",
             "frame.depth": "60 mm", "head.hide": "deer", "stations.count": count}
        )  # fmt: skip
        assert_maps(plan, 360 / min(sides, count), max(1, count // sides))


class TestHalfTurn:
    """Turned half way round, the holes fall on holes: each station has another right opposite."""

    @some
    @given(drums(("round", "oval")))
    def test_round_and_oval(self, fields: Fields) -> None:
        """So it is on every circle and every oval."""
        plan = plan_of(fields)
        assert_maps(plan, 180, len(plan.stations) // 2)

    @some
    @given(drums(("polygon",), even_sides=True))
    def test_even_sided_polygon(self, fields: Fields) -> None:
        """And on every polygon with an even number of sides."""
        plan = plan_of(fields)
        assert_maps(plan, 180, len(plan.stations) // 2)


class TestMirror:
    """With `pair_centre` a drum is its own mirror image."""

    @some
    @given(drums())
    def test_pair_centre(self, fields: Fields) -> None:
        """Seen in a mirror through station 1, station k is station n + 2 - k, and b is a."""
        plan = plan_of(fields, stations_mark_at="pair_centre")
        for pairs in (plan.blank, plan.mounted):
            seen = [(mirror(pair.b), mirror(pair.a)) for pair in (pairs[0], *reversed(pairs[1:]))]
            assert_same(seen, shift(pairs, 0))

    @some
    @given(drums())
    def test_first_hole_is_not(self, fields: Fields) -> None:
        """With `first_hole` it is not: a lies on the station, and b is alone beside it."""
        plan = plan_of(fields, stations_mark_at="first_hole")
        pair = plan.blank[0]
        assert abs(pair.a[0]) < NEAR_MM
        assert sign_of(plan) * pair.b[0] > 1.0


class TestHands:
    """The hand changes the side that things lie on, and nothing else."""

    @some
    @given(drums())
    def test_mirror_images(self, fields: Fields) -> None:
        """Clockwise is the mirror image of anticlockwise, station by station and hole by hole."""
        plan, other = (plan_of(fields, stations_hand=hand) for hand in ("anticlockwise", "clockwise"))
        for pairs, others in ((plan.blank, other.blank), (plan.mounted, other.mounted)):
            assert_same([(mirror(pair.a), mirror(pair.b)) for pair in pairs], shift(others, 0))
        marks = [(mirror(mark.frame), mirror(mark.edge)) for mark in plan.stations]
        assert_same(marks, [(mark.frame, mark.edge) for mark in other.stations])

    @few
    @given(drums())
    def test_same_figures(self, fields: Fields) -> None:
        """Every figure is the same to the last digit; the digest is not, for it is another drum."""
        plan, other = (plan_of(fields, stations_hand=hand) for hand in ("anticlockwise", "clockwise"))
        assert plan.figures.keys() == other.figures.keys()
        assert [plan[name] for name in plan.figures] == [other[name] for name in other.figures]
        assert plan.digest != other.digest

    @few
    @given(drums())
    def test_numbering_runs_with_the_hand(self, fields: Fields) -> None:
        """Station 1 lies lowest; from there all holes follow one another round, a before b, once about."""
        plan = plan_of(fields)
        assert abs(plan.stations[0].frame[0]) < NEAR_MM
        assert plan.stations[0].frame[1] < 0
        for pairs in (plan.blank, plan.mounted):
            round_the_rim = [hole for pair in pairs for hole in (pair.a, pair.b)]
            angles = [math.atan2(y, x) for x, y in round_the_rim]
            steps = [
                (sign_of(plan) * (after - before)) % (2 * math.pi)
                for before, after in zip(angles, angles[1:] + angles[:1], strict=True)
            ]
            assert min(steps) > 0
            assert sum(steps) == pytest.approx(2 * math.pi)


class TestFrontDoor:
    """What these tests write is what a maker would have got."""

    @few
    @given(drums())
    def test_fields_arrive(self, fields: Fields) -> None:
        """Every leaf of the text is in the spec as it was written."""
        spec = plan_of(fields).spec
        assert {path: spec.settings[path].written for path in fields} == dict(fields)
