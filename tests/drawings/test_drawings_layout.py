"""layout.svg: every hole where the plan has it, to the stated scale, and texts that never overlap."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given

from drawn import HALF_A_DECIMAL, place, read_drawing
from drums import Fields, changed, drums, plan_of, some
from tauthide.drawings.canvas import overlapping
from tauthide.drawings.layout import draw_layout
from tauthide.plan.plan import Plan

COUNTS = range(4, 65, 2)

LEAST_TEXT_MM = 3.0

TIGHT: Fields = changed(stations_web="8 mm", stations_hole="6 mm", stations_margin="8 mm", lace_width="5 mm")
"""Small holes close together: as many stations on a drum as makers would dare."""

MAKES: dict[str, Fields] = {
    "13 inch": changed(),
    "inch, stepped": changed(bench_units="inch", stations_marking="step", stations_count=8),
    "half a millimetre": changed(stations_hole="9.5 mm", stations_web="18 mm"),
    "22 inch": changed(frame_diameter="22 in", head_hide="cow", stations_count=24, stations_mark_at="pair_centre"),
    "oval": {
        **changed(frame_outline="oval", frame_length="450 mm", frame_width="380 mm", stations_marking="fold"),
    },
    "narrow oval": changed(frame_outline="oval", frame_length="1 m", frame_width="350 mm", stations_count=32),
    "wide oval": changed(frame_outline="oval", frame_length="350 mm", frame_width="1 m", stations_count=32),
    **{
        f"{sides} sides": changed(frame_outline="polygon", frame_sides=sides, frame_across_flats="15 in")
        for sides in range(3, 13)
    },
}
"""Drums by what is special about them."""


def kept(fields: Fields) -> Fields:
    """Return the fields without the sizes of outlines that the drum does not have."""
    sizes = {"round": ("diameter",), "oval": ("length", "width"), "polygon": ("sides", "across_flats")}
    own = sizes[str(fields["frame.outline"])]
    others = {f"frame.{size}" for names in sizes.values() for size in names if size not in own}
    return {path: leaf for path, leaf in fields.items() if path not in others}


def assert_legible(data: bytes) -> None:
    """Hold a drawing against what any drawing must be: no text over another, none outside or too small."""
    drawing = read_drawing(data)
    assert overlapping(drawing.boxes()) == []
    assert drawing.outside() == []
    assert min(float(text.attrib["font-size"]) for text in drawing.all("text")) >= LEAST_TEXT_MM


def assert_holes(plan: Plan, data: bytes) -> None:
    """Hold the holes against the plan's, by the stated scale and the drawn frame."""
    drawing = read_drawing(data)
    scale = drawing.scale
    holes = drawing.holes()
    assert len(holes) == 2 * len(plan.stations)
    x0, y0 = drawing.lowest_of_frame()
    low_x, low_y = plan.outline.point(0.0, 0.0)
    for pair in plan.blank:
        for name, (x, y) in (("a", pair.a), ("b", pair.b)):
            at = holes[pair.station, name]
            assert at[0] - x0 == pytest.approx(scale * (x - low_x), abs=2.1 * HALF_A_DECIMAL)
            assert y0 - at[1] == pytest.approx(scale * (y - low_y), abs=2.1 * HALF_A_DECIMAL)
    radius = {float(circle.attrib["r"]) for circle in drawing.all("circle", "data-hole")}
    assert len(radius) == 1
    assert radius.pop() == pytest.approx(scale * plan.spec.number("stations.hole") / 2, abs=2 * HALF_A_DECIMAL)


@pytest.mark.parametrize("count", COUNTS)
def test_any_count_is_legible_and_has_the_plans_holes(count: int) -> None:
    """On the smallest sensible drum for so many stations, folded where halving gives them."""
    diameter = max(8, math.ceil(count * 0.34))
    method = "fold" if count & (count - 1) == 0 else "step"
    plan = plan_of(TIGHT, stations_count=count, frame_diameter=f"{diameter} in", stations_marking=method)
    data = draw_layout(plan)
    assert_legible(data)
    assert_holes(plan, data)


