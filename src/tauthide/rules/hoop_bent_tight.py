"""The hoop is bent tighter than wood of its thickness can be bent."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import outline_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_most, length

GOOD_RADIUS, LEAST_RADIUS = 16.0, 12.0
"""Radius of the bend over the wood's thickness: about one in four pieces is spoilt at 12, hardly any is less than good
at 16. Lemoine and Koch 1971 (southern pine, clear and straight-grained, steamed, with strap and end pressure)."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a bent hoop's wall passes a sixteenth of its least inside radius; an error past a twelfth.

    The wood is bent round a form, so the radius is that of the inside: on an oval at its ends.
    """
    if w.word("frame.make") != "bent" or w.word("frame.outline") == "polygon":
        return
    wall, outside = w.given("frame.wall"), outline_of(w).least_radius_mm
    most = outside / (GOOD_RADIUS + 1)
    if wall <= most + SLACK_MM:
        return
    breaks = wall > outside / (LEAST_RADIUS + 1) + SLACK_MM
    chances = "hardly any piece of wood stands it" if breaks else "many pieces of wood crack"
    yield Trouble(
        "frame.wall",
        f"The hoop is bent too tight for its thickness: {chances}",
        f"{length(w, wall, most)}, bent to a radius of {length(w, outside - wall)} inside",
        f"at most {length(w, most, wall)}: a sixteenth of the radius inside, with strap and end pressure",
        f"wall: {at_most(w, most)}",
        Severity.ERROR if breaks else None,
    )


RULE = Rule(
    name="hoop-bent-tight",
    severity=Severity.WARNING,
    why="The outer face of a bent strip is stretched, and wood stretches very little; thick wood on a small"
    " radius cracks.",
    mend="Bend a thinner wall, glue the hoop up from two thin layers (and give `make: bought`), build it of"
    " staves, or take a larger frame.",
    source="Lemoine and Koch 1971, Forest Products Journal 21(4): southern pine with strap and end pressure",
    check=check,
    failing={"frame.make": "bent", "frame.wall": "10 mm"},
    passing={"frame.make": "bent", "frame.wall": "8 mm"},
)
