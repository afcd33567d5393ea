"""The tab is too short for its slit."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

LACE_WIDTHS = 3
"""The slit, and as much before and behind it. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the tab is short for the width of its lace."""
    least = LACE_WIDTHS * w.given("lace.width")
    yield from too_small(
        w, "lace.tab_length", least, "The tab is too short to take the slit", f", {LACE_WIDTHS} times the lace's width"
    )


RULE = Rule(
    name="tab-short",
    severity=Severity.WARNING,
    why="The slit wants as much skin before and behind it as it is long, or the lace tears out of it.",
    mend="Leave a longer tab, or cut a narrower lace.",
    source=WORKSHOP,
    check=check,
    failing={"lace.tab_length": "20 mm"},
    passing={"lace.tab_length": "50 mm"},
)
