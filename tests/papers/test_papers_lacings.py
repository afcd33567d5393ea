"""Papers of a run with other lacings: both heads, both laces, and the rings."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from run_files import RUN
from run_plans import planned
from tauthide.output.run_json import render_run
from tauthide.papers.kits import cards_of
from tauthide.papers.overview import needs_table
from tauthide.papers.skins import laces_table
from tauthide.running.run_plan import RunPlan

TWO = "spec: 1\ndrum: SMALL\nquantity: 2\nframe: {outline: round, diameter: 8 in, depth: 100 mm}\n"
TWO += "head: {hide: goat}\nstations: {count: 8}\nlace: {lacing: zigzag, laces: 2}\n"
RING = "spec: 1\ndrum: LARGE\nframe: {outline: round, diameter: 10 in, depth: 50 mm}\n"
RING += "head: {hide: goat}\nstations: {count: 12}\nlace: {lacing: ring}\n"
SCHEMA = Path(__file__).parents[2] / "schemas" / "run_plan.schema.json"


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> RunPlan:
    """Two drums of two heads and two laces each, and two with a ring."""
    run = RUN.replace("days: [mon, tue]", "days: [mon, tue, wed, thu, fri]")
    return planned(tmp_path_factory.mktemp("lacings"), {"small.yaml": TWO, "large.yaml": RING, "runs/run.yaml": run})


def test_a_card_names_both_heads_or_the_ring(plan: RunPlan) -> None:
    cards = {card.serial.replace("\\", ""): dict(card.lines) for card in cards_of(plan)}
    assert {"Head 1", "Head 2"} <= cards["SMALL-01"].keys()
    assert "Head" not in cards["SMALL-01"]
    assert "Ring" not in cards["SMALL-01"]
    assert cards["SMALL-01"]["Head 1"] != cards["SMALL-01"]["Head 2"]
    assert cards["LARGE-01"]["Ring"].startswith("60 mm")
    assert "Head" in cards["LARGE-01"]


def test_each_lace_has_a_name_of_its_own(plan: RunPlan) -> None:
    table = laces_table(plan)
    at = [column.name for column in table.columns].index("lace")
    names = [str(row[at].value) for row in table.rows]
    assert {"SMALL-02 lace", "SMALL-02 lace 2"} <= set(names)
    assert len(names) == len(set(names))


def test_rings_are_to_be_bought(plan: RunPlan) -> None:
    (rings,) = plan.purchases.rings
    assert (rings.drum, rings.to_buy, rings.across_mm, rings.section_mm) == ("LARGE", 2, 60, 6)
    (line,) = [row for row in needs_table(plan).lines if "Rings for LARGE" in row]
    assert line.endswith("| 2 | 0 | **2** |")


def test_run_json_has_both_heads_and_the_rings(plan: RunPlan) -> None:
    data = json.loads(render_run(plan, ()))
    Draft202012Validator(json.loads(SCHEMA.read_text())).validate(data)
    drums = {drum["serial"]: drum for drum in data["drums"]}
    assert [len(drums[name]["head"]) for name in ("SMALL-01", "SMALL-02")] == [2, 2]
    assert data["to_buy"]["rings"] == [{"drum": "LARGE", "count": 2, "across_mm": 60, "section_mm": 6}]
