"""A polygon is given another number of staves than it has sides."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import PLANE_GEOMETRY, Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where staves of a polygon are counted otherwise than its sides."""
    if w.word("frame.make") != "staves" or w.word("frame.outline") != "polygon" or not w.has("staves.count"):
        return
    sides = w.count("frame.sides")
    if w.count("staves.count") != sides:
        yield Trouble(
            "staves.count",
            "A polygon has one stave for each side",
            f"{w.count('staves.count')} staves",
            f"{sides} staves, or leave the count out",
            f"count: {sides}",
        )


RULE = Rule(
    name="staves-not-sides",
    severity=Severity.ERROR,
    why="The staves are the sides: with another number of them the ring has other corners than the drum.",
    mend="Leave the count out, or change the number of sides.",
    source=PLANE_GEOMETRY,
    check=check,
    failing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "frame.make": "staves",
             "staves.count": 10},
    passing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "frame.make": "staves",
             "staves.count": 8},
)  # fmt: skip
