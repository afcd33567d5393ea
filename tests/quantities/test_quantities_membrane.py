"""The membrane and the voice: laws that hold whatever the drum."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from force_drums import GOAT_13, Value, calm, force_workings
from tauthide.figures import Workings
from tauthide.quantities.membrane import (
    AIR_COEFFICIENTS,
    BESSEL_ZEROS,
    COLLAGEN_WATER,
    Mode,
    find_modes,
    frequency,
    tension_for,
    water_content,
)
from tauthide.quantities.voice import has_voice

radii_m = st.floats(0.08, 1.0)
tensions = st.floats(50, 20_000)
densities = st.floats(0.1, 5)
mode_names = st.sampled_from(list(BESSEL_ZEROS))
factors = st.floats(1.05, 20)


class TestFrequency:
    """Of a mode, pure."""

    @calm
    @given(mode_names, radii_m, tensions, densities)
    def test_tension_and_back(self, mode: str, radius: float, tension: float, density: float) -> None:
        hz = frequency(mode, radius, tension, density)
        assert tension_for(mode, radius, hz, density) == pytest.approx(tension)

    @calm
    @given(mode_names, radii_m, tensions, densities, factors)
    def test_scaling(self, mode: str, radius: float, tension: float, density: float, factor: float) -> None:
        """As the root of the tension, the inverse root of the density, and the inverse of the radius."""
        hz = frequency(mode, radius, tension, density)
        assert frequency(mode, radius, tension * factor, density) == pytest.approx(hz * math.sqrt(factor))
        assert frequency(mode, radius, tension, density * factor) == pytest.approx(hz / math.sqrt(factor))
        assert frequency(mode, radius * factor, tension, density) == pytest.approx(hz / factor)

    def test_unknown_mode(self) -> None:
        with pytest.raises(KeyError):
            frequency("99", 0.2, 2000, 0.5)


class TestModes:
    """All twelve."""

    @calm
    @given(radii_m, tensions, densities)
    def test_twelve_in_order(self, radius: float, tension: float, density: float) -> None:
        """From low to high without air, the ratio being to the first; air lowers every one."""
        modes = find_modes(radius, tension, density)
        assert [mode.name for mode in modes] == list(BESSEL_ZEROS)
        assert len(modes) == 12
        assert modes[0].ratio == 1
        for lower, higher in pairwise(modes):
            assert lower.ideal_hz < higher.ideal_hz
        for mode in modes:
            assert mode.loaded_hz < mode.ideal_hz
            assert mode.ideal_hz == pytest.approx(mode.ratio * modes[0].ideal_hz)

    def test_air_slows_the_lowest_most(self) -> None:
        """The more a mode splits the head, the shorter the way of the air from face to face."""
        assert list(AIR_COEFFICIENTS) == list(BESSEL_ZEROS)
        coefficients = list(AIR_COEFFICIENTS.values())
        assert coefficients == sorted(coefficients, reverse=True)


class TestWater:
    """Water in skin, between the table's values."""

    @pytest.mark.parametrize(("humidity", "water"), COLLAGEN_WATER)
    def test_hits_the_table(self, humidity: float, water: float) -> None:
        assert water_content(humidity) == pytest.approx(water, abs=1e-15)

    @calm
    @given(st.floats(0, 1), st.floats(0, 1))
    def test_never_falls(self, one: float, other: float) -> None:
        drier, damper = sorted((one, other))
        assert water_content(drier) <= water_content(damper)

    @pytest.mark.parametrize(("before", "after"), list(pairwise(COLLAGEN_WATER)))
    def test_straight_between(self, before: tuple[float, float], after: tuple[float, float]) -> None:
        half = water_content((before[0] + after[0]) / 2)
        assert half == pytest.approx((before[1] + after[1]) / 2)

    def test_held_at_the_ends(self) -> None:
        assert water_content(0.0) == water_content(0.02) == COLLAGEN_WATER[0][1]
        assert water_content(1.0) == water_content(0.97) == COLLAGEN_WATER[-1][1]


