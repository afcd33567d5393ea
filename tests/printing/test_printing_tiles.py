"""How a rim is parted into pages: nothing is lost, and pages that join share what they are joined by."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import dist

import pytest

from sheet_plans import SPECS, plan_of
from tauthide.printing.clipping import clip_line
from tauthide.printing.paper import PAPERS
from tauthide.printing.rim import Rim, rim_of
from tauthide.printing.template_page import window_of
from tauthide.printing.tiles import CROSS_MM, CROSSES, Tiling, is_within, tile_name, tile_rim

CASES = [(name, paper) for name in SPECS for paper in PAPERS]


@pytest.fixture(params=CASES, ids="-".join)
def parted(request: pytest.FixtureRequest) -> tuple[Rim, Tiling]:
    name, paper = request.param
    rim = rim_of(plan_of(name))
    return rim, tile_rim(rim, window_of(PAPERS[paper]))


class TestRim:
    @pytest.mark.parametrize("name", SPECS)
    def test_is_the_plans(self, name: str) -> None:
        plan = plan_of(name)
        rim = rim_of(plan)
        assert len(rim.holes) == plan["holes.count"]
        assert [(hole.station, hole.letter) for hole in rim.holes[:3]] == [(1, "a"), (1, "b"), (2, "a")]
        assert rim.edge[0] == pytest.approx(rim.edge[-1], abs=1e-6)
        assert 2 * rim.hole_radius_mm == plan.spec.number("stations.hole")
        # The marks lie on the edge, where the plan has the stations.
        for mark, station in zip(rim.marks, plan.stations, strict=True):
            assert mark.edge == pytest.approx(station.edge, abs=1e-6)

    @pytest.mark.parametrize("name", ["round", "oval", "octagon"])
    def test_straight_pieces_are_near_enough(self, name: str) -> None:
        """The drawn line is shorter than the plan's perimeter, by less than a tenth of a millimetre."""
        plan = plan_of(name)
        edge = rim_of(plan).edge
        drawn = sum(dist(one, other) for one, other in pairwise(edge))
        whole = plan.outline.perimeter_at(plan["skin.reach"])
        assert whole - 0.1 < drawn <= whole + 1e-6


class TestTiling:
    def test_every_hole_whole_on_a_page(self, parted: tuple[Rim, Tiling]) -> None:
        rim, tiling = parted
        for hole in rim.holes:
            assert any(is_within(hole.centre, tile.box, rim.hole_radius_mm) for tile in tiling.tiles)

    def test_all_of_the_edge_on_pages(self, parted: tuple[Rim, Tiling]) -> None:
        rim, tiling = parted
        for point in rim.edge:
            assert any(is_within(point, tile.box) for tile in tiling.tiles)

    def test_no_page_without_use(self, parted: tuple[Rim, Tiling]) -> None:
        rim, tiling = parted
        for tile in tiling.tiles:
            has_edge = any(is_within(point, tile.box) for point in rim.edge)
            assert has_edge or any(is_within(hole.centre, tile.box, rim.hole_radius_mm) for hole in rim.holes)

    def test_pages_hang_together(self, parted: tuple[Rim, Tiling]) -> None:
        """From each page to the next by its side: all are reached."""
        _, tiling = parted
        reached = {tiling.tiles[0]}
        waiting = list(reached)
        while waiting:
            tile = waiting.pop()
            for step in ((0, 1), (0, -1), (1, 0), (-1, 0)):
                other = tiling.beside(tile, *step)
                if other is not None and other not in reached:
                    reached.add(other)
                    waiting.append(other)
        assert reached == set(tiling.tiles)

    def test_crosses_lie_whole_on_the_pages_that_they_join(self, parted: tuple[Rim, Tiling]) -> None:
        _, tiling = parted
        on = {
            cross.number: {tile for tile in tiling.tiles if is_within(cross.at, tile.box, CROSS_MM)}
            for cross in tiling.crosses
        }
        shared: Counter[frozenset[str]] = Counter()
        for pages in on.values():
            assert len(pages) >= 2
            for one in pages:
                for other in pages:
                    shared[frozenset({one.name, other.name})] += 1
        for tile in tiling.tiles:
            for step in ((0, 1), (1, 0)):
                joined = tiling.beside(tile, *step)
                if joined is not None:
                    assert shared[frozenset({tile.name, joined.name})] >= CROSSES

    def test_crosses_are_clear_of_holes(self, parted: tuple[Rim, Tiling]) -> None:
        rim, tiling = parted
        for cross in tiling.crosses:
            assert all(dist(cross.at, hole.centre) > rim.hole_radius_mm + CROSS_MM for hole in rim.holes)

    def test_a_window_that_holds_all_is_one_page(self) -> None:
        rim = rim_of(plan_of("round"))
        tiling = tile_rim(rim, (600.0, 600.0))
        assert [tile.name for tile in tiling.tiles] == ["A1"]
        assert tiling.crosses == ()

    def test_too_small_a_window(self) -> None:
        with pytest.raises(ValueError, match="overlap"):
            tile_rim(rim_of(plan_of("round")), (12.0, 200.0))


def test_tile_names() -> None:
    assert [tile_name(row, 0) for row in (0, 1, 25, 26, 27)] == ["A1", "B1", "Z1", "AA1", "AB1"]


class TestClipping:
    BOX = (0.0, 0.0, 10.0, 10.0)

    def test_inside_stays(self) -> None:
        line = ((1.0, 1.0), (5.0, 5.0), (9.0, 1.0))
        assert clip_line(line, self.BOX) == (line,)

    def test_outside_goes(self) -> None:
        assert clip_line(((-5.0, -1.0), (20.0, -1.0)), self.BOX) == ()

    def test_through(self) -> None:
        assert clip_line(((-5.0, 5.0), (15.0, 5.0)), self.BOX) == (((0.0, 5.0), (10.0, 5.0)),)

    def test_out_and_in_again(self) -> None:
        parts = clip_line(((5.0, 5.0), (15.0, 5.0), (15.0, 8.0), (5.0, 8.0)), self.BOX)
        assert parts == (((5.0, 5.0), (10.0, 5.0)), ((10.0, 8.0), (5.0, 8.0)))
