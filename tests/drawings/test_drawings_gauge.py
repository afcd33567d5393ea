"""gauge.svg: true size, measured in the drawing itself, and legible for anything that a spec may say."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import HealthCheck, assume, given, settings

from drawn import Drawing, place, read_drawing
from drums import Fields, changed, plan_of
from far_drums import far_drums, try_plan
from tauthide.drawings.canvas import NARROW_MM, WIDE_MM, overlapping
from tauthide.drawings.gauge import draw_gauge
from tauthide.plan.plan import Plan

Point = tuple[float, float]

PRINTABLE_MM = (189.9, 259.4)
"""What A4 and Letter both hold inside margins of 10 mm; see the checks from outside."""

LEAST_TEXT_MM = 3.0

ON_THE_EDGE_MM = 0.004
"""An arc drawn through ends that are written to 0.001 mm lies so near to where it should."""

MAKES: dict[str, Fields] = {
    "13 inch": changed(),
    "20 inch": changed(frame_diameter="20 in", frame_depth="75 mm", head_hide="cow"),
    "8 inch, 8 stations": changed(frame_diameter="8 in", frame_depth="45 mm", stations_count=8),
    "clockwise": changed(stations_hand="clockwise", bench_units="inch"),
    "pair centre": changed(stations_mark_at="pair_centre"),
    "8 stations": changed(stations_count=8),
    "8 stations, clockwise, pair centre": changed(
        stations_count=8, stations_hand="clockwise", stations_mark_at="pair_centre"
    ),
    "4 stations": changed(stations_count=4),
    "holes on the wall": changed(head_turnover="15 mm"),
    "largest holes": changed(
        frame_diameter="600 mm", head_turnover="150 mm", stations_count=6, stations_hole="40 mm",
        stations_web="100 mm", stations_edge_distance="120 mm",
    ),
}  # fmt: skip
ROUND = pytest.mark.parametrize("plan", [plan_of(fields) for fields in MAKES.values()], ids=list(MAKES))


def arc_middle(path: ET.Element) -> tuple[Point, float]:
    """Return the middle and radius of a drawn arc that bulges downward on the page."""
    match = re.fullmatch(r"M(\S+) (\S+)A(\S+) \S+ 0 0 0 (\S+) (\S+)", path.attrib["d"])
    assert match
    x1, y1, radius, x2, y2 = (float(part) for part in match.groups())
    half = math.dist((x1, y1), (x2, y2)) / 2
    rise = math.sqrt(radius**2 - half**2)
    # The middle lies above the chord, the page's y pointing down.
    return ((x1 + x2) / 2 + rise * (y2 - y1) / 2 / half, (y1 + y2) / 2 - rise * (x2 - x1) / 2 / half), radius


def part(drawing: Drawing, name: str) -> ET.Element:
    """Return the one path of this part."""
    (path,) = [path for path in drawing.all("path", "data-part") if path.attrib["data-part"] == name]
    return path


def mark(drawing: Drawing, name: str) -> tuple[Point, Point] | None:
    """Return a mark's line from the skin's edge inward; none where it is not drawn."""
    for line in drawing.all("line", "data-mark"):
        if line.attrib["data-mark"] == name:
            return place(line, "x1", "y1"), place(line, "x2", "y2")
    return None


def hole(drawing: Drawing, name: str) -> tuple[Point, float]:
    """Return a hole's middle and radius."""
    (circle,) = [item for item in drawing.all("circle", "data-hole") if item.attrib["data-hole"] == name]
    return place(circle, "cx", "cy"), float(circle.attrib["r"])


def straight_edge(drawing: Drawing) -> float:
    """Return the page's y of an edge that is drawn straight."""
    match = re.fullmatch(r"M\S+ (\S+)L\S+ (\S+)", part(drawing, "skin-edge").attrib["d"])
    assert match
    assert match[1] == match[2]
    return float(match[1])


