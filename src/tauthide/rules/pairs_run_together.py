"""Hole pairs run into the next station's."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.variants import with_value
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
                f"{w.count('stations.count')} stations, which leaves {length(w, gap, 0.0)} between pairs",
                "more than 0 between the holes of neighbouring stations",
                _fewer(w),
            )
            return


def _fewer(w: Workings) -> str:
    """Return the most stations that leave a hole's width of skin between pairs, found by trying."""
    count = w.count("stations.count")
    pair = w["holes.pair_spacing"] + w.given("stations.hole")
    around = min(w["holes.mounted_gap"], w["holes.blank_gap"]) + pair
    likely = int(around * count / (pair + w.given("stations.hole"))) // 2 * 2
    # At a polygon's corners pairs are closer than elsewhere, so that the first guess may be too many.
    for fewer in range(likely, _FEWEST - 1, -2):
        changed = with_value(w, "stations.count", fewer)
        if changed["holes.blank_gap"] > 0 and changed["holes.mounted_gap"] > 0:
            return f"count: {fewer}"
    return ""


_FEWEST = 4

RULE = Rule(
    name="pairs-run-together",
    severity=Severity.ERROR,
    why="Where two pairs meet, holes merge and the skin between them tears.",
    mend="Take fewer stations, a smaller web or smaller holes.",
    source=WORKSHOP,
    check=check,
    failing={"stations.count": 30},
    passing={"stations.count": 16},
)
