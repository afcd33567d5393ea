"""The pitch that is wanted lies out of reach of this skin and size."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, sqrt

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.membrane import MM_PER_M
from tauthide.quantities.reach import SLACKEST_N_M
from tauthide.quantities.voice import MEMBRANE, has_voice
from tauthide.rules.measures import beyond, force_at_least, force_at_most, pitch, pitch_at_least, pitch_at_most
from tauthide.rules.pulling import pull_path
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the head would flap, or tear even if its strength were used without any safety."""
    if not has_voice(w):
        return
    wanted, lowest, highest = w["voice.pitch"], w["voice.lowest_pitch"], w["voice.highest_pitch"]
    tears = highest * sqrt(w.given("voice.safety"))
    if beyond(lowest, highest):
        within = "no pitch at all: with its safety skin or lace tears before the head is tight enough to sound"
    else:
        within = f"from {pitch(lowest, wanted)} to {pitch(highest, wanted)} with this skin, lace and size"
    if beyond(lowest, wanted):
        message = "So low, the head would be too slack to sound: it flaps"
        yield Trouble(pull_path(w), message, pitch(wanted, lowest), within, _raised(w))
    elif beyond(wanted, tears):
        message = "So high, skin or lace would tear even without any safety"
        yield Trouble(pull_path(w), message, pitch(wanted, tears), within, _lowered(w))


def _raised(w: Workings) -> str:
    """Return what to write for a head that is just tight enough; empty where that would tear it."""
    if w.has("voice.pull"):
        return _written("pull", force_at_least(w, _slackest(w), w["pull.most"]))
    return _written("pitch", pitch_at_least(w["voice.lowest_pitch"], w["voice.highest_pitch"]))


def _lowered(w: Workings) -> str:
    """Return what to write for the tightest head that is safe; empty where that is too slack to sound."""
    if w.has("voice.pull"):
        return _written("pull", force_at_most(w, w["pull.most"], _slackest(w)))
    return _written("pitch", pitch_at_most(w["voice.highest_pitch"], w["voice.lowest_pitch"]))


def _slackest(w: Workings) -> float:
    """Return the pull of a station, in N, on a head that only just sounds."""
    return 2 * pi * w["voice.membrane_radius"] / MM_PER_M * SLACKEST_N_M / w.count("stations.count")


def _written(field: str, value: str) -> str:
    return f"{field}: {value}" if value else ""


RULE = Rule(
    name="voice-out-of-reach",
    severity=Severity.WARNING,
    why="A head of one size and skin has a range: below it, it is not tight enough to sound, above it, it"
    " tears. No way of lacing changes that.",
    mend="Aim within the range, or take another size: a larger frame for a lower voice, a smaller one or a"
    " stronger skin for a higher one.",
    source=f"{MEMBRANE}; slackest head: {WORKSHOP}",
    check=check,
    failing={"voice.pitch": "A3"},
    passing={"voice.pitch": "A2"},
)
