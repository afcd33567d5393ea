"""Templates and data of two heads: the second, a mirror image, has pages and holes of its own."""

from __future__ import annotations

import json

import pytest

from sheet_plans import plan_from
from tauthide.drawings.canvas import Canvas
from tauthide.output.plan_json import render_plan
from tauthide.plan.plan import Plan
from tauthide.printing.rim import rim_of
from tauthide.printing.template import template_pages


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Two heads of 12 inches."""
    return plan_from(
        "frame: {outline: round, diameter: 12 in, depth: 100 mm}\nhead: {hide: goat}\n"
        "stations: {count: 16}\nlace: {lacing: zigzag}\n"
    )


def test_each_head_has_its_pages(plan: Plan) -> None:
    pages = [canvas.bytes().decode() for canvas in template_pages(plan, "a4", Canvas)]
    count = len(pages)
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {count}" in page
        assert f"head {1 if number <= count / 2 else 2} · digest {plan.digest}" in page
    assert sum("Station gauge" in page for page in pages) == 2
    assert sum("Page map of the rim" in page for page in pages) == 2


def test_the_second_rim_is_the_first_seen_in_a_mirror(plan: Plan) -> None:
    assert plan.second is not None
    first, second = rim_of(plan), rim_of(plan.second)
    for one, other in zip(first.holes, second.holes, strict=True):
        assert (one.station, one.letter) == (other.station, other.letter)
        assert other.centre == pytest.approx((-one.centre[0], one.centre[1]), abs=1e-9)


def test_plan_json_has_the_holes_of_both_heads(plan: Plan) -> None:
    holes = json.loads(render_plan(plan, ()))["holes"]
    by_head = {head: [hole for hole in holes if hole["head"] == head] for head in (1, 2)}
    assert len(by_head[1]) == len(by_head[2]) == 32 == len(holes) / 2
    for one, other in zip(by_head[1], by_head[2], strict=True):
        assert (one["station"], one["hole"]) == (other["station"], other["hole"])
        assert (other["x_mm"], other["y_mm"]) == pytest.approx((-one["x_mm"], one["y_mm"]), abs=1e-9)


def test_a_single_head_is_not_numbered() -> None:
    single = plan_from("frame: {outline: round, diameter: 12 in, depth: 60 mm}\nhead: {hide: goat}\n"
                       "stations: {count: 16}\n")  # fmt: skip
    assert all("head" not in hole for hole in json.loads(render_plan(single, ()))["holes"])
    assert not any("head 1" in canvas.bytes().decode() for canvas in template_pages(single, "a4", Canvas))
