"""section.svg: the skin's path to scale, measured along the drawing, and legible for anything allowed."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, assume, given, settings

from drawn import Drawing, place, read_drawing
from drums import Fields, changed, plan_of
from far_drums import far_drums, try_plan
from tauthide.drawings.canvas import NARROW_MM, WIDE_MM, overlapping
from tauthide.drawings.pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM
from tauthide.drawings.profile import profile_of
from tauthide.drawings.section import draw_section
from tauthide.drawings.section_page import GAP_MM, THIN_MM
from tauthide.plan.plan import Plan

Point = tuple[float, float]

LEAST_TEXT_MM = 3.0

LENGTH_MM = 0.01
"""Lengths along a path whose points are written to 0.001 mm, on the page."""

TOLERANCE = 1e-6

MAKES: dict[str, Fields] = {
    "13 inch": changed(),
    "20 inch cow": changed(frame_diameter="20 in", frame_depth="75 mm", head_hide="cow"),
    "8 inch, inch units": changed(frame_diameter="8 in", frame_depth="45 mm", stations_count=8, bench_units="inch"),
    "holes on the wall": changed(head_turnover="15 mm"),
    "skin ends on the curve": changed(
        frame_depth="100 mm", frame_wall="30 mm", frame_edge_radius="20 mm", head_turnover="10 mm"
    ),
    "thin wall": changed(frame_wall="2 mm", head_turnover="60 mm"),
    "deepest": changed(frame_depth="400 mm", frame_diameter="20 in"),
    "shallow, widest turnover": changed(
        frame_depth="15 mm", frame_edge_radius="0 mm", frame_diameter="30 in", head_turnover="200 mm"
    ),
    "thickest": changed(frame_depth="100 mm", frame_edge_radius="8 mm", head_thickness="8 mm"),
    "thinnest": changed(head_thickness="0.2 mm", head_dry_thickness="0.2 mm"),
}
EACH = pytest.mark.parametrize("plan", [plan_of(fields) for fields in MAKES.values()], ids=list(MAKES))

STEP = re.compile(r"([MLA])([^MLA]*)")


def walk(data: str) -> list[tuple[str, Point, float]]:
    """Read path data: for every point the command that leads there, and the arc's radius or 0."""
    steps = []
    for command, numbers in STEP.findall(data):
        values = [float(part) for part in numbers.split()]
        steps.append((command, (values[-2], values[-1]), values[0] if command == "A" else 0.0))
    return steps


def drawn_length(data: str) -> float:
    """Return the length along path data of lines and arcs below half a turn."""
    steps = walk(data)
    total = 0.0
    for (_, start, _), (command, end, radius) in pairwise(steps):
        chord = math.dist(start, end)
        total += 2 * radius * math.asin(min(1.0, chord / 2 / radius)) if command == "A" and chord else chord
    return total


def skin(drawing: Drawing) -> list[ET.Element]:
    """Return the pieces of the skin in order, from the head to its edge."""
    return [path for path in drawing.all("path", "data-part") if path.attrib["data-part"] == "skin"]


def ends(path: ET.Element) -> tuple[Point, Point]:
    """Return where a path begins and ends."""
    steps = walk(path.attrib["d"])
    return steps[0][1], steps[-1][1]


def is_broken(drawing: Drawing) -> bool:
    """Tell whether the caption says that a piece of the wall is left out."""
    return any("part of the wall left out" in words for words in drawing.words)


def left_out_mm(plan: Plan, drawing: Drawing) -> float:
    """Return how much of the wall is left out, by how far apart the drawing has its two planes."""
    if not is_broken(drawing):
        return 0.0
    (frame,) = [path for path in drawing.all("path", "data-part") if path.attrib["data-part"] == "frame"]
    heights = [point[1] for _, point, _ in walk(frame.attrib["d"])]
    drawn = (max(heights) - min(heights)) / drawing.scale
    return plan.spec.number("frame.depth") - drawn + GAP_MM / drawing.scale


