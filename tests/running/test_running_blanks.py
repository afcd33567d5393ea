"""Blanks as pieces to be laid: the polygon holds the blank, and hardly more."""

from __future__ import annotations

import math

from hypothesis import given

from drums import Fields, drums, plan_of, read_plan, some, spec_text
from tauthide.cutting.pieces import Blank, Disc
from tauthide.running.blanks import blank_shape

MOST_WASTE = 0.002
"""Share of the area that the polygon may add: 56 tangents round a circle add 0.10 %, round corners a bit more."""


def test_a_round_blank_is_a_disc() -> None:
    plan = plan_of()
    assert blank_shape(plan) == Disc(plan["head.blank_diameter"] / 2)


@some
@given(drums(outlines=("oval", "polygon")))
def test_the_polygon_holds_the_blank_and_hardly_more(fields: Fields) -> None:
    plan = read_plan(spec_text(fields))
    shape = blank_shape(plan)
    assert isinstance(shape, Blank)
    reach = plan["skin.reach"]
    perimeter = plan.outline.perimeter_at(reach)
    corners = shape.outline
    for index in range(500):
        x, y = plan.outline.point(reach, perimeter * index / 500)
        for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
            side = math.hypot(bx - ax, by - ay)
            assert (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= -1e-6 * side
    area = plan["head.blank_area"]
    assert area - 1e-3 <= shape.area_mm2 <= area * (1 + MOST_WASTE)
