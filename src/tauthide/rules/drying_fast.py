"""The drum dries too fast."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.measures import beyond, share_at_least, temperature, temperature_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import percent
from tauthide.spec.defaults import WORKSHOP

DRIEST, WARMEST_C = 0.35, 28.0
"""Air of less humidity, or warmer, dries the edges before the middle. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the air that the drum dries in is too dry, or too warm."""
    humidity, air = w.given("bench.humidity"), w.given("bench.air")
    if beyond(DRIEST, humidity):
        yield Trouble(
            "bench.humidity",
            "The air is so dry that the head dries unevenly",
            percent(humidity, DRIEST),
            f"at least {percent(DRIEST, humidity)}",
            f"humidity: {share_at_least(DRIEST)}",
        )
    if beyond(air, WARMEST_C):
        yield Trouble(
            "bench.air",
            "The air is so warm that the head dries unevenly",
            temperature(w, air, WARMEST_C),
            f"at most {temperature(w, WARMEST_C, air)}",
            f"air: {temperature_at_most(w, WARMEST_C)}",
        )


RULE = Rule(
    name="drying-fast",
    severity=Severity.WARNING,
    why="A head that dries fast dries first at the rim and the webs: they take the whole pull while the middle is still"
    " wet, and the frame warps or the webs tear.",
    mend="Dry in a cool room away from heaters, sun and draught, under a loose cloth, or with a bowl of water"
    " beside it.",
    source=WORKSHOP,
    check=check,
    failing={"bench.humidity": "25 %"},
    passing={"bench.humidity": "55 %"},
)
