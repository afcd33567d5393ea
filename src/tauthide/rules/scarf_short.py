"""The scarf of a bent hoop is too short for its thickness."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import is_bent
from tauthide.rules.rule import Rule, Trouble

LEAST_SCARF = 8
"""A taper of 1 in 8 is the usual least on boats; 1 in 12 comes near the strength of whole wood (Wood Handbook,
FPL-GTR-190, chapter 10, from memory)."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the taper is shorter than eight thicknesses of the wall."""
    if not is_bent(w):
        return
    scarf = w.count("bending.scarf")
    if scarf < LEAST_SCARF:
        yield Trouble(
            "bending.scarf",
            "The scarf is short: glued so steeply, the hoop opens at its joint",
            f"{scarf} times the wall",
            f"at least {LEAST_SCARF} times the wall",
            f"scarf: {LEAST_SCARF}",
        )


RULE = Rule(
    name="scarf-short",
    severity=Severity.WARNING,
    why="A steep scarf is nearly end grain, which glue hardly holds, and the bent strip pulls at it for ever.",
    mend="Taper both ends over a longer stretch: 1 in 12 is nearly as strong as whole wood.",
    source="Wood Handbook, FPL-GTR-190, chapter 10, from memory; 1 in 8: boatbuilding practice, no published source",
    check=check,
    failing={"frame.make": "bent", "bending.scarf": 4},
    passing={"frame.make": "bent", "bending.scarf": 10},
)
