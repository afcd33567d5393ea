"""The driest air is said to be damper than the dampest."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import OWN_DEFINITION, Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import is_made
from tauthide.rules.measures import beyond, share_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import percent


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the two humidities stand the wrong way round."""
    if not is_made(w):
        return
    driest, dampest = w.given("wood.driest"), w.given("wood.dampest")
    if beyond(driest, dampest):
        yield Trouble(
            "wood.driest",
            "The driest air is damper than the dampest",
            percent(driest, dampest),
            f"at most {percent(dampest, driest)}, the dampest air",
            f"driest: {share_at_most(dampest)}",
        )


RULE = Rule(
    name="wood-air-crossed",
    severity=Severity.ERROR,
    why="The sheet would call the larger frame the dry one.",
    mend="Give the humidity of the driest and of the dampest rooms that the drum will live in.",
    source=OWN_DEFINITION,
    check=check,
    failing={"frame.make": "bent", "wood.driest": "60 %", "wood.dampest": "50 %"},
    passing={"frame.make": "bent", "wood.driest": "40 %", "wood.dampest": "50 %"},
)
