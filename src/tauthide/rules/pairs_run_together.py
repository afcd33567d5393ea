"""Hole pairs run into the next station's."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import length
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where neighbouring pairs overlap, on the blank or once mounted."""
    for figure, where in (("holes.blank_gap", "on the blank"), ("holes.mounted_gap", "on the frame")):
        gap = w[figure]
        if gap <= 0:
            yield Trouble(
                "stations.count",
                f"Hole pairs run into the next station {where}",
                f"{w.count('stations.count')} stations, which leaves {length(w, gap)} between pairs",
                "more than 0 between the holes of neighbouring stations",
                _fewer(w),
            )
            return


def _fewer(w: Workings) -> str:
    """Return the most stations that fit, by the room that a pair and a hole's width of skin take."""
    count = w.count("stations.count")
    pair = w["holes.pair_spacing"] + w.given("stations.hole")
    around = min(w["holes.mounted_gap"], w["holes.blank_gap"]) + pair
    fitting = int(around * count / (pair + w.given("stations.hole"))) // 2 * 2
    return f"count: {fitting}" if fitting >= _FEWEST else ""


_FEWEST = 4

RULE = Rule(
    name="pairs-run-together",
    severity=Severity.ERROR,
    why="Where two pairs meet, holes merge and the skin between them tears.",
    mend="Take fewer stations, a smaller web or smaller holes.",
    source=WORKSHOP,
    check=check,
)
