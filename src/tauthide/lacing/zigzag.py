"""Zigzag lacing: two heads on one frame, drawn to each other round the outside of the wall.

The second head's stations lie half a step on. The lace goes from head to head, from each station to the next one of
the other head. On the first head it goes in by `a` and comes out by `b`; on the second in by `b` and out by `a`: so
every leg leaves and arrives by holes of one name and runs half a step along the rim. On the second head the lace
takes a turn round its web, and the leg that leaves passes beneath the one that arrived.

It may be run in several laces, one after the other round the rim. The end of each is drawn through the tab of the
next, the last one's through that of the first. All stations together are even in number, so with one lace the end
comes from the second head and meets the tab on the first; a lace that takes an odd number of stations ends on the
head that it began on, and the next begins on the other.
"""

from __future__ import annotations

from math import asin, ceil, degrees, hypot

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.geometry.blank import is_round
from tauthide.lacing.hub import WORST_CASE
from tauthide.lacing.order import Lacing, Step, laces_of
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

HEADS = 2
HOLES = {1: ("a", "b"), 2: ("b", "a")}
"""By which hole the lace goes in, and by which it comes out, on each head."""

LEAST_STATIONS = 4
"""Stations of both heads that a lace must at least take. Workshop practice, no published source."""


def shares(stations: int, laces: int) -> tuple[int, ...]:
    """Return how many stations of both heads each lace takes: as even as may be, the longer ones first."""
    each, over = divmod(stations, laces)
    return tuple(each + (lace < over) for lace in range(laces))


@FIGURES.shape("lace.steps")
def steps(w: Workings) -> tuple[Step, ...]:
    """Return the steps in lacing order: the stations of both heads as they follow one another round the rim.

    Of the legs only the one that leaves a station of the second head crosses another: the one that arrived there.
    """
    found: list[Step] = []
    for lace, share in enumerate(shares(HEADS * w.count("stations.count"), laces_of(w)), 1):
        for place in range(share):
            number = len(found) + 1
            head = HEADS - number % HEADS
            enter, leave = HOLES[head]
            # The leg to the first head leaves the second; of a lace that began there no leg had arrived yet.
            beneath = (number - 1,) if head == 1 and place > 1 else ()
            span = w["lace.leg"] if place else None
            found.append(Step(number, (number + 1) // HEADS, enter, leave, beneath, span, lace, head))
    return tuple(found)


@FIGURES.figure("lace.leg", "mm", "length", "From one head's hole to the other's",
                "hypot(holes.between, stations.rim_spacing / 2)", PLANE_GEOMETRY)  # fmt: skip
def leg(w: Workings) -> float:
    """Return the length of a leg on the wall rolled out flat: height between the lines of holes, half a step along."""
    return hypot(w["holes.between"], w["stations.rim_spacing"] / 2)


@FIGURES.figure("lace.span_count", "1", "count", "Legs, each with its play", "2 count", OWN_DEFINITION)
def span_count(w: Workings) -> float:
    """Return the number of legs: round the rim and back to the first station, as many as stations of both heads."""
    return HEADS * w.count("stations.count")


@FIGURES.figure("lace.anchor_strands", "1", "count", "Legs that take the pull of an anchor's station",
                "holes.count / count: the leg that leaves, and the end that is drawn through the tab",
                OWN_DEFINITION)  # fmt: skip
def anchor_strands(w: Workings) -> float:
    """Return how many legs hold the station of an anchor: no fewer than elsewhere."""
    return w["holes.count"] / w.count("stations.count")


@FIGURES.figure("lace.spans", "mm", "long_length", "Legs from head to head",
                "lace.span_count lace.leg", PLANE_GEOMETRY)  # fmt: skip
def spans(w: Workings) -> float:
    """Return the length of all legs, those that close the round among them."""
    return w["lace.span_count"] * w["lace.leg"]


@FIGURES.figure("lace.bridges", "mm", "long_length", "Behind the webs",
                "(lace.span_count - lace.laces) holes.pair_spacing", PLANE_GEOMETRY)  # fmt: skip
def bridges(w: Workings) -> float:
    """Return the lace behind the webs of all stations but those of the anchors."""
    return (w["lace.span_count"] - w["lace.laces"]) * w["holes.pair_spacing"]


@FIGURES.figure("lace.anchor", "mm", "length", "The anchor: tab, behind the web and across its front",
                "lace.laces (tab_length + 2 holes.pair_spacing)", WORKSHOP)  # fmt: skip
def anchor(w: Workings) -> float:
    """Return the lace that the anchors take."""
    return w["lace.laces"] * (w.given("lace.tab_length") + 2 * w["holes.pair_spacing"])


@FIGURES.figure("lace.play", "mm", "long_length", "Play left in the legs while lacing",
                "lace.span_count play", OWN_DEFINITION)  # fmt: skip
def play(w: Workings) -> float:
    """Return the slack left in all legs; it comes back on drawing tight, so the sum is generous."""
    return w["lace.span_count"] * w.given("lace.play")


@FIGURES.figure("lace.most_stations", "1", "count", "Stations of both heads that the longest lace takes",
                "lace.span_count / lace.laces, raised to a whole number", OWN_DEFINITION)  # fmt: skip
def most_stations(w: Workings) -> float:
    """Return the stations of the longest lace, and so its legs, the one that closes it among them."""
    return ceil(w["lace.span_count"] / w["lace.laces"])


@FIGURES.figure("lace.longest_net", "mm", "long_length", "Net length of the longest lace",
                "lace.most_stations (lace.leg + holes.pair_spacing + play) + tab_length + holes.pair_spacing + tail",
                OWN_DEFINITION)  # fmt: skip
def longest_net(w: Workings) -> float:
    """Return the net length of the longest lace: its legs, webs and play, the anchor and the tail."""
    each = w["lace.leg"] + w["holes.pair_spacing"] + w.given("lace.play")
    return w["lace.most_stations"] * each + w.given("lace.tab_length") + w["holes.pair_spacing"] + w.given("lace.tail")


@FIGURES.figure("lace.net_per_inset", "1", "count", "Lace saved by each mm that the holes lie further down the wall",
                "2 lace.span_count holes.between / lace.leg", WORST_CASE)  # fmt: skip
def net_per_inset(w: Workings) -> float:
    """Return by how many mm the net length shrinks for each mm that the holes of both heads move toward each other."""
    return 2 * w["lace.span_count"] * w["holes.between"] / w["lace.leg"]


@FIGURES.figure("pull.strand_angle", "deg", "angle", "Angle of a leg to the pull of its station",
                "asin(stations.rim_spacing / (2 lace.leg))", PLANE_GEOMETRY, is_round)  # fmt: skip
def strand_angle(w: Workings) -> float:
    """Return the angle between a leg and the wall's height, along which the head pulls."""
    return degrees(asin(w["stations.rim_spacing"] / (2 * w["lace.leg"])))


ZIGZAG = Lacing(
    name="zigzag",
    title="Zigzag of two heads",
    figures=FIGURES,
    parts=("lace.spans", "lace.bridges", "lace.anchor", "lace.play"),
    most_laces=lambda w: HEADS * w.count("stations.count") // LEAST_STATIONS,
    heads=HEADS,
    hub=False,
)
