"""The strip's spare ends do not cover what a strap may ask for."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import is_bent
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where both ends together are shorter than the outside is longer than the middle of the wall."""
    if not is_bent(w):
        return
    spare, least = w.given("bending.spare"), pi * w.given("frame.wall") / 2
    if spare < least - SLACK_MM:
        yield Trouble(
            "bending.spare",
            "The strip may come out too short: under a strap its outside keeps its length, not its middle",
            f"{length(w, spare, least)} at each end",
            f"at least {no_less(w, least, spare)} at each end",
            f"spare: {at_least(w, least)}",
        )


RULE = Rule(
    name="strip-ends-short",
    severity=Severity.WARNING,
    why="A strap with stops presses the strip together, so that its outside is not stretched: round a hoop that is"
    " shorter by pi times the wall than the middle would have it.",
    mend="Leave longer ends. Cut the scarf only when the hoop is dry, to the hoop's own length round.",
    source=f"{WORKSHOP}; difference of parallel curves",
    check=check,
    failing={"frame.make": "bent", "bending.spare": "5 mm"},
    passing={"frame.make": "bent", "bending.spare": "30 mm"},
)
