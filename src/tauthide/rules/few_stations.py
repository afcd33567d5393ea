"""There are too few stations for so long a rim."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import MOST_SPACING_MM
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.trials import fair_first, write_count
from tauthide.rules.variants import counts
from tauthide.rules.wording import SLACK_MM, length, no_more
from tauthide.spec.defaults import WORKSHOP

GUARD = 1e-9
"""So that a rim of a whole number of spacings is not given another station by floating point."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where each station has more rim than it can hold evenly."""
    spacing = w["stations.rim_spacing"]
    if spacing > MOST_SPACING_MM + SLACK_MM:
        enough = ceil(w["frame.perimeter"] / MOST_SPACING_MM - GUARD)
        yield Trouble(
            "stations.count",
            "Too few stations for this rim: the head goes slack between them",
            f"{w.count('stations.count')} stations, {length(w, spacing, MOST_SPACING_MM)} of rim each",
            f"at most {no_more(w, MOST_SPACING_MM, spacing)} of rim for each station",
            write_count(w, fair_first(w, [count for count in counts() if count >= enough])),
        )


RULE = Rule(
    name="few-stations",
    severity=Severity.WARNING,
    why="Between stations nothing holds the skin: the rim there stays slack, and each station takes more of the pull.",
    mend="Take more stations, as far as their pairs have room.",
    source=WORKSHOP,
    check=check,
    failing={"stations.count": 8},
    passing={"stations.count": 16},
)