def assert_skin(plan: Plan, drawing: Drawing) -> None:
    """Hold the lengths along the drawn skin against the plan's figures, page millimetres by the stated scale."""
    scale, spec = drawing.scale, plan.spec.number
    pieces = skin(drawing)
    assert len(pieces) == (3 if is_broken(drawing) else 2)
    tolerance = LENGTH_MM / scale
    margin = drawn_length(pieces[-1].attrib["d"]) / scale
    assert margin == pytest.approx(plan["holes.margin"], abs=tolerance)
    hole = math.dist(ends(pieces[-2])[1], ends(pieces[-1])[0]) / scale
    assert hole <= spec("stations.hole") + tolerance
    # All of the skin from the bearing edge's flat side on: the head's drawn part is left away.
    start = ends(pieces[0])[0]
    edge, thickness = spec("frame.edge_radius"), spec("head.thickness")
    assert start[1] == pytest.approx(bearing_plane(drawing) + thickness / 2 * scale, abs=0.0015)
    flat = (start[0] - (outside(drawing) + edge * scale)) / scale
    path = sum(drawn_length(piece.attrib["d"]) for piece in pieces) / scale + left_out_mm(plan, drawing)
    path += spec("stations.hole") - flat
    # From the flat head to the end of the skin: reach from the outline, but measured from edge_radius inside.
    assert path == pytest.approx(plan["skin.reach"] + edge, abs=3 * tolerance)
    if plan.has("skin.path_to_back"):
        to_back = path + spec("frame.diameter") / 2 - edge - (spec("head.turnover") - edge)
        assert to_back == pytest.approx(plan["skin.path_to_back"], abs=3 * tolerance)
    for piece in pieces:
        assert float(piece.attrib["stroke-width"]) == pytest.approx(max(thickness * scale, THIN_MM), abs=0.0006)


def frame_points(drawing: Drawing) -> list[Point]:
    """Return the corners of the frame's section."""
    (frame,) = [path for path in drawing.all("path", "data-part") if path.attrib["data-part"] == "frame"]
    return [point for _, point, _ in walk(frame.attrib["d"].rstrip("Z"))]


def bearing_plane(drawing: Drawing) -> float:
    """Return the page's y of the bearing edge: the frame lies head down."""
    return max(y for _, y in frame_points(drawing))


def outside(drawing: Drawing) -> float:
    """Return the page's x of the outside of the wall."""
    return min(x for x, _ in frame_points(drawing))


def assert_frame(plan: Plan, drawing: Drawing) -> None:
    """Hold the drawn wood against the spec."""
    scale, spec = drawing.scale, plan.spec.number
    points = frame_points(drawing)
    wall = max(x for x, _ in points) - outside(drawing)
    assert wall == pytest.approx(scale * spec("frame.wall"), abs=0.0011)
    if not is_broken(drawing):
        depth = bearing_plane(drawing) - min(y for _, y in points)
        assert depth == pytest.approx(scale * spec("frame.depth"), abs=0.0011)


def assert_hole(plan: Plan, drawing: Drawing) -> None:
    """Hold the hole's place from the outside of the wall against the plan's where it lies on the back."""
    before, after = ends(skin(drawing)[-2])[1], ends(skin(drawing)[-1])[0]
    middle = ((before[0] + after[0]) / 2 - outside(drawing)) / drawing.scale
    if plan["holes.inset"] - plan.spec.number("stations.hole") / 2 >= 0:
        assert middle == pytest.approx(plan["holes.mounted_inset"], abs=0.001 / drawing.scale)
        end = ends(skin(drawing)[-1])[1]
        turnover = (end[0] - outside(drawing)) / drawing.scale
        assert turnover == pytest.approx(plan.spec.number("head.turnover"), abs=0.0011 / drawing.scale)


def assert_legible(drawing: Drawing) -> None:
    """No text over another, none too small, nothing beyond the page, two widths of line save the skin's own."""
    assert overlapping(drawing.boxes()) == []
    assert drawing.outside() == []
    assert min(float(text.attrib["font-size"]) for text in drawing.all("text")) >= LEAST_TEXT_MM
    width, height = drawing.size
    assert width <= PAGE_WIDTH_MM
    assert height <= PAGE_HEIGHT_MM
    points = [
        place(line, f"x{end}", f"y{end}") for line in drawing.all("line") for end in (1, 2)
    ]  # fmt: skip
    for line in drawing.all("polyline"):
        points += [(float(x), float(y)) for x, y in (pair.split(",") for pair in line.attrib["points"].split())]
    for path in drawing.all("path", "data-part"):
        points += [point for _, point, _ in walk(path.attrib["d"].rstrip("Z"))]
    assert [point for point in points if not (0 <= point[0] <= width and 0 <= point[1] <= height)] == []
    widths = {float(line.attrib["stroke-width"]) for tag in ("line", "polyline") for line in drawing.all(tag)}
    assert widths == {WIDE_MM, NARROW_MM} or widths == {NARROW_MM}


@EACH
def test_measures(plan: Plan) -> None:
    """Skin, wood and hole are drawn to the stated scale."""
    drawing = read_drawing(draw_section(plan))
    assert_skin(plan, drawing)
    assert_frame(plan, drawing)
    assert_hole(plan, drawing)
    assert_legible(drawing)


