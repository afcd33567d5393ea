"""The frame is finished with wood drier or wetter than it will ever be in use."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import MOVEMENT, SETTLES, is_made
from tauthide.rules.measures import SLACK, beyond, share_at_least, share_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import percent

_DECIMALS = 1


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the moisture at the bench lies outside what the air of the drum's life gives."""
    if not is_made(w):
        return
    moisture, dry, damp = w.given("wood.moisture"), w["wood.dry_moisture"], w["wood.damp_moisture"]
    if dry > damp:
        return
    if beyond(moisture, damp):
        yield Trouble(
            "wood.moisture",
            "The frame is finished wetter than it will ever be: it shrinks, and its joints open",
            percent(moisture, damp),
            f"at most {percent(damp, moisture)}, what the dampest air gives",
            f"moisture: {share_at_most(damp)}",
        )
    elif moisture < dry - SLACK:
        yield Trouble(
            "wood.moisture",
            "The frame is finished drier than it will ever be: it swells, and its joints are strained",
            percent(moisture, dry),
            f"at least {percent(dry, moisture)}, what the driest air gives",
            f"moisture: {share_at_least(dry)}",
        )


RULE = Rule(
    name="wood-moisture-off",
    severity=Severity.WARNING,
    why="Wood moves until it is as dry as the air it lives in. What was cut true at another moisture is true no more.",
    mend="Let the wood lie in the room, stacked with air between, until its weight no longer changes; then glue it.",
    source=f"{SETTLES}; {MOVEMENT}",
    check=check,
    failing={"frame.make": "bent", "wood.moisture": "18 %"},
    passing={"frame.make": "bent", "wood.moisture": "9 %"},
)
