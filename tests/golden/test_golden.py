"""What the demo specs compile to, byte by byte; and checks of it by other means.

Golden files tell that something changed, not that it is right: hence the other checks.
Rewrite them with `pytest tests/golden --rewrite-golden`, and review the difference like code.
"""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from jsonschema import Draft202012Validator

from tauthide.__main__ import main

ROOT = Path(__file__).parents[2]
GOLDEN = Path(__file__).parent / "sheets"
MANIFEST = ".tauthide.json"
SVG = "{http://www.w3.org/2000/svg}"
DRAWN_TO_MM = 0.001
"""Drawings give coordinates to 0.001 mm."""


def built_files(folder: Path) -> dict[str, bytes]:
    """Return all files below a folder by name, but the manifest, whose hashes follow the program."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != MANIFEST
    }


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("golden") / "sheets"
    assert main(["build", str(ROOT / "specs"), "--out", str(folder)]) == 0
    return folder


def test_same_bytes(built: Path, request: pytest.FixtureRequest) -> None:
    fresh = built_files(built)
    if request.config.getoption("--rewrite-golden"):
        for old in built_files(GOLDEN) if GOLDEN.exists() else ():
            (GOLDEN / old).unlink()
        for name, content in fresh.items():
            (GOLDEN / name).parent.mkdir(parents=True, exist_ok=True)
            (GOLDEN / name).write_bytes(content)
    golden = built_files(GOLDEN)
    assert sorted(fresh) == sorted(golden)
    changed = [name for name in fresh if fresh[name] != golden[name]]
    assert not changed


DRUMS = sorted(path.name for path in GOLDEN.iterdir() if path.is_dir()) if GOLDEN.exists() else []


def plan_of(built: Path, drum: str) -> Any:
    """Return a drum's plan as its file has it."""
    return json.loads((built / drum / "plan.json").read_text())


def elements(built: Path, drum: str, drawing: str) -> list[ElementTree.Element]:
    """Return all elements of a drawing."""
    return list(ElementTree.parse(built / drum / drawing).getroot().iter())


def line_length(line: ElementTree.Element) -> float:
    """Return the length of a drawn line on the page."""
    x1, y1, x2, y2 = (float(line.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
    return math.dist((x1, y1), (x2, y2))


def stated_reduction(drawn: list[ElementTree.Element]) -> float:
    """Return how many millimetres of the drum the drawing says that one on the page stands for."""
    texts = (element.text or "" for element in drawn if element.tag == f"{SVG}text")
    (stated,) = (found for text in texts if (found := re.match(r"Scale 1:([0-9.]+) ", text)))
    return float(stated[1])


def test_at_least_six_drums() -> None:
    assert len(DRUMS) >= 6


@pytest.mark.parametrize("drum", DRUMS)
class TestEachDrum:
    def test_plan_fits_its_schema(self, built: Path, drum: str) -> None:
        schema = json.loads((ROOT / "schemas" / "plan.schema.json").read_text())
        Draft202012Validator.check_schema(schema)
        Draft202012Validator(schema).validate(plan_of(built, drum))

    def test_layout_has_the_holes_of_the_plan(self, built: Path, drum: str) -> None:
        """Holes are compared by their distances from hole a of station 1, so scale and place drop out."""
        holes = {
            (hole["station"], hole["hole"]): (hole["x_mm"], hole["y_mm"]) for hole in plan_of(built, drum)["holes"]
        }
        drawn = {
            (int(element.attrib["data-station"]), element.attrib["data-hole"]): (
                float(element.attrib["cx"]),
                float(element.attrib["cy"]),
            )
            for element in elements(built, drum, "layout.svg")
            if element.tag == f"{SVG}circle" and "data-hole" in element.attrib
        }
        assert drawn.keys() == holes.keys()
        first, opposite = (1, "a"), (1 + len(holes) // 4, "a")
        scale = math.dist(drawn[first], drawn[opposite]) / math.dist(holes[first], holes[opposite])
        for hole, place in holes.items():
            away = math.dist(place, holes[first]) * scale
            assert math.dist(drawn[hole], drawn[first]) == pytest.approx(away, abs=4 * DRAWN_TO_MM)

    def test_lace_measured_along_the_drawn_path(self, built: Path, drum: str) -> None:
        plan = plan_of(built, drum)
        drawn = elements(built, drum, "lacing.svg")
        spans = {int(line.attrib["data-step"]): line_length(line) for line in drawn if "data-step" in line.attrib}
        planned = {step["step"]: step["span_mm"] for step in plan["lacing"] if step["span_mm"] is not None}
        assert spans.keys() == planned.keys()
        # A span to a ring comes back.
        back = [line_length(line) for line in drawn if line.attrib.get("data-part") in ("to-ring", "closing")]
        assert len(back) in (0, len(plan["lacing"]) - len(spans), len(spans))
        end_runs = 2 * plan["figures"]["holes.end_run"]["value"] if "holes.end_run" in plan["figures"] else 0.0
        reduction = stated_reduction(drawn)
        total = reduction * (sum(spans.values()) + sum(back)) + len(spans) * end_runs
        tolerance = (len(spans) + len(back)) * 3 * DRAWN_TO_MM * reduction
        assert total == pytest.approx(plan["figures"]["lace.spans"]["value"], abs=tolerance)

    @pytest.mark.parametrize("drawing", ["layout.svg", "section.svg", "lacing.svg", "steps.svg", "gauge.svg"])
    def test_drawing_is_in_millimetres(self, built: Path, drum: str, drawing: str) -> None:
        root = elements(built, drum, drawing)[0]
        width, height = root.attrib["width"], root.attrib["height"]
        assert width.endswith("mm")
        assert height.endswith("mm")
        assert root.attrib["viewBox"].split() == ["0", "0", width[:-2], height[:-2]]

    def test_sheet_links_and_boxes(self, built: Path, drum: str) -> None:
        sheet = (built / drum / "sheet.md").read_text(encoding="utf-8")
        links = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", sheet)
        drawings = sorted(path.name for path in (built / drum).glob("*.svg"))
        assert sorted(links) == drawings
        made = ["frame.svg"] if "wood.wall_rate" in plan_of(built, drum)["figures"] else []
        second = ["layout-2.svg"] if (built / drum / "layout-2.svg").exists() else []
        always = ["gauge.svg", "lacing.svg", "layout.svg", "section.svg", "steps.svg"]
        assert drawings == sorted([*always, *made, *second])
        assert plan_of(built, drum)["digest"] in sheet
        assert sheet.count("[ ]") >= len(plan_of(built, drum)["lacing"])