@pytest.mark.parametrize("count", [8, 16, 32, 64])
@pytest.mark.parametrize("marking", ["fold", "step", "tape"])
def test_any_way_of_marking_is_legible(count: int, marking: str) -> None:
    """On a large drum, numbered clockwise, pairs centred on their stations."""
    plan = plan_of(
        frame_diameter="40 in", stations_count=count, stations_marking=marking, stations_hand="clockwise",
        stations_mark_at="pair_centre", stations_web="12 mm", bench_units="inch",
    )  # fmt: skip
    assert_legible(draw_layout(plan))


@pytest.mark.parametrize("make", MAKES)
@pytest.mark.parametrize("hand", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("mark_at", ["first_hole", "pair_centre"])
def test_any_outline_is_legible_and_has_the_plans_holes(make: str, hand: str, mark_at: str) -> None:
    """Numbered either way, marked at the first hole or between both."""
    plan = plan_of(kept(MAKES[make]), stations_hand=hand, stations_mark_at=mark_at)
    data = draw_layout(plan)
    assert_legible(data)
    assert_holes(plan, data)


@some
@given(drums())
def test_any_drum_is_legible_and_has_the_plans_holes(fields: Fields) -> None:
    """Whatever no rule refuses."""
    plan = plan_of(fields)
    data = draw_layout(plan)
    assert_legible(data)
    assert_holes(plan, data)


@pytest.mark.parametrize("make", ["13 inch", "oval", "8 sides"])
def test_ticks_and_numbers_stand_at_the_stations(make: str) -> None:
    """A tick begins where the plan has the station on the blank's edge, its number next to it, outside."""
    plan = plan_of(kept(MAKES[make]))
    drawing = read_drawing(draw_layout(plan))
    x0, y0 = drawing.lowest_of_frame()
    _, low_y = plan.outline.point(0.0, 0.0)
    ticks = {int(tick.attrib["data-tick"]): place(tick, "x1", "y1") for tick in drawing.all("line", "data-tick")}
    assert len(ticks) == len(plan.stations)
    numbers = [text for text in drawing.all("text") if re.fullmatch("[0-9]+", text.text or "")]
    assert len(numbers) == len(plan.stations)
    written = {int(text.text or ""): place(text, "x", "y") for text in numbers}
    centre = (x0, y0 + drawing.scale * low_y)
    for mark in plan.stations:
        x, y = x0 + drawing.scale * mark.edge[0], centre[1] - drawing.scale * mark.edge[1]
        assert ticks[mark.station] == pytest.approx((x, y), abs=0.002)
        at = written[mark.station]
        # A number makes way for the lines that carry the blank's dimensions.
        assert math.dist(at, (x, y)) < 10
        assert math.dist((at[0], at[1] - 1), centre) > math.dist((x, y), centre)


def test_numbers_keep_clear_of_the_lines_that_carry_the_dimensions() -> None:
    """On the usual drum, an oval and an octagon no station's number stands on an extension line."""
    for make in ("13 inch", "oval", "8 sides"):
        plan = plan_of(kept(MAKES[make]))
        drawing = read_drawing(draw_layout(plan))
        lines = [(place(line, "x1", "y1"), place(line, "x2", "y2")) for line in drawing.all("line")]
        width = drawing.scale * (plan["head.blank_diameter" if plan.has("head.blank_diameter") else "head.blank_width"])
        x0, _ = drawing.lowest_of_frame()
        x0 -= drawing.scale * plan.outline.point(0.0, 0.0)[0]
        upright = [
            (min(y1, y2), max(y1, y2), x1)
            for (x1, y1), (x2, y2) in lines
            if x1 == x2 and abs(abs(x1 - x0) - width / 2) < 0.01 and abs(y1 - y2) > 20
        ]
        assert len(upright) == 2
        for box in drawing.boxes():
            if re.fullmatch("[0-9]+", box.text):
                xs, ys = zip(*box.corners, strict=True)
                for low, high, x in upright:
                    assert not (min(xs) < x < max(xs) and min(ys) < high and low < max(ys)), (make, box.text)


def test_creases_do_not_look_like_the_line_of_the_holes() -> None:
    """Not in the drawing, and not in its key."""
    drawing = read_drawing(draw_layout(plan_of()))
    creases = {line.attrib["stroke-dasharray"] for line in drawing.all("line", "data-fold")}
    (holes,) = [path for path in drawing.all("path", "data-curve") if path.attrib["data-curve"] == "holes"]
    assert len(creases) == 1
    assert holes.attrib["stroke-dasharray"] not in creases
    samples = [line.attrib["stroke-dasharray"] for line in drawing.all("line") if "stroke-dasharray" in line.attrib]
    assert samples[-2:] == [holes.attrib["stroke-dasharray"], creases.pop()]


def test_creases_run_from_the_stations_that_they_mark() -> None:
    """A fold marks what the plan says: F1 twice, F2 twice, F3 four times, F4 eight times."""
    plan = plan_of()
    assert plan.marking.method == "fold"
    drawing = read_drawing(draw_layout(plan))
    ticks = {place(tick, "x1", "y1"): int(tick.attrib["data-tick"]) for tick in drawing.all("line", "data-tick")}
    for fold in plan.marking.folds:
        creases = [c for c in drawing.all("line", "data-fold") if c.attrib["data-fold"] == str(fold.number)]
        assert sorted(ticks[place(crease, "x1", "y1")] for crease in creases) == list(fold.stations)
        assert drawing.words.count(f"F{fold.number}") == len(fold.stations)


@pytest.mark.parametrize(
    ("make", "texts"),
    [
        (
            "13 inch",
            ["Blank Ø 520 mm (20 1/2 in)", "Ø 330 mm (13 in)", "web 20 mm (13/16 in)", "12 mm (1/2 in)"],
        ),
        ("half a millimetre", ["Ø 9.5 mm (3/8 in)", "web 18 mm (11/16 in)", "pair spacing 27.5 mm (1 1/16 in)"]),
        ("inch, stepped", ["chord", "Ø 13 in (330 mm)", "pair spacing 1 3/16 in (30 mm)"]),
        ("oval", ["Frame 450 × 380 mm", "(17 11/16 × 14 15/16 in)"]),
        ("8 sides", ["Frame across flats", "381 mm (15 in)"]),
    ],
)
def test_sizes_stand_in_both_systems_the_makers_first(make: str, texts: list[str]) -> None:
    """What the bench needs is on the drawing, in the bench's units."""
    plan = plan_of(kept(MAKES[make]))
    words = read_drawing(draw_layout(plan)).words
    assert [text for text in texts if text not in words] == []


def test_the_dimension_of_the_blank_is_as_long_as_the_blank() -> None:
    """Its arrows lie as far apart as the stated scale makes the blank's diameter."""
    plan = plan_of()
    drawing = read_drawing(draw_layout(plan))
    longest = max(abs(float(line.attrib["x2"]) - float(line.attrib["x1"])) for line in drawing.all("line"))
    assert longest == pytest.approx(drawing.scale * plan["head.blank_diameter"], abs=0.002)


def test_the_caption_names_drum_digest_scale_and_hand() -> None:
    """So that a printed drawing can be matched to its spec."""
    plan = plan_of(stations_hand="clockwise")
    words = read_drawing(draw_layout(plan)).words
    assert words[:3] == [
        "TEST",
        "Blank, seen from the inner side",
        f"Scale 1:4 · 16 stations, 32 holes, numbered clockwise · digest {plan.digest}",
    ]


def test_a_long_name_stays_on_the_page() -> None:
    """A name may have 64 characters."""
    plan = plan_of()
    assert_legible(draw_layout(replace(plan, spec=replace(plan.spec, drum="W" * 64))))


def test_two_line_widths_two_to_one_and_no_colour() -> None:
    """Readable in black and white (ISO 128-2: two line widths, 2:1)."""
    drawing = read_drawing(draw_layout(plan_of()))
    black = [element for element in drawing.root.iter() if element.attrib.get("stroke") == "#000"]
    assert {element.attrib["stroke-width"] for element in black} == {"0.5", "0.25"}
    colours = {
        element.attrib[name] for element in drawing.root.iter() for name in ("stroke", "fill") if name in element.attrib
    }
    assert colours <= {"#000", "#fff", "none"}


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Drawn twice from plans worked out apart."""
    assert draw_layout(plan_of()) == draw_layout(plan_of())
