"""A frame with corners is to be bent."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a polygon is made by bending."""
    if w.word("frame.make") == "bent" and w.word("frame.outline") == "polygon":
        yield Trouble(
            "frame.make",
            "A frame with corners cannot be bent from a strip",
            f"bent, with {w.count('frame.sides')} corners",
            "staves or bought",
            "make: staves",
        )


RULE = Rule(
    name="polygon-bent",
    severity=Severity.ERROR,
    why="A corner is a bend without any radius: wood breaks there.",
    mend="Build the frame of staves, mitred where they meet, or bend a round one.",
    source=WORKSHOP,
    check=check,
    failing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "frame.make": "bent"},
    passing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "frame.make": "staves"},
)