def assert_true_size(plan: Plan, drawing: Drawing) -> None:
    """Measure page, bars, holes and edge in the drawing."""
    width, height = drawing.size
    assert drawing.root.attrib["width"] == f"{width:g}mm"
    assert drawing.root.attrib["height"] == f"{height:g}mm"
    assert width <= PRINTABLE_MM[0]
    assert height <= PRINTABLE_MM[1]
    bars = {line.attrib["data-bar"]: line for line in drawing.all("line", "data-bar")}
    for name, (along, across) in {"level": ("x", "y"), "upright": ("y", "x")}.items():
        bar = bars[name].attrib
        assert float(bar[f"{along}2"]) - float(bar[f"{along}1"]) == pytest.approx(100.0, abs=1e-9)
        assert bar[f"{across}1"] == bar[f"{across}2"]
    (a, radius), (b, other) = hole(drawing, "a"), hole(drawing, "b")
    assert math.dist(a, b) == pytest.approx(plan["holes.pair_spacing"], abs=0.001 + 1e-9)
    assert radius == other == pytest.approx(plan.spec.number("stations.hole") / 2, abs=0.0005 + 1e-9)
    for centre in (a, b):
        if plan.has("head.blank_radius"):
            middle, blank_radius = arc_middle(part(drawing, "skin-edge"))
            assert blank_radius == pytest.approx(plan["head.blank_radius"], abs=0.0005 + 1e-9)
            to_edge = blank_radius - math.dist(middle, centre)
        else:
            to_edge = straight_edge(drawing) - centre[1]
        assert to_edge == pytest.approx(plan["holes.edge_distance"], abs=ON_THE_EDGE_MM)


def assert_marks(plan: Plan, drawing: Drawing) -> None:
    """Measure station and tick along the drawn edge of a round blank."""
    middle, radius = arc_middle(part(drawing, "skin-edge"))
    (a, _), (b, _) = hole(drawing, "a"), hole(drawing, "b")
    station = mark(drawing, "station")
    assert station is not None
    at = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if plan.spec.word("stations.mark_at") == "first_hole":
        at = a
    # Station, hole or pair's middle, and the middle of the skin lie on one line.
    ray = math.atan2(at[1] - middle[1], at[0] - middle[0])
    foot = math.atan2(station[0][1] - middle[1], station[0][0] - middle[0])
    assert (foot - ray) * radius == pytest.approx(0.0, abs=3 * ON_THE_EDGE_MM)
    for name, share in (("next", 1.0), ("half", 0.5)):
        tick = mark(drawing, name)
        if tick is None:
            continue
        for end in (station[0], tick[0]):
            assert math.dist(middle, end) == pytest.approx(radius, abs=ON_THE_EDGE_MM)
        chord = 2 * plan["head.blank_radius"] * math.sin(share * math.pi / plan.spec.count("stations.count"))
        assert math.dist(station[0], tick[0]) == pytest.approx(chord, abs=0.002)
        if share == 1.0:
            assert chord == pytest.approx(plan["stations.chord"], rel=1e-12)
        # The tick lies in the direction in which the pair runs from a to b.
        assert (tick[0][0] - station[0][0]) * (b[0] - a[0]) > 0


def nearest(corners: tuple[Point, ...], point: Point) -> float:
    """Return how near the outline of a text's room comes to a point."""
    least = math.inf
    for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / math.dist((x1, y1), (x2, y2)) ** 2
        share = min(1.0, max(0.0, along))
        least = min(least, math.dist((x1 + share * (x2 - x1), y1 + share * (y2 - y1)), point))
    return least


def assert_legible(drawing: Drawing) -> None:
    """No text over another, none too small, nothing beyond the page, two widths of line."""
    assert overlapping(drawing.boxes()) == []
    assert drawing.outside() == []
    assert min(float(text.attrib["font-size"]) for text in drawing.all("text")) >= LEAST_TEXT_MM
    for name in "ab":
        centre, radius = hole(drawing, name)
        crossed = [box.text for box in drawing.boxes() if nearest(box.corners, centre) < radius]
        assert crossed == []
    width, height = drawing.size
    for line in drawing.all("line"):
        for x, y in (place(line, "x1", "y1"), place(line, "x2", "y2")):
            assert 0 <= x <= width
            assert 0 <= y <= height
    for circle in drawing.all("circle"):
        (x, y), r = place(circle, "cx", "cy"), float(circle.attrib["r"])
        assert r < x < width - r
        assert r < y < height - r
    widths = {
        float(element.attrib["stroke-width"])
        for tag in ("line", "path", "polyline", "circle")
        for element in drawing.all(tag)
    }
    assert widths == {WIDE_MM, NARROW_MM}
    assert WIDE_MM == 2 * NARROW_MM


@ROUND
def test_measures(plan: Plan) -> None:
    """What is drawn is what the plan says, to the decimals of the file."""
    drawing = read_drawing(draw_gauge(plan))
    assert_true_size(plan, drawing)
    assert_marks(plan, drawing)
    assert_legible(drawing)


