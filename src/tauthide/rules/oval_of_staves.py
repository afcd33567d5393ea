"""An oval is to be glued up from staves."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import PLANE_GEOMETRY, Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where an oval is made of staves."""
    if w.word("frame.make") == "staves" and w.word("frame.outline") == "oval":
        yield Trouble(
            "frame.make",
            "An oval cannot be glued up from equal staves",
            "an oval of staves",
            "bent or bought",
            "make: bent",
        )


RULE = Rule(
    name="oval-of-staves",
    severity=Severity.ERROR,
    why="Staves all alike, with one mitre, close to a regular polygon and to nothing else.",
    mend="Bend the oval from a strip, or buy it.",
    source=PLANE_GEOMETRY,
    check=check,
    failing={"frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in", "frame.make": "staves"},
    passing={"frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in", "frame.make": "bent"},
)
