"""The lace is pulled harder than it holds."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.holding import State
from tauthide.quantities.voice import CAPSTAN, has_voice
from tauthide.rules.measures import beyond, force
from tauthide.rules.pulling import pull_less, pull_path
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.strengths import MAKERS
from tauthide.rules.wording import at_least, percent
from tauthide.spec.defaults import WORKSHOP

_STATES: tuple[tuple[State, str], ...] = (("dry", "lace.hold"), ("wet", "lace.hold_wet"))


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble for each state of the lace in which the pull with its safety passes what it holds."""
    if not has_voice(w):
        return
    for state, hold in _STATES:
        if beyond(w[f"lace.use_{state}"], 1):
            yield _trouble(w, state, w[hold])


def _trouble(w: Workings, state: State, hold: float) -> Trouble:
    known = w.spec.settings[f"lace_hide.{state}_strength"].origin.layer in MAKERS
    safety, worst = w.given("voice.safety"), w["lace.use"]
    pull = w[f"lace.use_{state}"] * hold / safety
    wider = at_least(w, w.given("lace.width") * worst)
    how = "at the strength that you measured" if known else "at its usual strength"
    strand = "drawn tight by hand" if state == "wet" else _anchor(w)
    return Trouble(
        pull_path(w),
        f"{state.capitalize()}, the lace is pulled harder than it holds, {how}",
        f"{force(w, pull, hold / safety)} in the strand {strand}",
        f"at most {force(w, hold / safety, pull)}: it breaks at {force(w, hold)}, and the safety is {percent(safety)};"
        f" or a lace at least {wider} wide",
        pull_less(w, worst),
        Severity.ERROR if known else None,
    )


def _anchor(w: Workings) -> str:
    return "at the anchor, which has only one" if w["lace.anchor_strands"] == 1 else "that pulls most at its slant"


RULE = Rule(
    name="pull-beyond-lace",
    severity=Severity.WARNING,
    why="One lace holds the whole head: where it breaks, everything is slack. Drawn tight, it also has to overcome the"
    " friction of the edges that it slides round.",
    mend="Aim for a lower pitch or pull less, cut the lace wider, or from a thicker or stronger hide. To know"
    " your own, hang a weight on a dry strip until it breaks, and write the load over width x thickness as"
    " `dry_strength` under the hide in the shop file.",
    source=f"{CAPSTAN}; {WORKSHOP}",
    check=check,
    failing={"voice.pitch": "A2", "lace.width": "5 mm"},
    passing={"voice.pitch": "A2", "lace.width": "8 mm"},
)
