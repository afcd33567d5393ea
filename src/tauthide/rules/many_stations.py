"""There are more stations than the rim has room for."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.trials import fair_first, write_count
from tauthide.rules.variants import counts
from tauthide.rules.wording import SLACK_MM, length, no_less
from tauthide.spec.defaults import WORKSHOP

LEAST_SPACING_MM = 45.0
"""Rim that a station should have. Workshop practice, no published source; 65 to 80 mm are usual."""

GUARD = 1e-9
"""So that a rim of a whole number of spacings does not lose a station to floating point."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where stations follow one another more closely than they need to."""
    if w["holes.blank_gap"] <= 0 or w["holes.mounted_gap"] <= 0:
        return  # `pairs-run-together` says it
    spacing = w["stations.rim_spacing"]
    if spacing < LEAST_SPACING_MM - SLACK_MM:
        room = int(w["frame.perimeter"] / LEAST_SPACING_MM + GUARD)
        fewer = [count for count in reversed(counts()) if count <= room]
        yield Trouble(
            "stations.count",
            "More stations than this rim needs: every hole weakens the skin",
            f"{w.count('stations.count')} stations, {length(w, spacing, LEAST_SPACING_MM)} of rim each",
            f"at least {no_less(w, LEAST_SPACING_MM, spacing)} of rim for each station",
            write_count(w, fair_first(w, fewer)),
        )


RULE = Rule(
    name="many-stations",
    severity=Severity.WARNING,
    why="Holes close together leave little skin to hold, and each station costs lace and time.",
    mend="Take fewer stations, or a larger frame.",
    source=WORKSHOP,
    check=check,
    failing={"stations.count": 24, "stations.web": "14 mm"},
    passing={"stations.count": 16, "stations.web": "16 mm"},
)
