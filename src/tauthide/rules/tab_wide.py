"""The lace's tab does not go through its hole."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.fit import hole_area
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import at_most, length, no_more, section
from tauthide.spec.defaults import WORKSHOP
from tauthide.units import parse

LAYERS = 2
"""The tab is doubled over to go through. Workshop practice, no published source."""

SLACK_MM2 = 1e-6
"""A hole is too small by more than this: less is lost in converting units."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the tab, doubled over, is larger than its hole."""
    width, area = w.given("lace.tab_width"), hole_area(w)
    flat = width * w.given("lace.thickness")
    if LAYERS * flat <= area + SLACK_MM2:
        return
    goes = "Doubled over, the tab" if flat <= area + SLACK_MM2 else "Even flat, the tab"
    most = area / (LAYERS * w.given("lace.thickness"))
    written = at_most(w, most)
    yield Trouble(
        "lace.tab_width",
        f"{goes} is larger than its hole: pass the running end through first instead",
        f"{length(w, width, most)}, which makes {section(LAYERS * flat)} doubled over",
        f"at most {no_more(w, most, width)} for a hole of {section(area)}",
        f"tab_width: {written}" if parse("length", written) > w.given("lace.width") else "",
    )


RULE = Rule(
    name="tab-wide",
    severity=Severity.NOTE,
    why="The tab goes in by one hole of station 1 and out by the other; forced through, it tears the first web.",
    mend="Pass the running end through first, cut a narrower tab, or punch larger holes.",
    source=WORKSHOP,
    check=check,
    failing={"lace.tab_width": "45 mm"},
    passing={"lace.tab_width": "25 mm"},
)
