"""A handle where no strands meet."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.lacing.lacings import lacing_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where arms are to be wrapped and the lacing brings no strands together."""
    lacing = lacing_of(w)
    if not lacing.hub and w.count("handle.arms"):
        yield Trouble(
            "handle.arms",
            f"{lacing.title} brings no strands together that a handle could be wrapped round",
            f"{w.count('handle.arms')} arms",
            "0 arms with this lacing",
            "arms: 0",
        )


RULE = Rule(
    name="handle-without-hub",
    severity=Severity.ERROR,
    why="Two heads close the drum on both sides: there is no open back with a hub.",
    mend="Leave the handle away, or tie a strap to the legs of the lace.",
    source=WORKSHOP,
    check=check,
    failing={"lace.lacing": "zigzag", "frame.depth": "150 mm", "handle.arms": 4},
    passing={"lace.lacing": "zigzag", "frame.depth": "150 mm", "handle.arms": 0},
    gate=True,
)