class TestVoice:
    """The figures of the voice."""

    @calm
    @given(st.floats(40, 400), st.floats(200, 900), st.floats(0.3, 3), st.integers(2, 20))
    def test_pitch_tension_pull_and_back(self, hz: float, across: float, thickness: float, half: int) -> None:
        """A pitch gives a pull, and that pull the pitch again."""
        drum: dict[str, Value] = {
            "frame_diameter": across, "head_dry_thickness": thickness, "stations_count": 2 * half
        }  # fmt: skip
        asked = force_workings(voice_pitch=hz, **drum)
        assert asked["voice.pitch"] == pytest.approx(hz)
        pulled = force_workings(voice_pitch=None, voice_pull=asked["pull.station"], **drum)
        assert pulled["voice.pitch"] == pytest.approx(hz)
        assert pulled["voice.tension"] == pytest.approx(asked["voice.tension"])
        assert pulled["pull.station"] == pytest.approx(asked["pull.station"])

    @calm
    @given(st.floats(40, 400), st.floats(0, 0.5))
    def test_range_holds_the_estimate(self, hz: float, tolerance: float) -> None:
        w = force_workings(voice_pitch=hz, tolerances_thickness=tolerance)
        assert w["voice.pitch_low"] < w["voice.pitch"] < w["voice.pitch_high"]
        assert w["voice.tension_low"] < w["voice.tension"] < w["voice.tension_high"]
        assert w["pull.station_low"] < w["pull.station"] < w["pull.station_high"]

    def test_ranges_of_pitch_and_tension_agree(self) -> None:
        """The tension of a light head over the nominal is the pitch of a light head squared, upside down."""
        w = force_workings()
        for light, heavy in (("low", "high"), ("high", "low")):
            of_tension = w[f"voice.tension_{light}"] / w["voice.tension"]
            assert of_tension == pytest.approx((w["voice.pitch"] / w[f"voice.pitch_{heavy}"]) ** 2)

    def test_wider_tolerance_wider_range(self) -> None:
        close, loose = force_workings(tolerances_thickness=0.05), force_workings(tolerances_thickness=0.2)
        assert loose["voice.pitch_low"] < close["voice.pitch_low"]
        assert close["voice.pitch_high"] < loose["voice.pitch_high"]

    def test_range_is_of_weather_too(self) -> None:
        """Without tolerance a dry room alone raises the pitch, by the water that leaves the skin."""
        w = force_workings(tolerances_thickness=0.0)
        lighter = w["voice.surface_density"] * (1 + 0.1244) / (1 + 0.1795)
        ratio = math.sqrt((w["voice.surface_density"] + w["voice.air_load"]) / (lighter + w["voice.air_load"]))
        assert w["voice.pitch_high"] / w["voice.pitch"] == pytest.approx(ratio)
        damper = w["voice.surface_density"] * (1 + 0.2505) / (1 + 0.1795)
        walled = 1.49 * 1.2 * w["voice.membrane_radius"] / 1000
        ratio = math.sqrt((w["voice.surface_density"] + w["voice.air_load"]) / (damper + walled))
        assert w["voice.pitch_low"] / w["voice.pitch"] == pytest.approx(ratio)

    def test_lowest_mode_is_the_pitch(self) -> None:
        w = force_workings()
        modes: tuple[Mode, ...] = w.shape("voice.modes")
        assert modes[0].loaded_hz == pytest.approx(w["voice.pitch"])

    def test_who_has_a_voice(self) -> None:
        """Round drums with a pitch or a pull; the tension has a range of its own only where it follows from a pitch."""
        pull = force_workings(voice_pitch=None, voice_pull=100.0)
        assert has_voice(force_workings())
        assert has_voice(pull)
        assert force_workings().applies("voice.tension_low")
        assert not pull.applies("voice.tension_low")
        assert pull.applies("voice.pitch_low")
        assert not has_voice(force_workings(voice_pitch=None))
        assert not has_voice(force_workings(frame_outline="oval", frame_length=400.0, frame_width=350.0))

    def test_figures_can_be_asked(self) -> None:
        """Every figure that applies has a value above nothing, whether a pitch or a pull is wanted."""
        for w in (force_workings(), force_workings(voice_pitch=None, voice_pull=100.0)):
            values = {name: value for name, value in w.values().items() if name.startswith(("voice", "pull"))}
            assert len(values) > 10
            assert all(math.isfinite(value) and value > 0 for value in values.values())


