"""Too little skin is left outside the holes."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import clear_trouble
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM
from tauthide.spec.defaults import WORKSHOP

LEAST_MARGIN_MM = 8.0
"""Clear skin outside a hole. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the margin is narrow."""
    if w["holes.margin"] < LEAST_MARGIN_MM - SLACK_MM:
        yield clear_trouble(w, "margin", LEAST_MARGIN_MM, "Too little skin is left between the holes and its edge")


RULE = Rule(
    name="margin-small",
    severity=Severity.WARNING,
    why="The pull runs towards the edge of the skin: a narrow margin lets the lace tear out through it.",
    mend="Move the holes in from the edge.",
    source=WORKSHOP,
    check=check,
    failing={"stations.margin": "6 mm"},
    passing={"stations.margin": "12 mm"},
)
