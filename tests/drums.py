"""Drums for tests: specs that a maker could write, and the plans that follow from them.

A spec is given as its leaves by dotted path, `{"frame.depth": "55 mm", ...}`, written out as YAML and
read back through the front door. The strategies draw drums that no rule refuses, by construction:
sizes are drawn first, then a frame large enough for them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st

from tauthide.figures import Workings
from tauthide.findings import has_errors
from tauthide.plan.plan import Plan, make_plan
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import hold_rules
from tauthide.spec.chain import check_source, read_source, stdin_chain
from tauthide.spec.resolving import resolve

Leaf = str | int
Fields = Mapping[str, Leaf]
"""A spec's leaves by dotted path, as a maker writes them."""

Point = tuple[float, float]

USUAL: Fields = {
    "frame.outline": "round",
    "frame.diameter": "13 in",
    "frame.depth": "55 mm",
    "head.hide": "goat",
    "stations.count": 16,
}
"""A drum of 13 inches, all else left to the defaults."""

OUTLINES = ("round", "oval", "polygon")

some = settings(max_examples=40, deadline=None)
"""For laws that take a millisecond or a few to check."""

few = settings(max_examples=20, deadline=None)
"""For laws that take longer."""


def changed(fields: Fields = USUAL, /, **changes: Leaf) -> Fields:
    """Return the fields with changes laid over: `frame_edge_radius="3 mm"` sets `frame.edge_radius`."""
    return {**fields, **{name.replace("_", ".", 1): leaf for name, leaf in changes.items()}}


def spec_text(fields: Fields, opening: str = "spec: 1\ndrum: TEST\n") -> str:
    """Return the YAML text of a spec, its parts after the opening lines."""
    lines = [opening.rstrip("\n")]
    for part in dict.fromkeys(path.partition(".")[0] for path in fields):
        lines.append(f"{part}:")
        own = [(path.partition(".")[2], leaf) for path, leaf in fields.items() if path.startswith(f"{part}.")]
        lines += [f"  {field}: {leaf}" for field, leaf in own]
    return "\n".join(lines) + "\n"


def workings_of(fields: Fields = USUAL, /, **changes: Leaf) -> Workings:
    """Return the workings of a spec; AssertionError if it is refused."""
    return read_workings(spec_text(changed(fields, **changes)))


def plan_of(fields: Fields = USUAL, /, **changes: Leaf) -> Plan:
    """Return the plan of a spec; AssertionError if it is refused."""
    return make_plan(workings_of(fields, **changes))


def shop_text(hides: Mapping[str, Mapping[str, str]]) -> str:
    """Return the YAML text of a shop file with these columns of hide profiles."""
    lines = ["shop: 1", "hides:"]
    for hide, row in hides.items():
        lines.append(f"  {hide}:")
        lines += [f"    {column}: {leaf}" for column, leaf in row.items()]
    return "\n".join(lines) + "\n"


def read_workings(text: str, shop: str = "") -> Workings:
    """Return the workings of a spec's text, held against all rules; AssertionError if it is refused.

    `shop` is the text of the shop file above it, if there is to be one.
    """
    chain = stdin_chain(text.encode())
    if shop:
        source = check_source(read_source(Path("shop.yaml"), "shop.yaml", shop.encode()))
        chain = replace(chain, shop=source, findings=(*chain.findings, *source.findings))
    spec, findings = resolve(chain)
    assert spec is not None, findings
    workings = start_workings(spec)
    refused = hold_rules(workings)
    assert not has_errors(refused), refused
    return workings


def read_plan(text: str, shop: str = "") -> Plan:
    """Return the plan of a spec's text, with a shop file's or without; AssertionError if it is refused."""
    return make_plan(read_workings(text, shop))


def mm(value: float) -> str:
    """Write a length as a maker may, to nine decimals."""
    return f"{value:.9f}".rstrip("0").rstrip(".") + " mm"


# What a draw may look like. Lengths are drawn in tenths of a millimetre: floats would be drawn mostly at
# the ends, and no maker writes them.

Draw = Callable[[st.SearchStrategy[int]], int]


def _tenths(draw: Draw, least: float, most: float) -> float:
    return draw(st.integers(math.ceil(least * 10 - 1e-9), math.floor(most * 10 + 1e-9))) / 10


SLACK = 1.1
"""Arcs are longer than chords: by less than a twentieth where a pair is no wider than the line's radius."""


