"""The holes are too wide for the lace."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.fit import least_hole, most_hole
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_most, length, no_more
from tauthide.spec.defaults import WORKSHOP
from tauthide.units import parse


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the lace is less than half as wide as its holes."""
    hole, most = w.given("stations.hole"), most_hole(w)
    if hole <= most + SLACK_MM:
        return
    written = at_most(w, most)
    fits = parse("length", written) >= least_hole(w) - SLACK_MM
    yield Trouble(
        "stations.hole",
        "The holes are more than twice as wide as the lace",
        f"{length(w, hole, most)} for a lace of {length(w, w.given('lace.width'))}",
        f"at most {no_more(w, most, hole)}, or a wider lace",
        f"hole: {written}" if fits else "",
    )


RULE = Rule(
    name="hole-slack",
    severity=Severity.WARNING,
    why="A hole larger than it need be takes skin away that should hold, and a loose lace saws at one place.",
    mend="Punch smaller holes, or cut a wider lace.",
    source=WORKSHOP,
    check=check,
    failing={"stations.hole": "17 mm"},
    passing={"stations.hole": "10 mm"},
)
