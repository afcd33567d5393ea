"""Cross lacing: each span across the open back, every new span beneath all that lie there.

In one lace the order is 1, 1 + n/2, 2, 2 + n/2, 3, ...; at every station the lace goes in by `b` from the playing
side, runs behind the web and comes out by `a`. On a round frame this choice of holes gives the shortest lace.

In two laces each maker anchors at one of two opposite stations. Each span goes to the station one beyond the one
opposite: 1, 2 + n/2, 3, 4 + n/2, ... and 1 + n/2, 2, 3 + n/2, 4, ...; half a turn takes one lace to the other. Each
works round its half of the rim towards where the other began, and the ends meet at the hub.
"""

from __future__ import annotations

from math import hypot

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.geometry.blank import is_round
from tauthide.geometry.holes import Pair
from tauthide.lacing.hub import WORST_CASE, saved_per_inset
from tauthide.lacing.order import (
    Lacing,
    Step,
    crossed,
    distance,
    follow,
    hole_of,
    laces_of,
    last_steps,
    legs_of,
    place_of,
    widest_angle,
)
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

ENTER, LEAVE = "b", "a"

MOST_LACES = 2
"""One for each of two makers who sit opposite each other."""


def order(count: int) -> tuple[int, ...]:
    """Return the stations in the order of a single lace; `count` is even."""
    half = count // 2
    return tuple(1 + step // 2 + (half if step % 2 else 0) for step in range(count))


def order_of_two(count: int) -> tuple[tuple[int, int], ...]:
    """Return lace and station in the order of two laces, each maker taking a step in turn; `count` is even."""
    half = count // 2
    return tuple(
        (lace, 1 + place + (half if (place + lace) % 2 == 0 else 0)) for place in range(half) for lace in (1, 2)
    )


@FIGURES.shape("lace.steps")
def steps(w: Workings) -> tuple[Step, ...]:
    """Return the steps in lacing order.

    Round the rim the ends of two spans that cross alternate. In one lace that is so for any two that do not follow
    one another: a span crosses all earlier ones but the one just before it.
    """
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    ends = 2 * w["holes.end_run"]
    count = len(pairs)
    laid = order_of_two(count) if laces_of(w) == MOST_LACES else tuple((1, station) for station in order(count))
    bare = [Step(number, station, ENTER, LEAVE, (), None, lace) for number, (lace, station) in enumerate(laid, 1)]
    found: list[Step] = []
    chords: list[tuple[int, tuple[int, int]]] = []
    for before, step in follow(bare):
        if before is None:
            found.append(step)
            continue
        chord = (place_of(before.station, LEAVE), place_of(step.station, ENTER))
        span = distance(hole_of(pairs, before.station, LEAVE), hole_of(pairs, step.station, ENTER)) + ends
        found.append(Step(step.step, step.station, ENTER, LEAVE, crossed(chord, chords), span, step.lace))
        chords.append((step.step, chord))
    return tuple(found)


@FIGURES.figure("lace.span_count", "1", "count", "Spans, each with its play",
                "count - lace.laces", OWN_DEFINITION)  # fmt: skip
def span_count(w: Workings) -> float:
    """Return the number of spans: each lace has one fewer than it has stations."""
    return w.count("stations.count") - w["lace.laces"]


@FIGURES.figure("lace.strands", "1", "count", "Strands that meet at the hub",
                "2 lace.span_count + lace.laces", OWN_DEFINITION)  # fmt: skip
def strands(w: Workings) -> float:
    """Return how many strands run to the hub: two for each span, and the end of each lace."""
    return 2 * w["lace.span_count"] + w["lace.laces"]


@FIGURES.figure("lace.anchor_strands", "1", "count", "Strands that take the pull of the anchor's station",
                "holes.count / count - 1: the lace begins there and leaves by one hole", OWN_DEFINITION)  # fmt: skip
def anchor_strands(w: Workings) -> float:
    """Return how many strands hold the station of an anchor: of its two the first is the tab's."""
    return w["holes.count"] / w.count("stations.count") - 1


@FIGURES.figure("lace.spans", "mm", "long_length", "Spans across the back",
                "sum over the spans of the straight distance from leaving to entering hole on the frame,"
                " and the end run at either end", PLANE_GEOMETRY)  # fmt: skip
def spans(w: Workings) -> float:
    """Return the length of all spans."""
    found: tuple[Step, ...] = w.shape("lace.steps")
    return sum(step.span_mm for step in found if step.span_mm is not None)


@FIGURES.figure("lace.bridges", "mm", "long_length", "Behind the webs",
                "lace.span_count holes.pair_spacing", PLANE_GEOMETRY)  # fmt: skip
def bridges(w: Workings) -> float:
    """Return the lace behind the webs of all stations but those of the anchors."""
    return w["lace.span_count"] * w["holes.pair_spacing"]


@FIGURES.figure("lace.anchor", "mm", "length", "The anchor: tab, behind the web and across its front",
                "lace.laces (tab_length + 2 holes.pair_spacing)", WORKSHOP)  # fmt: skip
def anchor(w: Workings) -> float:
    """Return the lace that the anchors take."""
    return w["lace.laces"] * (w.given("lace.tab_length") + 2 * w["holes.pair_spacing"])


@FIGURES.figure("lace.hub_take_up", "mm", "length", "Taken up where the spans are drawn to the middle",
                "sum over the spans of (distance of both holes from the hub - straight distance)",
                PLANE_GEOMETRY)  # fmt: skip
def hub_take_up(w: Workings) -> float:
    """Return what the spans gain in length when they are drawn together at the hub."""
    return sum(_take_up(w, lace) for lace in _laces(w))


@FIGURES.figure("lace.to_hub", "mm", "length", "From the last station to the hub",
                "distance of the last hole of each lace from the hub + holes.end_run", PLANE_GEOMETRY)  # fmt: skip
def to_hub(w: Workings) -> float:
    """Return the lace from the last leaving holes to the hub."""
    return sum(_to_hub(w, lace) for lace in _laces(w))


@FIGURES.figure("lace.play", "mm", "long_length", "Play left in the spans while lacing",
                "lace.span_count play", OWN_DEFINITION)  # fmt: skip
def play(w: Workings) -> float:
    """Return the slack left in all spans; it comes back on drawing tight, so the sum is generous."""
    return w["lace.span_count"] * w.given("lace.play")


def in_two(w: Workings) -> bool:
    """Tell whether a drum is laced in two laces."""
    return laces_of(w) == MOST_LACES


@FIGURES.figure("lace.first_net", "mm", "long_length", "Net length of the lace that begins at station 1",
                "of the lace's parts what belongs to it: its own spans, half of what both have alike",
                OWN_DEFINITION, in_two)  # fmt: skip
def first_net(w: Workings) -> float:
    """Return the net length of the first of two laces."""
    return _net_of(w, 1)


@FIGURES.figure("lace.second_net", "mm", "long_length", "Net length of the lace that begins opposite",
                "of the lace's parts what belongs to it: its own spans, half of what both have alike",
                OWN_DEFINITION, in_two)  # fmt: skip
def second_net(w: Workings) -> float:
    """Return the net length of the second of two laces."""
    return _net_of(w, 2)


@FIGURES.figure("lace.longest_net", "mm", "long_length", "Net length of the longest lace",
                "max(lace.first_net, lace.second_net); or lace.net_length", OWN_DEFINITION)  # fmt: skip
def longest_net(w: Workings) -> float:
    """Return the net length of the longer of two laces, or of the only one."""
    return max(w["lace.first_net"], w["lace.second_net"]) if in_two(w) else w["lace.net_length"]


@FIGURES.figure("lace.net_per_inset", "1", "count", "Lace saved by each mm that the holes lie further in",
                "lace.strands, on a polygon each over the cosine of its angle to the side's middle",
                WORST_CASE)  # fmt: skip
def net_per_inset(w: Workings) -> float:
    """Return by how many mm the net length shrinks for each mm that the holes move in: its partial derivative.

    Spans and what the hub takes up come to the distances of all holes from the hub, each strand to the hub one.
    """
    return saved_per_inset(w)


@FIGURES.figure("pull.strand_angle", "deg", "angle", "Widest angle of a strand to the radius at its hole",
                "largest angle between a span and the line from its hole to the hub", applies=is_round)  # fmt: skip
def strand_angle(w: Workings) -> float:
    """Return the largest angle between a span and the radius at either of its ends."""
    return widest_angle(legs_of(w.shape("lace.steps"), w.shape("holes.mounted")))


def _laces(w: Workings) -> range:
    return range(1, laces_of(w) + 1)


def _take_up(w: Workings, lace: int) -> float:
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    total = 0.0
    for before, step in follow(w.shape("lace.steps")):
        if before is not None and step.lace == lace:
            left, reached = hole_of(pairs, before.station, LEAVE), hole_of(pairs, step.station, ENTER)
            total += hypot(*left) + hypot(*reached) - distance(left, reached)
    return total


def _to_hub(w: Workings, lace: int) -> float:
    last = last_steps(w.shape("lace.steps"))[lace - 1]
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    return hypot(*hole_of(pairs, last.station, LEAVE)) + w["holes.end_run"]


def _net_of(w: Workings, lace: int) -> float:
    own = [step for step in w.shape("lace.steps") if step.lace == lace]
    spans_mm: float = sum(step.span_mm for step in own if step.span_mm is not None)
    shared: float = sum(w[part] for part in ("lace.bridges", "lace.anchor", "lace.play", "lace.handle", "lace.tail"))
    return spans_mm + _take_up(w, lace) + _to_hub(w, lace) + shared / MOST_LACES


CROSS = Lacing(
    name="cross",
    title="Cross lacing",
    figures=FIGURES,
    parts=("lace.spans", "lace.bridges", "lace.anchor", "lace.hub_take_up", "lace.to_hub", "lace.play"),
    most_laces=lambda _: MOST_LACES,
    across=True,
)
