"""Hoops and rings made in the shop: laws of their figures, whatever the drum."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drums import Fields, Leaf, changed, plan_of, workings_of
from tauthide.figures import Workings

BENT = changed(frame_make="bent")
STAVES = changed(frame_make="staves")
MAKES = ("wood.", "bend.", "stave.")


def oval(**changes: Leaf) -> Fields:
    frame: Fields = {"frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in"}
    fields = {**changed(frame_make="bent", **changes), **frame}
    return {path: leaf for path, leaf in fields.items() if path != "frame.diameter"}


def prefixes(w: Workings) -> set[str]:
    return {prefix for prefix in MAKES for figure in w.applicable() if figure.name.startswith(prefix)}


class TestWhichFrames:
    def test_bought_frames_have_none_of_it(self) -> None:
        assert prefixes(workings_of()) == set()

    def test_each_make_has_its_own(self) -> None:
        assert prefixes(workings_of(BENT)) == {"wood.", "bend."}
        assert prefixes(workings_of(STAVES)) == {"wood.", "stave."}

    def test_ovals_have_a_form_of_two_sizes(self) -> None:
        names = {figure.name for figure in workings_of(oval()).applicable()}
        assert {"bend.form_length", "bend.form_width"} <= names
        assert "bend.form_diameter" not in names

    def test_plan_has_the_boards(self) -> None:
        assert plan_of(BENT).boards == ()
        assert sum(len(board.cuts) for board in plan_of(STAVES).boards) == 12


class TestStrip:
    def test_neutral_line_of_a_circle(self) -> None:
        """Round the middle of a wall of 8 mm: 322.2 mm across."""
        assert workings_of(BENT)["bend.neutral_length"] == pytest.approx(math.pi * (330.2 - 8))

    def test_neutral_line_of_an_oval_by_points(self) -> None:
        """The curve 4 mm inside an ellipse, measured along 20000 points on its normals."""
        w, points = workings_of(oval()), []
        a, b = 228.6, 190.5
        for index in range(20_001):
            turn = 2 * math.pi * index / 20_000
            x, y = b * math.cos(turn), a * math.sin(turn)
            normal = math.hypot(x / b**2, y / a**2)
            points.append((x - 4 * x / b**2 / normal, y - 4 * y / a**2 / normal))
        length = sum(math.dist(one, other) for one, other in itertools.pairwise(points))
        assert w["bend.neutral_length"] == pytest.approx(length, abs=0.001)

    @settings(max_examples=25, deadline=None)
    @given(st.integers(1, 30), st.integers(0, 300))
    def test_parts_of_the_strip(self, scarf: int, spare: int) -> None:
        w = workings_of({**BENT, "bending.scarf": scarf, "bending.spare": f"{spare} mm"})
        assert w["bend.strip_length"] == pytest.approx(w["bend.neutral_length"] + 8 * scarf + 2 * spare)
        assert w["bend.scarf_area"] == pytest.approx(55 * 8 * math.hypot(1, scarf))

    def test_a_dried_strip_is_the_wall_and_its_planing(self) -> None:
        """Ash of 20 % that dries to 8 %: 12 times 0.169 % of what it was is gone."""
        w = workings_of(BENT)
        assert w["bend.strip_thickness"] * (1 - 12 * 0.00169) == pytest.approx(8 + 1)
        assert w["bend.strip_width"] * (1 - 12 * 0.00274) == pytest.approx(55 + 1)

    def test_form_springs_back_to_the_hoop(self) -> None:
        w = workings_of({**BENT, "bending.springback": "10 %"})
        assert w["bend.form_diameter"] * 1.1 == pytest.approx(330.2 - 2 * 8 - 2 * 0.5)

    def test_steam_is_a_range(self) -> None:
        w = workings_of(BENT)
        assert 0 < w["bend.steam_least"] < w["bend.steam_most"]


class TestRing:
    @settings(max_examples=40, deadline=None)
    @given(st.integers(4, 48), st.integers(200, 600), st.integers(4, 16))
    def test_ring_before_and_after(self, count: int, across: int, wall: int) -> None:
        fields = {**STAVES, "staves.count": count, "frame.diameter": f"{across} mm", "frame.wall": f"{wall} mm",
                  "stations.count": 4, "head.turnover": "60 mm"}  # fmt: skip
        w = workings_of(fields)
        assert w["stave.ring_hole"] < across - 2 * wall < across < w["stave.ring_across"] < w["stave.ring_corners"]
        assert w["stave.least_thickness"] > wall

    def test_more_staves_are_thinner(self) -> None:
        thick = [workings_of({**STAVES, "staves.count": count})["stave.least_thickness"] for count in (6, 12, 24)]
        assert thick == sorted(thick, reverse=True)

    def test_board_holds_what_the_figures_say(self) -> None:
        plan = plan_of({**STAVES, "staves.boards": "[600 mm, 1 m]"})
        assert plan["stave.boards"] == len(plan.boards) == 2
        assert plan["stave.board_length"] == sum(board.length_mm for board in plan.boards) == 1600
        wood = 12 * (plan["stave.outer"] + plan["stave.inner"]) / 2
        assert plan["stave.waste"] == pytest.approx((1600 - wood) / 1600)


class TestMovement:
    @pytest.mark.parametrize("fields", [BENT, STAVES, oval()])
    def test_dry_is_smaller_than_damp(self, fields: Fields) -> None:
        w = workings_of(fields)
        assert w["wood.across_dry"] < w["wood.across_damp"]
        assert w["wood.depth_dry"] < 55 < w["wood.depth_damp"]

    def test_nothing_moves_at_the_moisture_of_the_bench(self) -> None:
        w = workings_of(BENT)
        moist = f"{100 * w['wood.dry_moisture']:.9f} %"
        still = workings_of({**BENT, "wood.moisture": moist})
        assert still["wood.across_dry"] == pytest.approx(330.2, abs=1e-6)
        assert still["wood.depth_dry"] == pytest.approx(55, abs=1e-6)

    def test_the_ring_keeps_its_middle(self) -> None:
        """Its width changes by what the wall does, and by the little that wood moves along its grain."""
        w = workings_of(BENT)
        wall = 8 * 0.00169 * 100 * (w["wood.damp_moisture"] - 0.08)
        assert w["wood.across_damp"] - 330.2 == pytest.approx(wall, abs=0.15)
        assert w["wood.across_damp"] - 330.2 > wall


class TestOrderOfWork:
    def names(self, fields: Fields) -> list[str]:
        return [operation.name for operation in plan_of(fields).operations]

    def test_the_frame_comes_first(self) -> None:
        assert self.names(BENT)[:4] == ["frame.strip", "frame.bend", "frame.scarf", "frame.plane"]
        assert self.names(STAVES)[:3] == ["frame.staves", "frame.glue", "frame.true"]
        assert self.names(changed())[0] == "frame.round"

    @pytest.mark.parametrize(("fields", "last"), [(BENT, "frame.plane"), (STAVES, "frame.true")])
    def test_no_skin_is_soaked_before_the_frame_is_true(self, fields: Fields, last: str) -> None:
        after = {operation.name: operation.after for operation in plan_of(fields).operations}
        assert after["skin.soak"] == after["frame.round"] == (last,)

    def test_a_bought_frame_waits_for_nothing(self) -> None:
        after = {operation.name: operation.after for operation in plan_of(changed()).operations}
        assert after["skin.soak"] == after["frame.round"] == ()
