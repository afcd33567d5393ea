"""The sides of a polygon get unequal numbers of stations."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.trials import write_count
from tauthide.rules.variants import counts
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the station count is not a multiple of the sides."""
    if w.word("frame.outline") != "polygon":
        return
    sides, count = w.count("frame.sides"), w.count("stations.count")
    if count % sides == 0:
        return
    even = sorted((each for each in counts() if each % sides == 0), key=lambda each: (abs(each - count), -each))
    yield Trouble(
        "stations.count",
        "The sides of the frame get unequal numbers of stations",
        f"{count} stations on {sides} sides",
        f"an even multiple of {sides}",
        write_count(w, even),
    )


RULE = Rule(
    name="polygon-uneven-sides",
    severity=Severity.WARNING,
    why="Some sides are pulled harder than others, stations fall on corners, and no two sides are marked alike.",
    mend="Take a station count that is an even multiple of the number of sides.",
    source=WORKSHOP,
    check=check,
    failing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "stations.count": 14},
    passing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "stations.count": 16},
)
