"""No punch of the shop makes this hole."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.fit import least_hole, most_hole
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length, no_less
from tauthide.spec.defaults import WORKSHOP

SAME_SIZE_MM = 0.25
"""A punch so near to the hole's size makes it: none is ground closer. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where punches are listed and none is as large as the hole."""
    owned = w.spec.numbers("bench.punches")
    hole = w.given("stations.hole")
    if not owned or any(abs(size - hole) <= SAME_SIZE_MM + SLACK_MM for size in owned):
        return
    least = least_hole(w)
    fitting = [(size, written) for size, written in _punches(w) if size >= least - SLACK_MM]
    nearest = min(fitting, key=lambda punch: (punch[0] > most_hole(w), abs(punch[0] - hole), punch[0]), default=None)
    yield Trouble(
        "stations.hole",
        "None of your punches makes this hole",
        f"{length(w, hole)}; your punches: {', '.join(written for _, written in _punches(w))}",
        f"a punch that you own, of at least {no_less(w, least)} for this lace",
        f"hole: {nearest[1]}" if nearest else "",
    )


def _punches(w: Workings) -> list[tuple[float, str]]:
    """Return the punches with their sizes in mm and as the maker writes them, from small to large, each size once."""
    written = w.spec.settings["bench.punches"].written
    assert isinstance(written, list)  # the schema says so
    return sorted(dict(zip(w.spec.numbers("bench.punches"), map(str, written), strict=True)).items())


RULE = Rule(
    name="punch-not-owned",
    severity=Severity.WARNING,
    why="The sheet would send the maker to look for a tool that is not there, with wet skin on the bench.",
    mend="Take the nearest size that you own and that the lace goes through, or buy the punch.",
    source=WORKSHOP,
    check=check,
    failing={"bench.punches": "[8 mm, 12 mm]"},
    passing={"bench.punches": "[8 mm, 10 mm]"},
)
