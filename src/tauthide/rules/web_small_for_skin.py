"""The web is too narrow for so thin a skin."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import clear_trouble
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length
from tauthide.spec.defaults import WORKSHOP

THIN_SKIN_MM = 1.2
"""Skin thinner than this when wet is thin. Workshop practice, no published source."""

THIN_SKIN_WEB_MM = 15.0
THICK_SKIN_WEB_MM = 12.0
"""Least webs of thin skin and of any other. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the web is below what a skin of this wet thickness wants."""
    thickness = w.given("head.thickness")
    least = THIN_SKIN_WEB_MM if thickness < THIN_SKIN_MM - SLACK_MM else THICK_SKIN_WEB_MM
    if w["holes.web"] < least - SLACK_MM:
        yield clear_trouble(
            w,
            "web",
            least,
            f"The web is narrow for skin of {length(w, thickness)} when wet",
            f" for skin below {length(w, THIN_SKIN_MM)}, {length(w, THICK_SKIN_WEB_MM)} from there on"
            if least == THIN_SKIN_WEB_MM
            else "",
        )


RULE = Rule(
    name="web-small-for-skin",
    severity=Severity.WARNING,
    why="A web thin in the skin must be wide: a thin skin wants a wider web, a thick one is not critical.",
    mend="Put the holes of a pair farther apart.",
    source=WORKSHOP,
    check=check,
    failing={"stations.web": "12 mm"},
    passing={"stations.web": "20 mm"},
)
