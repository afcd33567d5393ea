"""Ring lacing: from a ring at the hub to each station in turn and back, so many turns round the ring between.

The lace is anchored on the ring. At every station it goes in by `b` from the playing side, runs behind the web and
comes out by `a`, as in cross lacing; no two of its lengths cross.
"""

from __future__ import annotations

from math import atan2, hypot, pi, tau

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.geometry.blank import is_round
from tauthide.geometry.holes import Pair, Point
from tauthide.lacing.hub import WORST_CASE, saved_per_inset
from tauthide.lacing.order import Lacing, Step, distance, legs_of, widest_angle
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

ENTER, LEAVE = "b", "a"


@FIGURES.shape("lace.steps")
def steps(w: Workings) -> tuple[Step, ...]:
    """Return the steps in lacing order: the stations as they are numbered."""
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    radius, ends = w.given("lace.ring") / 2, 2 * w["holes.end_run"]
    found = []
    for pair in pairs:
        at = on_ring(pair, radius)
        span = distance(at, pair.b) + distance(pair.a, at) + ends
        found.append(Step(pair.station, pair.station, ENTER, LEAVE, (), span, ring=at))
    return tuple(found)


def on_ring(pair: Pair, radius_mm: float) -> Point:
    """Return the point of the ring's outside that lies nearest to the middle of a pair."""
    x, y = (pair.a[0] + pair.b[0]) / 2, (pair.a[1] + pair.b[1]) / 2
    away = hypot(x, y)
    return (radius_mm * x / away, radius_mm * y / away)


@FIGURES.figure("lace.span_count", "1", "count", "Stations, each with its play", "count", OWN_DEFINITION)
def span_count(w: Workings) -> float:
    """Return how often play is left: once for the way to a station and back."""
    return w.count("stations.count")


@FIGURES.figure("lace.strands", "1", "count", "Strands that meet at the ring", "2 count", OWN_DEFINITION)
def strands(w: Workings) -> float:
    """Return how many strands run to the ring: two for each station."""
    return 2 * w.count("stations.count")


@FIGURES.figure("lace.anchor_strands", "1", "count", "Strands that take the pull of station 1",
                "holes.count / count: the anchor is on the ring, so every hole has its strand",
                OWN_DEFINITION)  # fmt: skip
def anchor_strands(w: Workings) -> float:
    """Return how many strands hold station 1: no fewer than elsewhere."""
    return w["holes.count"] / w.count("stations.count")


@FIGURES.figure("lace.spans", "mm", "long_length", "From the ring to the stations and back",
                "sum over the stations of the straight distances from ring to entering hole and from leaving hole"
                " to ring, and the end run at either hole", PLANE_GEOMETRY)  # fmt: skip
def spans(w: Workings) -> float:
    """Return the length of all ways between ring and holes."""
    found: tuple[Step, ...] = w.shape("lace.steps")
    return sum(step.span_mm for step in found if step.span_mm is not None)


@FIGURES.figure("lace.bridges", "mm", "long_length", "Behind the webs", "count holes.pair_spacing", PLANE_GEOMETRY)
def bridges(w: Workings) -> float:
    """Return the lace behind the webs of all stations."""
    return w.count("stations.count") * w["holes.pair_spacing"]


@FIGURES.figure("lace.ring_turn", "mm", "length", "Once round the ring's rod",
                "pi (ring_section + thickness)", PLANE_GEOMETRY)  # fmt: skip
def ring_turn(w: Workings) -> float:
    """Return the lace that one turn round the ring's rod takes, at half the lace's thickness."""
    return pi * (w.given("lace.ring_section") + w.given("lace.thickness"))


@FIGURES.figure("lace.anchor", "mm", "length", "The anchor: tab, and once round the ring through its slit",
                "tab_length + lace.ring_turn", WORKSHOP)  # fmt: skip
def anchor(w: Workings) -> float:
    """Return the lace that the anchor on the ring takes."""
    return w.given("lace.tab_length") + w["lace.ring_turn"]


@FIGURES.figure("lace.ring_turns", "mm", "long_length", "Turns round the ring",
                "count ring_wraps lace.ring_turn", PLANE_GEOMETRY)  # fmt: skip
def ring_turns(w: Workings) -> float:
    """Return the lace that all turns round the ring take: so many after each station."""
    return w.count("stations.count") * w.count("lace.ring_wraps") * w["lace.ring_turn"]


@FIGURES.figure("lace.ring_way", "mm", "length", "Along the ring, from station to station",
                "ring / 2 x the angle from the first station's place on the ring round to the last one's",
                PLANE_GEOMETRY)  # fmt: skip
def ring_way(w: Workings) -> float:
    """Return the lace that lies along the ring's outside."""
    found: tuple[Step, ...] = w.shape("lace.steps")
    sign = 1 if w.word("stations.hand") == "anticlockwise" else -1
    first, last = (atan2(at[1], at[0]) for at in (found[0].ring, found[-1].ring) if at is not None)
    return w.given("lace.ring") / 2 * (sign * (last - first) % tau)


@FIGURES.figure("lace.play", "mm", "long_length", "Play left at the stations while lacing",
                "lace.span_count play", OWN_DEFINITION)  # fmt: skip
def play(w: Workings) -> float:
    """Return the slack that is left; it comes back on drawing tight, so the sum is generous."""
    return w["lace.span_count"] * w.given("lace.play")


@FIGURES.figure("lace.longest_net", "mm", "long_length", "Net length of the longest lace", "lace.net_length",
                OWN_DEFINITION)  # fmt: skip
def longest_net(w: Workings) -> float:
    """Return the net length of the only lace."""
    return w["lace.net_length"]


@FIGURES.figure("lace.net_per_inset", "1", "count", "Lace saved by each mm that the holes lie further in, at the most",
                "lace.strands, on a polygon each over the cosine of its angle to the side's middle",
                WORST_CASE)  # fmt: skip
def net_per_inset(w: Workings) -> float:
    """Return by how many mm the net length shrinks at most for each mm that the holes move in."""
    return saved_per_inset(w)


@FIGURES.figure("pull.strand_angle", "deg", "angle", "Widest angle of a strand to the radius at its hole",
                "largest angle between a strand and the line from its hole to the hub", applies=is_round)  # fmt: skip
def strand_angle(w: Workings) -> float:
    """Return the largest angle between a strand and the radius at its hole."""
    return widest_angle(legs_of(w.shape("lace.steps"), w.shape("holes.mounted")))


RING = Lacing(
    name="ring",
    title="Ring lacing",
    figures=FIGURES,
    parts=("lace.spans", "lace.bridges", "lace.anchor", "lace.ring_turns", "lace.ring_way", "lace.play"),
)
