"""Laws of two heads that a zigzag round the wall draws to each other."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drums import Fields, Point, crosses, drums, mm, plan_of, some
from tauthide.plan.plan import Plan

DEPTH_MM = 380.0
"""So deep that any two skins leave room between them."""


@st.composite
def two_heads(draw: st.DrawFn) -> Fields:
    """Draw a round drum with two heads, in one lace or several."""
    fields = dict(draw(drums(("round",))))
    for path in ("head.turnover", "stations.marking"):
        fields.pop(path, None)
    fields |= {"lace.lacing": "zigzag", "handle.arms": 0, "frame.depth": mm(DEPTH_MM), "head.drop": "60 mm"}
    count = fields["stations.count"]
    assert isinstance(count, int)
    fields["lace.laces"] = draw(st.integers(1, min(count // 2, 16)))
    assume(float(str(fields["frame.diameter"]).split()[0]) < 1500)
    return fields


def rolled_out(plan: Plan, step: int, which: str) -> Point:
    """Where a hole lies on the wall rolled out, by the step that takes it: along the rim, and up from head 1."""
    number, count = plan.spec.number, len(plan.stations)
    diameter, spacing = number("frame.diameter"), math.dist(plan.blank[0].a, plan.blank[0].b)
    along = math.pi * diameter / count * (step - 1) / 2 + (spacing if which == "b" else 0.0)
    down = number("head.drop") - plan["holes.edge_distance"]
    return along, down if step % 2 else number("frame.depth") - down


class TestEveryStationOnce:
    @some
    @given(two_heads())
    def test_of_both_heads(self, fields: Fields) -> None:
        """Each station of each head once, from head to head, in the order in which they lie round the rim."""
        plan = plan_of(fields)
        count = len(plan.stations)
        assert [(step.station, step.head) for step in plan.steps] == [
            (station, head) for station in range(1, count + 1) for head in (1, 2)
        ]
        assert {(step.head, step.enter, step.leave) for step in plan.steps} == {(1, "a", "b"), (2, "b", "a")}

    @some
    @given(two_heads())
    def test_laces_share_evenly(self, fields: Fields) -> None:
        """No lace takes more than one station more than another; each begins where the one before ended."""
        plan = plan_of(fields)
        laces = [step.lace for step in plan.steps]
        assert laces == sorted(laces)
        shares = [laces.count(lace) for lace in sorted(set(laces))]
        assert len(shares) == plan.spec.count("lace.laces")
        assert max(shares) - min(shares) <= 1
        assert [step.span_mm is None for step in plan.steps] == [
            place == 0 or laces[place - 1] != lace for place, lace in enumerate(laces)
        ]

    @some
    @given(two_heads())
    def test_meetings(self, fields: Fields) -> None:
        """A lace of an even number of stations ends on the other head than it began on, and so closes the round."""
        plan = plan_of(fields)
        for lace in {step.lace for step in plan.steps}:
            own = [step for step in plan.steps if step.lace == lace]
            assert (own[0].head == own[-1].head) == (len(own) % 2 == 1)
        assert plan.steps[0].head != plan.steps[-1].head


class TestLengths:
    @some
    @given(two_heads())
    def test_legs_measured_on_the_wall(self, fields: Fields) -> None:
        """Every leg from hole to hole on the wall rolled out is as long as its step says."""
        plan = plan_of(fields)
        for before, step in pairwise(plan.steps):
            leg = math.dist(rolled_out(plan, before.step, before.leave), rolled_out(plan, step.step, step.enter))
            assert leg == pytest.approx(plan["lace.leg"])
            assert step.span_mm in (None, plan["lace.leg"])

    @some
    @given(two_heads())
    def test_walked(self, fields: Fields) -> None:
        """Each lace followed from its tab to its tail; all together are the net length, the longest the longest."""
        plan = plan_of(fields)
        number = plan.spec.number
        spacing = math.dist(plan.mounted[0].a, plan.mounted[0].b)
        walked = []
        for lace in range(1, plan.spec.count("lace.laces") + 1):
            length = number("lace.tab_length") + 2 * spacing + number("lace.tail")
            own = [step for step in plan.steps if step.lace == lace]
            for step in own:
                after = step.step + 1
                enter = "b" if after % 2 == 0 else "a"
                length += math.dist(rolled_out(plan, step.step, step.leave), rolled_out(plan, after, enter))
                length += number("lace.play") + (spacing if step is not own[0] else 0.0)
            walked.append(length)
        assert plan["lace.net_length"] == pytest.approx(sum(walked))
        assert plan["lace.net_length"] == pytest.approx(sum(plan[part] for part in plan.lace_parts), rel=1e-12)
        assert plan["lace.longest_net"] == pytest.approx(max(walked))

    @some
    @given(two_heads())
    def test_blank(self, fields: Fields) -> None:
        """Each blank reaches round one edge and down the wall; the drop is its straight part and the edge's."""
        plan = plan_of(fields)
        edge, thickness = plan.spec.number("frame.edge_radius"), plan.spec.number("head.thickness")
        flat = plan.spec.number("frame.diameter") / 2 - edge
        path = flat + math.pi / 2 * (edge + thickness / 2) + plan.spec.number("head.drop") - edge
        assert plan["head.blank_radius"] == pytest.approx(path)
        assert plan["punchings.count"] == 4 * len(plan.stations) + plan.spec.count("lace.laces")


class TestBeneath:
    @some
    @given(two_heads())
    def test_crossings(self, fields: Fields) -> None:
        """Of one lace's legs on the wall rolled out a leg crosses only those that its step names."""
        plan = plan_of(fields)
        legs = {
            step.step: (step.lace, rolled_out(plan, before.step, before.leave), rolled_out(plan, step.step, step.enter))
            for before, step in pairwise(plan.steps)
            if step.span_mm is not None
        }
        for step in plan.steps:
            if step.step in legs:
                lace, p, q = legs[step.step]
                near = range(max(1, step.step - 4), step.step)
                earlier = [name for name in near if name in legs and legs[name][0] == lace]
                assert step.beneath == tuple(name for name in earlier if crosses(*legs[name][1:], p, q))


class TestForces:
    @some
    @given(two_heads())
    def test_both_legs_carry_the_station(self, fields: Fields) -> None:
        """The parts of both legs along the wall's height are the station's pull; no anchor carries more."""
        plan = plan_of(fields)
        angle = math.atan2(plan["stations.rim_spacing"] / 2, plan["holes.between"])
        assert math.radians(plan["pull.strand_angle"]) == pytest.approx(angle)
        if plan.has("pull.strand"):
            assert 2 * plan["pull.strand"] * math.cos(angle) == pytest.approx(plan["pull.station"])
            assert plan["pull.anchor"] == plan["pull.strand"]


class TestSecondHead:
    @some
    @given(two_heads())
    def test_mirror_image(self, fields: Fields) -> None:
        """Seen from its own inner side the second blank is the first one's mirror image, of the same digest."""
        plan = plan_of(fields)
        assert plan.second is not None
        assert plan.second.digest == plan.digest
        for pair, other in zip(plan.blank, plan.second.blank, strict=True):
            for one, two in ((pair.a, other.a), (pair.b, other.b)):
                assert math.dist((-one[0], one[1]), two) < 1e-7
