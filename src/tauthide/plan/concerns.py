"""What a figure or a field bears on: skin that can be spoilt comes before lace, lace before wood, and so on."""

from __future__ import annotations

from collections.abc import Mapping
from enum import IntEnum
from types import MappingProxyType


class Concern(IntEnum):
    """What is spoilt if a change goes unnoticed, the dearest first."""

    SKIN = 0
    LACE = 1
    FRAME = 2
    VOICE = 3
    BENCH = 4


CONCERN_TITLES: Mapping[Concern, str] = MappingProxyType(
    {
        Concern.SKIN: "Skin, blank and holes",
        Concern.LACE: "Lace and handle",
        Concern.FRAME: "Frame",
        Concern.VOICE: "Voice, pull and holding (estimates)",
        Concern.BENCH: "Work and bench",
    }
)

_PARTS: Mapping[str, Concern] = MappingProxyType(
    {
        "head": Concern.SKIN,
        "skin": Concern.SKIN,
        "holes": Concern.SKIN,
        "stations": Concern.SKIN,
        "punchings": Concern.SKIN,
        "hide": Concern.SKIN,
        "tolerances": Concern.SKIN,
        "lace": Concern.LACE,
        "lace_hide": Concern.LACE,
        "handle": Concern.LACE,
        "frame": Concern.FRAME,
        "wood": Concern.FRAME,
        "bending": Concern.FRAME,
        "bend": Concern.FRAME,
        "staves": Concern.FRAME,
        "stave": Concern.FRAME,
        "voice": Concern.VOICE,
        "pull": Concern.VOICE,
        "hold": Concern.VOICE,
    }
)
"""By the part of a figure's or a field's name before its first dot; any other is of the bench."""

_ESTIMATES = ("lace.hold", "lace.use")
"""What the lace holds is an estimate, and spoils no lace."""


def concern_of(name: str) -> Concern:
    """Return what a figure or a field bears on, by its dotted name."""
    if name.startswith(_ESTIMATES):
        return Concern.VOICE
    return _PARTS.get(name.partition(".")[0], Concern.BENCH)
