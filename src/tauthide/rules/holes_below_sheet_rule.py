"""Holes lie nearer than even the rule for sheet metal allows."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.holding import LEAST_EDGE, LEAST_PITCH_ACROSS
from tauthide.rules.limits import clear_trouble
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where holes are nearer to the edge, or to each other, than bolt holes in sheet may be."""
    hole = w.given("stations.hole")
    edge, spacing = LEAST_EDGE * hole, LEAST_PITCH_ACROSS * hole
    if w["holes.edge_distance"] < edge - SLACK_MM:
        yield clear_trouble(
            w,
            "margin",
            edge - hole / 2,
            "The holes lie nearer to the edge of the skin than bolt holes in sheet metal may",
            f": {LEAST_EDGE} holes from the holes' middle to the edge",
        )
    if w["holes.pair_spacing"] < spacing - SLACK_MM:
        yield clear_trouble(
            w,
            "web",
            spacing - hole,
            "The holes of a pair lie nearer to each other than bolt holes in sheet metal may",
            f": {LEAST_PITCH_ACROSS} holes from middle to middle",
        )


RULE = Rule(
    name="holes-below-sheet-rule",
    severity=Severity.NOTE,
    why="Rules for metal flatter skin, whose fibres part one after the other: what metal does not bear, skin will not.",
    mend="Move the holes apart and in from the edge, or punch smaller ones.",
    source="EN 1993-1-8, table 3.3: least edge distance 1.2 holes, least spacing across the load 2.4 holes",
    check=check,
    failing={"stations.web": "16 mm", "stations.hole": "12 mm"},
    passing={"stations.web": "17 mm", "stations.hole": "12 mm"},
)
