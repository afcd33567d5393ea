"""What a frame made in the shop needs to be told, and what it gets where nobody says otherwise.

These defaults hold for drums whose frame is made that way; a bought frame has none of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tauthide.spec.defaults import Default

MAKE_PARTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"bought": (), "bent": ("wood", "bending"), "staves": ("wood", "staves")}
)
"""The parts of a spec that each make of frame reads."""

WOOD_PARTS = ("wood", "bending", "staves")
"""All parts that bear only on frames made in the shop."""

_WOOD: Mapping[str, Default] = MappingProxyType(
    {
        "wood.species": Default("ash", "straight-grained, tough and easily bent"),
        "wood.sawn": Default("flat", "boards are mostly sold flat-sawn, and so bent strips lie on their flat side"),
        "wood.moisture": Default("8 %", "what wood settles to in a heated room at about 43 % humidity"),
        "wood.driest": Default("30 %", "a heated room in winter"),
        "wood.dampest": Default("70 %", "a damp hall in summer"),
    }
)

MAKE_DEFAULTS: Mapping[str, Mapping[str, Default]] = MappingProxyType(
    {
        "bent": MappingProxyType(
            {
                **_WOOD,
                "bending.moisture": Default("20 %", "air-dried wood bends; kiln-dried wood breaks"),
                "bending.scarf": Default(10, "between the 1 in 8 usual on boats and the 1 in 12 of full strength"),
                "bending.spare": Default("50 mm", "to hold the strip by at each end, cut off after bending"),
                "bending.planing": Default("0.5 mm", "a scraper's work on each face once it is dry"),
                "bending.springback": Default("3 %", "a hoop opens a little when it comes off its form"),
                "bending.drying": Default("7 d", "clamped to its form until it is as dry as the room"),
            }
        ),
        "staves": MappingProxyType(
            {
                **_WOOD,
                "staves.planing": Default("0.5 mm", "taken off each face once the ring is glued"),
                "staves.kerf": Default("3 mm", "the cut of a mitre saw's blade"),
                "staves.ends": Default("25 mm", "cracked or dirty ends of boards"),
                "staves.boards": Default(["2 m"], "a length that boards are sold in and that fits a car"),
            }
        ),
    }
)
"""By make, the defaults of the fields that only such a frame reads."""

ROUND_OF_STAVES: Mapping[str, Default] = MappingProxyType(
    {"staves.count": Default(12, "few enough joints to glue at once, enough that little wood is rounded away")}
)
"""A round ring may have any number of staves; a polygon has one for each side."""


def make_defaults(make: str, outline: str) -> Mapping[str, Default]:
    """Return the defaults that a frame of this make and outline has, by path; none for an unknown or bought one."""
    defaults = MAKE_DEFAULTS.get(make, {})
    return {**defaults, **ROUND_OF_STAVES} if make == "staves" and outline == "round" else defaults
