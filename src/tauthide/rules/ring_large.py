"""The ring at the hub leaves no room to draw the lace."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_large
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

LEAST_STRAND_MM = 40.0
"""Strands between ring and holes must be long enough to take hold of. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the ring's outside comes nearer to a pair of holes than a hand needs."""
    if not w.has("lace.ring"):
        return
    # Without the holes' places: this is a gate, and there may be none on a drum that is too small for its pairs.
    to_line = _half_width(w) - w["holes.mounted_inset"]
    nearest = sqrt(max(0.0, to_line**2 - (w["holes.pair_spacing"] / 2) ** 2))
    yield from too_large(
        w,
        "lace.ring",
        max(0.0, 2 * (nearest - LEAST_STRAND_MM)),
        "The ring comes so near to the holes that there is nothing left to draw on",
        ": so that the strands can be taken hold of",
    )


def _half_width(w: Workings) -> float:
    """Return how near to the middle the frame's outside comes."""
    if w.word("frame.outline") == "oval":
        return min(w.given("frame.length"), w.given("frame.width")) / 2
    return w["frame.half_span"]


RULE = Rule(
    name="ring-large",
    severity=Severity.ERROR,
    why="The head is drawn tight by its strands: where ring and holes all but meet, no hand gets at them.",
    mend="Take a smaller ring, or cross lacing, which needs none.",
    source=WORKSHOP,
    check=check,
    failing={"lace.lacing": "ring", "lace.ring": "250 mm"},
    passing={"lace.lacing": "ring", "lace.ring": "60 mm"},
    gate=True,
)
