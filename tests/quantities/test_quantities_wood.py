"""Wood: the moisture that it settles to, and the staves of a polygon."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from force_drums import calm, force_workings
from tauthide.figures import Workings
from tauthide.quantities.wood import moisture_content

rooms_c = st.floats(0, 45)
humidities = st.floats(0.02, 0.98)


def polygon(sides: int, across_flats: float) -> Workings:
    """The workings of a polygon frame."""
    return force_workings(
        frame_outline="polygon", frame_diameter=None, frame_sides=sides, frame_across_flats=across_flats
    )


class TestMoisture:
    """Simpson's formula behaves as wood does."""

    @calm
    @given(rooms_c, humidities)
    def test_rises_with_humidity(self, temperature: float, humidity: float) -> None:
        assert moisture_content(temperature, humidity) < moisture_content(temperature, humidity + 0.01)

    @calm
    @given(st.floats(15, 45), st.floats(0.05, 0.95))
    def test_falls_with_warmth(self, temperature: float, humidity: float) -> None:
        assert moisture_content(temperature, humidity) > moisture_content(temperature + 5, humidity)

    @calm
    @given(rooms_c)
    def test_ends(self, temperature: float) -> None:
        """Nothing in dry air; short of the 30 % or so at which wood is full in damp air."""
        assert moisture_content(temperature, 0.0) == 0
        assert 0.24 < moisture_content(temperature, 1.0) < 0.32

    @pytest.mark.parametrize("humidity", [-0.01, 1.01, 50.0, float("nan")])
    def test_humidity_is_a_fraction(self, humidity: float) -> None:
        with pytest.raises(ValueError, match="fraction from 0 to 1"):
            moisture_content(20.0, humidity)


class TestStaves:
    """A regular polygon's staves."""

    @calm
    @given(st.integers(3, 24), st.floats(100, 2000), st.floats(1.1, 5))
    def test_scaling(self, sides: int, across: float, factor: float) -> None:
        """A larger frame has longer staves and the same mitre."""
        small, large = polygon(sides, across), polygon(sides, across * factor)
        assert large["frame.side"] == pytest.approx(factor * small["frame.side"])
        assert large["frame.mitre"] == small["frame.mitre"]

    def test_hexagon_and_square(self) -> None:
        """A square's side is its width; a hexagon's corners lie a side from the middle."""
        assert polygon(4, 300.0)["frame.side"] == pytest.approx(300)
        side = polygon(6, 300.0)["frame.side"]
        assert (side / 2) ** 2 + 150.0**2 == pytest.approx(side**2)

    def test_polygons_only(self) -> None:
        """A round frame has no staves, a polygon no voice."""
        assert not force_workings().applies("frame.side")
        assert not force_workings().applies("frame.mitre")
        assert polygon(8, 360.0).applies("frame.side")
        assert not polygon(8, 360.0).applies("voice.pitch")
