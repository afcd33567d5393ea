"""The holes of a pair touch: there is no web between them."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_least, length, no_less
from tauthide.spec.defaults import WORKSHOP

LEAST_WEB_MM = 2.0
"""Less than this tears when the punch comes through. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the pair spacing leaves no web worth the name."""
    if not w.spec.has("stations.pair_spacing"):
        return
    spacing, hole = w.given("stations.pair_spacing"), w.given("stations.hole")
    if w["holes.web"] < LEAST_WEB_MM - SLACK_MM:
        least = hole + LEAST_WEB_MM
        yield Trouble(
            "stations.pair_spacing",
            f"With holes of {length(w, hole)} this pair spacing leaves no web between the holes of a pair",
            length(w, spacing, least),
            f"more than a hole: at least {no_less(w, least, spacing)}",
            f"pair_spacing: {at_least(w, least)}",
        )


RULE = Rule(
    name="web-gone",
    severity=Severity.ERROR,
    why="The lace holds on to the web; without one it pulls straight out of the skin.",
    mend="Put the holes of a pair farther apart, or punch smaller ones.",
    source=WORKSHOP,
    check=check,
    failing={"stations.pair_spacing": "11 mm"},
    passing={"stations.pair_spacing": "30 mm"},
    gate=True,
)
