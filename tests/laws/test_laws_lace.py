"""Laws of the lace: its parts, their sum, and what is cut for it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given

from drums import Fields, drums, plan_of, some, spans_of
from tauthide.plan.plan import Plan

PARTS = (
    "lace.spans",
    "lace.bridges",
    "lace.anchor",
    "lace.hub_take_up",
    "lace.to_hub",
    "lace.play",
    "lace.handle",
    "lace.tail",
)
"""What a cross-laced lace is made up of."""

STEP_MM = 50.0
"""A lace is cut to whole steps of this. Workshop practice, no published source."""

NOISE = 1e-6
"""Share of a step that a length may pass it by before another step is due."""


def walk_lace(plan: Plan) -> float:
    """Follow the lace from its tab to its tail, leg by leg, by the steps and the holes alone."""
    given_mm = plan.spec.number
    pairs = [plan.mounted[step.station - 1] for step in plan.steps]
    run = max(plan["holes.edge_distance"] + given_mm("frame.edge_radius") - given_mm("head.turnover"), 0.0)
    first, *others = pairs
    # The tab hangs out of b; behind the web; back across its front, to the slit.
    length = given_mm("lace.tab_length") + 2 * math.dist(first.a, first.b)
    for pair, other in pairwise(pairs):
        # Out of a, over the back edge, by way of the middle, over the back edge, into b, with some play.
        length += run + math.hypot(*pair.a) + math.hypot(*other.b) + run + given_mm("lace.play")
    length += sum(math.dist(pair.a, pair.b) for pair in others)
    length += math.hypot(*pairs[-1].a) + run
    return length + wrap_arms(plan) + given_mm("lace.tail")


def wrap_arms(plan: Plan) -> float:
    """Length of the helix round the bundle of strands in every arm of the handle."""
    arms = plan.spec.count("handle.arms")
    if not arms:
        return 0.0
    width, thickness = plan.spec.number("lace.width"), plan.spec.number("lace.thickness")
    # Seven tenths of a bundle's section are strands. Workshop practice, no published source.
    section = (2 * len(plan.stations) - 1) / arms * width * thickness / 0.7
    around = math.pi * (math.sqrt(section * 4 / math.pi) + thickness)
    rise = width
    return arms * plan.spec.number("handle.wrap") / rise * math.sqrt(around**2 + rise**2)


class TestParts:
    """The parts of the lace add up."""

    @some
    @given(drums())
    def test_sum(self, fields: Fields) -> None:
        """They are the eight that there are, none less than nothing, and their sum is the net length."""
        plan = plan_of(fields)
        assert plan.lace_parts == PARTS
        parts = [plan[part] for part in plan.lace_parts]
        assert min(parts) >= 0
        assert plan["lace.net_length"] == pytest.approx(sum(parts), rel=1e-12)

    @some
    @given(drums())
    def test_walked(self, fields: Fields) -> None:
        """A lace that is followed from tab to tail measures the same, spans drawn to the middle."""
        plan = plan_of(fields)
        assert plan["lace.net_length"] == pytest.approx(walk_lace(plan))

    @some
    @given(drums())
    def test_each_part(self, fields: Fields) -> None:
        """Each part by itself, from the holes."""
        plan = plan_of(fields)
        given_mm, count = plan.spec.number, len(plan.stations)
        assert plan["lace.bridges"] == pytest.approx((count - 1) * plan["holes.pair_spacing"])
        there_and_back = 2 * plan["holes.pair_spacing"]
        assert plan["lace.anchor"] == pytest.approx(given_mm("lace.tab_length") + there_and_back)
        assert plan["lace.play"] == pytest.approx((count - 1) * given_mm("lace.play"))
        assert plan["lace.tail"] == given_mm("lace.tail")
        assert plan["lace.handle"] == pytest.approx(wrap_arms(plan))
        assert plan.has("handle.bundle") == (plan.spec.count("handle.arms") > 0)

    @some
    @given(drums())
    def test_spans(self, fields: Fields) -> None:
        """The spans are the sum of the steps'; drawing them to the middle takes more, never less."""
        plan = plan_of(fields)
        assert plan["lace.spans"] == pytest.approx(sum(step.span_mm or 0.0 for step in plan.steps))
        by_the_hub = sum(math.hypot(*left) + math.hypot(*reached) for left, reached in spans_of(plan))
        straight = sum(math.dist(left, reached) for left, reached in spans_of(plan))
        assert plan["lace.hub_take_up"] == pytest.approx(by_the_hub - straight, abs=1e-6)
        assert plan["lace.hub_take_up"] >= 0


