"""The strip is too dry or too wet to be bent."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import is_bent
from tauthide.rules.measures import SLACK, beyond, share_at_least, share_at_most
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import percent

DRIEST, WETTEST = 0.16, 0.25
"""Below the first wood breaks even in mild bends (E. M. Wengert's advice on steam bending); above the second water in
its cells is pressed about and bursts it (Wood Handbook, FPL-GTR-190, from memory)."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the strip goes into the steam drier or wetter than wood bends well."""
    if not is_bent(w):
        return
    moisture = w.given("bending.moisture")
    if beyond(moisture, WETTEST):
        yield Trouble(
            "bending.moisture",
            "The strip is too wet to be bent: water pressed about in it may burst it, and it shrinks a lot afterwards",
            percent(moisture, WETTEST),
            f"at most {percent(WETTEST, moisture)}",
            f"moisture: {share_at_most(WETTEST)}",
        )
    elif moisture < DRIEST - SLACK:
        yield Trouble(
            "bending.moisture",
            "The strip is too dry to be bent, whatever the steam: it breaks on its outside",
            percent(moisture, DRIEST),
            f"at least {percent(DRIEST, moisture)}",
            f"moisture: {share_at_least(DRIEST)}",
        )


RULE = Rule(
    name="strip-moisture-off",
    severity=Severity.WARNING,
    why="Steam brings heat and hardly any water into wood: the water that lets it bend must be in it beforehand.",
    mend="Take air-dried wood, or soak kiln-dried strips for days; let green ones dry first. Measure it, or weigh a"
    " piece before and after an oven has dried it.",
    source="16 % for mild bends, 23 to 25 % for severe ones: E. M. Wengert, steam bending and wood moisture content;"
    " not above 25 %: Wood Handbook, FPL-GTR-190, from memory",
    check=check,
    failing={"frame.make": "bent", "bending.moisture": "10 %"},
    passing={"frame.make": "bent", "bending.moisture": "20 %"},
)
