"""Why a piece is left over, as findings, papers and `run.json` tell it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from run_files import LARGE, RUN, SKIN
from run_plans import ALL_GOAT, planned
from tauthide.cutting.wanting import ORDER, Reason
from tauthide.output.run_json import render_run
from tauthide.papers.papers import render_papers
from tauthide.running.reasons import reason_text
from tauthide.running.run_plan import RunPlan, findings_of
from tauthide.units import metric_finer_length

THICK = SKIN.replace("thickness: 1.0 mm", "thickness: 1.3 mm")
WEAK = SKIN + "weak: [{region: belly, points: [[-1, -1], [15, -1], [15, 19], [-1, 19]]}]\n"


def told(plan: RunPlan) -> dict[str, str]:
    """Return what is said of the pieces that are left over, by their names."""
    found = [finding for finding in findings_of(plan) if finding.name == "piece-left-over"]
    return {finding.found: finding.message for finding in found}


@pytest.mark.parametrize(
    ("skin", "said"),
    [
        (THICK, "there is room on goat-1, but it is 1.3 mm thick there; 0.85 mm to 1.15 mm is allowed"),
        (WEAK, "room for it is only in weak regions, on goat-1"),
        (SKIN.replace("grid: 50 mm", "grid: 20 mm"), "larger than any skin at hand has room for"),
        (SKIN.replace("hide: goat", "hide: sheep"), "no skin of that animal is at hand"),
    ],
    ids=["thickness", "weak", "small", "animal"],
)
def test_each_cause_is_told_everywhere(tmp_path: Path, skin: str, said: str) -> None:
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": skin})
    (message,) = {message for name, message in told(plan).items() if "LARGE-01, LARGE-02" in name}
    assert said in message
    page = render_papers(plan)["run.md"].decode().replace("\\", "").replace("\u00a0", " ")
    (line,) = [
        line for line in page.splitlines() if line.startswith("- ") and "LARGE-01, LARGE-02" in line and ": " in line
    ]
    assert said.split(", but")[0] in line
    data = {each["piece"]: each for each in json.loads(render_run(plan, ()))["why_missing"]}
    assert set(data) == set(plan.layout.missing)
    assert data["LARGE-01"]["cause"] in ORDER


def test_no_room_is_told_of_what_is_too_many(tmp_path: Path) -> None:
    run = RUN.replace("../small.yaml", "../small.yaml, quantity: 12")
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/run.yaml": run})
    assert any(message.endswith("no room is left beside the other pieces") for message in told(plan).values())


def test_nothing_is_told_where_all_has_a_place_or_no_skin_is_at_hand(tmp_path: Path) -> None:
    large = SKIN.replace("grid: 50 mm", "grid: 100 mm")
    assert not told(planned(tmp_path / "all", {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": large}))
    bare = RUN.replace("skins: [goat-1.yaml]\n", "")
    assert not told(planned(tmp_path / "none", {"large.yaml": LARGE, "runs/run.yaml": bare}))


@pytest.mark.parametrize("cause", ORDER)
def test_every_cause_has_words(cause: str) -> None:
    reasons = {each: Reason(each, "goat-1", (1.0004, 1.1504), 0.85, 1.15) for each in ORDER}
    text = reason_text(reasons[next(each for each in ORDER if each == cause)], metric_finer_length)
    assert "{" not in text
    if "thickness" in cause:
        assert "1 mm to 1.16 mm thick" in text


@pytest.mark.parametrize(
    ("least_mm", "most_mm", "said"),
    [(None, 1.15, "up to 1.15 mm is"), (0.85, None, "0.85 mm and more is"), (None, None, "any thickness is")],
)
def test_limits_on_one_side(least_mm: float | None, most_mm: float | None, said: str) -> None:
    assert said in reason_text(Reason("thickness", "goat-1", (2.0, 2.0), least_mm, most_mm), metric_finer_length)


def test_an_oval_to_be_bought_has_its_length_and_width(tmp_path: Path) -> None:
    oval = "spec: 1\ndrum: LARGE\nframe: {outline: oval, length: 12 in, width: 9 in, depth: 55 mm}\n"
    oval += "head: {hide: deer}\nlace: {hide: calf}\nstations: {count: 14}\n"
    page = render_papers(planned(tmp_path, {"large.yaml": oval}))["kits.md"].decode().replace("\u00a0", " ")
    (line,) = {line for line in page.splitlines() if "Head | deer" in line}
    long_mm, wide_mm = (float(part.split(" mm")[0].split()[-1]) for part in line.split(" by "))
    assert long_mm - wide_mm == pytest.approx(3 * 25.4, abs=1)
