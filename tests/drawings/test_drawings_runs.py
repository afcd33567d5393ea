"""Drawings of a run: they fit a page, tell apart what is to be told apart, and no text lies on another."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

from run_files import RUN, SKIN
from run_plans import ALL_GOAT, planned
from tauthide.drawings.bars import draw_bars
from tauthide.drawings.canvas import TextBox, overlapping
from tauthide.drawings.pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM
from tauthide.drawings.skin import draw_skin
from tauthide.running.run_plan import RunPlan

SVG = "{http://www.w3.org/2000/svg}"
NECK = "weak: [{region: neck, points: [[4, 16], [10, 16], [10, 19], [4, 19]]}"
BELLY = ", {region: belly, points: [[0, 6], [1, 6], [1, 9], [0, 9]], allows: nothing}]\n"
FLAWS = "flaws: [{kind: hole, at: [13, 17], diameter: 20 mm}, {kind: other, at: [1, 17], diameter: 9 mm}]\n"


def texts_of(drawing: bytes) -> list[TextBox]:
    """Return the texts of a drawing with the room that they take."""
    return [
        TextBox(
            (float(each.get("x", "")), float(each.get("y", ""))), "".join(each.itertext()),
            float(each.get("font-size", "")), each.get("text-anchor", ""), 0.0,
        )
        for each in ElementTree.fromstring(drawing).iter(f"{SVG}text")
    ]  # fmt: skip


def beyond_the_page(drawing: bytes) -> list[str]:
    """Return the texts that reach beyond the page."""
    root = ElementTree.fromstring(drawing)
    width, height = (float(root.get(name, "").removesuffix("mm")) for name in ("width", "height"))
    return [
        box.text for box in texts_of(drawing)
        if any(not (0 <= x <= width and 0 <= y <= height) for x, y in box.corners)
    ]  # fmt: skip


def plan_with(folder: Path, run: str = RUN, skin: str = SKIN) -> RunPlan:
    """Plan the run with other files."""
    return planned(folder, {"large.yaml": ALL_GOAT, "runs/run.yaml": run, "runs/goat-1.yaml": skin})


RUNS = {
    "few": RUN,
    "many": RUN.replace("../small.yaml", "../small.yaml, quantity: 20") + "crew: 5\n",
    "class": RUN.replace("../small.yaml", "../small.yaml, quantity: 16") + "class: {teachers: 2, tools: 8}\n",
}


@pytest.fixture(scope="module", params=list(RUNS))
def pages(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The schedule of a run, by file."""
    return draw_bars(plan_with(tmp_path_factory.mktemp("run"), RUNS[request.param]))


class TestSchedule:
    def test_fits_its_pages(self, pages: dict[str, bytes]) -> None:
        for drawing in pages.values():
            root = ElementTree.fromstring(drawing)
            assert root.get("width") == f"{PAGE_WIDTH_MM:g}mm"
            assert float(root.get("height", "").removesuffix("mm")) <= PAGE_HEIGHT_MM
            assert not beyond_the_page(drawing)

    def test_no_text_lies_on_another(self, pages: dict[str, bytes]) -> None:
        for drawing in pages.values():
            assert not overlapping(texts_of(drawing))

    def test_files_are_numbered(self, pages: dict[str, bytes]) -> None:
        numbers = range(2, len(pages) + 1)
        assert list(pages) == ["schedule.svg", *(f"schedule-{number}.svg" for number in numbers)]


def test_a_long_schedule_has_several_pages_and_a_short_one_has_one(tmp_path: Path) -> None:
    assert len(draw_bars(plan_with(tmp_path / "few"))) == 1
    many = RUN.replace("../small.yaml", "../small.yaml, quantity: 30") + "crew: 6\n"
    assert len(draw_bars(plan_with(tmp_path / "many", many))) > 1


class TestSkin:
    @pytest.mark.parametrize("fixed", ["", "fixed_points: [[0, 0], [14, 0]]\n"])
    @pytest.mark.parametrize("more", ["", FLAWS, FLAWS + NECK + BELLY])
    def test_texts_lie_clear_of_each_other(self, tmp_path: Path, fixed: str, more: str) -> None:
        plan = plan_with(tmp_path, skin=SKIN + more + fixed)
        drawing = draw_skin(plan.run.skins[0].skin, plan.cuts["goat-1"])
        assert not overlapping(texts_of(drawing))
        assert not beyond_the_page(drawing)

    def test_the_key_names_what_is_there_and_nothing_else(self, tmp_path: Path) -> None:
        rows = {
            "hole, flaw: nothing": FLAWS,
            "weak: laces, but no head": NECK + "]\n",
            "weak: nothing at all": "weak: [" + BELLY.removeprefix(", "),
        }
        for number, (row, more) in enumerate(rows.items()):
            plan = plan_with(tmp_path / f"{number}", skin=SKIN + more)
            texts = [box.text for box in texts_of(draw_skin(plan.run.skins[0].skin, plan.cuts["goat-1"]))]
            assert [each for each in rows if each in texts] == [row]
            for always in ("head", "lace disc or scrap", "spine, tail below", "fixed point for a tape"):
                assert always in texts
            assert "grid 50 mm (1 15/16 in)" in texts

    def test_weak_regions_are_hatched_unlike(self, tmp_path: Path) -> None:
        found = []
        for laces in ("laces", "nothing"):
            weak = f"weak: [{{region: belly, points: [[0, 6], [3, 6], [3, 9], [0, 9]], allows: {laces}}}]\n"
            plan = plan_with(tmp_path / laces, skin=SKIN + weak)
            root = ElementTree.fromstring(draw_skin(plan.run.skins[0].skin, plan.cuts["goat-1"]))
            (group,) = (each for each in root.iter(f"{SVG}g") if each.get("clip-path") == "url(#skin-goat-1-1)")
            lines = list(group.iter(f"{SVG}line"))
            found.append({float(line.get("x1", "")) > float(line.get("x2", "")) for line in lines})
        assert found == [{True}, {True, False}]

    def test_fixed_points_are_named_beside_them(self, tmp_path: Path) -> None:
        plan = plan_with(tmp_path, skin=SKIN + "fixed_points: [[7, 2], [7, 16]]\n")
        cuts = plan.cuts["goat-1"]
        root = ElementTree.fromstring(draw_skin(plan.run.skins[0].skin, cuts))
        dots = [each for each in root.iter(f"{SVG}circle") if each.get("fill") == "#000"]
        assert len(dots) == len(cuts[0].fixed) + 1  # and one in the key
        letters = {each.text: each for each in root.iter(f"{SVG}text") if each.text in ("A", "B", "C")}
        for point, dot in zip(cuts[0].fixed, dots, strict=False):
            letter = letters[point.name]
            for axis in ("x", "y"):
                assert abs(float(letter.get(axis, "")) - float(dot.get(f"c{axis}", ""))) < 6
