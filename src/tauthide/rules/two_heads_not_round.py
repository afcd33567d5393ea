"""Two heads on a frame that is not round."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_round
from tauthide.lacing.lacings import lacing_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where two heads are to go on an oval or a polygon."""
    if lacing_of(w).heads > 1 and not is_round(w):
        yield Trouble(
            "frame.outline",
            "Two heads are drawn to each other on round frames alone",
            f"{w.word('frame.outline')}, with lacing {w.word('lace.lacing')}",
            "round, or another lacing",
        )


RULE = Rule(
    name="two-heads-not-round",
    severity=Severity.ERROR,
    why="Half a step on, the stations of the second head lie otherwise to corners and narrow ends than those of the"
    " first: legs of all lengths and slants would pull the heads askew.",
    mend="Take a round frame, or lace each head by itself.",
    source=WORKSHOP,
    check=check,
    failing={
        "lace.lacing": "zigzag",
        "frame.outline": "oval",
        "frame.length": "18 in",
        "frame.width": "15 in",
        "frame.depth": "150 mm",
    },
    passing={"lace.lacing": "zigzag", "frame.depth": "150 mm"},
    gate=True,
)
