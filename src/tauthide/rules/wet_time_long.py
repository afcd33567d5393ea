"""The skin stays wet too long for the warmth of the room."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.measures import beyond, temperature, temperature_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP
from tauthide.units import time
from tauthide.work.wetness import longest_wet_time, warmest_air, wet_time


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the work from lifting the skin to drawn tight takes longer than wet skin may wait."""
    air, needed = w.given("bench.air"), wet_time(w)
    longest = longest_wet_time(air)
    if not beyond(needed, longest):
        return
    coolest = warmest_air(needed)
    cooler = "" if coolest is None else f"; or air of at most {temperature(w, coolest, air)}"
    yield Trouble(
        "bench.air",
        "The skin is wet for longer than it keeps in a room so warm",
        f"{time(needed)} from the water to drawn tight, in air of {temperature(w, air, coolest)}",
        f"at most {time(longest)} in such air{cooler}",
        "" if coolest is None else f"air: {temperature_at_most(w, coolest)}",
    )


RULE = Rule(
    name="wet-time-long",
    severity=Severity.WARNING,
    why="Wet skin above 20 degrees C is damaged within hours: it smells, turns slimy and loses its grain, and tears.",
    mend="Work in a cooler room or in the morning, cut the lace beforehand, put the skin back into cool water between"
    " steps, or lace with two people.",
    source=f"CSIRO Meat Technology Update 98/3 (damage above 20 C within hours); times by temperature: {WORKSHOP}",
    check=check,
    failing={"bench.air": "28 C"},
    passing={"bench.air": "18 C"},
)
