"""The hoop is so thin that the pull of the head may buckle it."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.membrane import MM_PER_M
from tauthide.quantities.voice import has_voice
from tauthide.rules.measures import beyond, system
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import at_least, length
from tauthide.units import tension

WOOD_STIFFNESS_N_MM2 = 12_000.0
"""Modulus of elasticity of white ash at 12 % moisture, along the grain (Wood Handbook, FPL-GTR-190; from memory)."""

RIMS = 2
"""The skin draws the front rim inward with its tension, and by way of the lace the back rim with as much again."""

RING_FACTOR = 3.0
"""A ring buckles under an even inward load per length of 3 E I / radius^3 (Timoshenko, Theory of Elastic Stability)."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the inward load with its safety passes what a plain ring of ash takes.

    The outside radius stands for that of the middle of the wall: a little to the safe side.
    """
    if not has_voice(w):
        return
    load = RIMS * w["voice.tension"] * w.given("voice.safety") / MM_PER_M
    radius, wall, depth = w.given("frame.diameter") / 2, w.given("frame.wall"), w.given("frame.depth")
    # With I = depth wall^3 / 12.
    least = (12 * load * radius**3 / (RING_FACTOR * WOOD_STIFFNESS_N_MM2 * depth)) ** (1 / 3)
    if beyond(least, wall):
        inward = tension(RIMS * w["voice.tension"], system(w))
        yield Trouble(
            "frame.wall",
            "A hoop so thin may lose its shape under the pull of the head, if it is a plain ring of ash",
            f"{length(w, wall, least)}, drawn inward by {inward} of its round",
            f"at least {length(w, least, wall)} with this depth and safety",
            f"wall: {at_least(w, least)}",
        )


RULE = Rule(
    name="pull-on-frame",
    severity=Severity.NOTE,
    why="Skin and lace press the hoop together like the hoops of a barrel; a thin one goes out of round"
    " before it breaks, and the head with it.",
    mend="Take a thicker or deeper hoop, glue a ring inside it, or aim for a lower pitch.",
    source="buckling of a ring, 3 E I / radius^3 (Timoshenko, Theory of Elastic Stability); stiffness of white"
    " ash, 12 000 N/mm2 (Wood Handbook, FPL-GTR-190; from memory)",
    check=check,
    failing={"voice.pitch": "A2", "frame.wall": "4 mm"},
    passing={"voice.pitch": "A2", "frame.wall": "8 mm"},
)
