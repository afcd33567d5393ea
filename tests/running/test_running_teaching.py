"""Teachers: what they make ready before a class, and where they look on; the class begins when all is ready for it."""

from __future__ import annotations

import csv
import io
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from run_files import RUN
from run_plans import ALL_GOAT, planned
from tauthide.papers.timetable import drums_table
from tauthide.running.jobs import PREPARED
from tauthide.running.run_plan import RunPlan, findings_of
from tauthide.running.timing import longest_soak_of
from tauthide.scheduling.checking import violations
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.schedule import Schedule

WEEK = RUN.replace("days: [mon, tue]", "days: [mon, tue, wed, thu, fri]")
OPENS_MIN = 9 * 60


def class_of(folder: Path, lesson: str, more: str = "", spec: str = ALL_GOAT) -> RunPlan:
    """Return the plan of the repository's run as a class, from Monday to Friday."""
    changes = {"large.yaml": spec, "runs/run.yaml": f"{WEEK}class: {{{lesson}}}\n{more}"}
    return planned(folder, changes)


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> RunPlan:
    """Return a class that begins on the fourth day."""
    return class_of(tmp_path_factory.mktemp("class"), "teachers: 1, tools: 3, begins: 2026-03-05")


def _of_class(plan: RunPlan) -> list[int]:
    return [work.start_min for work in plan.schedule.works if work.people]


def test_the_teachers_do_all_that_waits_overnight(plan: RunPlan) -> None:
    by_teachers = {work.operation for work in plan.schedule.works if not work.people}
    assert by_teachers == {"frame.round", "skin.soak"} <= PREPARED
    made_ready = [each for each in plan.teaching if not each.looks_on]
    for operation in by_teachers:
        serials = [serial for each in made_ready if each.operation == operation for serial in each.serials]
        assert sorted(serials) == sorted(drum.serial for drum in plan.drums)
    assert len(plan.schedule.works) == sum(len(drum.plan.operations) for drum in plan.drums) - 1  # a lace is in stock


def test_the_class_begins_with_its_day_and_not_before(plan: RunPlan) -> None:
    assert min(_of_class(plan)) == 3 * DAY_MIN + OPENS_MIN
    assert all(each.end_min <= 3 * DAY_MIN for each in plan.teaching if not each.looks_on)
    assert not [each for each in findings_of(plan) if each.name == "class-unprepared"]


