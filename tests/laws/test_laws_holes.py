"""Laws of the holes: how far apart they are, how far from the skin's edge, and on what line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeVar

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipeinc

from drums import Fields, Point, drums, few, length_between, mm, place_near, plan_of, rim, sign_of, some, turn
from tauthide.plan.plan import Plan

EXACT_MM = 1e-8
"""What is left of exact lengths after chords have been solved for to 1e-10 mm."""

SEARCHED_MM = 1e-6
"""How far a nearest point that is searched for may be off."""

SUMMED = 2e-6
"""Share by which a sum of short chords falls short of its curve, at most."""

T = TypeVar("T")

COUPLED = ("stations.web", "stations.pair_spacing", "stations.margin", "stations.edge_distance")

DEER_POLYGON: Fields = {"frame.outline": "polygon", "frame.depth": "60 mm", "head.hide": "deer"}


def along_frame(plan: Plan, point: Point) -> float:
    """Length along the frame, in the direction of numbering, from the lowest point to one on it."""
    x, y = sign_of(plan) * point[0], point[1]
    given_mm = plan.spec.number
    match plan.spec.word("frame.outline"):
        case "round":
            return math.atan2(x, -y) % math.tau * given_mm("frame.diameter") / 2
        case "oval":
            half_x, half_y = given_mm("frame.width") / 2, given_mm("frame.length") / 2
            t = math.atan2(x / half_x, -y / half_y) % math.tau
            return half_x * float(ellipeinc(t, 1 - (half_y / half_x) ** 2))
        case _:
            sides, to_side = plan.spec.count("frame.sides"), given_mm("frame.across_flats") / 2
            number = round(math.atan2(x, -y) * sides / math.tau)
            angle = math.tau * number / sides
            past = x * math.cos(angle) + y * math.sin(angle)
            return (number * 2 * to_side * math.tan(math.pi / sides) + past) % plan["frame.perimeter"]


def distance_to_edge(plan: Plan, hole: Point) -> float:
    """Distance from the centre of a hole on the blank to the nearest point of the skin's edge."""
    edge = rim(plan, plan["skin.reach"])
    return math.dist(hole, edge(place_near(edge, hole)))


def frame_normal(plan: Plan, point: Point) -> Point:
    """Outward unit normal of a circle or an ellipse at a point on it."""
    if plan.spec.word("frame.outline") == "round":
        half_x = half_y = plan.spec.number("frame.diameter") / 2
    else:
        half_x, half_y = plan.spec.number("frame.width") / 2, plan.spec.number("frame.length") / 2
    x, y = point[0] / half_x**2, point[1] / half_y**2
    return x / math.hypot(x, y), y / math.hypot(x, y)


