"""steps.svg: what each picture shows as new and as laid already."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from drums import Fields, plan_of
from tauthide.drawings.steps import COLUMNS, FIRST_STEPS, LAID_SHOWN, ROWS, draw_steps, groups_of
from tauthide.plan.plan import Plan

SVG = "{http://www.w3.org/2000/svg}"

DRUMS: dict[str, Fields] = {
    "cross": {},
    "clockwise": {"stations.hand": "clockwise", "stations.mark_at": "pair_centre"},
    "many": {"frame.diameter": "40 in", "stations.count": 64, "stations.web": "10 mm"},
    "few": {"frame.diameter": "5 in", "frame.depth": "40 mm", "stations.count": 4},
    "two laces": {"lace.laces": 2},
    "ring": {"lace.lacing": "ring"},
    "zigzag": {"lace.lacing": "zigzag", "frame.depth": "150 mm"},
    "zigzag in three": {"lace.lacing": "zigzag", "frame.depth": "150 mm", "lace.laces": 3},
}


def plan_named(name: str) -> Plan:
    return plan_of({"frame.outline": "round", "frame.diameter": "13 in", "frame.depth": "55 mm", "head.hide": "goat",
                    "stations.count": 16, **DRUMS[name]})  # fmt: skip


@pytest.mark.parametrize("name", DRUMS)
class TestPictures:
    def test_every_step_has_one_picture(self, name: str) -> None:
        plan = plan_named(name)
        groups = groups_of(plan)
        assert [step.step for group in groups for step in group] == [step.step for step in plan.steps]
        assert len(groups) <= COLUMNS * ROWS
        assert all(len(group) == 1 for group in groups[:FIRST_STEPS])
        assert len({len(group) for group in groups[FIRST_STEPS:-1]}) <= 1

    def test_new_and_laid(self, name: str) -> None:
        """On each picture its own steps' lengths are new; what is laid there is of earlier steps alone."""
        plan = plan_named(name)
        spans = {step.step for step in plan.steps if step.span_mm is not None}
        root = ElementTree.fromstring(draw_steps(plan))
        pictures = [group for group in root.iter(f"{SVG}g") if "data-picture" in group.attrib]
        assert len(pictures) == len(groups_of(plan))
        for picture in pictures:
            first, last = map(int, picture.attrib["data-steps"].split())
            new = [int(line.attrib["data-new"]) for line in picture if "data-new" in line.attrib]
            laid = [int(line.attrib["data-laid"]) for line in picture if "data-laid" in line.attrib]
            assert set(new) == spans & set(range(first, last + 1)) or last == max(spans)
            assert set(new) >= spans & set(range(first, last + 1))
            assert all(step < first for step in laid)
            assert len(laid) <= LAID_SHOWN

    def test_nothing_leaves_the_page(self, name: str) -> None:
        root = ElementTree.fromstring(draw_steps(plan_named(name)))
        width, height = (float(root.attrib[side][:-2]) for side in ("width", "height"))
        for line in root.iter(f"{SVG}line"):
            assert all(-0.01 <= float(line.attrib[x]) <= width for x in ("x1", "x2"))
            assert all(0 <= float(line.attrib[y]) <= height for y in ("y1", "y2"))

    def test_same_bytes(self, name: str) -> None:
        assert draw_steps(plan_named(name)) == draw_steps(plan_named(name))


def test_no_needless_decimals() -> None:
    assert not re.search(rb"\d\.\d{4}", draw_steps(plan_of()))
