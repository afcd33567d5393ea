"""Too little play is left to centre the frame."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

LEAST_PLAY_MM = 5.0
"""Slack in each span. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the spans are laced with little slack."""
    yield from too_small(w, "lace.play", LEAST_PLAY_MM, "With so little play in the spans the frame cannot be centred")


RULE = Rule(
    name="play-small",
    severity=Severity.WARNING,
    why="The frame is centred after lacing: without slack in the spans it stays where it lay by chance.",
    mend="Leave more play in each span.",
    source=WORKSHOP,
    check=check,
    failing={"lace.play": "2 mm"},
    passing={"lace.play": "12 mm"},
)
