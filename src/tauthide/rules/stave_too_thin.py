"""The boards are too thin for the ring to be left with its wall."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import PLANE_GEOMETRY, Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import is_of_staves
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where staves are thinner than the ring needs before it is rounded and planed."""
    if not is_of_staves(w) or not w.has("staves.thickness"):
        return
    thickness, least = w.given("staves.thickness"), w["stave.least_thickness"]
    if thickness < least - SLACK_MM:
        yield Trouble(
            "staves.thickness",
            "The staves are too thin: rounded and planed, the ring has less wall left than the drum wants",
            length(w, thickness, least),
            f"at least {no_less(w, least, thickness)} for a wall of {length(w, w.given('frame.wall'))}",
            f"thickness: {at_least(w, least)}",
        )


RULE = Rule(
    name="stave-too-thin",
    severity=Severity.ERROR,
    why="A round ring is cut out of a polygon: outside it loses wood at the corners, inside at the middle of each"
    " stave, so the wall is thinner than the staves were.",
    mend="Plane thicker boards, take more staves, or be content with a thinner wall.",
    source=PLANE_GEOMETRY,
    check=check,
    failing={"frame.make": "staves", "staves.thickness": "12 mm"},
    passing={"frame.make": "staves", "staves.thickness": "16 mm"},
)
