"""The wood of a run that makes its own frames: what to buy, what stock spares, and the cutting list of all drums."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from run_files import LARGE, LOT, RUN, SMALL
from run_plans import ALL_GOAT, planned
from tauthide.output.run_json import render_run
from tauthide.papers.papers import render_papers
from tauthide.running.run_plan import RunPlan
from tauthide.work.operations import MAKING_OF_FRAME

WEEKS = RUN.replace("[mon, tue]", "[mon, tue, wed, thu, fri]")
STAVES = "staves: {boards: [1 m, 2 m], thickness: 20 mm}\n"
SCHEMA = Path(__file__).parents[2] / "schemas" / "run_plan.schema.json"


def made(text: str, make: str, more: str = "") -> str:
    """A spec whose frame is made in the shop, of one depth, so that boards are as wide."""
    return text.replace("depth: 40 mm}", f"depth: 55 mm, make: {make}}}").replace(
        "depth: 55 mm}", f"depth: 55 mm, make: {make}}}"
    ) + more  # fmt: skip


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> RunPlan:
    changes = {"small.yaml": made(SMALL, "staves", STAVES), "large.yaml": made(ALL_GOAT, "staves", STAVES),
               "runs/run.yaml": WEEKS}  # fmt: skip
    return planned(tmp_path_factory.mktemp("staves"), changes)


@pytest.fixture(scope="module")
def bent(tmp_path_factory: pytest.TempPathFactory) -> RunPlan:
    changes = {"small.yaml": made(SMALL, "staves"), "large.yaml": made(LARGE, "bent"), "runs/run.yaml": WEEKS}
    return planned(tmp_path_factory.mktemp("bent"), changes)


def test_one_cutting_list_for_all_drums(plan: RunPlan) -> None:
    """Three small rings and two large ones, 12 staves each, out of the same boards."""
    (stock,) = plan.purchases.wood.stocks
    assert stock.drums == ("SMALL", "LARGE")
    cuts = [cut for board in stock.boards for cut in board.cuts]
    assert [sum(cut.name == name for cut in cuts) for name in ("SMALL", "LARGE")] == [36, 24]
    for cut in cuts:
        each = next(drum.plan for drum in plan.drums if drum.plan.spec.drum == cut.name)
        assert cut.length_mm == each["stave.cut"]
    for board in stock.boards:
        assert board.length_mm in (1000, 2000)
        assert sum(cut.length_mm for cut in board.cuts) <= board.length_mm - 50 + 1e-6
    apart = sum(drum.plan["stave.board_length"] for drum in plan.drums)
    assert stock.length_mm < apart


def test_other_wood_is_other_boards(tmp_path: Path) -> None:
    other = made(ALL_GOAT, "staves", STAVES + "wood: {species: walnut}\n")
    wood = planned(tmp_path, {"small.yaml": made(SMALL, "staves", STAVES), "large.yaml": other,
                              "runs/run.yaml": WEEKS}).purchases.wood  # fmt: skip
    assert [(stock.drums, stock.species) for stock in wood.stocks] == [(("SMALL",), "ash"), (("LARGE",), "walnut")]


def test_strips(bent: RunPlan) -> None:
    (strips,) = bent.purchases.wood.strips
    large = bent.drums[-1].plan
    assert (strips.drum, strips.species, strips.count) == ("LARGE", "ash", 2)
    assert (strips.length_mm, strips.width_mm) == (large["bend.strip_length"], large["bend.strip_width"])


def test_frames_that_are_made_are_not_bought(bent: RunPlan) -> None:
    assert [(frames.needed, frames.make, frames.to_buy) for frames in bent.purchases.frames] == [
        (3, "staves", 0), (2, "bent", 0),
    ]  # fmt: skip


def test_frames_in_stock_need_no_wood_and_no_work(tmp_path: Path) -> None:
    """Two of three are in the cupboard: one ring of staves, and only its drum has the work."""
    lot = LOT.replace("depth: 40 mm", "depth: 55 mm")
    changes = {"small.yaml": made(SMALL, "staves", STAVES), "runs/cupboard.yaml": lot, "runs/run.yaml": WEEKS}
    plan = planned(tmp_path, changes)
    (stock,) = plan.purchases.wood.stocks
    assert sum(len(board.cuts) for board in stock.boards) == 12
    working = {work.job for work in plan.schedule.works if work.operation in MAKING_OF_FRAME}
    assert working == {"SMALL-03"}


def test_a_run_of_bought_frames_has_no_wood(tmp_path: Path) -> None:
    plan = planned(tmp_path)
    assert not plan.purchases.wood
    papers = render_papers(plan)
    assert "wood.csv" not in papers
    assert b"Wood for the frames" not in papers["run.md"]


def test_papers(plan: RunPlan, bent: RunPlan) -> None:
    papers = render_papers(plan)
    page = papers["run.md"].decode()
    assert "Frames for SMALL\\, to be glued of staves" in page
    assert "× SMALL" in page
    rows = list(csv.DictReader(io.StringIO(papers["wood.csv"].decode())))
    boards = [(float(row["length_m"]), int(row["count"])) for row in rows]
    (stock,) = plan.purchases.wood.stocks
    assert sum(1000 * length * count for length, count in boards) == pytest.approx(stock.length_mm)
    both = render_papers(bent)["wood.csv"].decode()
    assert next(row["what"] for row in csv.DictReader(io.StringIO(both))) == "strip"


def test_data(plan: RunPlan, bent: RunPlan) -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    for each in (plan, bent):
        data = json.loads(render_run(each, ()))
        assert not list(Draft202012Validator(schema).iter_errors(data))
        assert len(data["to_buy"]["boards"]) == sum(len(stock.boards) for stock in each.purchases.wood.stocks)
        assert data["to_buy"]["frames"] == []


class TestInStock:
    """Wood of a lot that is large enough is not bought again, each piece once, the least that does."""

    def wood(self, folder: Path, lot: str, make: str) -> RunPlan:
        more = STAVES if make == "staves" else ""
        changes = {"small.yaml": made(SMALL, "bought"), "large.yaml": made(ALL_GOAT, make, more),
                   "runs/cupboard.yaml": f"lot: 1\nwood: [{lot}]\n", "runs/run.yaml": WEEKS}  # fmt: skip
        return planned(folder, changes)

    @pytest.mark.parametrize(
        ("lot", "given"),
        [
            ("{species: ash, length: 2 m, width: 90 mm, thickness: 20 mm}", 1),
            ("{species: ash, length: 2 m, width: 90 mm, thickness: 20 mm, quantity: 3}", 2),
            ("{species: oak, length: 2 m, width: 90 mm, thickness: 20 mm}", 0),
            ("{species: ash, length: 1 m, width: 90 mm, thickness: 20 mm}", 0),
            ("{species: ash, length: 2 m, width: 40 mm, thickness: 20 mm}", 0),
            ("{species: ash, length: 2 m, width: 90 mm, thickness: 4 mm}", 0),
        ],
    )
    def test_strips(self, tmp_path: Path, lot: str, given: int) -> None:
        plan = self.wood(tmp_path, lot.replace("oak", "red_oak"), "bent")
        (strips,) = plan.purchases.wood.strips
        assert strips.species == "ash"
        assert (strips.count, strips.in_stock, strips.to_buy) == (2, given, 2 - given)
        bought = json.loads(render_run(plan, ()))["to_buy"]["strips"]
        assert [each["count"] for each in bought] == ([2 - given] if given < 2 else [])
        (row,) = csv.DictReader(io.StringIO(render_papers(plan)["wood.csv"].decode()))
        assert (row["count"], row["in_stock"]) == ("2", str(given))

    def test_boards(self, tmp_path: Path) -> None:
        species = self.wood(tmp_path / "a", "{species: ash, length: 1 m, width: 9 mm, thickness: 9 mm}", "staves")
        (stock,) = species.purchases.wood.stocks
        assert not any(stock.in_stock)
        size = f"width: {stock.width_mm + 1:.1f} mm, thickness: {stock.thickness_mm:.1f} mm"
        longest_m = max(board.length_mm for board in stock.boards) / 1000
        plan = self.wood(tmp_path / "b", f"{{species: {stock.species}, length: {longest_m} m, {size}}}", "staves")
        (again,) = plan.purchases.wood.stocks
        assert again.boards == stock.boards
        assert sum(again.in_stock) == 1
        assert len(json.loads(render_run(plan, ()))["to_buy"]["boards"]) == len(stock.boards) - 1
        assert "In stock" in render_papers(plan)["run.md"].decode()
