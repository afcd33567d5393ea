"""The law of scaling: a drum with all lengths k times as large is k times as large in every length."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drums import USUAL, Fields, Leaf, Point, drums, plan_of, read_plan, shop_text, some, spec_text
from tauthide.plan.plan import Plan
from tauthide.schema.fields import fields as schema_fields
from tauthide.units import parse

POWERS = {"mm": 1, "mm2": 2, "deg": 0, "1": 0, "N": 2, "N/m": 1, "kg/m2": 1, "Hz": -1}
"""How figures grow with lengths, by their unit: strengths and densities stay, so forces grow as areas do.

A pull that is wanted grows likewise, and a pitch that is wanted falls as lengths grow.
"""

OTHERWISE = {"voice.lowest_pitch": -1.5}
"""Its tension is the same for any head, while the skin grows thicker: 1 / k times the root of 1 / k."""

COUNTED_OR_ROUNDED = {
    "lace.cut_length",
    "lace.disc_diameter",
    "lace.circle_diameter",
    "lace.half_length",
    "lace.half_disc_diameter",
    "lace.area",
    "stations.step_error",
}
"""Cut to whole steps of 50 mm, with what follows from it; and what 1 mm a step adds up to."""

SCALED = {"length": 1, "force": 2, "pitch": -1}
"""How values of a spec are scaled, by their kind."""

UNITS = {"length": "mm", "force": "N", "pitch": "Hz"}

PROFILE_ONLY = {"hide.disc", "lace_hide.disc", "lace_hide.dry_thickness"}
"""Lengths that a spec cannot say: the shop's profile of the hide does."""


def sizes_of(plan: Plan) -> dict[str, tuple[str, float]]:
    """All values that scale, by path, with their kind, in base units: those left to defaults, too."""
    return {
        path: (setting.quantity, float(setting.value))
        for path, setting in plan.spec.settings.items()
        if setting.quantity in SCALED and isinstance(setting.value, (int, float))
    }


def field_of(plan: Plan, path: str) -> tuple[str, str]:
    """The kind of document that can say a value, and the value's path there."""
    if path not in PROFILE_ONLY:
        return "spec", path
    part, _, column = path.partition(".")
    return "shop", f"hides.{plan.spec.word('head.hide' if part == 'hide' else 'lace.hide')}.{column}"


def room_for(plan: Plan) -> tuple[float, float]:
    """The least and the largest factor with which all sizes stay within what spec and shop may say."""
    least, most = 0.5, 2.0
    for path, (kind, size) in sizes_of(plan).items():
        document, named = field_of(plan, path)
        field = schema_fields(document)[named]
        if size:
            low, high = (parse(kind, end) / size for end in (field.least, field.most))
            # A pitch falls as lengths grow, so its upper end sets the least factor.
            ends = (low, high) if SCALED[kind] > 0 else (high, low)
            least = max(least, ends[0] ** (1 / SCALED[kind]))
            most = min(most, ends[1] ** (1 / SCALED[kind]))
    return least, most


def scale(fields: Fields, plan: Plan, factor: float) -> Plan:
    """Make the same drum with every length `factor` times as large, defaults and hide profiles spelt out."""
    spec: dict[str, Leaf] = dict(fields)
    hides: dict[str, dict[str, str]] = {}
    for path, (kind, size) in sizes_of(plan).items():
        written = f"{size * factor ** SCALED[kind]:.9f} {UNITS[kind]}"
        document, named = field_of(plan, path)
        if document == "spec":
            spec[named] = written
        else:
            _, hide, column = named.split(".")
            hides.setdefault(hide, {})[column] = written
    return read_plan(spec_text(spec), shop_text(hides))


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
    """Lengths scale by k, areas and forces by k squared; angles, ratios and counts stay; pitches fall."""

    @some
    @given(drums(), st.data())
    def test_figures(self, fields: Fields, data: st.DataObject) -> None:
        """Every figure, but for what is rounded or counted."""
        plan, factor, scaled = draw_scaled(fields, data)
        assert scaled.figures.keys() == plan.figures.keys()
        checked = 0
        for name, reading in plan.figures.items():
            if name not in COUNTED_OR_ROUNDED:
                power = OTHERWISE.get(name, POWERS[reading.figure.unit])
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

    @pytest.mark.parametrize("voice", [{}, {"voice.pitch": "110 Hz"}, {"voice.pull": "60 N"}], ids=str)
    def test_profiles_scale_too(self, voice: Fields) -> None:
        """What only a hide's profile says is scaled by a shop file, and with it the forces and the voice."""
        fields = {**USUAL, **voice, "lace.hide": "calf"}
        plan = plan_of(fields)
        scaled = scale(fields, plan, 1.25)
        for path in PROFILE_ONLY:
            assert scaled.spec.number(path) == pytest.approx(1.25 * plan.spec.number(path))
        assert scaled.spec.number("hide.dry_strength") == plan.spec.number("hide.dry_strength")
        assert scaled["lace.hold"] == pytest.approx(1.25**2 * plan["lace.hold"])
        assert scaled["voice.highest_pitch"] == pytest.approx(plan["voice.highest_pitch"] / 1.25)

    def test_what_does_not_scale(self) -> None:
        """The cut length does not: it is rounded. So the exceptions above are needed, and are figures."""
        plan = plan_of()
        scaled = scale(USUAL, plan, 1.0317)
        assert plan.figures.keys() >= COUNTED_OR_ROUNDED
        for name in COUNTED_OR_ROUNDED:
            power = POWERS[plan.figures[name].figure.unit]
            assert scaled[name] != pytest.approx(plan[name] * 1.0317**power, rel=1e-7)