class TestPulls:
    """From the tension to the strands."""

    @staticmethod
    def half_angle(w: Workings) -> float:
        """Half of what the longest step of the lacing turns, in degrees."""
        return (360 / w.count("stations.count") + w["holes.mounted_pair_angle"]) / 2

    @pytest.mark.parametrize("count", [8, 12, 16, 24])
    @pytest.mark.parametrize("hand", ["anticlockwise", "clockwise"])
    @pytest.mark.parametrize("mark_at", ["first_hole", "pair_centre"])
    def test_strand_angle(self, count: int, hand: str, mark_at: str) -> None:
        """A chord over 180 degrees - x leaves the radius by x / 2, and x is a station and a pair at most."""
        w = force_workings(stations_count=count, stations_hand=hand, stations_mark_at=mark_at)
        assert w["pull.strand_angle"] == pytest.approx(self.half_angle(w))

    def test_two_strands_balance_the_station(self) -> None:
        w = force_workings()
        slant = math.cos(math.radians(w["pull.strand_angle"]))
        assert 2 * w["pull.strand"] * slant == pytest.approx(w["pull.station"])
        assert w["pull.anchor"] == pytest.approx(2 * w["pull.strand"])
        assert w["pull.station"] > w["pull.strand"] > w["pull.station"] / 2

    def test_stations_balance_the_tension(self) -> None:
        """All stations together pull as the tension does round the rim: 16 x pull over the perimeter in m."""
        w = force_workings()
        rim_m = math.tau * w["voice.membrane_radius"] / 1000
        assert 16 * w["pull.station"] / rim_m == pytest.approx(w["voice.tension"])

    def test_spring_balance(self) -> None:
        """Friction raises what the hand feels; the share put in wet lowers it; all shares alike."""
        w, dry = force_workings(), force_workings(voice_wet_share=0.6)
        assert w["pull.balance"] == pytest.approx(w["pull.strand"] * 0.3 * math.exp(0.2 * math.pi))
        assert dry["pull.balance"] == pytest.approx(2 * w["pull.balance"])

    def test_more_stations_pull_less_each(self) -> None:
        assert force_workings(stations_count=24)["pull.station"] == pytest.approx(
            force_workings(stations_count=16)["pull.station"] * 16 / 24
        )

    @calm
    @given(factors)
    def test_pull_by_pitch(self, factor: float) -> None:
        """Twice the pitch takes four times the pull."""
        low, high = force_workings(voice_pitch=50.0), force_workings(voice_pitch=50.0 * factor)
        assert high["pull.station"] == pytest.approx(low["pull.station"] * factor**2)

    def test_usual_drum(self) -> None:
        """13 inches of goat at A2, worked by hand from the stated formulas."""
        w = force_workings(GOAT_13)
        assert w["voice.membrane_radius"] == pytest.approx(163.1)
        assert w["voice.surface_density"] == pytest.approx(0.72)
        assert w["voice.air_load"] == pytest.approx(0.98593 * 1.2 * 0.1631)
        assert w["voice.tension"] == pytest.approx(0.91297 * (2 * math.pi * 0.1631 * 110 / 2.404826) ** 2, rel=1e-5)
