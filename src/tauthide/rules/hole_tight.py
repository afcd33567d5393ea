"""The lace has too little room in its holes."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.fit import FILL, hole_area, lace_section, least_hole, passing_hole, widest_lace
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less, no_more, percent
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the lace fills too much of a hole, overlaps itself in it, or does not pass."""
    hole, least = w.given("stations.hole"), least_hole(w)
    if hole >= least - SLACK_MM:
        return
    stuck = hole < passing_hole(w) - SLACK_MM
    width = widest_lace(w)
    # The least width that a spec takes is not worth a search: a lace much narrower than this is another lace.
    narrower = f", or a lace of at most {no_more(w, width, w.given('lace.width'))}" if width > 0 else ""
    yield Trouble(
        "stations.hole",
        "The lace cannot pass through its holes" if stuck else _complaint(w),
        f"{length(w, hole, least)} for a lace of {length(w, w.given('lace.width'), width)} by"
        f" {length(w, w.given('lace.thickness'))}",
        f"at least {no_less(w, least, hole)}{narrower}",
        f"hole: {at_least(w, least)}",
        Severity.ERROR if stuck else None,
    )


def _complaint(w: Workings) -> str:
    filled = lace_section(w) / hole_area(w)
    if filled > FILL:
        return f"The lace fills {percent(filled, FILL)} of its holes, more than {percent(FILL, filled)}"
    return "Curled into its hole, the lace overlaps itself"


RULE = Rule(
    name="hole-tight",
    severity=Severity.WARNING,
    why="Wet lace swells and drags: in a tight hole it jams while it is drawn tight, and tears the hole.",
    mend="Punch larger holes, or cut a narrower lace.",
    source=WORKSHOP,
    check=check,
    failing={"stations.hole": "3.2 mm"},
    passing={"stations.hole": "8 mm"},
)
