"""The holes: on the flat blank, and where they lie when the skin is on the frame."""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, degrees, hypot, pi, sin

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.geometry.blank import (
    BEND_ALLOWANCE,
    PARALLEL_CURVE,
    ends_on_wall,
    is_round,
    is_round_and_turned_in,
    is_turned_in,
    outline_of,
)
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

Point = tuple[float, float]
"""x to the right and y upward in mm, from the middle of the head, seen from the inner side."""

NOISE_MM = 1e-9
"""What may be left of lengths that cancel: holes right at the end of the back edge's curve lie on the back."""


@dataclass(frozen=True, slots=True)
class Pair:
    """The two holes of a station, `a` then `b` in the direction in which stations are numbered."""

    station: int
    a: Point
    b: Point


@dataclass(frozen=True, slots=True)
class StationMark:
    """Where a station lies: on the frame's outline and carried to the blank's edge."""

    station: int
    angle_deg: float
    """Direction of its point on the frame from the centre, anticlockwise from the right."""
    frame: Point
    edge: Point


@FIGURES.figure("holes.web", "mm", "nominal", "Web: clear skin between the holes of a pair",
                "web, as given; or pair_spacing - hole", OWN_DEFINITION)  # fmt: skip
def web(w: Workings) -> float:
    """Return the clear web."""
    if w.has("stations.pair_spacing"):
        return w.given("stations.pair_spacing") - w.given("stations.hole")
    return w.given("stations.web")


@FIGURES.figure("holes.pair_spacing", "mm", "nominal", "Pair spacing: hole centre to hole centre",
                "pair_spacing, as given; or web + hole", OWN_DEFINITION)  # fmt: skip
def pair_spacing(w: Workings) -> float:
    """Return the straight distance between the centres of a pair."""
    if w.has("stations.pair_spacing"):
        return w.given("stations.pair_spacing")
    return w.given("stations.web") + w.given("stations.hole")


@FIGURES.figure("holes.margin", "mm", "nominal", "Margin: clear skin between a hole and the skin's edge",
                "margin, as given; or edge_distance - hole / 2", OWN_DEFINITION)  # fmt: skip
def margin(w: Workings) -> float:
    """Return the clear margin."""
    if w.has("stations.edge_distance"):
        return w.given("stations.edge_distance") - w.given("stations.hole") / 2
    return w.given("stations.margin")


@FIGURES.figure("holes.edge_distance", "mm", "nominal", "Edge distance: hole centre to the skin's edge",
                "edge_distance, as given; or margin + hole / 2", OWN_DEFINITION)  # fmt: skip
def edge_distance(w: Workings) -> float:
    """Return the distance from a hole's centre to the skin's edge."""
    if w.has("stations.edge_distance"):
        return w.given("stations.edge_distance")
    return w.given("stations.margin") + w.given("stations.hole") / 2


@FIGURES.figure("holes.count", "1", "count", "Holes in the head", "2 count", OWN_DEFINITION)
def hole_count(w: Workings) -> float:
    """Return the number of holes in the head."""
    return 2 * w.count("stations.count")


@FIGURES.figure("punchings.count", "1", "count", "Punchings to pick up: the heads' holes and the lace tabs'",
                "head.count holes.count + 1 for each lace", WORKSHOP)  # fmt: skip
def punching_count(w: Workings) -> float:
    """Return the number of discs that the punch cuts out: of every head's holes, and one of each lace's tab."""
    tabs = w.count("lace.laces") if w.has("lace.laces") else 1
    return w["head.count"] * w["holes.count"] + tabs


@FIGURES.figure("stations.rim_spacing", "mm", "length", "From station to station along the frame",
                "frame.perimeter / count")  # fmt: skip
def rim_spacing(w: Workings) -> float:
    """Return the length of rim that each station has on the frame."""
    return w["frame.perimeter"] / w.count("stations.count")


@FIGURES.figure("stations.chord", "mm", "fine_length", "From station to station straight across the blank's edge",
                "2 head.blank_radius sin(pi / count)", PLANE_GEOMETRY, is_round)  # fmt: skip
def station_chord(w: Workings) -> float:
    """Return the chord to step off on a round blank's edge."""
    return 2 * w["head.blank_radius"] * sin(pi / w.count("stations.count"))


@FIGURES.figure("stations.arc", "mm", "length", "From station to station along the blank's edge",
                "2 pi head.blank_radius / count", PLANE_GEOMETRY, is_round)  # fmt: skip
def station_arc(w: Workings) -> float:
    """Return the arc between stations on a round blank's edge."""
    return 2 * pi * w["head.blank_radius"] / w.count("stations.count")


@FIGURES.figure("holes.line_reach", "mm", "length", "From the frame's outline out to the line of the holes",
                "skin.reach - holes.edge_distance")  # fmt: skip
def line_reach(w: Workings) -> float:
    """Return how far the line of the holes lies outside the outline of a frame laid on the blank."""
    return w["skin.reach"] - w["holes.edge_distance"]


@FIGURES.figure("holes.circle_radius", "mm", "length", "Radius of the circle of holes on the blank",
                "head.blank_radius - holes.edge_distance", OWN_DEFINITION, is_round)  # fmt: skip
