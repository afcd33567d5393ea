"""More skin gathers between stations than lies in neat puckers."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import outline_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.trials import fair_first, write_count
from tauthide.rules.variants import counts
from tauthide.rules.wording import SLACK_MM, length, no_more
from tauthide.spec.defaults import WORKSHOP

MOST_GATHER_MM = 75.0
"""Skin taken up in the puckers between two stations. Workshop practice, no published source."""

GUARD = 1e-9
"""So that a whole number of such gathers is not given another station by floating point."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the rim takes up more skin between two stations than puckers can hold."""
    gathered = w["head.gather"] * outline_of(w).perimeter_at(w["holes.line_reach"])
    count = w.count("stations.count")
    if gathered / count <= MOST_GATHER_MM + SLACK_MM:
        return
    enough = ceil(gathered / MOST_GATHER_MM - GUARD)
    yield Trouble(
        "stations.count",
        "So much skin gathers between neighbouring stations that the puckers fold over each other",
        f"{count} stations, {length(w, gathered / count, MOST_GATHER_MM)} taken up between each and the next",
        f"at most {no_more(w, MOST_GATHER_MM, gathered / count)} between stations",
        write_count(w, fair_first(w, [more for more in counts() if more >= enough])),
    )


RULE = Rule(
    name="gather-great",
    severity=Severity.WARNING,
    why="Large puckers fold over, dry as hard lumps and keep the head from being drawn evenly.",
    mend="Take more stations, or leave a narrower turnover on a shallower frame.",
    source=WORKSHOP,
    check=check,
    failing={"head.hide": "deer", "frame.depth": "80 mm", "stations.count": 10},
    passing={"head.hide": "deer", "frame.depth": "80 mm", "stations.count": 12},
)
