"""Pieces that are alike go to the drums in the order of their work; where they lie stays as it was."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from run_plans import ordered, planned
from tauthide.cutting.faults import faults
from tauthide.cutting.improving import plan_cutting
from tauthide.cutting.pieces import Layout
from tauthide.running.handout import hand_out
from tauthide.running.run_plan import Order
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.schedule import Schedule


def handed(order: Order, layout: Layout) -> tuple[Layout, Schedule]:
    """Return the layout with its pieces handed out, and the schedule by which that was done."""
    schedule = plan_run(order.timed).schedule
    assert schedule is not None
    skins = [held.skin for held in order.run.skins]
    return hand_out(layout, skins, order.drums, order.taken, schedule), schedule


def test_nothing_moves_and_all_distances_hold(tmp_path: Path) -> None:
    order = ordered(tmp_path)
    before = plan_cutting(order.task, 20, 1)
    after, _ = handed(order, before)
    assert before.placements
    assert sorted((p.use, p.hide, p.centre) for p in after.placements) == sorted(
        (p.use, p.hide, p.centre) for p in before.placements
    )
    assert sorted(p.name for p in after.placements if p.use == "scrap") == sorted(
        p.name for p in before.placements if p.use == "scrap"
    )
    assert list(faults(after)) == []
    assert handed(order, after)[0] == after


def test_what_is_missing_is_missing_from_the_drums_that_come_last(tmp_path: Path) -> None:
    order = ordered(tmp_path)
    whole = plan_cutting(order.task, 0, 1)
    small = [drum.serial for drum in order.drums if drum.plan.spec.drum == "SMALL"]
    assert set(small) <= {placement.name for placement in whole.placements}
    for gone in small:
        layout = replace(whole, placements=tuple(each for each in whole.placements if each.name != gone))
        after, schedule = handed(order, layout)
        soaked = {work.job: work.start_min // DAY_MIN for work in schedule.works if work.operation == "skin.soak"}
        last = max(small, key=lambda serial: (soaked[serial], serial))
        assert [name for name in after.missing if name in small] == [last]


def test_a_lace_comes_with_its_drum_s_head_or_another_s(tmp_path: Path) -> None:
    plan = planned(tmp_path)
    names = [placement.name for placement in plan.layout.placements]
    assert len(set(zip(names, (each.part for each in plan.layout.placements), strict=True))) == len(names)