def circle_radius(w: Workings) -> float:
    """Return the radius of the circle of hole centres on a round blank."""
    return w["head.blank_radius"] - w["holes.edge_distance"]


@FIGURES.figure("holes.pair_angle", "deg", "angle", "Angle between the holes of a pair, from the middle",
                "2 asin(holes.pair_spacing / (2 holes.circle_radius))", PLANE_GEOMETRY, is_round)  # fmt: skip
def pair_angle(w: Workings) -> float:
    """Return the angle that a pair takes up on a round blank."""
    return degrees(2 * asin(w["holes.pair_spacing"] / (2 * w["holes.circle_radius"])))


@FIGURES.figure("holes.inset", "mm", "length",
                "Holes lie this far inside the back edge's curve (negative: out on the wall)",
                "turnover - edge_radius - holes.edge_distance", BEND_ALLOWANCE, is_turned_in)  # fmt: skip
def inset(w: Workings) -> float:
    """Return how far along the skin the hole line lies beyond the end of the back edge's curve."""
    return w.given("head.turnover") - w.given("frame.edge_radius") - w["holes.edge_distance"]


@FIGURES.figure("holes.end_run", "mm", "length", "From a hole on the wall to where the lace leaves the back edge",
                "max(-holes.inset, 0)", OWN_DEFINITION, is_turned_in)  # fmt: skip
def end_run(w: Workings) -> float:
    """Return the extra lace at each end of a span when the holes lie on the wall."""
    return max(-w["holes.inset"], 0.0)


@FIGURES.figure("holes.mounted_inset", "mm", "length", "From the outside of the wall in to the mounted holes",
                "edge_radius + max(holes.inset, 0)", applies=is_turned_in)  # fmt: skip
def mounted_inset(w: Workings) -> float:
    """Return how far inside the frame's outline the lace takes hold, seen from behind."""
    return w.given("frame.edge_radius") + max(w["holes.inset"], 0.0)


@FIGURES.figure("holes.mounted_radius", "mm", "length", "Radius of the circle of holes on the frame",
                "diameter / 2 - holes.mounted_inset", PLANE_GEOMETRY, is_round_and_turned_in)  # fmt: skip
def mounted_radius(w: Workings) -> float:
    """Return the radius at which the lace takes hold on a round frame."""
    return w.given("frame.diameter") / 2 - w["holes.mounted_inset"]


@FIGURES.figure("holes.mounted_pair_angle", "deg", "angle", "Angle between the holes of a pair on the frame",
                "2 asin(holes.pair_spacing / (2 holes.mounted_radius))", PLANE_GEOMETRY,
                is_round_and_turned_in)  # fmt: skip
def mounted_pair_angle(w: Workings) -> float:
    """Return the angle that a pair takes up once mounted; the web itself does not gather."""
    return degrees(2 * asin(w["holes.pair_spacing"] / (2 * w["holes.mounted_radius"])))


@FIGURES.figure("holes.drawn_in", "mm", "length", "Drawing tight moves the holes in by",
                "stretch x frame.half_span", WORKSHOP)  # fmt: skip
def drawn_in(w: Workings) -> float:
    """Return how far the holes move along the skin when the head is drawn tight."""
    return w.given("head.stretch") * w["frame.half_span"]


@FIGURES.figure("holes.tight_inset", "mm", "length", "From the outside of the wall in to the holes, drawn tight",
                "edge_radius + max(holes.inset + holes.drawn_in, 0)", WORKSHOP, is_turned_in)  # fmt: skip
def tight_inset(w: Workings) -> float:
    """Return the mounted inset after drawing tight."""
    return w.given("frame.edge_radius") + max(w["holes.inset"] + w["holes.drawn_in"], 0.0)


@FIGURES.figure("holes.tight_radius", "mm", "length", "Radius of the circle of holes, drawn tight",
                "diameter / 2 - holes.tight_inset", WORKSHOP, is_round_and_turned_in)  # fmt: skip
def tight_radius(w: Workings) -> float:
    """Return the mounted radius after drawing tight."""
    return w.given("frame.diameter") / 2 - w["holes.tight_inset"]


@FIGURES.figure("holes.drop", "mm", "length", "From the plane of the head down the wall to the holes",
                "drop - holes.edge_distance", OWN_DEFINITION, ends_on_wall)  # fmt: skip
def drop(w: Workings) -> float:
    """Return how far down the wall the line of the holes lies, before drawing tight."""
    return w.given("head.drop") - w["holes.edge_distance"]


@FIGURES.figure("holes.between", "mm", "length", "Between the lines of holes of both heads",
                "depth - 2 holes.drop", OWN_DEFINITION, ends_on_wall)  # fmt: skip
def between(w: Workings) -> float:
    """Return the height between the lines of holes of two heads, before drawing tight."""
    return w.given("frame.depth") - 2 * w["holes.drop"]


@FIGURES.figure("holes.tight_between", "mm", "length", "Between the lines of holes of both heads, drawn tight",
                "holes.between - 2 holes.drawn_in", WORKSHOP, ends_on_wall)  # fmt: skip
