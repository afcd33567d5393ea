"""The turns of lace do not lie side by side on the ring."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the turns of all stations, side by side, are wider than the ring is round inside."""
    if not w.has("lace.ring"):
        return
    turns = w.count("stations.count") * w.count("lace.ring_wraps")
    least = turns * w.given("lace.width") / pi + 2 * w.given("lace.ring_section")
    yield from too_small(
        w,
        "lace.ring",
        least,
        "The turns of lace have no room side by side on the ring",
        f": {turns} turns, flat, round its inside",
    )


RULE = Rule(
    name="ring-crowded",
    severity=Severity.WARNING,
    why="Turns that climb over each other jam: a strand beneath cannot be drawn up any more.",
    mend="Take a larger ring, a thinner rod, fewer turns, or a narrower lace.",
    source=WORKSHOP,
    check=check,
    failing={"lace.lacing": "ring", "lace.ring": "40 mm"},
    passing={"lace.lacing": "ring", "lace.ring": "60 mm"},
)
