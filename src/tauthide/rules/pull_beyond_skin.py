"""The stations are pulled harder than their skin holds."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.holding import BLOCK_TEARING, RULES, STITCH, State, governing_rule
from tauthide.quantities.voice import has_voice
from tauthide.rules.measures import beyond, force
from tauthide.rules.pulling import MEASURE, pull_less, pull_path
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.strengths import are_measured
from tauthide.rules.wording import percent

_STATES: tuple[State, ...] = ("dry", "wet")


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble for each state of the skin in which the pull with its safety passes what a station holds."""
    if not has_voice(w):
        return
    worst = max(w["hold.use_dry"], w["hold.use_wet"])
    for state in _STATES:
        if beyond(w[f"hold.use_{state}"], 1):
            yield _trouble(w, state, pull_less(w, worst))


def _trouble(w: Workings, state: State, write: str) -> Trouble:
    governing = governing_rule(w, state)
    known = are_measured(w, governing)
    by_hand = w["pull.wet_share"] if state == "wet" else 1.0
    pull, hold, safety = w["pull.station"] * by_hand, w[f"hold.{state}"], w.given("voice.safety")
    how = "at the strength that you measured" if known else "at usual strengths"
    drawn = ", drawn in by hand" if state == "wet" else ""
    return Trouble(
        pull_path(w),
        f"{state.capitalize()}, each station is pulled harder than its skin holds by {RULES[state][governing]}, {how}",
        f"{force(w, pull, hold / safety)} at each station{drawn}",
        f"at most {force(w, hold / safety, pull)}: it tears at {force(w, hold)}, and the safety is {percent(safety)}",
        write,
        Severity.ERROR if known else None,
    )


RULE = Rule(
    name="pull-beyond-skin",
    severity=Severity.WARNING,
    why="A station holds by its web and its margins alone; where they tear, the head is lost, often while it dries."
    " Strengths differ much from skin to skin: the usual ones only warn, measured ones stop the build.",
    mend="Aim for a lower pitch or pull less, take more stations, a wider web or margin, or a stronger skin; where a"
    " wider web alone would do, `web-small-for-pull` says how wide. A skin that tears wet, draw in less by hand"
    f" (`wet_share`). {MEASURE}",
    source=f"{STITCH}; {BLOCK_TEARING}",
    check=check,
    failing={"voice.pitch": "C3"},
    passing={"voice.pitch": "A2"},
)