def _frame_sizes(
    draw: Draw, outline: str, sides: int, least_share: int, needed_mm: float, inset_mm: float, pair_mm: float
) -> dict[str, Leaf]:
    """Draw the sizes of a frame whose mounted line has `needed_mm` of room, however it bends."""
    if outline == "oval":
        share, lying = draw(st.integers(least_share, 100)) / 100, draw(st.integers(0, 1))
        # Of an ellipse with a longer axis of 1: less than its perimeter (that of the circle of equal area),
        # and its least radius of curvature.
        around, bend = math.pi * math.sqrt(share), share**2 / 2
    elif outline == "polygon":
        share, lying = 1.0, 0
        around, bend = sides * math.tan(math.pi / sides), 0.5
        # A chord across a corner is shorter than the way round it, at worst by this.
        needed_mm, pair_mm = needed_mm / math.cos(math.pi / sides), pair_mm / math.cos(math.pi / sides)
    else:
        share, lying, around, bend = 1.0, 0, math.pi, 0.5
    least = max(SLACK * needed_mm / around + inset_mm / bend, (pair_mm + inset_mm + 1) / bend, 150.0 / share)
    size = min(2000.0, math.ceil(least * draw(st.integers(100, 250)) / 10) / 10)
    if outline == "oval":
        longer, shorter = mm(size), mm(size * share)
        return {"frame.length": shorter if lying else longer, "frame.width": longer if lying else shorter}
    if outline == "polygon":
        return {"frame.sides": sides, "frame.across_flats": mm(size)}
    return {"frame.diameter": mm(size)}


