"""frame.svg: drawn to scale, legible for any frame, and only where a frame is made."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET

import pytest

from drawn import Drawing
from drums import Fields, Leaf, changed, plan_of
from tauthide.drawings.canvas import Canvas, overlapping
from tauthide.drawings.frame import draw_frame, is_drawn
from tauthide.drawings.frame_bent import scarf_line
from tauthide.drawings.pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM
from tauthide.plan.plan import Plan


def shaped(outline: str, **changes: Leaf) -> Fields:
    sizes: Fields = (
        {"frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in"}
        if outline == "oval"
        else {"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in"}
    )
    return {path: leaf for path, leaf in {**changed(**changes), **sizes}.items() if path != "frame.diameter"}


MAKES: dict[str, Fields] = {
    "hoop": changed(frame_make="bent"),
    "hoop, inches": changed(frame_make="bent", bench_units="inch", bending_spare="11 in"),
    "large hoop": changed(frame_make="bent", frame_diameter="1.8 m", stations_count=64),
    "small hoop": changed(frame_make="bent", frame_diameter="160 mm", frame_wall="4 mm", stations_count=4,
                          frame_edge_radius="1 mm", bending_scarf=30),
    "oval": shaped("oval", frame_make="bent"),
    "ring": changed(frame_make="staves"),
    "ring of many": changed(frame_make="staves", staves_count=48, bench_units="inch"),
    "ring of four": changed(frame_make="staves", staves_count=4, staves_boards="[600 mm, 1 m, 8 m]"),
    "many boards": changed(frame_make="staves", staves_boards="[160 mm]"),
    "octagon": shaped("polygon", frame_make="staves", staves_thickness="60 mm"),
}  # fmt: skip
EACH = pytest.mark.parametrize("plan", [plan_of(fields) for fields in MAKES.values()], ids=list(MAKES))
RINGS = pytest.mark.parametrize("name", [name for name, fields in MAKES.items() if fields["frame.make"] == "staves"])


def stated_scale(plan: Plan) -> float:
    """Millimetres on the page to one of the frame, as the caption states it."""
    (stated,) = re.findall(rb"(?:ring|hoop) ([0-9.]+):([0-9.]+),", draw_frame(plan))
    return float(stated[0]) / float(stated[1])


def polygons(plan: Plan) -> list[list[tuple[float, float]]]:
    drawing = Drawing(ET.fromstring(draw_frame(plan)))
    return [
        [(float(x), float(y)) for x, y in (pair.split(",") for pair in element.attrib["points"].split())]
        for element in drawing.all("polygon")
    ]


@EACH
def test_texts_neither_overlap_nor_leave_the_page(plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    pages: list[Canvas] = []
    finish = Canvas.bytes

    def keep(canvas: Canvas) -> bytes:
        pages.append(canvas)
        return finish(canvas)

    monkeypatch.setattr(Canvas, "bytes", keep)
    draw_frame(plan)
    (canvas,) = pages
    assert overlapping(canvas.texts) == []
    for box in canvas.texts:
        for x, y in box.corners:
            assert 0 <= x <= canvas.width_mm, box.text
            assert 0 <= y <= canvas.height_mm, box.text


@EACH
def test_page_holds_it(plan: Plan) -> None:
    drawing = Drawing(ET.fromstring(draw_frame(plan)))
    width, height = drawing.size
    assert width == PAGE_WIDTH_MM
    assert height <= PAGE_HEIGHT_MM + 30
    assert drawing.root.attrib["width"] == f"{width:g}mm"
    assert draw_frame(plan) == draw_frame(plan)


@RINGS
def test_ring_is_to_scale(name: str) -> None:
    plan = plan_of(MAKES[name])
    scale = stated_scale(plan)
    outer, inner, *_ = polygons(plan)
    assert len(outer) == len(inner) == plan["stave.count"]
    assert math.dist(outer[0], outer[1]) == pytest.approx(plan["stave.outer"] * scale, abs=0.003)
    assert math.dist(inner[0], inner[1]) == pytest.approx(plan["stave.inner"] * scale, abs=0.003)


@RINGS
def test_every_stave_of_the_drawn_boards(name: str) -> None:
    plan = plan_of(MAKES[name])
    words = Drawing(ET.fromstring(draw_frame(plan))).words
    drawn = [re.match(r"(\d+) × board of .*: (\d+) staves", text) for text in words]
    counts = [int(match[1]) * int(match[2]) for match in drawn if match]
    assert sum(counts) == plan["stave.count"]


@pytest.mark.parametrize("name", ["hoop", "oval"])
def test_scarf_goes_through_the_wall_over_its_length(name: str) -> None:
    plan = plan_of(MAKES[name])
    points = scarf_line(plan)
    along = sum(math.dist(one, other) for one, other in itertools.pairwise(points))
    assert along == pytest.approx(math.hypot(plan["bend.scarf_length"], 8), rel=0.03)
    ways_in = [plan.outline.perimeter_at(-8 * share / 24) for share in range(25)]
    assert ways_in == sorted(ways_in, reverse=True)
    assert points[0][0] * points[-1][0] < 0  # on both sides of the axis, opposite station 1
    assert min(y for _, y in points) > 0


def test_nothing_is_drawn_of_a_bought_frame() -> None:
    plan = plan_of()
    assert not is_drawn(plan)
    with pytest.raises(KeyError):
        draw_frame(plan)
