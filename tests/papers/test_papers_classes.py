"""The papers of a class: a timetable of the teacher, one of all places, and for each place its card with its times."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from run_files import RUN
from run_plans import ALL_GOAT, planned
from sheet_plans import tables
from tauthide.drawings.bars import draw_bars
from tauthide.papers.papers import render_papers
from tauthide.running.run_plan import RunPlan

WEEK = RUN.replace("days: [mon, tue]", "days: [mon, tue, wed, thu, fri]")


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> RunPlan:
    run = f"{WEEK}class: {{tools: 3, begins: 2026-03-04}}\n"
    return planned(tmp_path_factory.mktemp("class"), {"large.yaml": ALL_GOAT, "runs/run.yaml": run})


@pytest.fixture(scope="module")
def pages(plan: RunPlan) -> dict[str, str]:
    return {name: content.decode() for name, content in render_papers(plan).items()}


def section(page: str, title: str) -> str:
    """Return the part of a page under a heading of the second level."""
    return re.split(r"^## ", page.partition(f"## {title}\n")[2], maxsplit=1, flags=re.MULTILINE)[0]


def clock(plan: RunPlan, minute: int) -> str:
    moment = plan.moment(minute)
    return f"{moment.hour}:{moment.minute:02}"


def test_the_teacher_s_own_timetable(plan: RunPlan, pages: dict[str, str]) -> None:
    found = tables(section(pages["schedule.md"], "The teacher"))
    listed = [row[1:] for table in found for row in table[1:]]
    ready = [row for row in listed if row[3].startswith("**")]
    assert {row[3] for row in ready} == {"**Round and seal the edges**", "**Soak the skin in cool water**"}
    looks_on = sorted((row[0], row[4]) for row in listed if row[3].startswith("Look on: "))
    places = {work.job: work.people[0] for work in plan.schedule.works if work.people}
    assert looks_on == sorted(
        (clock(plan, work.start_min), f"place {places[work.job]}")
        for work in plan.schedule.works
        if work.operation in ("skin.cut", "head.centre")
    )
    assert len(listed) == len(ready) + len(looks_on)


def test_nothing_that_the_teacher_made_ready_stands_under_the_places(plan: RunPlan, pages: dict[str, str]) -> None:
    places = section(pages["schedule.md"], "The places")
    assert "seal the edges" not in places
    assert "Soak the skin" not in places
    for table in tables(places):
        assert [cell.removeprefix("Place ") for cell in table[0][2:]] == ["1", "2", "3", "4", "5"]
    begun = [cell for table in tables(places) for row in table[1:] for cell in row[2:] if cell != "\u2013"]
    by_class = [work for work in plan.schedule.works if work.people]
    assert sorted(begun) == sorted(clock(plan, work.start_min) for work in by_class)


def test_a_card_has_the_times_of_its_place(plan: RunPlan, pages: dict[str, str]) -> None:
    shared, *cards = re.split(r"^## ", pages["kits.md"], flags=re.MULTILINE)[1:]
    assert "| ☐ Tools | 3 sets of mallet, knife and punch, 10 mm" in shared
    assert "| ☐ Tub | cool water for 5 heads |" in shared
    assert "Spares" not in shared
    for drum, card in zip(plan.drums, cards, strict=True):
        own = [work for work in plan.schedule.works if work.job == drum.serial and work.people]
        parts, times = tables(card)
        assert [(row[2], row[3]) for row in times[1:]] == [
            (clock(plan, work.start_min), clock(plan, work.end_min)) for work in own
        ]
        assert [row[1] for row in parts if row[0] == "☐ Made ready"] == [
            "by the teacher: Round and seal the edges; Soak the skin in cool water"
        ]
        assert sum("(T" in row[5] for row in times) == 2


def test_when_the_class_begins_stands_at_the_top(pages: dict[str, str]) -> None:
    assert "| The class begins | **Wed 4 Mar 2026, 9:00** |" in pages["run.md"]


def test_the_spreadsheet_says_who_makes_ready(plan: RunPlan, pages: dict[str, str]) -> None:
    schedule = list(csv.DictReader(io.StringIO(pages["schedule.csv"])))
    assert {row["people"] for row in schedule if row["operation"] == "Round and seal the edges"} == {"teacher 1"}
    teaching = list(csv.DictReader(io.StringIO(pages["teacher.csv"])))
    assert len(teaching) == len(plan.teaching)
    assert {row["looks_on"] for row in teaching} == {"yes", "no"}


def test_bars_for_the_teacher(plan: RunPlan) -> None:
    roots = [ElementTree.fromstring(page) for page in draw_bars(plan).values()]
    texts = ["".join(each.itertext()) for root in roots for each in root.iter("{http://www.w3.org/2000/svg}text")]
    days = {each.start_min // 1440 for each in plan.teaching}
    assert texts.count("teacher 1") == len(days)
    assert texts.count("place 1") == len(
        {work.start_min // 1440 for work in plan.schedule.works if work.people == (1,)}
    )


def test_two_teachers_are_told_apart(tmp_path: Path) -> None:
    run = f"{WEEK}class: {{teachers: 2, tools: 3, begins: 2026-03-04}}\n"
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/run.yaml": run})
    page = section(render_papers(plan)["schedule.md"].decode(), "The teacher")
    who = {row[3] for table in tables(page) for row in table[1:]}
    assert who == {"teacher 1", "teacher 2"}


def test_a_run_that_is_no_class_has_none_of_this(tmp_path: Path) -> None:
    made = {name: content.decode() for name, content in render_papers(planned(tmp_path)).items()}
    assert "teacher.csv" not in made
    assert "## Day by day" in made["schedule.md"]
    assert "teacher" not in made["schedule.md"]
    assert "Day" not in made["kits.md"]
