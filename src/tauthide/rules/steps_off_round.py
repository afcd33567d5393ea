"""A chord is to be stepped round a frame that is not round."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import PLANE_GEOMETRY, Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_round
from tauthide.geometry.marking import choose_method
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.variants import without

MARKING = "stations.marking"


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where stepping is asked for off a circle."""
    if w.has(MARKING) and w.word(MARKING) == "step" and not is_round(w):
        yield Trouble(
            MARKING,
            "Equal steps do not give equal shares of a rim that is not round: the sheet marks the frame with a tape",
            f"step, on {_AN[w.word('frame.outline')]}",
            "stepping on round frames; a running tape or folds elsewhere",
            f"marking: {choose_method(without(w, MARKING))}",
        )


_AN = {"oval": "an oval", "polygon": "a polygon"}


RULE = Rule(
    name="steps-off-round",
    severity=Severity.WARNING,
    why="Where the rim bends more, a chord spans more of it: the stations drift apart along the flat.",
    mend="Use the running tape on the frame, or fold.",
    source=PLANE_GEOMETRY,
    check=check,
    failing={
        "frame.outline": "oval",
        "frame.length": "16 in",
        "frame.width": "13 in",
        "head.hide": "calf",
        "stations.marking": "step",
    },
    passing={
        "frame.outline": "oval",
        "frame.length": "16 in",
        "frame.width": "13 in",
        "head.hide": "calf",
        "stations.marking": "tape",
    },
)
