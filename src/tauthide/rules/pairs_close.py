"""Neighbouring pairs lie close together."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import MOST_SPACING_MM
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.variants import counts, with_value
from tauthide.rules.wording import length, no_less
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where pairs are nearer than a web on the blank, or than a hole once mounted."""
    blank, mounted = w["holes.blank_gap"], w["holes.mounted_gap"]
    if blank <= 0 or mounted <= 0:
        return  # `pairs-run-together` says it
    web, hole = w["holes.web"], w.given("stations.hole")
    if blank < web:
        yield Trouble(
            "stations.count",
            "Neighbouring pairs lie closer on the blank than the holes of a pair",
            f"{length(w, blank, web)} of skin between pairs",
            f"at least the web, {no_less(w, web, blank)}",
            _fewer(w),
        )
    if mounted < hole:
        yield Trouble(
            "stations.count",
            "On the frame neighbouring pairs leave less than a hole's width for the puckers between them",
            f"{length(w, mounted, hole)} between pairs",
            f"at least a hole's width, {no_less(w, hole, mounted)}",
            _fewer(w),
        )


def _fewer(w: Workings) -> str:
    """Return the most stations that leave room, on a polygon as many to each side; none where they were too few."""
    sides = w.count("frame.sides") if w.word("frame.outline") == "polygon" else 1
    least = ceil(w["frame.perimeter"] / MOST_SPACING_MM)
    fewer = (count for count in reversed(counts()) if least <= count < w.count("stations.count"))
    for count in sorted(fewer, key=lambda count: count % sides != 0):
        if leaves_room(with_value(w, "stations.count", count)):
            return f"count: {count}"
    return ""


def leaves_room(w: Workings) -> bool:
    """Tell whether pairs are a web apart on the blank, and a hole once mounted."""
    return w["holes.blank_gap"] >= w["holes.web"] and w["holes.mounted_gap"] >= w.given("stations.hole")


RULE = Rule(
    name="pairs-close",
    severity=Severity.WARNING,
    why="All puckers lie between the pairs: without room there the skin folds over the holes.",
    mend="Take fewer stations, a smaller web or smaller holes.",
    source=WORKSHOP,
    check=check,
    failing={"stations.count": 18},
    passing={"stations.count": 16},
)
