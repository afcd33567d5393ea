"""What the demo runs are planned to, file by file; and checks of it by other means.

Rewrite them with `pytest tests/golden --rewrite-golden`, and review the difference like code.
"""

from __future__ import annotations

import json
from datetime import datetime
from itertools import combinations, pairwise
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from tauthide.__main__ import main

ROOT = Path(__file__).parents[2]
GOLDEN = Path(__file__).parent / "papers"
RUNS = ("lending", "class")
HOURS: dict[str, dict[int, tuple[float, float]]] = {
    "lending": {0: (9, 17.5), 1: (9, 17.5), 2: (9, 17.5)},
    "class": {4: (14, 20), 5: (9, 17), 1: (18, 20)},
}
"""When work begins and ends, by the day of the week from Monday, 0, on; as the runs have it."""


@pytest.fixture(scope="module", params=RUNS)
def run(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    folder = tmp_path_factory.mktemp("golden") / request.param
    assert main(["run", str(ROOT / "specs" / "runs" / f"{request.param}.yaml"), "--out", str(folder)]) == 0
    return request.param, folder


def files_in(folder: Path) -> dict[str, bytes]:
    """Return the papers in a folder by name, without the list of them."""
    return {path.name: path.read_bytes() for path in sorted(folder.glob("[!.]*")) if path.is_file()}


def test_same_bytes(run: tuple[str, Path], request: pytest.FixtureRequest) -> None:
    name, folder = run
    fresh, golden_folder = files_in(folder), GOLDEN / name
    if request.config.getoption("--rewrite-golden"):
        golden_folder.mkdir(parents=True, exist_ok=True)
        for old in files_in(golden_folder):
            (golden_folder / old).unlink()
        for paper, content in fresh.items():
            (golden_folder / paper).write_bytes(content)
    golden = files_in(golden_folder)
    assert sorted(fresh) == sorted(golden)
    assert [paper for paper in fresh if fresh[paper] != golden[paper]] == []


def data_of(run: tuple[str, Path]) -> Any:
    return json.loads((run[1] / "run.json").read_text(encoding="utf-8"))


def test_fits_its_schema(run: tuple[str, Path]) -> None:
    schema, plan = (
        json.loads((ROOT / "schemas" / f"{name}.schema.json").read_text(encoding="utf-8"))
        for name in ("run_plan", "plan")
    )
    Draft202012Validator.check_schema(schema)
    registry = Registry().with_resource("plan.schema.json", Resource.from_contents(plan))
    assert list(Draft202012Validator(schema, registry=registry).iter_errors(data_of(run))) == []


def test_no_two_pieces_overlap(run: tuple[str, Path]) -> None:
    for skin in data_of(run)["skins"]:
        for one, other in combinations(skin["pieces"], 2):
            apart = hypot(one["x_mm"] - other["x_mm"], one["y_mm"] - other["y_mm"])
            assert apart >= (one["diameter_mm"] + other["diameter_mm"]) / 2 + 4.99


def test_nobody_is_in_two_places(run: tuple[str, Path]) -> None:
    busy: dict[int, list[tuple[datetime, datetime]]] = {}
    for work in data_of(run)["work"]:
        for person in work["people"]:
            span = tuple(datetime.fromisoformat(work[edge]) for edge in ("start", "end"))
            busy.setdefault(person, []).append((span[0], span[1]))
    assert busy
    for spans in busy.values():
        spans.sort()
        assert all(before[1] <= after[0] for before, after in pairwise(spans))


def test_work_is_done_within_hours(run: tuple[str, Path]) -> None:
    name, _ = run
    hours = HOURS[name]
    data = data_of(run)
    for work in (*data["work"], *data["teaching"]):
        start, end = (datetime.fromisoformat(work[edge]) for edge in ("start", "end"))
        opens, closes = hours[start.weekday()]
        assert opens <= start.hour + start.minute / 60
        assert end.hour + end.minute / 60 <= closes
        assert start.date() == end.date()


def test_every_drum_is_dry_before_it_is_trimmed(run: tuple[str, Path]) -> None:
    data = data_of(run)
    trimmed = {work["drum"]: work["start"] for work in data["work"] if work["operation"] == "finish.trim"}
    tight = {work["drum"]: work["end"] for work in data["work"] if work["operation"] == "head.tighten_again"}
    for drum in data["drums"]:
        assert tight[drum["serial"]] < drum["dry"] <= trimmed[drum["serial"]]
        days = datetime.fromisoformat(drum["dry"]) - datetime.fromisoformat(tight[drum["serial"]])
        assert days.total_seconds() >= 2 * 24 * 3600  # goat dries two days


def test_the_teacher_makes_ready_and_looks_on(run: tuple[str, Path]) -> None:
    """What the class does not do on its Saturday and Tuesday the teacher does on the Friday before."""
    name, _ = run
    data = data_of(run)
    by_nobody = {(work["drum"], work["operation"]) for work in data["work"] if not work["people"]}
    ready = {(drum, each["operation"]) for each in data["teaching"] if not each["looks_on"] for drum in each["drums"]}
    assert by_nobody == ready
    assert bool(ready) == (name == "class")
    for each in data["teaching"]:
        assert (datetime.fromisoformat(each["start"]).weekday() == 4) is not each["looks_on"]
