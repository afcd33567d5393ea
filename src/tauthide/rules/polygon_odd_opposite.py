"""Opposite a side of this polygon lies a corner."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.lacing.lacings import lacing_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a polygon has an odd number of sides."""
    if lacing_of(w).across and w.word("frame.outline") == "polygon" and w.count("frame.sides") % 2:
        yield Trouble(
            "frame.sides",
            "Opposite the middle of a side lies a corner: no station has one opposite that is like it",
            f"{w.count('frame.sides')} sides",
            "an even number of sides",
        )


RULE = Rule(
    name="polygon-odd-opposite",
    severity=Severity.WARNING,
    why="Cross lacing pulls each station against the one opposite: a side against a corner pulls the frame off centre.",
    mend="Build a frame with an even number of sides, or centre with care and draw tight in more passes.",
    source=WORKSHOP,
    check=check,
    failing={
        "frame.outline": "polygon",
        "head.hide": "deer",
        "frame.sides": 7,
        "frame.across_flats": "14 in",
        "stations.count": 14,
    },
    passing={
        "frame.outline": "polygon",
        "head.hide": "deer",
        "frame.sides": 8,
        "frame.across_flats": "14 in",
        "stations.count": 16,
    },
)