def tight_between(w: Workings) -> float:
    """Return the height between the lines of holes after drawing tight."""
    return w["holes.between"] - 2 * w["holes.drawn_in"]


@FIGURES.figure("head.apart", "mm", "length", "Bare wall between the edges of both skins, drawn tight",
                "depth - 2 drop - 2 holes.drawn_in", WORKSHOP, ends_on_wall)  # fmt: skip
def apart(w: Workings) -> float:
    """Return what is left between the edges of both skins after drawing tight; less than nothing where they meet."""
    return w.given("frame.depth") - 2 * w.given("head.drop") - 2 * w["holes.drawn_in"]


@FIGURES.figure("head.gather", "1", "percentage", "Rim taken up in puckers between the stations",
                "1 - mounted / blank length of the hole line (holes on the wall: at half the skin's thickness"
                " outside the frame)", PARALLEL_CURVE)  # fmt: skip
def gather(w: Workings) -> float:
    """Return the share of the hole line's length that gathers when the skin is drawn round the frame."""
    on_back = is_turned_in(w) and w["holes.inset"] > -NOISE_MM
    offset = -w["holes.mounted_inset"] if on_back else w.given("head.thickness") / 2
    outline = outline_of(w)
    return 1 - outline.perimeter_at(offset) / outline.perimeter_at(w["holes.line_reach"])


@FIGURES.shape("stations.marks")
def station_marks(w: Workings) -> tuple[StationMark, ...]:
    """Return the stations, from station 1 on."""
    from math import atan2

    outline, sign, out = outline_of(w), _sign(w), w["skin.reach"]
    marks = []
    for number, station in enumerate(outline.stations(w.count("stations.count")), 1):
        frame = _turned(outline.point(0.0, outline.carry(station, 0.0)), sign)
        edge = _turned(outline.point(out, outline.carry(station, out)), sign)
        marks.append(StationMark(number, degrees(atan2(frame[1], frame[0])), frame, edge))
    return tuple(marks)


@FIGURES.shape("holes.blank")
def blank_pairs(w: Workings) -> tuple[Pair, ...]:
    """Return the pairs of holes on the flat blank, from station 1 on."""
    return _pairs(w, w["holes.line_reach"])


@FIGURES.shape("holes.mounted")
def mounted_pairs(w: Workings) -> tuple[Pair, ...]:
    """Return where the lace takes hold at each station on the frame, from station 1 on, before drawing tight."""
    return _pairs(w, 0.0 if ends_on_wall(w) else -w["holes.mounted_inset"])


@FIGURES.figure("holes.blank_gap", "mm", "length", "Least clear skin between neighbouring pairs on the blank",
                "least distance from b of a station to a of the next - hole")  # fmt: skip
def blank_gap(w: Workings) -> float:
    """Return the least clear skin between neighbouring pairs on the blank; negative where they overlap."""
    return _least_gap(w.shape("holes.blank")) - w.given("stations.hole")


@FIGURES.figure("holes.mounted_gap", "mm", "length", "Least room between neighbouring pairs on the frame",
                "least distance from b of a station to a of the next, mounted - hole")  # fmt: skip
def mounted_gap(w: Workings) -> float:
    """Return the least room between neighbouring mounted pairs; negative where they overlap."""
    return _least_gap(w.shape("holes.mounted")) - w.given("stations.hole")


def _pairs(w: Workings, offset: float) -> tuple[Pair, ...]:
    outline, sign, spacing = outline_of(w), _sign(w), w["holes.pair_spacing"]
    centred = w.word("stations.mark_at") == "pair_centre"
    pairs = []
    for number, station in enumerate(outline.stations(w.count("stations.count")), 1):
        at = outline.carry(station, offset)
        if centred:
            first, second = outline.straddle(offset, at, spacing)
        else:
            first, second = at, outline.advance(offset, at, spacing)
        a, b = outline.point(offset, first), outline.point(offset, second)
        pairs.append(Pair(number, _turned(a, sign), _turned(b, sign)))
    return tuple(pairs)


def _sign(w: Workings) -> float:
    return 1.0 if w.word("stations.hand") == "anticlockwise" else -1.0


def _turned(point: Point, sign: float) -> Point:
    """Mirror a point for clockwise numbering: every outline is its own mirror image about the y axis."""
    return (sign * point[0], point[1])


def _least_gap(pairs: tuple[Pair, ...]) -> float:
    """Return the least distance from b to the next a, negative where a pair reaches past the next one."""
    following = (*pairs[1:], pairs[0])
    return min(_gap(pair, after) for pair, after in zip(pairs, following, strict=True))


def _gap(pair: Pair, after: Pair) -> float:
    # Going round, a < b < next a as long as the next a lies further along than b; cross products tell.
    turn = _cross(pair.a, after.a)
    past = _cross(pair.b, after.a) * turn < 0
    distance = hypot(after.a[0] - pair.b[0], after.a[1] - pair.b[1])
    return -distance if past else distance


def _cross(p: Point, q: Point) -> float:
    return p[0] * q[1] - p[1] * q[0]