class TestClosedForm:
    """On a circle the spans have a closed form."""

    @some
    @given(drums(("round",)))
    def test_spans(self, fields: Fields) -> None:
        """n/2 chords that miss the middle by half a pair, n/2 - 1 that miss it by half a station more."""
        plan = plan_of(fields)
        n, r = len(plan.stations), plan["holes.mounted_radius"]
        pair = 2 * math.asin(plan["holes.pair_spacing"] / (2 * r))
        across, beside = math.cos(pair / 2), math.cos((math.tau / n + pair) / 2)
        chords = 2 * r * (n / 2 * across + (n / 2 - 1) * beside)
        assert plan["lace.spans"] == pytest.approx(chords + 2 * (n - 1) * plan["holes.end_run"])
        assert plan["lace.to_hub"] == pytest.approx(r + plan["holes.end_run"])
        assert plan["lace.hub_take_up"] == pytest.approx(2 * (n - 1) * r - chords, abs=1e-6)


class TestCutLength:
    """What is cut is enough, and not much more than enough."""

    @some
    @given(drums())
    def test_whole_steps(self, fields: Fields) -> None:
        """A whole number of steps, the least that covers the net length with its allowance."""
        plan = plan_of(fields)
        wanted = plan["lace.net_length"] * (1 + plan.spec.number("lace.allowance"))
        assert plan["lace.cut_length"] % STEP_MM == 0
        assert -NOISE <= (plan["lace.cut_length"] - wanted) / STEP_MM < 1

    @some
    @given(drums())
    def test_in_two_pieces(self, fields: Fields) -> None:
        """Two pieces cover the same and the join between them."""
        plan = plan_of(fields)
        given_mm = plan.spec.number
        wanted = plan["lace.net_length"] * (1 + given_mm("lace.allowance")) + given_mm("lace.join")
        assert plan["lace.half_length"] % STEP_MM == 0
        assert -NOISE <= (2 * plan["lace.half_length"] - wanted) / (2 * STEP_MM) < 1

    @pytest.mark.parametrize("over_mm", [-0.001, 0.0, 0.001])
    def test_at_a_step(self, over_mm: float) -> None:
        """A lace that is a whole number of steps long, or just misses one, is not raised by another."""
        plan = plan_of(lace_tail="0 mm", lace_allowance="0 %")
        tail = STEP_MM - plan["lace.net_length"] % STEP_MM + over_mm
        steps = math.ceil(plan["lace.net_length"] / STEP_MM) + (over_mm > 0)
        again = plan_of(lace_tail=f"{tail:.9f} mm", lace_allowance="0 %")
        assert again["lace.cut_length"] == steps * STEP_MM

    @some
    @given(drums())
    def test_disc(self, fields: Fields) -> None:
        """The disc's ring, from the core out, is the strip's area and the two wedges that are waste."""
        plan = plan_of(fields)
        width, core = plan.spec.number("lace.width"), plan.spec.number("lace.core")
        for disc, length in (("disc_diameter", "cut_length"), ("half_disc_diameter", "half_length")):
            outer = plan[f"lace.{disc}"] / 2
            ring = math.pi * (outer**2 - core**2)
            wedges = math.pi * (outer + core) * width
            assert ring == pytest.approx(plan[f"lace.{length}"] * width + wedges)
        assert plan["lace.area"] == pytest.approx(math.pi * (plan["lace.disc_diameter"] / 2) ** 2)
        assert plan["lace.half_disc_diameter"] < plan["lace.disc_diameter"]
