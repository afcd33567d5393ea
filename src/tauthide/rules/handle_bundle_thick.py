"""The bundles of the handle are too thick to grip."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.lace import bundle_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length, no_more
from tauthide.spec.defaults import WORKSHOP

MOST_BUNDLE_MM = 30.0
"""What a hand closes round when the fingers go between several arms. Workshop practice, no published source."""

MOST_ARMS = 8
"""More arms than that the schema does not take."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where one arm of the handle gathers more than a hand can grip."""
    if w.count("handle.arms") == 0 or w["handle.bundle"] <= MOST_BUNDLE_MM + SLACK_MM:
        return
    yield Trouble(
        "handle.arms",
        "The bundles of the handle get too thick to grip",
        f"{w.count('handle.arms')} arms, each {length(w, w['handle.bundle'], MOST_BUNDLE_MM)} thick",
        f"arms of at most {no_more(w, MOST_BUNDLE_MM, w['handle.bundle'])}",
        _enough(w),
    )


def _enough(w: Workings) -> str:
    strands = w["lace.strands"]
    width, thickness = w.given("lace.width"), w.given("lace.thickness")
    for arms in range(w.count("handle.arms") + 1, MOST_ARMS + 1):
        if bundle_of(strands / arms, width, thickness) <= MOST_BUNDLE_MM:
            return f"arms: {arms}"
    return ""


RULE = Rule(
    name="handle-bundle-thick",
    severity=Severity.WARNING,
    why="A handle that the fingers do not close round slips, and tires the hand.",
    mend="Part the strands into more arms, or cut a narrower lace.",
    source=WORKSHOP,
    check=check,
    failing={"handle.arms": 2, "lace.width": "12 mm", "lace.thickness": "4 mm", "stations.hole": "14 mm"},
    passing={"handle.arms": 4},
)
