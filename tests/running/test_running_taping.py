"""Centres found with two tapes: the readings and the side lead back to the piece."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from run_files import SKIN
from run_plans import ALL_GOAT, planned
from tauthide.running.taping import ON_THE_LINE_MM, Cut
from tauthide.runs.skins import Point

FIXED = ["", "fixed_points: [[0, 1], [13, 2]]\n", "fixed_points: [[14, 17], [1, 3]]\n"]


def found(cut: Cut, first: Point, second: Point) -> Point:
    """Return where two tapes cross, on the side that the list says, by the cosine rule."""
    apart = math.dist(first, second)
    along = (cut.from_a_mm**2 - cut.from_b_mm**2 + apart**2) / (2 * apart)
    off = math.sqrt(max(0.0, cut.from_a_mm**2 - along**2)) * {"left": 1, "right": -1, "on": 0}[cut.side]
    ux, uy = (second[0] - first[0]) / apart, (second[1] - first[1]) / apart
    return (first[0] + along * ux - off * uy, first[1] + along * uy + off * ux)


@pytest.mark.parametrize("fixed", FIXED, ids=["spine", "low", "turned"])
def test_readings_lead_to_the_centre(tmp_path: Path, fixed: str) -> None:
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": SKIN + fixed})
    first, second = plan.run.skins[0].skin.fixed_points_mm
    cuts = plan.cuts["goat-1"]
    assert len(cuts) > 4
    for cut in cuts:
        x, y = found(cut, first, second)
        assert math.dist((x, y), cut.placement.centre) <= (ON_THE_LINE_MM if cut.side == "on" else 1e-3)


def test_numbered_in_cutting_order_heads_first(tmp_path: Path) -> None:
    cuts = planned(tmp_path, {"large.yaml": ALL_GOAT}).cuts["goat-1"]
    assert [cut.number for cut in cuts] == list(range(1, len(cuts) + 1))
    uses = [cut.placement.use for cut in cuts]
    assert uses == sorted(uses, key=["head", "lace", "scrap"].index)
    ups = [cut.placement.centre[1] for cut in cuts if cut.placement.use == "head"]
    assert ups == sorted(ups)
