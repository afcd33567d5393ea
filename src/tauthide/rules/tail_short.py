"""The tail is too short to hold."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

LEAST_TAIL_MM = 150.0
"""A hand's width to hold, and as much for the hitches. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where little lace is left over at the running end."""
    yield from too_small(w, "lace.tail", LEAST_TAIL_MM, "The tail is too short to hold on to and to hitch")


RULE = Rule(
    name="tail-short",
    severity=Severity.WARNING,
    why="The last pull is done on the tail, wet and slippery, and the last hitches are made with it.",
    mend="Leave a longer tail at the running end.",
    source=WORKSHOP,
    check=check,
    failing={"lace.tail": "100 mm"},
    passing={"lace.tail": "300 mm"},
)
