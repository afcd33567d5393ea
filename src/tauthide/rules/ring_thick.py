"""The ring's rod leaves no hole for the lace to go through."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_large
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

WIDTHS = 2.0
"""So many laces' widths the ring must be open: one lies there, the next is led through. Workshop practice, no
published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the open middle of the ring is narrower than two laces."""
    if w.has("lace.ring"):
        yield from too_large(
            w,
            "lace.ring_section",
            max(0.0, (w.given("lace.ring") - WIDTHS * w.given("lace.width")) / 2),
            "The rod is so thick that the lace cannot be led through the ring",
            ": the ring must be open by two widths of the lace",
        )


RULE = Rule(
    name="ring-thick",
    severity=Severity.ERROR,
    why="At every station the lace goes through the ring, past the turns that lie there.",
    mend="Take a thinner rod, or a larger ring.",
    source=WORKSHOP,
    check=check,
    failing={"lace.lacing": "ring", "lace.ring": "60 mm", "lace.ring_section": "28 mm"},
    passing={"lace.lacing": "ring", "lace.ring": "60 mm", "lace.ring_section": "5 mm"},
)
