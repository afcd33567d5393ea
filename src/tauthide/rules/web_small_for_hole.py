"""The web is narrower than the holes beside it."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import clear_trouble
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the web is less than a hole wide."""
    hole = w.given("stations.hole")
    if w["holes.web"] < hole - SLACK_MM:
        yield clear_trouble(w, "web", hole, "The web is narrower than the holes beside it", ", the width of a hole")


RULE = Rule(
    name="web-small-for-hole",
    severity=Severity.WARNING,
    why="Two holes take more skin away than the web between them keeps: it tears from hole to hole.",
    mend="Put the holes of a pair farther apart, or punch smaller ones.",
    source=WORKSHOP,
    check=check,
    failing={"stations.web": "8 mm", "head.thickness": "1.6 mm"},
    passing={"stations.web": "14 mm", "head.thickness": "1.6 mm"},
)
