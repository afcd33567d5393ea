"""Laws of the blank: its sizes, worked out again by other means."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given

from drums import Fields, drums, few, length_between, plan_of, rim, some
from tauthide.plan.plan import Plan

PIECES = 4096
"""Chords that stand for a whole rim: they fall short of it by about 4e-7 of it, in area by 4 times that."""

AT_THE_END_MM = 1e-9
"""Holes right at the end of the back edge's curve lie on the back, whatever floats make of nothing."""

NEAR = 1e-6
NEAR_IN_AREA = 4e-6


def given_mm(plan: Plan, *paths: str) -> tuple[float, ...]:
    """Lengths that the spec gives."""
    return tuple(plan.spec.number(path) for path in paths)


class TestRoundBlank:
    """On a round frame everything has a closed form."""

    @some
    @given(drums(("round",)))
    def test_sizes(self, fields: Fields) -> None:
        """Blank and circle of holes, by the path: out to the edge, down the wall, in along the back."""
        plan = plan_of(fields)
        d, h, e, t, o = given_mm(
            plan, "frame.diameter", "frame.depth", "frame.edge_radius", "head.thickness", "head.turnover"
        )
        quarter = math.pi / 2 * (e + t / 2)
        radius = (d / 2 - e) + quarter + (h - 2 * e) + quarter + (o - e)
        beside = plan["holes.margin"] + plan.spec.number("stations.hole") / 2
        assert plan["skin.corner"] == pytest.approx(quarter - 2 * e)
        assert plan["head.blank_radius"] == pytest.approx(radius)
        assert plan["head.blank_diameter"] == pytest.approx(2 * radius)
        assert plan["head.blank_perimeter"] == pytest.approx(math.tau * radius)
        assert plan["head.blank_area"] == pytest.approx(math.pi * radius**2)
        assert plan["holes.circle_radius"] == pytest.approx(radius - beside)
        assert plan["skin.path_to_back"] == pytest.approx(radius - (o - e))

    @some
    @given(drums(("round",)))
    def test_on_the_frame(self, fields: Fields) -> None:
        """Where the holes come to lie: as far in as their path goes on beyond the back edge's curve."""
        plan = plan_of(fields)
        d, e, t = given_mm(plan, "frame.diameter", "frame.edge_radius", "head.thickness")
        beyond = plan["holes.circle_radius"] - plan["skin.path_to_back"]
        assert plan["holes.inset"] == pytest.approx(beyond, abs=1e-9)
        mounted = d / 2 - e - max(beyond, 0)
        assert plan["holes.mounted_radius"] == pytest.approx(mounted)
        assert plan["holes.end_run"] == pytest.approx(max(-beyond, 0), abs=1e-9)
        gathered = mounted if beyond > -AT_THE_END_MM else d / 2 + t / 2
        assert plan["head.gather"] == pytest.approx(1 - gathered / plan["holes.circle_radius"])
        for pair in plan.mounted:
            assert math.hypot(*pair.a) == pytest.approx(mounted)
            assert math.hypot(*pair.b) == pytest.approx(mounted)

    @some
    @given(drums(("round",)))
    def test_angles_and_steps(self, fields: Fields) -> None:
        """Angles are measured between the holes themselves, chord and arc between the stations' marks."""
        plan = plan_of(fields)
        for name, pairs in (("holes.pair_angle", plan.blank), ("holes.mounted_pair_angle", plan.mounted)):
            (ax, ay), (bx, by) = pairs[0].a, pairs[0].b
            between = math.atan2(abs(ax * by - ay * bx), ax * bx + ay * by)
            assert plan[name] == pytest.approx(math.degrees(between))
        first, second = plan.stations[0].edge, plan.stations[1].edge
        assert plan["stations.chord"] == pytest.approx(math.dist(first, second))
        assert plan["stations.arc"] * len(plan.stations) == pytest.approx(plan["head.blank_perimeter"])

    @some
    @given(drums(("round",)))
    def test_drawn_tight(self, fields: Fields) -> None:
        """Drawing tight brings the holes in by the stretch of half the diameter; never outward."""
        plan = plan_of(fields)
        d, e = given_mm(plan, "frame.diameter", "frame.edge_radius")
        drawn = plan.spec.number("head.stretch") * d / 2
        assert plan["holes.drawn_in"] == pytest.approx(drawn)
        assert plan["holes.tight_radius"] == pytest.approx(d / 2 - e - max(plan["holes.inset"] + drawn, 0))
        assert plan["holes.tight_radius"] <= plan["holes.mounted_radius"]


