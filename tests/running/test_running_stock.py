"""What stock gives: frames and laces that fit, each once, and the punches at hand."""

from __future__ import annotations

from pathlib import Path

from run_files import LOT
from run_plans import ALL_GOAT, ordered

TWO_LACES = LOT.replace(
    "laces: [{hide: goat, width: 8 mm, length: 8 m}]",
    "laces:\n- {hide: goat, width: 8 mm, length: 9 m}\n- {hide: goat, width: 8 mm, length: 8 m}",
)


def test_the_first_drums_get_what_fits(tmp_path: Path) -> None:
    order = ordered(tmp_path, {"large.yaml": ALL_GOAT})
    frames = [drum.serial for drum in order.drums if order.taken[drum.serial].frame]
    laces = [drum.serial for drum in order.drums if order.taken[drum.serial].lace]
    assert frames == ["SMALL-01", "SMALL-02"]
    assert laces == ["SMALL-01"]


def test_the_shortest_lace_that_does(tmp_path: Path) -> None:
    order = ordered(tmp_path, {"large.yaml": ALL_GOAT, "runs/cupboard.yaml": TWO_LACES})
    lengths = {serial: taken.lace.length_mm for serial, taken in order.taken.items() if taken.lace}
    assert lengths == {"SMALL-01": 8000.0, "SMALL-02": 9000.0}


def test_a_lace_too_short_or_of_other_width_or_hide_is_left(tmp_path: Path) -> None:
    for lace in (
        "{hide: goat, width: 8 mm, length: 1 m}",
        "{hide: goat, width: 6 mm, length: 8 m}",
        "{hide: deer, width: 8 mm, length: 8 m}",
    ):
        lot = LOT.replace("{hide: goat, width: 8 mm, length: 8 m}", lace)
        order = ordered(tmp_path, {"runs/cupboard.yaml": lot})
        assert not any(taken.lace for taken in order.taken.values())


def test_frames_of_other_sizes_are_left(tmp_path: Path) -> None:
    for other in (
        "diameter: 9 in, depth: 40 mm",
        "diameter: 8 in, depth: 45 mm",
        "diameter: 8 in, depth: 40 mm, wall: 5 mm",
    ):
        lot = LOT.replace("diameter: 8 in, depth: 40 mm", other)
        order = ordered(tmp_path, {"runs/cupboard.yaml": lot})
        assert not any(taken.frame for taken in order.taken.values())


def test_what_stock_gives_is_not_cut(tmp_path: Path) -> None:
    order = ordered(tmp_path)
    assert "SMALL-01 lace" not in {lace.name for lace in order.task.laces}
    assert "SMALL-02 lace" in {lace.name for lace in order.task.laces}
    jobs = {job.name: {operation.name for operation in job.operations} for job in order.timed.jobs}
    assert "lace.cut" not in jobs["SMALL-01"]
    assert {"lace.cut", "lace.soak"} <= jobs["SMALL-02"]
    assert "lace.soak" in jobs["SMALL-01"]
