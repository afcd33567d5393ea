"""Holding at a station, the lace, and what is in reach: laws that hold whatever the strengths."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from force_drums import Value, calm, force_workings
from tauthide.figures import Workings
from tauthide.quantities import holding
from tauthide.quantities.holding import RULES, State, governing_rule

STATES: tuple[State, State] = ("dry", "wet")
EVERY = [*RULES["dry"], *RULES["wet"]]

growing = st.floats(1.01, 3)


@st.composite
def stations(draw: st.DrawFn) -> dict[str, Value]:
    """Draw the skin and the holes of a station."""
    return {
        "head_thickness": draw(st.floats(0.5, 5)),
        "head_dry_thickness": draw(st.floats(0.3, 3)),
        "hide_dry_strength": draw(st.floats(10, 120)),
        "hide_wet_strength": draw(st.floats(2, 60)),
        "hide_stitch_tear": draw(st.floats(10, 900)),
        "stations_web": draw(st.floats(5, 30)),
        "stations_margin": draw(st.floats(4, 25)),
        "stations_hole": draw(st.floats(4, 14)),
    }


class TestLowest:
    """The lowest of all rules counts, in each state by itself."""

    @calm
    @given(stations())
    def test_per_state(self, station: dict[str, Value]) -> None:
        w = force_workings(**station)
        for state in STATES:
            loads = {name: w[name] for name in RULES[state]}
            assert len(loads) == 4
            assert w[f"hold.{state}"] == min(loads.values())
            assert loads[governing_rule(w, state)] == w[f"hold.{state}"]

    @pytest.mark.parametrize(
        ("changes", "rule"),
        [
            ({"hide_stitch_tear": 10.0}, "hold.stitch"),
            ({"hide_stitch_tear": 9e3}, "hold.bearing"),
            ({"hide_stitch_tear": 9e3, "stations_margin": 3.0, "lace_width": 10.0}, "hold.tear_out"),
            ({"hide_stitch_tear": 9e3, "stations_margin": 10.0, "stations_web": 8.0, "stations_hole": 4.0},
             "hold.block"),
        ],
    )  # fmt: skip
    def test_each_may_govern(self, changes: dict[str, Value], rule: str) -> None:
        """Dry, which is meant unless said otherwise."""
        w = force_workings(**changes)
        assert governing_rule(w) == governing_rule(w, "dry") == rule

    def test_wet_governs_by_itself(self) -> None:
        """A thick wet skin beside a thin dry one changes the loads, not which rule is lowest."""
        w = force_workings()
        assert (governing_rule(w, "dry"), governing_rule(w, "wet")) == ("hold.stitch", "hold.stitch_wet")
        assert w["hold.wet"] < w["hold.dry"]

    def test_every_rule_has_words(self) -> None:
        """The same words dry and wet."""
        assert list(RULES["dry"].values()) == list(RULES["wet"].values())
        assert [f"{name}_wet" for name in RULES["dry"]] == list(RULES["wet"])


class TestLoads:
    """Each rule by itself."""

    @calm
    @given(stations(), growing)
    def test_in_step_with_thickness(self, station: dict[str, Value], factor: float) -> None:
        thin = force_workings(**station)
        thick = force_workings(
            **{
                **station,
                "head_thickness": factor * float(station["head_thickness"]),
                "head_dry_thickness": factor * float(station["head_dry_thickness"]),
            }
        )
        for name in EVERY:
            assert thick[name] == pytest.approx(factor * thin[name])

    @calm
    @given(stations(), growing)
    def test_in_step_with_strength(self, station: dict[str, Value], factor: float) -> None:
        """The stitch test goes by its own strength, not by the breaking stress."""
        weak = force_workings(**station)
        strong = force_workings(**{**station, "hide_dry_strength": factor * float(station["hide_dry_strength"])})
        tough = force_workings(**{**station, "hide_stitch_tear": factor * float(station["hide_stitch_tear"])})
        for name in ("hold.block", "hold.tear_out", "hold.bearing"):
            assert strong[name] == pytest.approx(factor * weak[name])
            assert tough[name] == weak[name]
        assert strong["hold.stitch"] == weak["hold.stitch"]
        assert tough["hold.stitch"] == pytest.approx(factor * weak["hold.stitch"])
        assert tough["hold.stitch_wet"] == pytest.approx(factor * weak["hold.stitch_wet"])

    @pytest.mark.parametrize("what", ["stations_web", "stations_margin"])
    @calm
    @given(station=stations(), factor=growing)
    def test_more_skin_never_holds_less(self, what: str, station: dict[str, Value], factor: float) -> None:
        little, more = (force_workings(**{**station, what: each * float(station[what])}) for each in (1, factor))
        for name in [*EVERY, "hold.dry", "hold.wet"]:
            assert more[name] >= little[name] * (1 - 1e-12)
        for name in ("hold.block", "hold.stitch", "hold.block_wet", "hold.stitch_wet"):
            assert more[name] > little[name]

    def test_wet_is_dry_with_the_wet_skin(self) -> None:
        """Wet loads of one skin are dry loads of a skin that is as thick and strong as the other is wet."""
        w = force_workings(head_thickness=1.3, hide_wet_strength=15.0, hide_dry_strength=60.0, hide_stitch_tear=80.0)
        as_dry = force_workings(head_dry_thickness=1.3, hide_dry_strength=15.0, hide_stitch_tear=20.0)
        for name in RULES["dry"]:
            assert w[f"{name}_wet"] == pytest.approx(as_dry[name])

    @pytest.mark.parametrize("web", [0.01, 1.0, 2.0, 2.2])
    def test_holes_that_all_but_touch(self, web: float) -> None:
        """Far below every least distance a station still holds something, so that its use is a number."""
        w = force_workings(stations_web=web, stations_hole=10.0)
        assert 0 < w["hold.dry"] < math.inf
        assert 1 < w["hold.use_dry"] < math.inf

    @calm
    @given(st.floats(10, 60), st.floats(4, 14))
    def test_bearing_grows_with_distance(self, distance: float, hole: float) -> None:
        near, far = (holding.bearing_load(60, 0.6, 8, hole, each) for each in (distance, distance + 1))
        assert 0 < near <= far
        assert holding.pitch_factor(distance, hole) <= holding.pitch_factor(distance + 1, hole)
        assert holding.edge_factor(distance, hole) <= holding.edge_factor(distance + 1, hole)


def uses(w: Workings) -> list[float]:
    """What is used of each part that may fail, with safety."""
    return [w["hold.use_dry"], w["hold.use_wet"], w["lace.use_dry"], w["lace.use_wet"]]


class TestUse:
    """Pull with safety over what holds."""

    def test_use_of_the_station(self) -> None:
        w = force_workings(voice_safety=1.5, voice_wet_share=0.3)
        assert w["hold.use_dry"] == pytest.approx(1.5 * w["pull.station"] / w["hold.dry"])
        assert w["hold.use_wet"] == pytest.approx(1.5 * 0.3 * w["pull.station"] / w["hold.wet"])

    def test_use_of_the_lace(self) -> None:
        """Dry the anchor; wet the anchor or, where friction more than doubles it, the strand in the hand."""
        w = force_workings(lace_width=8.0, lace_thickness=1.0)
        assert w["lace.hold"] == pytest.approx(60 * 8 * 0.6)
        assert w["lace.hold_wet"] == pytest.approx(15 * 8 * 1.0)
        assert w["lace.use_dry"] == pytest.approx(1.5 * w["pull.anchor"] / w["lace.hold"])
        assert w["lace.use_wet"] == pytest.approx(1.5 * w["pull.anchor"] * 0.3 / w["lace.hold_wet"])
        assert w["pull.anchor"] * 0.3 > w["pull.balance"]

    @pytest.mark.parametrize("wet", [1.0, 15.0, 100.0])
    def test_lace_in_the_worse_state(self, wet: float) -> None:
        w = force_workings(lace_hide_wet_strength=wet)
        assert w["lace.use"] == max(w["lace.use_dry"], w["lace.use_wet"])

    def test_worse_state_may_be_either(self) -> None:
        weak, strong = force_workings(lace_hide_wet_strength=1.0), force_workings(lace_hide_wet_strength=100.0)
        assert weak["lace.use"] == weak["lace.use_wet"] > weak["lace.use_dry"]
        assert strong["lace.use"] == strong["lace.use_dry"] > strong["lace.use_wet"]


class TestReach:
    """The most that may be pulled, and the pitches that follow."""

    @calm
    @given(stations(), st.floats(1, 100), st.floats(1, 100), st.floats(0.05, 1))
    def test_at_the_most_the_weakest_is_used_in_full(
        self, station: dict[str, Value], lace_dry: float, lace_wet: float, share: float
    ) -> None:
        drum: dict[str, Value] = {
            **station, "lace_hide_dry_strength": lace_dry, "lace_hide_wet_strength": lace_wet, "voice_wet_share": share
        }  # fmt: skip
        most = force_workings(**drum)["pull.most"]
        w = force_workings(**{**drum, "voice_pull": most}, voice_pitch=None)
        assert max(uses(w)) == pytest.approx(1)

    def test_highest_pitch_is_where_use_reaches_one(self) -> None:
        highest = force_workings()["voice.highest_pitch"]
        assert max(uses(force_workings(voice_pitch=highest))) == pytest.approx(1)
        below, above = (max(uses(force_workings(voice_pitch=share * highest))) for share in (0.99, 1.01))
        assert below < 1 < above

    def test_nothing_put_in_wet(self) -> None:
        """All left to drying: the wet skin sets no limit, and nothing is divided by nothing."""
        w = force_workings(voice_wet_share=0.0, hide_wet_strength=0.001)
        assert w["hold.use_wet"] == w["lace.use_wet"] == 0
        assert w["pull.most"] == pytest.approx(w["hold.dry"] / 1.5)

    def test_reach_needs_no_pitch(self) -> None:
        """It is the same whatever pitch is wanted, or none."""
        wanted, none = force_workings(voice_pitch=300.0), force_workings(voice_pitch=None)
        for name in ("pull.most", "voice.highest_pitch", "voice.lowest_pitch"):
            assert none.applies(name)
            assert wanted[name] == none[name]

    def test_slackest_head(self) -> None:
        """The lowest pitch is that of 250 N/m."""
        w = force_workings()
        moving = w["voice.surface_density"] + w["voice.air_load"]
        at_rest = 2.404826 / (math.tau * 0.1631) * math.sqrt(250 / moving)
        assert w["voice.lowest_pitch"] == pytest.approx(at_rest, rel=1e-6)
        assert w["voice.lowest_pitch"] < w["voice.highest_pitch"]

    def test_safety_lowers_the_reach(self) -> None:
        bold, careful = force_workings(voice_safety=1.0), force_workings(voice_safety=4.0)
        assert bold["pull.most"] == pytest.approx(4 * careful["pull.most"])
        assert bold["voice.highest_pitch"] == pytest.approx(2 * careful["voice.highest_pitch"])
