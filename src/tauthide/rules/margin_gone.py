"""The hole cuts the edge of the skin."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less
from tauthide.spec.defaults import WORKSHOP

LEAST_MARGIN_MM = 1.0
"""Less than this is torn by the punch itself. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the edge distance leaves no margin worth the name."""
    if not w.spec.has("stations.edge_distance"):
        return
    distance, hole = w.given("stations.edge_distance"), w.given("stations.hole")
    if w["holes.margin"] < LEAST_MARGIN_MM - SLACK_MM:
        least = hole / 2 + LEAST_MARGIN_MM
        yield Trouble(
            "stations.edge_distance",
            f"Holes of {length(w, hole)} at this edge distance cut the edge of the skin",
            length(w, distance, least),
            f"more than half a hole: at least {no_less(w, least, distance)}",
            f"edge_distance: {at_least(w, least)}",
        )


RULE = Rule(
    name="margin-gone",
    severity=Severity.ERROR,
    why="A hole that reaches the skin's edge is a notch: the lace slips out of it.",
    mend="Move the holes in from the edge, or punch smaller ones.",
    source=WORKSHOP,
    check=check,
    failing={"stations.edge_distance": "5 mm"},
    passing={"stations.edge_distance": "17 mm"},
    gate=True,
)