def test_frames_at_once_but_skins_on_the_last_day(plan: RunPlan) -> None:
    days = {
        operation: {work.start_min // DAY_MIN for work in plan.schedule.works if work.operation == operation}
        for operation in ("frame.round", "skin.soak")
    }
    assert days == {"frame.round": {0}, "skin.soak": {2}}
    works = {(work.job, work.operation): work for work in plan.schedule.works}
    for drum in plan.drums:
        soak = next(each for each in drum.plan.operations if each.name == "skin.soak")
        soaked = works[drum.serial, "skin.flesh"].start_min - works[drum.serial, "skin.soak"].end_min
        assert soaked >= soak.wait_min


def test_setting_up_is_done_once(plan: RunPlan) -> None:
    setups = [work.setup_min for work in plan.schedule.works if work.operation == "skin.soak"]
    assert sorted(setups) == [0, 0, 0, 0, 10]
    (frames,) = [each for each in plan.teaching if each.operation == "frame.round"]
    assert frames.end_min - frames.start_min == 10 + 5 * 30


@pytest.mark.parametrize("teachers", [1, 2])
@pytest.mark.parametrize("begins", ["", ", begins: 2026-03-04"])
def test_a_teacher_is_in_one_place_and_where_a_slip_would_cost_the_skin(
    tmp_path: Path, teachers: int, begins: str
) -> None:
    plan = class_of(tmp_path, f"teachers: {teachers}, tools: 3{begins}")
    busy: dict[int, list[tuple[int, int]]] = {}
    for each in plan.teaching:
        for teacher in each.teachers:
            busy.setdefault(teacher, []).append((each.start_min, each.end_min))
    assert set(busy) <= set(range(1, teachers + 1))
    for spans in busy.values():
        assert all(before[1] <= after[0] for before, after in pairwise(sorted(spans)))
    looks_on = {(each.operation, *each.serials, each.start_min) for each in plan.teaching if each.looks_on}
    assert looks_on == {
        (work.operation, work.job, work.start_min)
        for work in plan.schedule.works
        if work.operation in ("skin.cut", "head.centre")
    }


def test_both_parts_keep_their_bounds(plan: RunPlan) -> None:
    order = plan.order
    assert order.preparation is not None
    assert order.before is not None
    assert violations(order.preparation, order.before) == ()
    lesson = [work for work in plan.schedule.works if work.people]
    groups = max(work.group for work in order.before.works)
    alone = Schedule(
        tuple(sorted(lesson, key=lambda work: work.start_min)), (), (), (), plan.schedule.windows,
        plan.schedule.dry_min, plan.schedule.done_min, plan.schedule.finish_min,
    )  # fmt: skip
    assert violations(order.timed, alone) == ()
    assert min(work.group for work in lesson) > groups


def test_all_skins_lie_in_the_tub_until_they_are_lifted(plan: RunPlan) -> None:
    works = {(work.job, work.operation): work for work in plan.schedule.works}
    tub = [held for held in plan.schedule.held if held.resource == "tub"]
    assert sorted(place for held in tub for place in held.places) == [1, 2, 3, 4, 5]
    for held in tub:
        assert held.start_min == works[held.job, "skin.soak"].start_min
        assert held.end_min == works[held.job, "skin.flesh"].start_min


def test_a_lace_of_another_animal_is_soaked_before_too(tmp_path: Path) -> None:
    spec = ALL_GOAT.replace("stations", "lace: {hide: calf}\nstations")
    plan = class_of(tmp_path, "begins: 2026-03-05", spec=spec)
    by_teachers = {(work.job, work.operation) for work in plan.schedule.works if not work.people}
    assert {("LARGE-01", "lace.soak_hide"), ("LARGE-02", "lace.soak_hide")} <= by_teachers
    assert sum(held.resource == "tub" for held in plan.schedule.held) == 7


def test_frames_that_are_made_here_are_made_before(tmp_path: Path) -> None:
    made = ALL_GOAT.replace("depth: 55 mm", "depth: 55 mm, make: staves")
    plan = class_of(tmp_path, "begins: 2026-03-12", spec=made)
    by_teachers = {work.operation for work in plan.schedule.works if not work.people}
    assert {"frame.staves", "frame.glue", "frame.true", "frame.round"} <= by_teachers


def test_too_little_time_to_make_ready_is_told(tmp_path: Path) -> None:
    late = WEEK.replace("hours: [{days: [mon, tue", "hours: [{days: [mon], from: 15:00, to: 17:00}, {days: [tue")
    changes = {"large.yaml": ALL_GOAT, "runs/run.yaml": f"{late}class: {{begins: 2026-03-03}}\n"}
    plan = planned(tmp_path, changes)
    (finding,) = [each for each in findings_of(plan) if each.name == "class-unprepared"]
    assert (finding.path, str(finding.severity), finding.found) == ("class.begins", "warning", "2026-03-03")
    before = plan.order.before
    assert before is not None
    for work in plan.schedule.works:
        if work.people:
            assert work.start_min >= max(before.done_min[work.job], before.done_min[f"{work.job} skin"])


def test_skins_that_soak_too_long_for_want_of_room_are_told(tmp_path: Path) -> None:
    """One drum dries at a time, so the last ones are lifted days after all skins were put into the water."""
    plan = class_of(tmp_path, "begins: 2026-03-05", "places: {drying: 1}\n")
    (finding,) = [each for each in findings_of(plan) if each.name == "soaks-too-long"]
    assert (finding.path, str(finding.severity)) == ("class.begins", "warning")
    works = {(work.job, work.operation): work for work in plan.schedule.works}
    late = [
        drum.serial
        for drum in plan.drums
        if works[drum.serial, "skin.flesh"].start_min - works[drum.serial, "skin.soak"].end_min
        > longest_soak_of(plan.run, drum)
    ]
    assert finding.found == ", ".join(late)
    assert 0 < len(late) < len(plan.drums)


def test_no_skin_of_a_crew_soaks_too_long(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/run.yaml": f"{WEEK}places: {{drying: 1}}\n"})
    assert not [each for each in findings_of(plan) if each.name == "soaks-too-long"]
    rows = {row["drum"]: row for row in csv.DictReader(io.StringIO(drums_table(plan).csv().decode()))}
    for drum in plan.drums:
        row = rows[drum.serial]
        soaked = datetime.fromisoformat(row["lifted"]) - datetime.fromisoformat(row["in_water"])
        assert timedelta(0) < soaked <= timedelta(minutes=longest_soak_of(plan.run, drum))


def test_without_a_day_everyone_does_all_of_it(tmp_path: Path) -> None:
    plan = class_of(tmp_path, "teachers: 1, tools: 3")
    assert (plan.order.preparation, plan.order.before) == (None, None)
    assert all(work.people for work in plan.schedule.works)
    assert all(each.looks_on for each in plan.teaching)


def test_a_run_that_is_no_class_has_no_teaching(tmp_path: Path) -> None:
    assert planned(tmp_path).teaching == ()
