"""The skins of two heads leave no room between them."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import ends_on_wall
from tauthide.rules.drop_small import least_drop
from tauthide.rules.limits import too_large, too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

LEAST_APART_MM = 15.0
"""Bare wall between the skins that hands need to work the legs. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the edges of both skins, drawn tight, come too near to each other."""
    if ends_on_wall(w):
        room = w.given("frame.depth") - 2 * w["holes.drawn_in"] - LEAST_APART_MM
        if room / 2 < least_drop(w):
            # No drop will do: any is too large for this depth, or too small for the holes.
            drop = max(w.given("head.drop"), least_drop(w))
            message = "Drawn tight, the skins of both heads would all but meet on the wall, however short they are"
            least = 2 * (drop + w["holes.drawn_in"]) + LEAST_APART_MM
            yield from too_small(w, "frame.depth", least, message, " with these skins")
            return
        yield from too_large(
            w,
            "head.drop",
            max(0.0, room / 2),
            "Drawn tight, the skins of both heads would all but meet on the wall",
            ": so that bare wall is left between them, also when they have been drawn tight",
        )


RULE = Rule(
    name="heads-meet",
    severity=Severity.ERROR,
    why="Heads that meet cannot be drawn any tighter, and no hand gets at the lace.",
    mend="Build a deeper frame, or let the skins come less far down the wall.",
    source=WORKSHOP,
    check=check,
    failing={"lace.lacing": "zigzag", "frame.depth": "80 mm"},
    passing={"lace.lacing": "zigzag", "frame.depth": "150 mm"},
    gate=True,
)
