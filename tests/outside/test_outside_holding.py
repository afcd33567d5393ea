"""Holding at a station against the rules for bolts in sheet, a leather test and the capstan equation.

Sources: EN 1993-1-8, tables 3.3 and 3.4 and 3.10.2; AISC 360, J3.10 (from memory); the scope of ASTM D4705.
"""

from __future__ import annotations

import math

import pytest

from force_drums import force_workings
from tauthide.quantities import holding
from tauthide.quantities.voice import sliding_ratio

FACTOR = 1.25
"""Partial factor of EN 1993-1-8 for bolts, which the drum's own safety factor stands in for."""

BOLT, HOLE, PLATE, STRENGTH = 20.0, 22.0, 8.0, 360.0
END, PITCH, K1 = 26.4, 48.4, 1.66
"""A worked example: M20 in holes of 22 mm, plate of 8 mm, fu 360 N/mm2, all at the least distances."""


class TestDistances:
    """EN 1993-1-8, table 3.3: least distances over the hole's diameter d0."""

    def test_factors(self) -> None:
        """1.2 to an end or edge, 2.2 along the load, 2.4 across it."""
        assert (holding.LEAST_EDGE, holding.LEAST_PITCH_ALONG, holding.LEAST_PITCH_ACROSS) == (1.2, 2.2, 2.4)

    def test_worked_example_is_at_the_least(self) -> None:
        """The example's 26.4 and 48.4 mm are those of a hole of 22 mm."""
        assert pytest.approx(END) == holding.LEAST_EDGE * HOLE
        assert pytest.approx(PITCH) == holding.LEAST_PITCH_ALONG * HOLE

    def test_both_least_distances_across_give_one_factor(self) -> None:
        """The table's e2 and p2 match: k1 is 1.66 at either, as in the example."""
        assert holding.pitch_factor(holding.LEAST_PITCH_ACROSS * HOLE, HOLE) == pytest.approx(K1)
        assert holding.edge_factor(holding.LEAST_EDGE * HOLE, HOLE) == pytest.approx(K1)


class TestBearing:
    """EN 1993-1-8, table 3.4."""

    def test_at_the_end(self) -> None:
        """30.60 kN."""
        load = holding.bearing_load(STRENGTH, PLATE, BOLT, HOLE, END, k1=K1) / FACTOR
        assert load / 1000 == pytest.approx(30.60, abs=0.005)

    def test_inside(self) -> None:
        """36.97 kN."""
        load = holding.inner_bearing_load(STRENGTH, PLATE, BOLT, HOLE, PITCH, k1=K1) / FACTOR
        assert load / 1000 == pytest.approx(36.97, abs=0.005)

    def test_no_more_than_far_from_every_edge(self) -> None:
        """From 3 d0 to the end, and with k1 at its most of 2.5, distance no longer helps: 2.5 fu d t."""
        most = 2.5 * STRENGTH * BOLT * PLATE
        assert holding.bearing_load(STRENGTH, PLATE, BOLT, HOLE, 3 * HOLE) == pytest.approx(most)
        assert holding.bearing_load(STRENGTH, PLATE, BOLT, HOLE, 9 * HOLE) == pytest.approx(most)
        assert holding.inner_bearing_load(STRENGTH, PLATE, BOLT, HOLE, 3.75 * HOLE) == pytest.approx(most)
        assert holding.inner_bearing_load(STRENGTH, PLATE, BOLT, HOLE, 9 * HOLE) == pytest.approx(most)
        for distance in (3.0, 9.0):
            assert holding.pitch_factor(distance * HOLE, HOLE) == pytest.approx(2.5)
            assert holding.edge_factor(distance / 2 * HOLE, HOLE) == pytest.approx(2.5)

    def test_station_is_two_end_bolts(self) -> None:
        """A station is a row of two bolts at an end, as thick as the lace is wide; across the load nothing ends."""
        w = force_workings(stations_web=14.0, stations_margin=11.0, stations_hole=10.0, lace_width=8.0)
        k1 = 1.4 * 24 / 10 - 1.7
        assert w["hold.bearing"] == pytest.approx(2 * k1 * (16 / 30) * 60 * 8 * 0.6)


class TestBlockTearing:
    """EN 1993-1-8, 3.10.2, without partial factors: fu Ant + fy Anv / sqrt 3, skin having no yield."""

    @pytest.mark.parametrize(("web", "margin", "hole"), [(20.0, 12.0, 10.0), (15.0, 12.0, 11.0), (4.0, 5.0, 2.0)])
    def test_areas(self, web: float, margin: float, hole: float) -> None:
        """Net areas from the holes' middles: p2 - d0 across, e1 - d0 / 2 along either side."""
        w = force_workings(stations_web=web, stations_margin=margin, stations_hole=hole)
        pitch, end, thickness, strength = web + hole, margin + hole / 2, 0.6, 60.0
        tension_area = (pitch - hole) * thickness
        shear_area = 2 * (end - hole / 2) * thickness
        assert w["hold.block"] == pytest.approx(strength * tension_area + strength * shear_area / math.sqrt(3))

    def test_tear_out(self) -> None:
        """AISC 360, J3.10 (from memory): 1.2 x clear distance x thickness x strength for each hole."""
        w = force_workings(stations_margin=12.0)
        assert w["hold.tear_out"] == pytest.approx(2 * 1.2 * 12 * 0.6 * 60)


class TestStitchTear:
    """Two holes of 2 mm, middles 6 mm apart, 6 mm from the edge: load over thickness (scope of ASTM D4705)."""

    def test_path_of_the_test(self) -> None:
        """4 mm clear between the holes and 5 mm clear to the edge, sheared on two sides."""
        assert pytest.approx(4 + 10 / math.sqrt(3)) == holding.TEST_PATH_MM

    @pytest.mark.parametrize("thickness", [0.6, 2.0])
    def test_a_station_like_the_test_holds_the_test_load(self, thickness: float) -> None:
        """Tear strength x thickness, whatever the breaking stress."""
        w = force_workings(
            stations_web=4.0, stations_margin=5.0, stations_hole=2.0, head_dry_thickness=thickness,
            hide_stitch_tear=80.0, hide_dry_strength=17.0,
        )  # fmt: skip
        assert w["hold.stitch"] == pytest.approx(80 * thickness)


class TestCapstan:
    """The capstan equation, ratio = exp(friction x angle)."""

    @pytest.mark.parametrize(
        ("friction", "turns", "ratio"),
        [(0.1, 1, 1.9), (0.2, 1, 3.5), (0.3, 1, 6.6), (0.4, 1, 12), (0.5, 1, 23), (0.1, 2, 3.5), (0.2, 2, 12)],
    )
    def test_printed_ratios(self, friction: float, turns: int, ratio: float) -> None:
        """A rope round a post, two figures each, as engineering tables print them (from memory)."""
        assert float(f"{sliding_ratio(friction, turns * 360.0):.2g}") == ratio

    def test_by_small_steps(self) -> None:
        """Each small turn adds friction x turn of the pull: summed in steps, the strand's 180 degrees."""
        steps = 100_000
        pull = 1.0
        for _ in range(steps):
            pull += 0.2 * pull * math.pi / steps
        assert sliding_ratio(0.2, 180.0) == pytest.approx(pull, rel=1e-5)
