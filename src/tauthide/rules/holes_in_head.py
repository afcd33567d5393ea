"""The blank is too small for its holes: they would come to lie in the head itself."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_turned_in
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the holes reach past the wall to the bearing edge."""
    if not is_turned_in(w):
        return
    edge, hole = w.given("frame.edge_radius"), w.given("stations.hole")
    back_curve = pi / 2 * (edge + w.given("head.thickness") / 2)
    wall = w.given("frame.depth") - 2 * edge
    room = wall + back_curve + w["holes.inset"] - hole / 2
    if room < -SLACK_MM:
        turnover = w.given("head.turnover")
        least = turnover - room
        yield Trouble(
            "head.turnover",
            "The blank is too small for its holes: they would lie on the bearing edge or in the head itself",
            length(w, turnover, least),
            f"at least {no_less(w, least, turnover)} with this margin and hole",
            f"turnover: {at_least(w, least)}",
        )


RULE = Rule(
    name="holes-in-head",
    severity=Severity.ERROR,
    why="The holes must end up behind the bearing edge, on the wall or on the back.",
    mend="Leave a wider turnover, or a smaller margin.",
    source=WORKSHOP,
    check=check,
    failing={"frame.depth": "15 mm", "head.turnover": "5 mm"},
    passing={"frame.depth": "15 mm", "head.turnover": "40 mm"},
    gate=True,
)
