"""Laws of the figures: every drum has those that its outline calls for, each fit to be shown."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from drums import Fields, drums, plan_of, some, workings_of
from tauthide.units import KINDS, SHOWN, System, show

EVERY_DRUM = [
    *("frame.perimeter", "head.blank_perimeter", "head.blank_area", "skin.corner", "skin.reach"),
    *("holes.web", "holes.pair_spacing", "holes.margin", "holes.edge_distance"),
    *("holes.count", "punchings.count", "holes.inset", "holes.end_run", "head.gather"),
    *("lace.spans", "lace.bridges", "lace.anchor", "lace.hub_take_up", "lace.to_hub", "lace.play"),
    *("lace.handle", "lace.tail", "lace.net_length", "lace.cut_length", "lace.disc_diameter"),
]

ROUND_ONLY = [
    *("head.blank_radius", "head.blank_diameter", "skin.path_to_back", "stations.chord", "stations.arc"),
    *("holes.circle_radius", "holes.pair_angle", "holes.mounted_radius", "holes.mounted_pair_angle"),
    "holes.tight_radius",
    *("voice.membrane_radius", "voice.surface_density", "voice.air_load", "voice.highest_pitch", "voice.lowest_pitch"),
    *("pull.strand_angle", "pull.wet_share", "pull.most", "lace.hold", "lace.hold_wet", "hold.dry", "hold.wet"),
    *(f"hold.{rule}{wet}" for rule in ("block", "tear_out", "bearing", "stitch") for wet in ("", "_wet")),
]

VOICE_ONLY = [
    *("voice.tension", "voice.pitch", "voice.pitch_low", "voice.pitch_high"),
    *("pull.station", "pull.strand", "pull.anchor", "pull.balance"),
    *("hold.use_dry", "hold.use_wet", "lace.use_dry", "lace.use_wet", "lace.use"),
]
"""Of a round drum that is to have a pitch or a pull."""

PITCH_ONLY = ["voice.tension_low", "voice.tension_high", "pull.station_low", "pull.station_high"]
"""Of a round drum that is to have a pitch: its tension has a range."""

POLYGON_ONLY = ["frame.mitre", "frame.side"]

OFF_ROUND_ONLY = ["head.blank_length", "head.blank_width"]

BASES = {
    **{name: kind.base for name, kind in KINDS.items()},
    "fine_length": "mm",
    "long_length": "mm",
    "nominal": "mm",
    "surface_density": "kg/m2",
    "count": "1",
}
"""For each way of showing a value the unit that it is kept in."""


class TestWhichFigures:
    """The figures that a drum has follow from its outline."""

    @some
    @given(drums())
    def test_by_outline(self, fields: Fields) -> None:
        """Some for every drum, some for one outline only, some where a voice is wanted."""
        plan = plan_of(fields)
        outline = plan.spec.word("frame.outline")
        is_round = outline == "round"
        pitch, pull = (is_round and plan.spec.has(path) for path in ("voice.pitch", "voice.pull"))
        for names, wanted in (
            (EVERY_DRUM, True), (ROUND_ONLY, is_round), (OFF_ROUND_ONLY, not is_round), (VOICE_ONLY, pitch or pull),
            (PITCH_ONLY, pitch), (POLYGON_ONLY, outline == "polygon"),
        ):  # fmt: skip
            assert {name: plan.has(name) for name in names} == dict.fromkeys(names, wanted)

    @some
    @given(drums())
    def test_numbers(self, fields: Fields) -> None:
        """Every figure is a number, and the workings give what the plan has, in the same order."""
        plan = plan_of(fields)
        assert all(math.isfinite(reading.value) for reading in plan.figures.values())
        values = workings_of(fields).values()
        assert list(values.items()) == [(name, reading.value) for name, reading in plan.figures.items()]

    @some
    @given(drums())
    def test_sizes_are_positive(self, fields: Fields) -> None:
        """Nothing that is a size is nothing or less; what may be is named here."""
        may_be_nothing = {"holes.end_run", "lace.play", "lace.tail", "lace.handle", "lace.hub_take_up",
                          "holes.mounted_inset", "holes.tight_inset"}  # fmt: skip
        may_be_less = {"holes.inset", "skin.corner"}
        for name, reading in plan_of(fields).figures.items():
            if name not in may_be_less:
                assert reading.value >= 0, name
                assert reading.value > 0 or name in may_be_nothing, name


class TestShown:
    """Each figure can be shown on a sheet."""

    @some
    @given(drums())
    def test_style_and_unit(self, fields: Fields) -> None:
        """Its style is one that is known, and keeps values in the figure's unit."""
        for name, reading in plan_of(fields).figures.items():
            assert reading.figure.name == name
            assert reading.figure.style in SHOWN
            assert BASES[reading.figure.style] == reading.figure.unit, name

    @pytest.mark.parametrize("system", ["metric", "inch"])
    @some
    @given(drums())
    def test_as_text(self, system: System, fields: Fields) -> None:
        """As text it has a digit; lengths and areas have both systems, the sheet's own first."""
        for reading in plan_of(fields).figures.values():
            shown = show(reading.figure.style, reading.value, system)
            assert any(character.isdigit() for character in shown)
            if reading.figure.unit in ("mm", "mm2"):
                first, _, second = shown.partition(" (")
                metric, inch = (first, second) if system == "metric" else (second, first)
                assert metric.rstrip(")").endswith(("m", "m²"))
                assert inch.rstrip(")").endswith(("in", "ft"))

    @some
    @given(drums())
    def test_told_how(self, fields: Fields) -> None:
        """Each has a title, a formula and a source, and the inputs it was worked out from exist."""
        workings = workings_of(fields)
        figures = list(workings.applicable())
        for figure in figures:
            assert figure.title.strip()
            assert figure.formula.strip()
            assert figure.source.strip()
        named = {figure.name for figure in figures}
        for figure in figures:
            workings[figure.name]
            inputs = workings.inputs(figure.name)
            assert inputs
            for name in inputs:
                kind, _, path = name.partition(":")
                assert kind in ("field", "shape") if path else name in named
