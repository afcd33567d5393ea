"""The pair is as wide as the circle that it should lie on."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_turned_in, outline_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import at_most, length, no_more
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the mounted line bends with a radius that is not larger than the pair spacing.

    On an oval that is the radius at its ends, on a polygon the distance from the centre to a side.
    """
    if not is_turned_in(w):
        return
    inset, spacing = w["holes.mounted_inset"], w["holes.pair_spacing"]
    room = outline_of(w).least_radius_mm - inset
    if room > spacing:
        return
    turnover = w.given("head.turnover")
    most = turnover - (spacing - room) - _LEAST_ROOM_MM
    if outline_of(w).least_radius_mm - w.given("frame.edge_radius") - _LEAST_ROOM_MM < spacing:
        most = 0
    yield Trouble(
        "head.turnover",
        "The holes come to lie so far inside the frame that a pair no longer fits there",
        f"{length(w, turnover, most)}, which puts the holes {length(w, inset)} inside the frame",
        f"a turnover of at most {no_more(w, most, turnover)} with this margin, hole and web",
        f"turnover: {at_most(w, most)}" if most > 0 else "",
    )


_LEAST_ROOM_MM = 1.0

RULE = Rule(
    name="pair-too-wide",
    severity=Severity.ERROR,
    why="So far inside, the line of the holes is shorter than the pairs on it, or has no room to bend.",
    mend="Leave a narrower turnover, or take a smaller web or a larger frame.",
    source=WORKSHOP,
    check=check,
    failing={"frame.diameter": "100 mm"},
    passing={"frame.diameter": "100 mm", "head.turnover": "30 mm"},
    gate=True,
)
