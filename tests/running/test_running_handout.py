"""Pieces that are alike go to the drums in the order of their work; where they lie stays as it was."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

from run_files import RUN, SKIN, SMALL
from run_plans import ordered, planned, run_with
from tauthide.cutting.faults import faults
from tauthide.cutting.improving import plan_cutting
from tauthide.cutting.pieces import Layout
from tauthide.papers.buying import only_for_spares
from tauthide.running.handout import hand_out
from tauthide.running.run_plan import Order
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.schedule import Schedule

TWO_HEADS = SMALL.replace("depth: 40 mm", "depth: 120 mm") + "lace: {lacing: zigzag, laces: 2}\n"


def handed(order: Order, layout: Layout) -> tuple[Layout, Schedule]:
    """Return the layout with its pieces handed out, and the schedule by which that was done."""
    schedule = scheduled(order)
    return by(schedule, order, layout), schedule


def scheduled(order: Order) -> Schedule:
    """Return the schedule of a run that can be scheduled."""
    schedule = plan_run(order.timed).schedule
    assert schedule is not None
    return schedule


def by(schedule: Schedule, order: Order, layout: Layout) -> Layout:
    """Return the layout with its pieces handed out by a schedule."""
    return hand_out(layout, order.run, order.drums, order.taken, schedule)


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


def test_as_many_drums_as_can_be_are_whole(tmp_path: Path) -> None:
    order = ordered(tmp_path)
    small = [drum.serial for drum in order.drums if drum.plan.spec.drum == "SMALL"]
    stocked = [serial for serial in small if order.taken[serial].has_lace]
    whole = plan_cutting(order.task, 0, 1)
    assert (len(small), len(stocked)) == (3, 1)
    others = [serial for serial in small if serial not in stocked]
    assert {*small, *(f"{serial} lace" for serial in others)} <= {placement.name for placement in whole.placements}
    schedule = scheduled(order)
    for kept in small:
        for laces in ([], [f"{others[0]} lace"], [f"{others[1]} lace"]):
            # One head and no lace or one; it goes to the drum whose lace is in stock, whichever it was laid for.
            names = {kept, *laces}
            layout = replace(whole, placements=tuple(each for each in whole.placements if each.name in names))
            after = by(schedule, order, layout)
            heads = {each.name for each in after.placements if each.use == "head"}
            whole_ones = heads & {*stocked, *(serial for serial in others if f"{serial} lace" not in after.missing)}
            assert len(whole_ones) == 1


def test_both_heads_of_a_drum_are_handed_out_together(tmp_path: Path) -> None:
    order = ordered(tmp_path, {"small.yaml": TWO_HEADS, "runs/cupboard.yaml": "lot: 1\n"})
    whole = plan_cutting(order.task, 0, 1)
    names = [drum.serial for drum in order.drums if drum.plan.spec.drum == "SMALL"]
    heads = [name for serial in names for name in (serial, f"{serial} second head")]
    laid = {placement.name for placement in whole.placements}
    assert set(heads) <= laid
    schedule = scheduled(order)
    # Any two heads make a drum.
    for one, other in combinations(heads, 2):
        left = tuple(each for each in whole.placements if each.name in {one, other})
        after = by(schedule, order, replace(whole, placements=left))
        assert {each.name for each in after.placements} == {heads[0], heads[1]}


TWO_SKINS = RUN.replace("skins: [goat-1.yaml]", "skins: [goat-1.yaml, goat-2.yaml]") + "spares: {heads: 1}\n"


def test_a_skin_that_only_a_spare_needs_is_the_spare_s(tmp_path: Path) -> None:
    changes = {"runs/run.yaml": TWO_SKINS, "runs/goat-2.yaml": SKIN.replace("goat-1", "goat-2")}
    order = ordered(tmp_path, changes)
    whole = plan_cutting(order.task, 0, 1)
    schedule = scheduled(order)
    names = ["SMALL-01", "SMALL-02", "SMALL-03", "SMALL spare head 1"]
    laid = [each for each in whole.placements if each.name in names]
    assert len(laid) == 4
    for alone in laid:
        # All but one lie on the first skin. Whichever drum's head was laid on the second, it becomes the spare's.
        placements = tuple(replace(each, hide="goat-2" if each is alone else "goat-1") for each in laid)
        after = by(schedule, order, replace(whole, placements=placements))
        assert sorted(each.name for each in after.placements) == sorted(names)
        assert [each.name for each in after.placements if each.hide == "goat-2"] == ["SMALL spare head 1"]


def test_no_spare_while_a_drum_wants_its_place(tmp_path: Path) -> None:
    order = ordered(tmp_path, run_with("spares: {heads: 1, laces: 1}\n"))
    whole = plan_cutting(order.task, 0, 1)
    schedule = scheduled(order)
    kept = {"SMALL-01": "SMALL-01", "SMALL-02": "SMALL spare head 1", "SMALL-02 lace": "SMALL spare lace 1"}
    placements = tuple(replace(each, name=kept[each.name]) for each in whole.placements if each.name in kept)
    assert {each.name for each in placements} == set(kept.values())
    after = by(schedule, order, replace(whole, placements=placements))
    heads = {each.name for each in after.placements if each.use == "head"}
    assert len(heads) == 2
    assert {each.name for each in after.placements if each.use == "lace"} <= {"SMALL-02 lace", "SMALL-03 lace"}
    assert heads < {"SMALL-01", "SMALL-02", "SMALL-03"}


def test_spare_laces_free_a_skin_too(tmp_path: Path) -> None:
    run = TWO_SKINS.replace("heads: 1", "heads: 1, laces: 1")
    changes = {"runs/run.yaml": run, "runs/goat-2.yaml": SKIN.replace("goat-1", "goat-2")}
    order = ordered(tmp_path, changes)
    whole = plan_cutting(order.task, 0, 1)
    schedule = scheduled(order)
    second = {"SMALL-02", "SMALL-03 lace"}
    placements = tuple(replace(each, hide="goat-2" if each.name in second else "goat-1") for each in whole.placements)
    after = by(schedule, order, replace(whole, placements=placements))
    on_second = {each.name for each in after.placements if each.hide == "goat-2"}
    assert on_second == {"SMALL spare head 1", "SMALL spare lace 1"}


def test_a_lace_comes_with_its_drum_s_head_or_another_s(tmp_path: Path) -> None:
    plan = planned(tmp_path)
    names = [placement.name for placement in plan.layout.placements]
    assert len(set(zip(names, (each.part for each in plan.layout.placements), strict=True))) == len(names)


def test_the_papers_tell_of_a_skin_that_only_a_spare_needs(tmp_path: Path) -> None:
    changes = {"runs/run.yaml": TWO_SKINS, "runs/goat-2.yaml": SKIN.replace("goat-1", "goat-2")}
    plan = planned(tmp_path, changes)
    for alone, told in (("spare", ["goat-2"]), ("-01", [])):
        moved = (replace(each, hide="goat-2" if alone in each.name else "goat-1") for each in plan.layout.placements)
        after = replace(plan, layout=replace(plan.layout, placements=tuple(moved)))
        assert [name.replace("\\", "") for name in only_for_spares(after)] == told
