"""The holes of a head that ends on the wall come too near to its bearing edge."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import ends_on_wall
from tauthide.rules.limits import too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a hole reaches into the rounding of the bearing edge or into the head."""
    if ends_on_wall(w):
        yield from too_small(
            w,
            "head.drop",
            least_drop(w),
            "The skin comes down the wall too little for its holes: they would lie on the bearing edge or in the head",
            " with this margin, hole and edge",
        )


def least_drop(w: Workings) -> float:
    """Return the least drop at which the whole hole lies on the straight wall."""
    return w.given("frame.edge_radius") + w.given("stations.hole") / 2 + w["holes.edge_distance"]


RULE = Rule(
    name="drop-small",
    severity=Severity.ERROR,
    why="The lace must pass behind the web, between skin and wall.",
    mend="Let the skin come further down the wall, or take a smaller margin or hole.",
    source=WORKSHOP,
    check=check,
    failing={"lace.lacing": "zigzag", "frame.depth": "150 mm", "head.drop": "20 mm"},
    passing={"lace.lacing": "zigzag", "frame.depth": "150 mm", "head.drop": "36 mm"},
    gate=True,
)
