"""What the rules on the pull share: how a maker pulls less, and learns how strong a skin is."""

from __future__ import annotations

from math import sqrt

from tauthide.figures import Workings
from tauthide.rules.measures import force_at_most, pitch_at_most

MEASURE = (
    "To know your own skin, pull a scrap: let it dry, punch two holes of 2 mm, 6 mm from middle to middle and 6 mm from"
    " the scrap's edge, hold the far end, and draw a wire loop through both with a spring balance until they tear"
    " out; do it three times. The middle reading over the thickness is `stitch_tear`, which you write under the hide in"
    " the shop file."
)
"""The two-hole stitch tear test, as a maker can do it (holes and distances: scope of ASTM D4705)."""


def pull_path(w: Workings) -> str:
    """Return the field that says how hard the head is pulled."""
    return "voice.pull" if w.has("voice.pull") else "voice.pitch"


def pull_less(w: Workings, use: float) -> str:
    """Return what to write so that a use above 1 comes down to 1: uses grow with the pull, and with the pitch's square.

    Empty where no pitch is that low.
    """
    if w.has("voice.pull"):
        return f"pull: {force_at_most(w, w.given('voice.pull') / use)}"
    lower = pitch_at_most(w.given("voice.pitch") / sqrt(use))
    return f"pitch: {lower}" if lower else ""