def test_says_its_sizes() -> None:
    """Every dimension that a maker sets or measures stands beside its line, in both systems."""
    words = read_drawing(draw_section(plan_of())).words
    for text in (
        "depth 55 mm (2 3/16 in)", "wall 8 mm (5/16 in)", "edge radius 2 mm (1/16 in)",
        "turnover 40 mm (1 9/16 in)", "margin 12 mm (1/2 in)", "edge distance 17 mm (11/16 in)",
        "hole, mounted 23 mm (7/8 in)", "hole, drawn tight 28 mm (1 1/8 in)", "half the frame 165 mm (6 1/2 in)",
        "bearing edge", "back edge", "playing side", "inner side", "head", "lace, to the hub",
    ):  # fmt: skip
        assert text in words
    assert any("head down and back up" in line for line in words)
    assert "depth 2 3/16 in (55 mm)" in read_drawing(draw_section(plan_of(bench_units="inch"))).words


def test_lines_that_nearly_coincide_are_taken_apart() -> None:
    """Drawn tight, the hole's middle comes to lie where the margin begins: 0.05 mm apart with a stretch of 3 %."""
    plan = plan_of()
    near = plan.spec.number("head.turnover") - plan["holes.margin"]
    assert 0 < abs(plan["holes.tight_inset"] - near) < 0.1
    drawing = read_drawing(draw_section(plan))
    x = outside(drawing) + drawing.scale * near
    upright = sorted(
        sorted((float(line.attrib["y1"]), float(line.attrib["y2"])))
        for line in drawing.all("line")
        if line.attrib["x1"] == line.attrib["x2"] and abs(float(line.attrib["x1"]) - x) < 0.5
    )
    (_, upper_end), (lower_begin, _) = upright
    assert lower_begin - upper_end > 1.0


def test_holes_on_the_wall_are_measured_along_the_skin() -> None:
    """No place from the outside of the wall is shown for them: they do not lie on the back."""
    plan = plan_of(head_turnover="15 mm")
    assert plan["holes.inset"] < 0
    words = read_drawing(draw_section(plan)).words
    assert "hole to back edge 4 mm (3/16 in)" in words
    assert "margin 12 mm (1/2 in)" in words
    assert not any(line.startswith("hole, ") for line in words)


def test_an_oval_has_two_halves() -> None:
    """Half its length and half its width, not their mean."""
    fields: Fields = {
        "frame.outline": "oval", "frame.length": "450 mm", "frame.width": "350 mm", "frame.depth": "55 mm",
        "head.hide": "goat", "stations.count": 16,
    }  # fmt: skip
    words = read_drawing(draw_section(plan_of(fields))).words
    assert "half the length 225 mm (8 7/8 in)" in words
    assert "half the width 175 mm (6 7/8 in)" in words


def test_thin_skin_is_drawn_thicker_and_says_so() -> None:
    """To scale it could not be seen."""
    thin = read_drawing(draw_section(plan_of(head_thickness="0.2 mm", head_dry_thickness="0.2 mm")))
    assert any("skin drawn thicker" in words for words in thin.words)
    usual = read_drawing(draw_section(plan_of()))
    assert not any("skin drawn thicker" in words for words in usual.words)


def test_same_plan_same_bytes() -> None:
    """Drawing twice gives the same file."""
    assert draw_section(plan_of()) == draw_section(plan_of())


@given(far_drums())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_any_allowed_drum_is_to_scale_and_legible(fields: Fields) -> None:
    """At the far ends of every range, with the longest name."""
    plan = try_plan(fields)
    assume(plan is not None)
    assert plan is not None
    drawing = read_drawing(draw_section(plan))
    assert_skin(plan, drawing)
    assert_frame(plan, drawing)
    assert_hole(plan, drawing)
    assert_legible(drawing)


@given(far_drums())
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_path_is_unbroken(fields: Fields) -> None:
    """Walking along the skin in small steps, the point moves by as much: no jump between line and curve."""
    plan = try_plan(fields)
    assume(plan is not None)
    assert plan is not None
    profile = profile_of(plan)
    begin = profile.bounds[0] - 5.0
    steps = 2000
    step = (profile.end + 5.0 - begin) / steps
    points = [profile.at(begin + number * step) for number in range(steps + 1)]
    for start, end in pairwise(points):
        assert math.dist(start, end) <= step * (1 + TOLERANCE) + TOLERANCE
    assert sum(math.dist(p, q) for p, q in pairwise(points)) == pytest.approx(steps * step, rel=1e-3)