def _count(draw: Draw, sides: int, most: int) -> int:
    """Draw a station count, for polygons often one that their sides divide.

    No maker would put six stations on a triangle: spans would run along its sides, over the holes there.
    """
    if sides == 3:
        return draw(st.sampled_from([count for count in range(4, most + 1, 2) if count != 6]))
    counts = [count for count in range(4, most + 1, 2) if count % sides == 0]
    if counts and draw(st.integers(0, 1)):
        return draw(st.sampled_from(counts))
    return 2 * draw(st.integers(2, most // 2))


def _lace(draw: Draw, hole: float) -> dict[str, Leaf]:
    """Draw a lace that goes through its holes."""
    thickness = _tenths(draw, 0.5, 2.0)
    widest = min(0.4 * math.pi / 4 * hole**2 / thickness, 0.8 * math.pi * (hole - thickness), 12.0)
    return {
        "lace.thickness": mm(thickness),
        "lace.width": mm(_tenths(draw, min(2.0, widest), widest)),
        "lace.play": mm(_tenths(draw, 0, 30)),
        "lace.tail": mm(_tenths(draw, 0, 500)),
        "lace.allowance": f"{draw(st.integers(0, 25))} %",
        "lace.core": mm(_tenths(draw, 5, 60)),
        "handle.arms": draw(st.sampled_from((0, 2, 3, 4, 5, 6, 7, 8))),
    }


def _voice(draw: Draw, count: int) -> dict[str, Leaf]:
    """Draw what is wanted of the voice: nothing, a pitch, or a pull; and how it is put in."""
    fields: dict[str, Leaf] = {
        "voice.wet_share": f"{draw(st.integers(5, 100))} %",
        "voice.safety": f"{draw(st.integers(100, 400))} %",
    }
    wanted = draw(st.integers(0, 2))
    if wanted == 1:
        fields["voice.pitch"] = f"{draw(st.integers(40, 120))} Hz"
    elif wanted == 2:
        fields["voice.pull"] = f"{draw(st.integers(5, 60)) * 16 / count:.3f} N"
    return fields


@st.composite
def drums(
    draw: st.DrawFn,
    outlines: tuple[str, ...] = OUTLINES,
    most: int = 64,
    even_sides: bool = False,
    least_sides: int = 3,
    least_share: int = 65,
) -> Fields:
    """Draw a drum that no rule refuses, with at most so many stations; holes on the back or on the wall.

    `least_share` is the least width of an oval in percent of its length (or the other way round).
    """
    outline = draw(st.sampled_from(outlines))
    sides = draw(st.integers(2, 8)) * 2 if even_sides else draw(st.integers(least_sides, 16))
    count = _count(draw, sides if outline == "polygon" else 1, most)
    thickness, edge = _tenths(draw, 0.4, 4.0), _tenths(draw, 0, 5)
    wall, depth = _tenths(draw, max(edge, 4), 16), _tenths(draw, max(2 * edge, 25), 120)
    hole, web, margin = _tenths(draw, 4, 12), _tenths(draw, 4, 25), _tenths(draw, 5, 18)
    beside = margin + hole / 2
    # From as far out on the wall as holes and turnover may be, to well inside.
    on_wall = depth - 2 * edge + math.pi / 2 * (edge + thickness / 2) - hole / 2
    outermost = max(-on_wall, 5 - edge - beside) + 0.1
    inset = _tenths(draw, *((0, 40) if draw(st.integers(0, 2)) else (outermost, 0)))
    needed = count * (web + 2 * hole)
    fields: dict[str, Leaf] = {
        "frame.outline": outline,
        **_frame_sizes(draw, outline, sides, least_share, needed, edge + max(inset, 0), web + hole),
        "frame.depth": mm(depth),
        "frame.wall": mm(wall),
        "frame.edge_radius": mm(edge),
        "head.hide": draw(st.sampled_from(("goat", "sheep", "deer", "calf", "cow", "horse", "elk"))),
        "head.thickness": mm(thickness),
        "head.dry_thickness": mm(0.6 * thickness),
        "head.turnover": mm(edge + beside + inset),
        "stations.count": count,
        "stations.mark_at": draw(st.sampled_from(("first_hole", "pair_centre"))),
        "stations.hand": draw(st.sampled_from(("anticlockwise", "clockwise"))),
        "stations.hole": mm(hole),
    }
    method = draw(st.sampled_from(("", "fold", "step", "tape")))
    if method:
        fields["stations.marking"] = method
    # Each length may be given clear, or from centre to centre.
    clear_web, clear_margin = draw(st.booleans()), draw(st.booleans())
    fields["stations.web" if clear_web else "stations.pair_spacing"] = mm(web if clear_web else web + hole)
    margin_field = "stations.margin" if clear_margin else "stations.edge_distance"
    fields[margin_field] = mm(margin if clear_margin else beside)
    fields |= _lace(draw, hole)
    if outline == "round":
        fields |= _voice(draw, count)
    return fields


def sign_of(plan: Plan) -> int:
    """Return +1 for a drum that is numbered anticlockwise, -1 for one that is numbered clockwise."""
    return 1 if plan.spec.word("stations.hand") == "anticlockwise" else -1


def turn(point: Point, degrees: float) -> Point:
    """Turn a point about the middle, anticlockwise."""
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return point[0] * cosine - point[1] * sine, point[0] * sine + point[1] * cosine


def crosses(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Tell whether the straight lines p-q and r-s cross between their ends."""

    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return side(p, q, r) * side(p, q, s) < 0 and side(r, s, p) * side(r, s, q) < 0


def spans_of(plan: Plan) -> list[tuple[Point, Point]]:
    """Return the ends of the spans as drawn on the mounted holes: from step 2 on, leaving end first."""
    taken = [(plan.mounted[step.station - 1], step) for step in plan.steps]
    return [
        ((before.a if left.leave == "a" else before.b), (pair.a if step.enter == "a" else pair.b))
        for (before, left), (pair, step) in pairwise(taken)
    ]


def rim(plan: Plan, offset_mm: float) -> Callable[[float], Point]:
    """Return the frame's outline pushed out by `offset_mm`, from first principles.

    The function takes a place from 0 to 1, once round anticlockwise from the lowest point, and returns the
    point there; places are not evenly spaced.
    """
    given = plan.spec.number
    kind = plan.spec.word("frame.outline")
    if kind == "polygon":
        return _polygon_rim(plan.spec.count("frame.sides"), given("frame.across_flats") / 2, offset_mm)
    if kind == "round":
        half_x = half_y = given("frame.diameter") / 2
    else:
        half_x, half_y = given("frame.width") / 2, given("frame.length") / 2

    def point(place: float) -> Point:
        x, y = math.sin(math.tau * place), -math.cos(math.tau * place)
        # The ellipse's outward normal is the gradient of (x / half_x)^2 + (y / half_y)^2.
        size = math.hypot(x / half_x, y / half_y)
        return half_x * x + offset_mm * x / half_x / size, half_y * y + offset_mm * y / half_y / size

    return point


def _polygon_rim(sides: int, to_side: float, offset_mm: float) -> Callable[[float], Point]:
    half_side = (to_side + min(offset_mm, 0.0)) * math.tan(math.pi / sides)
    rounding = max(offset_mm, 0.0)

    def point(place: float) -> Point:
        number = math.floor(place * sides + 0.5)
        along = 4 * (place * sides - number)
        # The middle half of each sector's places is its side, the outer quarters half a corner each.
        angle = math.copysign(max(abs(along) - 1, 0.0) * math.pi / sides, along)
        x = max(-1.0, min(1.0, along)) * half_side + rounding * math.sin(angle)
        y = -(to_side + min(offset_mm, 0.0)) - rounding * math.cos(angle)
        return turn((x, y), 360 / sides * number)

    return point


def place_near(curve: Callable[[float], Point], point: Point, coarse: int = 512) -> float:
    """Return the place on a rim that lies nearest to a point."""

    def away(place: float) -> float:
        return math.dist(curve(place), point)

    best = min((number / coarse for number in range(coarse)), key=away)
    low, high = best - 1 / coarse, best + 1 / coarse
    for _ in range(70):
        third = (high - low) / 3
        if away(low + third) < away(high - third):
            high -= third
        else:
            low += third
    return (low + high) / 2


def length_between(curve: Callable[[float], Point], begin: float, end: float, pieces: int = 512) -> float:
    """Return the length of a rim between two places, as the sum of many short chords."""
    points = [curve(begin + (end - begin) * number / pieces) for number in range(pieces + 1)]
    return sum(math.dist(p, q) for p, q in pairwise(points))
