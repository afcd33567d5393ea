"""A wider web would hold the pull that this one does not."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.holding import BLOCK_TEARING, RULES, STITCH, State, governing_rule
from tauthide.rules.limits import clear_path, clear_trouble, write_clear
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.strengths import are_measured
from tauthide.rules.trials import has_room
from tauthide.rules.variants import with_value
from tauthide.rules.wording import percent
from tauthide.schema.fields import fields
from tauthide.units import parse

USE_SLACK = 1e-9
"""A use above 1 by less than this is 1 but for floating point."""

STATES: tuple[State, ...] = ("dry", "wet")

NEAR_MM = 1e-7
"""How closely the least web is searched."""


def worst_use(w: Workings) -> float:
    """Return the share of what a station holds that is used, in the state that uses more."""
    return max(w["hold.use_dry"], w["hold.use_wet"])


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the skin is used beyond its strength, dry or wet, and a wider web alone would mend that."""
    if not w.applies("hold.use_dry") or worst_use(w) <= 1 + USE_SLACK:
        return
    least = _enough(w)
    if least is None:
        return
    state: State = "dry" if w["hold.use_dry"] >= w["hold.use_wet"] else "wet"
    words = RULES[state][governing_rule(w, state)]
    measured = any(
        w[f"hold.use_{each}"] > 1 + USE_SLACK and are_measured(w, governing_rule(w, each)) for each in STATES
    )
    yield clear_trouble(
        w,
        "web",
        least,
        f"The web is too small for this pull: {state}, {percent(worst_use(w), 1.0)} of its strength by {words}"
        " in use (estimate)",
        ", which brings that to at most 100 % with safety",
        Severity.ERROR if measured else None,
    )


def _enough(w: Workings) -> float | None:
    """Return the least web in mm that holds the pull and, rounded up, leaves room between pairs; None for none.

    The skin holds no less with a wider web, so the search may halve.
    """
    path = clear_path(w, "web")
    low, high = w.given(path), parse("length", fields("spec")[path].most)
    more = w.given(path) - w["holes.web"]
    if worst_use(with_value(w, path, high)) > 1 + USE_SLACK:
        return None
    while high - low > NEAR_MM:
        middle = (low + high) / 2
        if worst_use(with_value(w, path, middle)) > 1:
            low = middle
        else:
            high = middle
    written = parse("length", write_clear(w, "web", high - more).partition(": ")[2])
    return high - more if has_room(with_value(w, path, written)) else None


RULE = Rule(
    name="web-small-for-pull",
    severity=Severity.WARNING,
    why="The lace holds on to the web: pulled beyond that, the station tears out, often only as the skin dries.",
    mend="Take a wider web, more stations, a lower pitch, or pull a scrap to learn how strong the skin really is.",
    source=f"{BLOCK_TEARING}; {STITCH}",
    check=check,
    failing={"voice.pull": "140 N", "stations.web": "16 mm"},
    passing={"voice.pull": "140 N", "stations.web": "20 mm"},
)
