"""The air is too damp for the drum to dry."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.voice import HUMIDITY
from tauthide.rules.measures import beyond, share_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import percent
from tauthide.spec.defaults import WORKSHOP

DAMPEST = 0.75
"""In damper air mould is faster than drying. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the air that the drum dries in is too damp."""
    humidity = w.given("bench.humidity")
    if beyond(humidity, DAMPEST):
        yield Trouble(
            "bench.humidity",
            "The air is so damp that the head hardly dries, and mould may get there first",
            percent(humidity, DAMPEST),
            f"at most {percent(DAMPEST, humidity)}",
            f"humidity: {share_at_most(DAMPEST)}",
        )


RULE = Rule(
    name="drying-damp",
    severity=Severity.WARNING,
    why="Skin keeps far more water in damp air, so that it stays slack, and what stays damp for days goes mouldy.",
    mend="Dry in a drier room with the air gently moving, or wait for drier weather.",
    source=f"{HUMIDITY}; limit: {WORKSHOP}",
    check=check,
    failing={"bench.humidity": "85 %"},
    passing={"bench.humidity": "55 %"},
)
