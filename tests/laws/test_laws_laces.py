"""Laws of other lacings than cross in one lace: in two laces, and to a ring."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import assume, given

from drums import Fields, Point, crosses, drums, plan_of, sign_of, some, turn
from tauthide.plan.plan import Plan

ROUND = ("round",)


def in_two(fields: Fields) -> Plan:
    return plan_of(fields, lace_laces=2)


def on_ring(fields: Fields) -> Plan:
    """The same drum, if it is large enough, on a small ring of thin rod, with narrow lace."""
    pairs = plan_of(fields).mounted
    assume(all(math.hypot(pair.a[0] + pair.b[0], pair.a[1] + pair.b[1]) / 2 > 60 for pair in pairs))
    return plan_of(
        fields, lace_lacing="ring", lace_ring="20 mm", lace_ring_section="1 mm", lace_width="2 mm", handle_arms=0
    )


def hole(plan: Plan, station: int, which: str) -> Point:
    pair = plan.mounted[station - 1]
    return pair.a if which == "a" else pair.b


class TestTwoLaces:
    @some
    @given(drums())
    def test_every_station_once(self, fields: Fields) -> None:
        plan = in_two(fields)
        stations = sorted(step.station for step in plan.steps)
        assert stations == list(range(1, len(plan.stations) + 1))
        for lace in (1, 2):
            assert sum(step.lace == lace for step in plan.steps) == len(plan.stations) // 2

    @some
    @given(drums())
    def test_anchors_lie_opposite(self, fields: Fields) -> None:
        plan = in_two(fields)
        anchors = [step for step in plan.steps if step.span_mm is None]
        assert [(step.lace, step.station) for step in anchors] == [(1, 1), (2, 1 + len(plan.stations) // 2)]

    @some
    @given(drums())
    def test_half_a_turn_takes_one_lace_to_the_other(self, fields: Fields) -> None:
        plan = in_two(fields)
        count = len(plan.stations)
        first, second = ([step for step in plan.steps if step.lace == lace] for lace in (1, 2))
        for one, other in zip(first, second, strict=True):
            assert (other.station - one.station) % count == count // 2
            assert (one.enter, one.leave) == (other.enter, other.leave)

    @some
    @given(drums(ROUND))
    def test_both_are_as_long(self, fields: Fields) -> None:
        plan = in_two(fields)
        assert plan["lace.first_net"] == pytest.approx(plan["lace.second_net"])

    @some
    @given(drums())
    def test_parts_add_up(self, fields: Fields) -> None:
        plan = in_two(fields)
        assert plan["lace.net_length"] == pytest.approx(sum(plan[part] for part in plan.lace_parts), rel=1e-12)
        assert plan["lace.net_length"] == pytest.approx(plan["lace.first_net"] + plan["lace.second_net"])
        assert plan["lace.cut_length"] == 2 * plan["lace.each_length"]
        longest = max(plan["lace.first_net"], plan["lace.second_net"])
        assert plan["lace.each_length"] >= longest * (1 + plan.spec.number("lace.allowance")) - 1e-4

    @some
    @given(drums())
    def test_walked(self, fields: Fields) -> None:
        """Each lace followed from its tab to its tail, by the steps and the holes alone."""
        plan = in_two(fields)
        number, run = plan.spec.number, plan["holes.end_run"]
        for lace, name in ((1, "lace.first_net"), (2, "lace.second_net")):
            own = [step for step in plan.steps if step.lace == lace]
            spacing = math.dist(plan.mounted[0].a, plan.mounted[0].b)
            length = number("lace.tab_length") + 2 * spacing + number("lace.tail") + plan["lace.handle"] / 2
            for before, step in itertools.pairwise(own):
                ways = math.hypot(*hole(plan, before.station, "a")) + math.hypot(*hole(plan, step.station, "b"))
                length += ways + 2 * run + spacing + number("lace.play")
            length += math.hypot(*hole(plan, own[-1].station, "a")) + run
            assert plan[name] == pytest.approx(length)

    @some
    @given(drums())
    def test_beneath_all_that_lie_there(self, fields: Fields) -> None:
        """A span passes beneath the earlier spans of either lace that it crosses, and no others."""
        plan = in_two(fields)
        laid: list[tuple[int, Point, Point]] = []
        before: dict[int, int] = {}
        for step in plan.steps:
            if step.lace in before:
                ends = hole(plan, before[step.lace], "a"), hole(plan, step.station, "b")
                assert step.beneath == tuple(name for name, p, q in laid if crosses(p, q, *ends))
                laid.append((step.step, *ends))
            before[step.lace] = step.station
        assert len(laid) == len(plan.stations) - 2

    @some
    @given(drums(ROUND))
    def test_no_strand_pulls_more_askew(self, fields: Fields) -> None:
        """Two laces leave their strands no further from the radius than one does."""
        assert in_two(fields)["pull.strand_angle"] == pytest.approx(plan_of(fields)["pull.strand_angle"])


class TestRing:
    @some
    @given(drums())
    def test_every_station_once_in_their_order(self, fields: Fields) -> None:
        plan = on_ring(fields)
        assert [(step.step, step.station) for step in plan.steps] == [
            (mark.station, mark.station) for mark in plan.stations
        ]
        assert all(step.beneath == () for step in plan.steps)

    @some
    @given(drums())
    def test_parts_add_up(self, fields: Fields) -> None:
        plan = on_ring(fields)
        assert plan["lace.net_length"] == pytest.approx(sum(plan[part] for part in plan.lace_parts), rel=1e-12)
        assert min(plan[part] for part in plan.lace_parts) >= 0

    @some
    @given(drums())
    def test_walked(self, fields: Fields) -> None:
        """The lace followed from its tab on the ring to its tail; the ring as a polygon of many sides."""
        plan = on_ring(fields)
        number, run, count = plan.spec.number, plan["holes.end_run"], len(plan.stations)
        turn_mm = math.tau * (number("lace.ring_section") + number("lace.thickness")) / 2
        length = number("lace.tab_length") + turn_mm + number("lace.tail")
        places = []
        for pair in plan.mounted:
            middle = [(p + q) / 2 for p, q in zip(pair.a, pair.b, strict=True)]
            at = [number("lace.ring") / 2 * x / math.hypot(*middle) for x in middle]
            places.append(at)
            length += math.dist(at, pair.b) + math.dist(pair.a, pair.b) + math.dist(pair.a, at) + 2 * run
            length += number("lace.play") + plan.spec.count("lace.ring_wraps") * turn_mm
        radius = number("lace.ring") / 2
        length += sum(
            2 * radius * math.asin(min(1.0, math.dist(p, q) / 2 / radius)) for p, q in itertools.pairwise(places)
        )
        assert plan["lace.net_length"] == pytest.approx(length)
        assert len(places) == count

    @some
    @given(drums(ROUND))
    def test_closed_form(self, fields: Fields) -> None:
        """Every station alike: two strands, each from a ring's point in line with the pair's middle."""
        plan = on_ring(fields)
        count, half = len(plan.stations), plan["holes.pair_spacing"] / 2
        middle = math.sqrt(plan["holes.mounted_radius"] ** 2 - half**2)
        strand = math.hypot(middle - plan.spec.number("lace.ring") / 2, half)
        assert plan["lace.spans"] == pytest.approx(2 * count * (strand + plan["holes.end_run"]))
        assert plan["lace.ring_way"] == pytest.approx(math.pi * plan.spec.number("lace.ring") * (count - 1) / count)

    @some
    @given(drums(ROUND))
    def test_turned_by_one_station(self, fields: Fields) -> None:
        plan = on_ring(fields)
        degrees = sign_of(plan) * 360 / len(plan.stations)
        for step, after in zip(plan.steps, plan.steps[1:], strict=False):
            assert step.ring is not None
            assert after.ring is not None
            assert math.dist(turn(step.ring, degrees), after.ring) < 1e-7
            assert after.span_mm == pytest.approx(step.span_mm)

    @some
    @given(drums(ROUND))
    def test_all_strands_pull_alike(self, fields: Fields) -> None:
        """Twice the pull of a strand, along the radius, is the pull of its station; station 1 is no weaker."""
        plan = on_ring(fields)
        if plan.has("pull.strand"):
            along = 2 * plan["pull.strand"] * math.cos(math.radians(plan["pull.strand_angle"]))
            assert along == pytest.approx(plan["pull.station"])
            assert plan["pull.anchor"] == plan["pull.strand"]
