"""lacing.svg: the lace measured along the drawn path, what lies over what, texts that never overlap."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given

from drawn import HALF_A_DECIMAL, Drawing, place, read_drawing
from drums import Fields, changed, crosses, drums, plan_of, some
from tauthide.drawings.canvas import overlapping
from tauthide.drawings.lacing import draw_lacing
from tauthide.plan.plan import Plan

Point = tuple[float, float]

COUNTS = range(4, 65, 2)

TIGHT: Fields = changed(stations_web="8 mm", stations_hole="6 mm", stations_margin="8 mm", lace_width="5 mm")
"""Small holes close together: as many stations on a drum as makers would dare."""

WITHOUT_DIAMETER: Fields = {path: leaf for path, leaf in changed().items() if path != "frame.diameter"}
OVAL = changed(WITHOUT_DIAMETER, frame_outline="oval", frame_length="450 mm", frame_width="380 mm")
POLYGON = changed(WITHOUT_DIAMETER, frame_outline="polygon", frame_across_flats="15 in")
ON_THE_WALL = changed(head_turnover="16 mm")


def spans(drawing: Drawing) -> dict[int, tuple[Point, Point]]:
    """Return the ends of every drawn span by its step, in the order in which they are drawn."""
    lines = drawing.all("line", "data-step")
    found = {int(line.attrib["data-step"]): (place(line, "x1", "y1"), place(line, "x2", "y2")) for line in lines}
    assert len(found) == len(lines)
    return found


def assert_legible(drawing: Drawing) -> None:
    """Hold a drawing against what any drawing must be: no text over another, none outside or too small."""
    assert overlapping(drawing.boxes()) == []
    assert drawing.outside() == []
    assert min(float(text.attrib["font-size"]) for text in drawing.all("text")) >= 3.0


def assert_lace(plan: Plan, drawing: Drawing) -> None:
    """Measure every span along the drawn path, and hold the path together from hole to hole."""
    drawn, holes, scale = spans(drawing), drawing.holes(), drawing.scale
    assert sorted(drawn) == [step.step for step in plan.steps[1:]]
    assert len(holes) == 2 * len(plan.stations)
    ends = 2 * plan["holes.end_run"]
    for before, step in zip(plan.steps, plan.steps[1:], strict=False):
        start, end = drawn[step.step]
        assert start == holes[before.station, before.leave]
        assert end == holes[step.station, step.enter]
        assert step.span_mm is not None
        slack = 2 * math.sqrt(2) * HALF_A_DECIMAL / scale
        assert math.dist(start, end) / scale + ends == pytest.approx(step.span_mm, abs=slack)


@pytest.mark.parametrize("count", COUNTS)
def test_any_count_is_legible_and_as_long_as_planned(count: int) -> None:
    """On the smallest sensible drum for so many stations."""
    diameter = max(8, math.ceil(count * 0.34))
    plan = plan_of(TIGHT, stations_count=count, frame_diameter=f"{diameter} in")
    drawing = read_drawing(draw_lacing(plan))
    assert_legible(drawing)
    assert_lace(plan, drawing)


@pytest.mark.parametrize(
    "fields",
    [changed(), OVAL, ON_THE_WALL, *(changed(POLYGON, frame_sides=sides) for sides in range(3, 13))],
    ids=["round", "oval", "on the wall", *(f"{sides} sides" for sides in range(3, 13))],
)
@pytest.mark.parametrize("hand", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("mark_at", ["first_hole", "pair_centre"])
def test_any_outline_is_legible_and_as_long_as_planned(fields: Fields, hand: str, mark_at: str) -> None:
    """Numbered either way, marked at the first hole or between both, holes on the back or on the wall."""
    plan = plan_of(fields, stations_hand=hand, stations_mark_at=mark_at)
    drawing = read_drawing(draw_lacing(plan))
    assert_legible(drawing)
    assert_lace(plan, drawing)


@some
@given(drums())
def test_any_drum_is_legible_and_as_long_as_planned(fields: Fields) -> None:
    """Whatever no rule refuses."""
    plan = plan_of(fields)
    drawing = read_drawing(draw_lacing(plan))
    assert_legible(drawing)
    assert_lace(plan, drawing)


@pytest.mark.parametrize("fields", [changed(), OVAL, changed(POLYGON, frame_sides=5)])
def test_a_span_is_drawn_before_all_that_lie_over_it(fields: Fields) -> None:
    """What is drawn later covers: so of two spans that cross, the one that passes beneath is drawn first."""
    plan = plan_of(fields, stations_count=12)
    drawn = spans(read_drawing(draw_lacing(plan)))
    turn = {step: index for index, step in enumerate(drawn)}
    crossings = 0
    for step in plan.steps[1:]:
        for other in plan.steps[1 : step.step - 1]:
            if crosses(*drawn[step.step], *drawn[other.step]):
                assert other.step in step.beneath
                assert turn[step.step] < turn[other.step]
                crossings += 1
    assert crossings > 30


def test_every_span_has_a_white_casing_wider_than_itself_just_under_it() -> None:
    """The casing interrupts what was drawn before, and lies along the span within its ends."""
    drawing = read_drawing(draw_lacing(plan_of()))
    lines = drawing.all("line")
    for index, line in enumerate(lines):
        if "data-step" in line.attrib:
            casing = lines[index - 1]
            assert casing.attrib["stroke"] == "#fff"
            assert float(casing.attrib["stroke-width"]) > 2 * float(line.attrib["stroke-width"])
            start, end = place(line, "x1", "y1"), place(line, "x2", "y2")
            for point in (place(casing, "x1", "y1"), place(casing, "x2", "y2")):
                assert math.dist(start, point) + math.dist(point, end) == pytest.approx(
                    math.dist(start, end), abs=0.005
                )


def test_bridges_are_dashed_and_join_the_holes_of_each_station() -> None:
    """The lace runs behind every web: it is hidden there."""
    plan = plan_of()
    drawing = read_drawing(draw_lacing(plan))
    holes = drawing.holes()
    bridges = {int(line.attrib["data-bridge"]): line for line in drawing.all("line", "data-bridge")}
    assert sorted(bridges) == [step.step for step in plan.steps]
    for step in plan.steps:
        line = bridges[step.step]
        assert "stroke-dasharray" in line.attrib
        assert place(line, "x1", "y1") == holes[step.station, step.enter]
        assert place(line, "x2", "y2") == holes[step.station, step.leave]


def test_the_last_length_runs_to_the_hub_beneath_all_spans() -> None:
    """From the hole where the last step leaves; drawn before every span."""
    plan = plan_of()
    drawing = read_drawing(draw_lacing(plan))
    (end,) = drawing.all("line", "data-part")
    lines = drawing.all("line")
    assert lines.index(end) < min(lines.index(line) for line in drawing.all("line", "data-step"))
    last = plan.steps[-1]
    assert place(end, "x1", "y1") == drawing.holes()[last.station, last.leave]
    assert math.dist(place(end, "x1", "y1"), place(end, "x2", "y2")) / drawing.scale == pytest.approx(
        plan["lace.to_hub"], abs=0.01
    )


def test_step_numbers_stand_in_circles_on_the_span_that_arrives() -> None:
    """All of them where there is room, nearer to its end than to its start."""
    plan = plan_of()
    drawing = read_drawing(draw_lacing(plan))
    circles = [place(c, "cx", "cy") for c in drawing.all("circle") if c.attrib["r"] == "2.6"]
    found: dict[int, Point] = {}
    for text in drawing.all("text"):
        if re.fullmatch("[0-9]+", text.text or "") and text.attrib["font-size"] == "3":
            x, y = place(text, "x", "y")
            assert any(math.dist((x, y), circle) < 1 for circle in circles)
            found.setdefault(int(text.text or ""), (x, y - 0.84))
    assert sorted(found) == [step.step for step in plan.steps]
    for number, (start, end) in spans(drawing).items():
        at = found[number]
        assert math.dist(start, at) + math.dist(at, end) == pytest.approx(math.dist(start, end), abs=0.01)
        assert math.dist(at, end) < math.dist(start, end) / 4


def test_dense_lacing_keeps_every_second_or_fourth_number() -> None:
    """Stations 1 and its opposite, and steps 1 and 2 that are laced there, are always among them."""
    plan = plan_of(TIGHT, stations_count=64, frame_diameter="22 in")
    drawing = read_drawing(draw_lacing(plan))
    small = [
        t.text for t in drawing.all("text") if re.fullmatch("[0-9]+", t.text or "") and t.attrib["font-size"] == "3"
    ]
    large = [
        t.text for t in drawing.all("text") if re.fullmatch("[0-9]+", t.text or "") and t.attrib["font-size"] == "3.4"
    ]
    assert {"1", "2"} <= set(small)
    assert {"1", "33"} <= set(large)
    assert 16 <= len(small) < 64


def test_a_lacing_in_another_order_is_drawn_by_its_steps() -> None:
    """The drawing knows no order of its own: steps round the rim, in by a and out by b, are drawn so."""
    plan = plan_of(stations_count=8)
    steps = tuple(
        replace(step, station=step.step, enter="a", leave="b", beneath=(), span_mm=None) for step in plan.steps
    )
    drawing = read_drawing(draw_lacing(replace(plan, steps=steps)))
    holes = drawing.holes()
    for number, ends in spans(drawing).items():
        assert ends == (holes[number - 1, "b"], holes[number, "a"])
    assert "behind the web, from a to b" in drawing.words
    assert_legible(drawing)


def test_two_line_widths_two_to_one_and_no_colour() -> None:
    """Readable in black and white (ISO 128-2: two line widths, 2:1)."""
    drawing = read_drawing(draw_lacing(plan_of()))
    black = [element for element in drawing.root.iter() if element.attrib.get("stroke") == "#000"]
    assert {element.attrib["stroke-width"] for element in black} == {"0.5", "0.25"}
    white = {element.attrib["stroke"] for element in drawing.root.iter() if "stroke" in element.attrib}
    assert white == {"#000", "#fff"}


def test_the_caption_names_drum_lacing_scale_and_digest() -> None:
    """So that a printed drawing can be matched to its spec."""
    plan = plan_of()
    assert read_drawing(draw_lacing(plan)).words[:3] == [
        "TEST",
        "Cross lacing, seen from behind (inner side)",
        f"Scale 1:2 · 16 stations, 15 spans, numbered anticlockwise · digest {plan.digest}",
    ]


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Drawn twice from plans worked out apart."""
    assert draw_lacing(plan_of()) == draw_lacing(plan_of())
