"""The law of scaling: a drum with all lengths k times as large is k times as large in every length."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drums import USUAL, Fields, Point, drums, mm, plan_of, some
from tauthide.plan.plan import Plan
from tauthide.schema.fields import fields as schema_fields
from tauthide.units import parse

POWERS = {"mm": 1, "mm2": 2, "deg": 0, "1": 0}
"""How figures grow with lengths, by their unit; those in any other unit are not geometry."""

COUNTED_OR_ROUNDED = {
    "lace.cut_length",
    "lace.disc_diameter",
    "lace.half_length",
    "lace.half_disc_diameter",
    "lace.area",
    "stations.step_error",
}
"""Cut to whole steps of 50 mm, with what follows from it; and what 1 mm a step adds up to."""


def lengths_of(plan: Plan) -> dict[str, float]:
    """All lengths that a spec may say, by path, in mm: those left to defaults, too, but not what is a hide's own."""
    return {
        path: float(setting.value)
        for path, setting in plan.spec.settings.items()
        if setting.quantity == "length" and isinstance(setting.value, (int, float)) and path in schema_fields("spec")
    }


def room_for(plan: Plan) -> tuple[float, float]:
    """The least and the largest factor with which all lengths stay within what a spec may say."""
    least, most = 0.5, 2.0
    for path, length in lengths_of(plan).items():
        field = schema_fields("spec")[path]
        if length:
            least = max(least, parse("length", field.least) / length)
            most = min(most, parse("length", field.most) / length)
    return least, most


def scale(fields: Fields, plan: Plan, factor: float) -> Plan:
    """Make the same drum with every length `factor` times as large, defaults spelt out."""
    return plan_of({**fields, **{path: mm(length * factor) for path, length in lengths_of(plan).items()}})


def draw_scaled(fields: Fields, data: st.DataObject) -> tuple[Plan, float, Plan]:
    """A drum, a factor in hundredths that it may be scaled with, and the scaled drum."""
    plan = plan_of(fields)
    least, most = room_for(plan)
    factor = data.draw(st.integers(math.ceil(least * 100), math.floor(most * 100)), "hundredths") / 100
    return plan, factor, scale(fields, plan, factor)


def points_of(plan: Plan) -> list[Point]:
    """All points of a plan."""
    holes = [hole for pair in (*plan.blank, *plan.mounted) for hole in (pair.a, pair.b)]
    return [*holes, *(point for mark in plan.stations for point in (mark.frame, mark.edge))]


class TestScaling:
    """Lengths scale by k, areas by k squared; angles, ratios and counts stay."""

    @some
    @given(drums(), st.data())
    def test_figures(self, fields: Fields, data: st.DataObject) -> None:
        """Every figure of the geometry and of the lace, but for what is rounded or counted."""
        plan, factor, scaled = draw_scaled(fields, data)
        assert scaled.figures.keys() == plan.figures.keys()
        checked = 0
        for name, reading in plan.figures.items():
            power = POWERS.get(reading.figure.unit)
            if power is not None and name not in COUNTED_OR_ROUNDED:
                checked += 1
                assert scaled[name] == pytest.approx(reading.value * factor**power, rel=1e-7, abs=1e-6), name
        assert checked > 25

    @some
    @given(drums(), st.data())
    def test_points(self, fields: Fields, data: st.DataObject) -> None:
        """Holes and stations keep their directions, and so do spans and tape."""
        plan, factor, scaled = draw_scaled(fields, data)
        for found, wanted in zip(points_of(scaled), points_of(plan), strict=True):
            assert math.dist(found, (wanted[0] * factor, wanted[1] * factor)) < 1e-5
        assert [step.beneath for step in scaled.steps] == [step.beneath for step in plan.steps]
        spans, wanted_spans = ([step.span_mm or 0.0 for step in each.steps] for each in (scaled, plan))
        assert spans == pytest.approx([span * factor for span in wanted_spans])
        tape, wanted_tape = ([mark.distance_mm for mark in each.marking.tape] for each in (scaled, plan))
        assert tape == pytest.approx([distance * factor for distance in wanted_tape])

    def test_what_does_not_scale(self) -> None:
        """The cut length does not: it is rounded. So the exceptions above are needed, and are figures."""
        plan = plan_of()
        scaled = scale(USUAL, plan, 1.0317)
        assert plan.figures.keys() >= COUNTED_OR_ROUNDED
        for name in COUNTED_OR_ROUNDED:
            power = POWERS[plan.figures[name].figure.unit]
            assert scaled[name] != pytest.approx(plan[name] * 1.0317**power, rel=1e-7)