@pytest.mark.parametrize(
    ("fields", "come"),
    [
        ({"frame.outline": "oval", "frame.length": "18 in", "frame.width": "14 in"}, "carried out from the frame"),
        ({"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in"}, "marked by the folds"),
        (
            {
                "frame.outline": "polygon",
                "frame.sides": 8,
                "frame.across_flats": "14 in",
                "stations.marking": "tape",
            },
            "carried out from the frame",
        ),
    ],
    ids=["oval", "octagon", "octagon, by tape"],
)
def test_off_round_the_edge_is_straight_and_carries_no_tick(fields: Fields, come: str) -> None:
    """A note says where stations come from instead: by the way that they are marked."""
    whole = {**fields, "frame.depth": "55 mm", "head.hide": "goat", "stations.count": 16}
    plan = plan_of(whole)
    drawing = read_drawing(draw_gauge(plan))
    assert_true_size(plan, drawing)
    assert_legible(drawing)
    assert mark(drawing, "next") is None
    assert mark(drawing, "half") is None
    assert f"no tick: stations are {come}" in drawing.words


@pytest.mark.parametrize(("count", "expected"), [(16, "next"), (12, "next"), (8, "half"), (4, "none")], ids=str)
def test_tick_by_what_the_page_holds(count: int, expected: str) -> None:
    """The next station where it fits, half way where that does, else a note; 15 inches across."""
    plan = plan_of(frame_diameter="15 in", stations_count=count)
    drawing = read_drawing(draw_gauge(plan))
    drawn = [name for name in ("next", "half") if mark(drawing, name) is not None]
    assert drawn == ([] if expected == "none" else [expected])
    assert any("half way to it" in words for words in drawing.words) == (expected == "half")
    assert any("too far for this page" in words for words in drawing.words) == (expected == "none")


@pytest.mark.parametrize("hand", ["anticlockwise", "clockwise"])
def test_pair_runs_as_on_the_layout(hand: str) -> None:
    """Station 1 is at the bottom of the layout: there a to b runs as on the gauge, from the inner side."""
    plan = plan_of(stations_hand=hand)
    drawing = read_drawing(draw_gauge(plan))
    (a, _), (b, _) = hole(drawing, "a"), hole(drawing, "b")
    assert (b[0] - a[0] > 0) == (plan.blank[0].b[0] - plan.blank[0].a[0] > 0)


def test_says_how_to_print_and_what_it_is_for() -> None:
    """Name, digest, the two bars' words and the warning about paper edges stand on the page."""
    plan = plan_of()
    words = read_drawing(draw_gauge(plan)).words
    assert words.count("100 mm: measure before use") == 2
    assert words.count(plan.spec.drum) == 2
    assert f"digest {plan.digest}" in words
    assert any(line.startswith("Print at 100 %") and "paper's edge" in line for line in words)
    assert "web 20 mm (13/16 in)" in words
    halves = read_drawing(draw_gauge(plan_of(stations_hole="9.5 mm", stations_web="18 mm"))).words
    assert {"hole 9.5 mm (3/8 in)", "pair spacing 27.5 mm (1 1/16 in)"} <= set(halves)
    assert "web 13/16 in (20 mm)" in read_drawing(draw_gauge(plan_of(bench_units="inch"))).words


def test_mirrored_hands_mirror_the_marks() -> None:
    """A clockwise gauge is the mirror image of the anticlockwise one."""
    one = read_drawing(draw_gauge(plan_of()))
    other = read_drawing(draw_gauge(plan_of(stations_hand="clockwise")))
    (a, _), (b, _) = hole(one, "a"), hole(one, "b")
    (c, _), (d, _) = hole(other, "a"), hole(other, "b")
    first, second = mark(one, "next"), mark(other, "next")
    assert first is not None
    assert second is not None
    assert first[0][0] - a[0] == pytest.approx(c[0] - second[0][0], abs=0.002)
    assert b[0] - a[0] == pytest.approx(c[0] - d[0], abs=0.002)
    assert a[1] == pytest.approx(c[1], abs=0.001)


def test_same_plan_same_bytes() -> None:
    """Drawing twice gives the same file."""
    assert draw_gauge(plan_of()) == draw_gauge(plan_of())


@given(far_drums())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_any_allowed_drum_is_true_and_legible(fields: Fields) -> None:
    """At the far ends of every range, with the longest name."""
    plan = try_plan(fields)
    assume(plan is not None)
    assert plan is not None
    drawing = read_drawing(draw_gauge(plan))
    assert_true_size(plan, drawing)
    assert_legible(drawing)
    if plan.has("head.blank_radius"):
        assert_marks(plan, drawing)
