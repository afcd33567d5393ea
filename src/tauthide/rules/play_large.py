"""So much play is left that the head is hard to draw tight."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_large
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

MOST_PLAY_MM = 40.0
SHARE_OF_RADIUS = 0.25
"""Slack in each span of any drum, and as a share of half the frame's width. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the spans are laced with much slack, for any drum or for one so small."""
    most = min(MOST_PLAY_MM, SHARE_OF_RADIUS * w["frame.half_span"])
    reason = "" if most == MOST_PLAY_MM else ", a quarter of the way from the middle to the rim"
    yield from too_large(
        w, "lace.play", most, "So much play in the spans takes long to work out, and the frame slips meanwhile", reason
    )


RULE = Rule(
    name="play-large",
    severity=Severity.WARNING,
    why="All slack is worked round to the tail by hand: too much of it, and the skin dries before it is tight.",
    mend="Leave less play in each span.",
    source=WORKSHOP,
    check=check,
    failing={"lace.play": "60 mm"},
    passing={"lace.play": "12 mm"},
)
