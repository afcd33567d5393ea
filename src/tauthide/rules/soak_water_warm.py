"""The skin soaks in water that is too warm."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.measures import beyond, temperature, temperature_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

WARMEST_C = 30.0
"""Warmer, skin goes off within hours. Workshop practice, no published source."""

SHRINKS_C = 53.0
"""Raw skin shrinks from about 53.5 C on (new parchment in water: Heritage Science 2019, 40494-019-0292-8, table 3)."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the water is warmer than wet skin should be; an error where the skin shrinks in it."""
    water = w.given("bench.water")
    if not beyond(water, WARMEST_C):
        return
    shrinks = not beyond(SHRINKS_C, water)
    yield Trouble(
        "bench.water",
        "In water as warm as that raw skin shrinks to glue, and nothing brings it back"
        if shrinks
        else "The soaking water is too warm: the skin goes off and its hair side loosens",
        temperature(w, water, WARMEST_C),
        f"at most {temperature(w, WARMEST_C, water)}; the cooler, the better",
        f"water: {temperature_at_most(w, WARMEST_C)}",
        Severity.ERROR if shrinks else None,
    )


RULE = Rule(
    name="soak-water-warm",
    severity=Severity.WARNING,
    why="What makes skin rot works fast in warm water, and near 53 degrees C the skin itself shrinks and"
    " turns to glue.",
    mend="Soak in water from the cold tap, and longer.",
    source="shrinking of raw skin: Heritage Science 2019, 40494-019-0292-8, table 3 (onset from 53.5 C);"
    f" limit of 30 C: {WORKSHOP}",
    check=check,
    failing={"bench.water": "40 C"},
    passing={"bench.water": "15 C"},
)
