"""So many steps add up their error."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_round
from tauthide.geometry.marking import STEP_LIMIT, choose_method
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.variants import without
from tauthide.rules.wording import length
from tauthide.spec.defaults import WORKSHOP

MARKING = "stations.marking"


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where more stations are stepped round the edge than end where they began."""
    count = w.count("stations.count")
    if not w.has(MARKING) or w.word(MARKING) != "step" or not is_round(w) or count <= STEP_LIMIT:
        return
    yield Trouble(
        MARKING,
        f"Stepped {count} times, a chord wrong by 1 mm is out by {length(w, w['stations.step_error'])} at the end",
        f"step, with {count} stations",
        f"stepping up to {STEP_LIMIT} stations; a running tape beyond",
        f"marking: {choose_method(without(w, MARKING))}",
    )


RULE = Rule(
    name="many-steps",
    severity=Severity.WARNING,
    why="Each step takes over the error of the one before, and the last gap shows them all.",
    mend="Use a running tape, whose marks do not build on each other.",
    source="Encyclopaedia Britannica, 9th ed., vol. 11, on stepping round a divided circle; the limit: " + WORKSHOP,
    check=check,
    failing={
        "frame.diameter": "22 in",
        "head.hide": "cow",
        "stations.web": "16 mm",
        "stations.count": 22,
        "stations.marking": "step",
    },
    passing={
        "frame.diameter": "22 in",
        "head.hide": "cow",
        "stations.web": "16 mm",
        "stations.count": 20,
        "stations.marking": "step",
    },
)
