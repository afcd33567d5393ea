"""The skin is too thick to fold."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.marking import FOLD_LIMIT_MM, choose_method
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.variants import without
from tauthide.rules.wording import SLACK_MM, length
from tauthide.spec.defaults import WORKSHOP

MARKING = "stations.marking"


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where skin is to be folded that does not fold to a line."""
    thickness = w.given("head.thickness")
    if not w.has(MARKING) or w.word(MARKING) != "fold" or thickness <= FOLD_LIMIT_MM + SLACK_MM:
        return
    yield Trouble(
        MARKING,
        "Skin as thick as this does not fold to a line",
        f"fold, with skin of {length(w, thickness, FOLD_LIMIT_MM)} when wet",
        f"folding up to {length(w, FOLD_LIMIT_MM, thickness)}; steps or a running tape beyond",
        f"marking: {choose_method(without(w, MARKING))}",
    )


RULE = Rule(
    name="fold-thick-skin",
    severity=Severity.WARNING,
    why="A thick skin bends in a curve: the crease lies several millimetres from where it should.",
    mend="Step the chord round the edge, or use a running tape.",
    source=WORKSHOP,
    check=check,
    failing={"head.hide": "cow", "stations.web": "16 mm", "stations.marking": "fold"},
    passing={"head.hide": "cow", "stations.web": "16 mm", "stations.marking": "step"},
)
