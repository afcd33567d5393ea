"""What is cut: heads with limits and direction, laces in pieces, spares and scraps."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from run_files import SKIN
from run_plans import ALL_GOAT, ordered, run_with
from tauthide.cutting.hides import RoundFlaw
from tauthide.cutting.pieces import Blank, Disc
from tauthide.running.needs import lace_lengths, lace_ways, task_of

OVAL = "spec: 1\ndrum: LARGE\nframe: {outline: oval, length: 14 in, width: 12 in, depth: 55 mm}\n"
OVAL += "head: {hide: goat}\nstations: {count: 14}\n"


def test_heads_and_laces_of_every_drum_and_a_scrap_of_every_spec(tmp_path: Path) -> None:
    task = ordered(tmp_path).task
    assert [piece.name for piece in task.pieces] == [
        "SMALL-01", "SMALL-02", "SMALL-03", "LARGE-01", "LARGE-02", "SMALL scrap", "LARGE scrap",
    ]  # fmt: skip
    assert [lace.name for lace in task.laces] == ["SMALL-02 lace", "SMALL-03 lace", "LARGE-01 lace", "LARGE-02 lace"]
    large = next(piece for piece in task.pieces if piece.name == "LARGE-01")
    assert (large.species, large.use, large.drum) == (("deer",), "head", "LARGE-01")
    assert next(lace for lace in task.laces if lace.name == "LARGE-01 lace").species == ("calf",)


def test_spares_belong_to_no_drum(tmp_path: Path) -> None:
    task = ordered(tmp_path, run_with("spares: {heads: 1, laces: 2}\n")).task
    spare = [piece for piece in task.pieces if "spare" in piece.name]
    assert [piece.name for piece in spare] == ["SMALL spare head 1", "LARGE spare head 1"]
    assert [piece.drum for piece in spare] == [None, None]
    assert sum("spare" in lace.name for lace in task.laces) == 4


def test_thickness_within_the_spec_s_tolerance(tmp_path: Path) -> None:
    task = ordered(tmp_path).task
    small = task.pieces[0]
    # Goat is 1.0 mm when wet, and thickness varies by 15 %.
    assert small.least_mm == pytest.approx(0.85)
    assert small.most_mm == pytest.approx(1.15)


def test_an_oval_lies_along_the_spine_and_a_disc_anyhow(tmp_path: Path) -> None:
    task = ordered(tmp_path, {"large.yaml": OVAL}).task
    oval = next(piece for piece in task.pieces if piece.name == "LARGE-01")
    assert isinstance(oval.shape, Blank)
    assert isinstance(task.pieces[0].shape, Disc)
    assert (oval.direction, task.pieces[0].direction) == ("along", "any")


def test_sets_are_matched_only_where_the_run_says_so(tmp_path: Path) -> None:
    assert {piece.set_name for piece in ordered(tmp_path).task.pieces} == {None}
    task = ordered(tmp_path, run_with("cutting: {thickness_match: 0.2 mm, allowance: 4 mm}\n")).task
    assert [piece.set_name for piece in task.pieces if piece.use == "head"] == ["SMALL"] * 3 + ["LARGE"] * 2
    assert (task.set_tolerance_mm, task.knife_mm) == (0.2, 4.0)


def test_a_lace_in_pieces_costs_joins(tmp_path: Path) -> None:
    plan = ordered(tmp_path).drums[-1].plan
    net, allowance, join = plan["lace.net_length"], plan.spec.number("lace.allowance"), plan.spec.number("lace.join")
    lengths = lace_lengths(plan, 4)
    assert lengths[0] == plan["lace.cut_length"]
    assert lengths[1] == plan["lace.half_length"]
    for pieces, length in enumerate(lengths, 1):
        whole = net * (1 + allowance) + (pieces - 1) * join
        assert whole / pieces <= length + 1e-6 < whole / pieces + 50.001
        assert length % 50 == pytest.approx(0)
    ways = lace_ways(plan, 4)
    assert [len(way) for way in ways] == [1, 2, 3, 4]
    # The tab stands out beyond the rim, so the piece that is laid is larger than the disc.
    assert ways[0][0].area_mm2 >= math.pi / 4 * plan["lace.disc_diameter"] ** 2


def test_flaws_and_weak_regions_come_along(tmp_path: Path) -> None:
    skin = SKIN + "flaws: [{kind: hole, at: [3, 4], diameter: 30 mm}]\n"
    skin += "weak: [{region: belly, points: [[0, 0], [2, 0], [2, 5]], allows: nothing}]\n"
    order = ordered(tmp_path, {"runs/goat-1.yaml": skin})
    (hide,) = task_of(order.run, order.batches, order.drums, order.stock).hides
    assert hide.flaws == (RoundFlaw((150.0, 200.0), 15.0),)
    assert [(zone.name, zone.heads, zone.laces) for zone in hide.zones] == [("belly", False, False)]
    assert hide.spine == ((350.0, 0.0), (350.0, 900.0))


def test_the_spine_across_where_the_spec_says_so(tmp_path: Path) -> None:
    across = OVAL.replace("head: {hide: goat}", "head: {hide: goat, spine: across}")
    task = ordered(tmp_path, {"large.yaml": across}).task
    assert {piece.direction for piece in task.pieces if piece.name.startswith("LARGE-")} == {"across"}


def test_a_lace_in_as_many_pieces_as_spec_and_run_allow(tmp_path: Path) -> None:
    def ways(spec: str, run: str) -> int:
        large = ALL_GOAT + f"lace: {{pieces: {spec}}}\n"
        task = ordered(tmp_path, {"large.yaml": large, **run_with(run)}).task
        return len(next(lace.ways for lace in task.laces if lace.name == "LARGE-01 lace"))

    assert ways("3", "") == 3
    assert ways("1", "") == 1
    assert ways("4", "cutting: {lace_pieces: 2}\n") == 2
    assert ways("1", "cutting: {lace_pieces: 2}\n") == 1
