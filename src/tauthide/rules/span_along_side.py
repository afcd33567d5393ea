"""A span runs over another station's hole."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from tauthide.figures import PLANE_GEOMETRY, Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_round
from tauthide.geometry.holes import Pair, Point
from tauthide.lacing.lacings import lacing_of
from tauthide.lacing.order import Step, follow, hole_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.trials import fair_first, has_room, write_count
from tauthide.rules.variants import counts


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the line of a span passes within half a hole of a hole that is none of its ends."""
    if is_round(w) or not lacing_of(w).across:
        return  # a circle bends away from every chord
    crossed = _first_crossed(w)
    if crossed is None:
        return
    leaving, entering, covered = crossed
    count = w.count("stations.count")
    nearest = sorted((each for each in counts() if each != count), key=lambda each: (abs(each - count), -each))
    yield Trouble(
        "stations.count",
        f"The span from station {leaving} to station {entering} runs along the rim, over a hole of station {covered}",
        f"{count} stations",
        "a count with which every span runs clear across the back",
        write_count(w, fair_first(w, nearest), lambda changed: _first_crossed(changed) is None and has_room(changed)),
    )


def _first_crossed(w: Workings) -> tuple[int, int, int] | None:
    """Return the stations of the first such span, and the one whose hole it passes over; None where all run clear."""
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    steps: tuple[Step, ...] = w.shape("lace.steps")
    near = w.given("stations.hole") / 2
    for before, step in follow(steps):
        if before is None:
            continue
        start, end = hole_of(pairs, before.station, before.leave), hole_of(pairs, step.station, step.enter)
        for pair in pairs:
            if any(at not in (start, end) and _distance(at, start, end) < near for at in (pair.a, pair.b)):
                return before.station, step.station, pair.station
    return None


def _distance(point: Point, start: Point, end: Point) -> float:
    """Return how far a point lies from the straight line between two others, beyond its ends from the nearer one."""
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    x, y = point[0] - start[0], point[1] - start[1]
    share = min(1.0, max(0.0, (x * along_x + y * along_y) / (along_x**2 + along_y**2)))
    return hypot(x - share * along_x, y - share * along_y)


RULE = Rule(
    name="span-along-side",
    severity=Severity.WARNING,
    why="There the lace lies on the wood and over a hole that is still to be laced: it jams and pulls nothing.",
    mend="Take another station count.",
    source=PLANE_GEOMETRY,
    check=check,
    failing={
        "frame.outline": "polygon",
        "frame.sides": 3,
        "frame.across_flats": "10 in",
        "head.hide": "deer",
        "stations.count": 6,
    },
    passing={
        "frame.outline": "polygon",
        "frame.sides": 3,
        "frame.across_flats": "10 in",
        "head.hide": "deer",
        "stations.count": 12,
    },
)
