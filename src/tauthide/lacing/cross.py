"""Cross lacing: one lace, each span across the open back, every new span beneath all that lie there.

The order is 1, 1 + n/2, 2, 2 + n/2, 3, ...; at every station the lace goes in by `b` from the playing
side, runs behind the web and comes out by `a`. On a round frame this choice of holes gives the shortest lace.
"""

from __future__ import annotations

from itertools import pairwise
from math import hypot

from tauthide.figures import OWN_DEFINITION, PLANE_GEOMETRY, FigureSet, Workings
from tauthide.geometry.holes import Pair, Point
from tauthide.lacing.order import Lacing, Step
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

ENTER, LEAVE = "b", "a"


def order(count: int) -> tuple[int, ...]:
    """Return the stations in lacing order; `count` is even."""
    half = count // 2
    return tuple(1 + step // 2 + (half if step % 2 else 0) for step in range(count))


def strands(count: int) -> int:
    """Return how many strands run to the hub: two for each of the n - 1 spans, and the end of the lace."""
    return 2 * count - 1


@FIGURES.shape("lace.steps")
def steps(w: Workings) -> tuple[Step, ...]:
    """Return the steps in lacing order.

    Round the rim the ends of any two spans that do not follow one another alternate, so these spans cross:
    a span crosses all earlier ones but the one just before it.
    """
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    ends = 2 * w["holes.end_run"]
    found: list[Step] = []
    before: Pair | None = None
    for number, station in enumerate(order(len(pairs)), 1):
        pair = pairs[station - 1]
        span = None if before is None else _distance(before.a, pair.b) + ends
        found.append(Step(number, station, ENTER, LEAVE, tuple(range(2, number - 1)), span))
        before = pair
    return tuple(found)


@FIGURES.figure("lace.spans", "mm", "long_length", "Spans across the back",
                "sum over the spans of the straight distance from leaving to entering hole on the frame,"
                " and the end run at either end", PLANE_GEOMETRY)  # fmt: skip
def spans(w: Workings) -> float:
    """Return the length of all spans."""
    found: tuple[Step, ...] = w.shape("lace.steps")
    return sum(step.span_mm for step in found if step.span_mm is not None)


@FIGURES.figure("lace.bridges", "mm", "long_length", "Behind the webs",
                "(count - 1) holes.pair_spacing", PLANE_GEOMETRY)  # fmt: skip
def bridges(w: Workings) -> float:
    """Return the lace behind the webs of all stations but the anchor."""
    return (w.count("stations.count") - 1) * w["holes.pair_spacing"]


@FIGURES.figure("lace.anchor", "mm", "length", "The anchor: tab, behind the web and across its front",
                "tab_length + 2 holes.pair_spacing", WORKSHOP)  # fmt: skip
def anchor(w: Workings) -> float:
    """Return the lace that the anchor at station 1 takes."""
    return w.given("lace.tab_length") + 2 * w["holes.pair_spacing"]


@FIGURES.figure("lace.hub_take_up", "mm", "length", "Taken up where the spans are drawn to the middle",
                "sum over the spans of (distance of both holes from the hub - straight distance)",
                PLANE_GEOMETRY)  # fmt: skip
def hub_take_up(w: Workings) -> float:
    """Return what the spans gain in length when they are drawn together at the hub."""
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    line = [pairs[station - 1] for station in order(len(pairs))]
    return sum(hypot(*left.a) + hypot(*reached.b) - _distance(left.a, reached.b) for left, reached in pairwise(line))


@FIGURES.figure("lace.to_hub", "mm", "length", "From the last station to the hub",
                "distance of the last hole from the hub + holes.end_run", PLANE_GEOMETRY)  # fmt: skip
def to_hub(w: Workings) -> float:
    """Return the lace from the last station's leaving hole to the hub."""
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    return hypot(*pairs[order(len(pairs))[-1] - 1].a) + w["holes.end_run"]


@FIGURES.figure("lace.play", "mm", "long_length", "Play left in the spans while lacing",
                "(count - 1) play", OWN_DEFINITION)  # fmt: skip
def play(w: Workings) -> float:
    """Return the slack left in all spans; it comes back on drawing tight, so the sum is generous."""
    return (w.count("stations.count") - 1) * w.given("lace.play")


def _distance(p: Point, q: Point) -> float:
    return hypot(q[0] - p[0], q[1] - p[1])


CROSS = Lacing(
    name="cross",
    title="Cross lacing",
    figures=FIGURES,
    parts=("lace.spans", "lace.bridges", "lace.anchor", "lace.hub_take_up", "lace.to_hub", "lace.play"),
    order=order,
    strands=strands,
)