def some_of(things: Sequence[T], which: int, most: int = 5) -> list[T]:
    """A few of many things, spread evenly from a place on."""
    count = len(things)
    return [things[(which + number * count // most) % count] for number in range(min(most, count))]


class TestPairSpacing:
    """The holes of every pair are a pair spacing apart, on the flat skin and on the frame."""

    @some
    @given(drums())
    def test_straight_distance(self, fields: Fields) -> None:
        """Straight from centre to centre: the web does not gather."""
        plan = plan_of(fields)
        for pairs in (plan.blank, plan.mounted):
            for pair in pairs:
                assert abs(math.dist(pair.a, pair.b) - plan["holes.pair_spacing"]) < EXACT_MM

    @some
    @given(drums())
    def test_couples(self, fields: Fields) -> None:
        """Clear and centre to centre say the same, whichever of a couple is given."""
        plan = plan_of(fields)
        hole = plan.spec.number("stations.hole")
        assert plan["holes.pair_spacing"] - plan["holes.web"] == pytest.approx(hole)
        assert plan["holes.edge_distance"] - plan["holes.margin"] == pytest.approx(hole / 2)
        others = {path: leaf for path, leaf in fields.items() if path not in COUPLED}
        clear = {"stations.web": mm(plan["holes.web"]), "stations.margin": mm(plan["holes.margin"])}
        centres = {
            "stations.pair_spacing": mm(plan["holes.pair_spacing"]),
            "stations.edge_distance": mm(plan["holes.edge_distance"]),
        }
        for way in (clear, centres):
            again = plan_of({**others, **way})
            wanted = [plan[name] for name in plan.figures]
            assert [again[name] for name in again.figures] == pytest.approx(wanted)


class TestEdgeDistance:
    """Every hole's centre lies at the edge distance from the skin's edge."""

    @some
    @given(drums(("round",)))
    def test_round(self, fields: Fields) -> None:
        """On a circle all holes lie on one circle, the edge distance inside the blank's."""
        plan = plan_of(fields)
        for pair in plan.blank:
            for hole in (pair.a, pair.b):
                found = plan["head.blank_radius"] - math.hypot(*hole)
                assert abs(found - plan["holes.edge_distance"]) < EXACT_MM

    @few
    @given(drums(("oval", "polygon")), st.integers(0, 63))
    def test_off_round(self, fields: Fields, which: int) -> None:
        """Off-round the edge is searched for its nearest point."""
        plan = plan_of(fields)
        for pair in some_of(plan.blank, which):
            for hole in (pair.a, pair.b):
                assert abs(distance_to_edge(plan, hole) - plan["holes.edge_distance"]) < SEARCHED_MM

    @pytest.mark.parametrize(("sides", "count"), [(3, 6), (4, 8), (5, 20), (8, 16), (8, 24)])
    def test_at_corners(self, sides: int, count: int) -> None:
        """At a polygon's corners too, where the skin's edge is an arc about the corner."""
        changes: Fields = {"frame.sides": sides, "frame.across_flats": "18 in", "stations.count": count}
        plan = plan_of({**DEER_POLYGON, **changes})
        corner = plan.spec.number("frame.across_flats") / 2 / math.cos(math.pi / sides)
        corners = [turn((0.0, -corner), (number + 0.5) * 360 / sides) for number in range(sides)]
        at_corners = 0
        for pair in plan.blank:
            for hole in (pair.a, pair.b):
                assert abs(distance_to_edge(plan, hole) - plan["holes.edge_distance"]) < SEARCHED_MM
                nearest = min(math.dist(hole, corner) for corner in corners)
                at_corners += abs(nearest - plan["holes.line_reach"]) < EXACT_MM
        assert at_corners > 0


class TestStationsOnTheRim:
    """Stations divide the frame's outside equally, and are carried out square to it."""

    @some
    @given(drums())
    def test_equal_spacing(self, fields: Fields) -> None:
        """Measured along the frame by other means, station k lies k - 1 equal parts from station 1."""
        plan = plan_of(fields)
        whole, count = plan["frame.perimeter"], len(plan.stations)
        for mark in plan.stations:
            found = along_frame(plan, mark.frame)
            off = math.remainder(found - whole * (mark.station - 1) / count, whole)
            assert abs(off) <= 1e-9 * whole
        assert plan["stations.rim_spacing"] * count == pytest.approx(whole)

    @some
    @given(drums())
    def test_on_the_frame(self, fields: Fields) -> None:
        """Each station lies on the frame's outline, in the direction that is given for it."""
        plan = plan_of(fields)
        frame = rim(plan, 0.0)
        for mark in some_of(plan.stations, 1):
            assert math.dist(frame(place_near(frame, mark.frame)), mark.frame) < SEARCHED_MM
            x, y = mark.frame
            assert abs(math.remainder(mark.angle_deg - math.degrees(math.atan2(y, x)), 360)) < 1e-9

    @some
    @given(drums())
    def test_carried_out(self, fields: Fields) -> None:
        """Out to the skin's edge along the normal; on a polygon along the ray from the middle."""
        plan = plan_of(fields)
        reach = plan["skin.reach"]
        for mark in plan.stations:
            (x, y), (far_x, far_y) = mark.frame, mark.edge
            if plan.spec.word("frame.outline") == "polygon":
                assert abs(x * far_y - y * far_x) < EXACT_MM * math.hypot(x, y)
                assert x * far_x + y * far_y > 0
            else:
                normal_x, normal_y = frame_normal(plan, mark.frame)
                assert math.dist((x + reach * normal_x, y + reach * normal_y), mark.edge) < EXACT_MM

    @few
    @given(drums(("polygon",)))
    def test_edge_of_a_polygon(self, fields: Fields) -> None:
        """Along the ray the mark comes out on the skin's edge."""
        plan = plan_of(fields)
        for mark in some_of(plan.stations, 1):
            assert distance_to_edge(plan, mark.edge) < SEARCHED_MM


class TestMarkAt:
    """The station's mark is the first hole, or half way between both along the line of the holes."""

    @few
    @given(drums(), st.integers(0, 63))
    def test_first_hole(self, fields: Fields, which: int) -> None:
        """`first_hole`: a lies on the station's own line from the frame out."""
        plan = plan_of(fields, stations_mark_at="first_hole")
        for mark, pair in some_of(list(zip(plan.stations, plan.blank, strict=True)), which):
            if plan.spec.word("frame.outline") == "polygon":
                ray = mark.edge[0] * pair.a[1] - mark.edge[1] * pair.a[0]
                assert abs(ray) < EXACT_MM * math.hypot(*mark.edge)
            else:
                share = plan["holes.line_reach"] / plan["skin.reach"]
                (x, y), (far_x, far_y) = mark.frame, mark.edge
                assert math.dist((x + share * (far_x - x), y + share * (far_y - y)), pair.a) < EXACT_MM

    @few
    @given(drums(), st.integers(0, 63))
    def test_pair_centre(self, fields: Fields, which: int) -> None:
        """`pair_centre`: both as far along the line of the holes from where `first_hole` puts its a."""
        plan = plan_of(fields, stations_mark_at="pair_centre")
        stations = plan_of(fields, stations_mark_at="first_hole").blank
        line = rim(plan, plan["holes.line_reach"])
        for mark, pair in some_of(list(zip(stations, plan.blank, strict=True)), which):
            middle, a, b = (place_near(line, hole) for hole in (mark.a, pair.a, pair.b))
            before = length_between(line, a, a + math.remainder(middle - a, 1))
            after = length_between(line, middle, middle + math.remainder(b - middle, 1))
            assert before == pytest.approx(after, rel=SUMMED)
            assert before * 2 >= plan["holes.pair_spacing"] * (1 - SUMMED) - SEARCHED_MM


class TestCounts:
    """So many stations, so many holes."""

    @some
    @given(drums())
    def test_holes_and_punchings(self, fields: Fields) -> None:
        """Two holes a station, and one more disc from the lace's tab."""
        plan = plan_of(fields)
        count = plan.spec.count("stations.count")
        assert len(plan.stations) == len(plan.blank) == len(plan.mounted) == count
        holes = {hole for pair in plan.blank for hole in (pair.a, pair.b)}
        assert plan["holes.count"] == len(holes) == 2 * count
        assert plan["punchings.count"] == len(holes) + 1
        for things in (plan.stations, plan.blank, plan.mounted):
            assert [thing.station for thing in things] == list(range(1, count + 1))

    @some
    @given(drums())
    def test_gaps(self, fields: Fields) -> None:
        """The gaps are the least clear distances between neighbours, and no two holes of a drum overlap."""
        plan = plan_of(fields)
        hole = plan.spec.number("stations.hole")
        for name, pairs in (("holes.blank_gap", plan.blank), ("holes.mounted_gap", plan.mounted)):
            following = (*pairs[1:], pairs[0])
            gaps = [math.dist(pair.b, after.a) - hole for pair, after in zip(pairs, following, strict=True)]
            assert plan[name] == pytest.approx(min(gaps))
            assert min(gaps) > 0
