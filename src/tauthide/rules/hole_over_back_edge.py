"""The holes come to lie over the wood of the wall."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_turned_in
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where any part of a hole lies over the back edge of the wall."""
    if not is_turned_in(w):
        return
    hole, wall = w.given("stations.hole"), w.given("frame.wall")
    inside = w.given("frame.edge_radius") + w["holes.inset"]
    if -hole / 2 + SLACK_MM < inside < wall + hole / 2 - SLACK_MM:
        turnover = w.given("head.turnover")
        least = turnover + wall + hole / 2 - inside
        yield Trouble(
            "head.turnover",
            "The holes come to lie over the wood of the back edge, where there is no room to thread",
            f"{length(w, turnover, least)}, which puts the holes' middle {length(w, inside)}"
            " inside the wall's outer face",
            f"at least {no_less(w, least, turnover)} with this wall, margin and hole",
            f"turnover: {at_least(w, least)}",
        )


RULE = Rule(
    name="hole-over-back-edge",
    severity=Severity.WARNING,
    why="The lace must pass behind the web; over the wood it jams, and the edge wears it through.",
    mend="Leave a wider turnover so that the holes clear the wall.",
    source=WORKSHOP,
    check=check,
    failing={"head.turnover": "25 mm"},
    passing={"head.turnover": "40 mm"},
)
