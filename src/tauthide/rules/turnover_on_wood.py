"""The skin's edge ends on the wood of the frame's back."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_turned_in
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less
from tauthide.spec.defaults import WORKSHOP

CLEAR_MM = 2.0
"""How far past the wall the skin should reach. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the holes lie on the wall and the edge of the skin does not clear it."""
    if not is_turned_in(w):
        return
    turnover, wall, hole = w.given("head.turnover"), w.given("frame.wall"), w.given("stations.hole")
    distance = w["holes.edge_distance"]
    if turnover >= wall + CLEAR_MM - SLACK_MM or turnover - distance > SLACK_MM - hole / 2:
        return  # it clears the wall, or `hole-over-back-edge` says where the holes lie
    least = wall + CLEAR_MM
    if least - distance > -hole / 2:
        least = distance + wall + hole / 2  # else the holes would come to lie over the wood themselves
    yield Trouble(
        "head.turnover",
        "The edge of the skin ends on the wood of the back, which it should clear",
        f"{length(w, turnover, wall)} on a wall of {length(w, wall, turnover)}",
        f"at least {no_less(w, least, turnover)} with this wall, margin and hole",
        f"turnover: {at_least(w, least)}",
    )


RULE = Rule(
    name="turnover-on-wood",
    severity=Severity.WARNING,
    why="A raw edge on the rim that the drum is laid down on curls up as it dries, and catches.",
    mend="Leave a wider turnover, so that the skin turns in past the wall.",
    source=WORKSHOP,
    check=check,
    failing={"head.turnover": "8 mm"},
    passing={"head.turnover": "11 mm"},
)