class TestAnyBlank:
    """Off-round the blank's rim is walked in many short steps."""

    @few
    @given(drums())
    def test_perimeter_and_area(self, fields: Fields) -> None:
        """Length round and area inside, summed up from points."""
        plan = plan_of(fields)
        for offset, perimeter, area in (
            (plan["skin.reach"], plan["head.blank_perimeter"], plan["head.blank_area"]),
            (0.0, plan["frame.perimeter"], plan.outline.area_mm2),
        ):
            curve = rim(plan, offset)
            points = [curve(number / PIECES) for number in range(PIECES + 1)]
            assert sum(math.dist(p, q) for p, q in pairwise(points)) == pytest.approx(perimeter, rel=NEAR)
            twice = sum(px * qy - py * qx for (px, py), (qx, qy) in pairwise(points))
            assert twice / 2 == pytest.approx(area, rel=NEAR_IN_AREA)

    @few
    @given(drums(("oval", "polygon")))
    def test_length_and_width(self, fields: Fields) -> None:
        """Length and width are the extents of the same points."""
        plan = plan_of(fields)
        curve = rim(plan, plan["skin.reach"])
        points = [curve(number / PIECES) for number in range(PIECES)]
        for axis, name in ((1, "head.blank_length"), (0, "head.blank_width")):
            extent = max(point[axis] for point in points) - min(point[axis] for point in points)
            assert extent == pytest.approx(plan[name], rel=1e-5)
            assert extent <= plan[name] * (1 + 1e-12)

    @few
    @given(drums())
    def test_gather(self, fields: Fields) -> None:
        """What gathers is what the line of the holes is shorter by once it is on the frame."""
        plan = plan_of(fields)
        on_back = plan["holes.end_run"] < AT_THE_END_MM
        mounted = -plan["holes.mounted_inset"] if on_back else plan.spec.number("head.thickness") / 2
        taken, flat = (
            length_between(rim(plan, offset), 0.0, 1.0, PIECES) for offset in (mounted, plan["holes.line_reach"])
        )
        assert plan["head.gather"] == pytest.approx(1 - taken / flat, abs=NEAR)
        assert 0 < plan["head.gather"] < 1

    @pytest.mark.parametrize(
        ("turnover", "edge_radius", "edge_distance"),
        [("16.4 mm", "0.6 mm", "15.8 mm"), ("16.9 mm", "2 mm", "14.9 mm"), ("21.7 mm", "3.6 mm", "18.1 mm")],
    )
    def test_gather_at_the_limit(self, turnover: str, edge_radius: str, edge_distance: str) -> None:
        """Right at the end of the back edge's curve, though in floats turnover less the others is below 0."""
        plan = plan_of(
            head_turnover=turnover,
            frame_edge_radius=edge_radius,
            stations_edge_distance=edge_distance,
            stations_hole="6 mm",
            lace_width="5 mm",
        )
        assert -AT_THE_END_MM < plan["holes.inset"] < 0
        mounted = plan.spec.number("frame.diameter") / 2 - plan.spec.number("frame.edge_radius")
        assert plan["head.gather"] == pytest.approx(1 - mounted / plan["holes.circle_radius"])

    @some
    @given(drums())
    def test_inset(self, fields: Fields) -> None:
        """Off-round as on a circle: turnover, less the edge's rounding and the edge distance."""
        plan = plan_of(fields)
        o, e = given_mm(plan, "head.turnover", "frame.edge_radius")
        assert plan["holes.inset"] == pytest.approx(o - e - plan["holes.edge_distance"], abs=1e-9)
        assert plan["holes.line_reach"] == pytest.approx(plan["skin.reach"] - plan["holes.edge_distance"])
        inward = plan["holes.mounted_inset"]
        assert inward == pytest.approx(e + max(plan["holes.inset"], 0.0))
        assert plan["holes.tight_inset"] >= inward
