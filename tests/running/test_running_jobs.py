"""Drums as jobs: nothing of the order of work is lost, places are held, wet skin has its longest time."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest

from drums import plan_of
from run_plans import ALL_GOAT, ordered, planned, run_with
from tauthide.running.jobs import TIME_IN_WATER, TIME_TO_DRYING, WET_TIME, job_of, with_lace_first, without
from tauthide.running.timing import timed_run
from tauthide.scheduling.checking import violations
from tauthide.scheduling.jobs import Edge
from tauthide.scheduling.planning import plan_run
from tauthide.work.operations import DRYING, TUB, Operation
from tauthide.work.wetness import longest_soak

PLAN = plan_of()
NAMES = [operation.name for operation in PLAN.operations]


def _before(operations: tuple[Operation, ...]) -> dict[str, set[str]]:
    """Return for each operation all that must be done before it."""
    before: dict[str, set[str]] = {}
    for operation in operations:
        before[operation.name] = set(operation.after).union(*(before[name] for name in operation.after))
    return before


@pytest.mark.parametrize("spared", [*[(name,) for name in NAMES], *list(combinations(NAMES[9:13], 2))])
def test_sparing_operations_keeps_the_order_of_the_others(spared: tuple[str, ...]) -> None:
    whole, rest = _before(PLAN.operations), _before(without(PLAN.operations, spared))
    assert set(rest) == set(whole) - set(spared)
    for name, before in rest.items():
        assert before == whole[name] - set(spared)


def test_times_are_whole_minutes_and_no_less() -> None:
    job = job_of("A", PLAN, 18)
    for task, operation in zip(job.operations, PLAN.operations, strict=True):
        if operation.name != "head.dry":  # whose turning is a round through the drying place
            assert operation.hand_min <= task.hand_min < operation.hand_min + 1
        assert operation.wait_min <= task.wait_min < operation.wait_min + 1


def test_places_are_held_while_nobody_is_there() -> None:
    job = job_of("A", PLAN, 18)
    assert [(hold.resource, hold.since, hold.until) for hold in job.holds] == [
        (TUB, "skin.soak", "skin.flesh"), (DRYING, "skin.flesh", "finish.trim"),
    ]  # fmt: skip
    assert job.dry_after == "head.dry"


@pytest.mark.parametrize(("air", "hours"), [(10, 24), (15, 12), (20, 8), (25, 4)])
def test_wet_time_by_the_room_s_air(air: float, hours: int) -> None:
    """Workshop practice, no published source: the hours stand in the table of the order of work."""
    (longest,) = (each for each in job_of("A", PLAN, air).longest if each.title == WET_TIME)
    assert (longest.since, longest.until, longest.most_min) == ("skin.flesh", "head.tighten_again", 60 * hours)


@pytest.mark.parametrize(("air", "hours"), [(10, 72), (15, 72), (20, 48), (22.5, 36), (30, 24)])
def test_time_in_the_water_by_the_room_s_air(air: float, hours: int) -> None:
    """Workshop practice, no published source: the hours stand in the table of the order of work."""
    (longest,) = (each for each in job_of("A", PLAN, air).longest if each.title == TIME_IN_WATER)
    assert (longest.since, longest.until, longest.most_min) == ("skin.soak", "skin.flesh", 60 * hours)
    assert (longest.since_edge, longest.until_edge) == (Edge.END, Edge.START)


def test_a_thick_skin_soaks_until_the_morning_after_in_any_case() -> None:
    assert longest_soak(24 * 60.0, 30) == (24 + 18) * 60
    assert longest_soak(6 * 60.0, 30) == 24 * 60


def test_a_tight_drum_lies_drying_the_morning_after() -> None:
    (longest,) = (each for each in job_of("A", PLAN, 18).longest if each.title == TIME_TO_DRYING)
    assert (longest.since, longest.until, longest.most_min) == ("head.tighten_again", "head.dry", 18 * 60)


def test_no_skin_is_lifted_without_a_place_to_dry(tmp_path: Path) -> None:
    """With two drying places, no more than two drums are anywhere between lifted and dry, nor tight over a weekend."""
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, **run_with("places: {drying: 2}\n")})
    works = {(work.job, work.operation): work for work in plan.schedule.works}
    spans = [(works[d.serial, "skin.flesh"].start_min, plan.schedule.dry_min[d.serial]) for d in plan.drums]
    assert max(sum(start <= at < end for start, end in spans) for at, _ in spans) <= 2
    for drum in plan.drums:
        tight, laid = works[drum.serial, "head.tighten_again"], works[drum.serial, "head.dry"]
        assert laid.start_min - tight.end_min <= 18 * 60
        assert works[drum.serial, "skin.flesh"].start_min - works[drum.serial, "skin.soak"].end_min <= 72 * 60


def test_the_run_s_air_stands_over_the_spec_s(tmp_path: Path) -> None:
    usual = ordered(tmp_path).timed.jobs[0].longest[0].most_min
    warm = ordered(tmp_path, run_with("air: 25 C\n")).timed.jobs[0].longest[0].most_min
    assert (usual, warm) == (576, 240)


def test_a_class_has_hands_teacher_and_tools(tmp_path: Path) -> None:
    timed = ordered(tmp_path, run_with("class: {teachers: 2, tools: 3}\n")).timed
    assert timed.own_hands
    assert {(each.name, each.units) for each in timed.resources} >= {("teacher", 2), ("tools", 3)}
    needs = {operation.name: {need.resource for need in operation.needs} for operation in timed.jobs[0].operations}
    assert needs["skin.cut"] >= {"teacher", "tools"}
    assert "teacher" not in needs["lace.lace"]


def test_a_crew_and_its_places(tmp_path: Path) -> None:
    timed = ordered(tmp_path, run_with("crew: 3\nplaces: {tub: 2, drying: 4}\n")).timed
    assert (timed.people, timed.own_hands) == (3, False)
    units = {each.name: each.units for each in timed.resources}
    assert (units[TUB], units[DRYING]) == (2, 4)
    assert units["bench"] >= 3


def test_a_lace_of_another_animal_is_soaked_first_where_the_tub_has_one_place() -> None:
    plan = plan_of(**{"lace.hide": "calf"})
    usual, first = (job_of("A", plan, 18, lace_first=wanted) for wanted in (False, True))
    assert {operation.name for operation in usual.operations} == {operation.name for operation in first.operations}
    before = _before(with_lace_first(plan.operations))
    assert before["skin.soak"] >= {"lace.soak_hide", "lace.cut"}
    assert before["lace.lace"] == _before(plan.operations)["lace.lace"]
    assert "skin.soak" not in before["lace.cut"]
    assert with_lace_first(PLAN.operations) == PLAN.operations


@pytest.mark.parametrize("more", ["crew: 2\n", "class: {teachers: 1, tools: 1}\n"])
def test_one_place_in_the_tub_is_enough(tmp_path: Path, more: str) -> None:
    timed = ordered(tmp_path, run_with(f"places: {{tub: 1}}\n{more}")).timed
    outcome = plan_run(timed)
    assert outcome.troubles == ()
    assert outcome.schedule is not None
    assert violations(timed, outcome.schedule) == ()
    starts = {(work.job, work.operation): work.start_min for work in outcome.schedule.works}
    assert starts["LARGE-01", "lace.cut"] <= starts["LARGE-01", "skin.soak"]


def test_with_two_places_in_the_tub_both_soak_together(tmp_path: Path) -> None:
    job = ordered(tmp_path, run_with("places: {tub: 2}\n")).timed.jobs[-1]
    assert job == ordered(tmp_path).timed.jobs[-1]
    after = {operation.name: operation.after for operation in job.operations}
    assert "lace.cut" not in after["skin.soak"]


def test_a_drum_of_two_hides_has_room_where_no_tub_is_named(tmp_path: Path) -> None:
    order = ordered(tmp_path)
    assert any(operation.name == "lace.soak_hide" for job in order.timed.jobs for operation in job.operations)
    alone = replace(order.timed, jobs=order.timed.jobs[-1:])
    assert any(operation.name == "lace.soak_hide" for operation in alone.jobs[0].operations)
    drums = [drum for drum in order.drums if drum.serial == alone.jobs[0].name]
    assert plan_run(timed_run(order.run, drums, order.taken)).troubles == ()
